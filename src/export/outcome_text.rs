//! The outcome in words, as the last part of the report.
//!
//! In: an [`Outcome`]. Out: lines by topic.
//!
//! Not here: the sentences (`text::outcome`), figures for another program (`outcome_json`).
//!
//! Tested by: `tests/document/export.rs`.

use std::fmt::{self, Write};

use crate::outcome::{Facts, Judgement, Outcome, Topic};
use crate::quantity::UnitSystem;
use crate::text::outcome as words;
use crate::text::page;

/// Units of the report.
const UNITS: UnitSystem = UnitSystem::Metric;
/// Topics in the order of the report.
const TOPICS: [Topic; 7] = [
    Topic::Plants,
    Topic::Diseases,
    Topic::Germs,
    Topic::Rules,
    Topic::Finish,
    Topic::Produce,
    Topic::Trouble,
];

/// Writes the outcome with the facts it was judged by.
pub(super) fn write_outcome(outcome: &Outcome, facts: &Facts, out: &mut impl Write) -> fmt::Result {
    writeln!(out, "\n{}", page::EXPECTED)?;
    let judgements = outcome.judgements(facts);
    for topic in TOPICS {
        let mut about = judgements.iter().filter(|it| it.id.topic() == topic);
        let Some(first) = about.next() else {
            continue;
        };
        writeln!(out, "  {}", words::topic(topic))?;
        if topic == Topic::Rules {
            writeln!(out, "    {}", words::STANDING)?;
        }
        write_judgement(first, out)?;
        for judgement in about {
            write_judgement(judgement, out)?;
        }
        if topic == Topic::Produce {
            writeln!(out, "    {}", words::composition(&outcome.produce))?;
        }
    }
    write_limits(outcome, out)?;
    if outcome.cautions.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{} ({})", page::SAFETY_NOTES, words::LOCAL)?;
    for caution in &outcome.cautions {
        let memory = words::unverified(caution.trust);
        writeln!(out, "  {}. ({}{memory})", caution.text, caution.source)?;
    }
    Ok(())
}

/// Where the simulation parts from what is published of such a heap.
fn write_limits(outcome: &Outcome, out: &mut impl Write) -> fmt::Result {
    if outcome.limits.is_empty() {
        return Ok(());
    }
    writeln!(out, "\n{}", words::HOW_FAR)?;
    for limit in &outcome.limits {
        let note = words::limit(*limit, UNITS);
        writeln!(out, "  {} ({})", note.text, note.source)?;
    }
    Ok(())
}

/// "It would dry out. (7 in 10: it happened)".
fn write_judgement(judgement: &Judgement<'_>, out: &mut impl Write) -> fmt::Result {
    let text = words::sentence(&judgement.finding, UNITS);
    match &judgement.weighed.likely {
        Some(likely) => writeln!(out, "    {text}. ({})", words::likely(likely)),
        None => writeln!(out, "    {text}."),
    }
}
