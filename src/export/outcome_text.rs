//! The outcome in words, as the last part of the report.
//!
//! In: an [`Outcome`]. Out: lines by topic.
//!
//! Not here: the sentences (`text::outcome`), figures for another program (`outcome_json`).
//!
//! Tested by: `tests/document/export.rs`.

use std::fmt::{self, Write};

use crate::outcome::headline::headline;
use crate::outcome::{Facts, Finding, Judgement, Outcome, Topic};
use crate::quantity::UnitSystem;
use crate::text::outcome as words;
use crate::text::page;

/// Units of the report.
const UNITS: UnitSystem = UnitSystem::Metric;
/// Topics in the order of the report: as people ask.
const TOPICS: [Topic; 7] = [
    Topic::Finish,
    Topic::Trouble,
    Topic::Produce,
    Topic::Plants,
    Topic::Diseases,
    Topic::Germs,
    Topic::Rules,
];

/// Writes the outcome with the facts it was judged by.
pub(super) fn write_outcome(outcome: &Outcome, facts: &Facts, out: &mut impl Write) -> fmt::Result {
    writeln!(out, "\n{}", page::EXPECTED)?;
    let judgements = outcome.judgements(facts);
    for line in words::first_lines(&headline(outcome, facts, &judgements), UNITS) {
        writeln!(out, "  {}: {}", line.asks, line.answer)?;
    }
    for topic in TOPICS {
        let about = judgements.iter().filter(|it| it.id.topic() == topic);
        let here: Vec<&Judgement<'_>> = about.filter(|it| it.here).collect();
        if here.is_empty() {
            continue;
        }
        writeln!(out, "\n  {}", words::topic(topic))?;
        if topic == Topic::Rules {
            write_rules(outcome, facts, &here, out)?;
            continue;
        }
        for judgement in here {
            write_judgement(judgement, out)?;
        }
        if topic == Topic::Produce {
            let told = words::composition(&outcome.produce, &facts.usage.published);
            writeln!(out, "    {told}")?;
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

/// The rules for such a heap: a sentence and a table, then the class A equation.
fn write_rules(
    outcome: &Outcome,
    facts: &Facts,
    here: &[&Judgement<'_>],
    out: &mut impl Write,
) -> fmt::Result {
    let told = words::rules_in_one(&facts.rules, &outcome.rules);
    writeln!(out, "    {told}.\n    {}", words::STANDING)?;
    let rules = facts.rules.iter().zip(&outcome.rules);
    for (rule, got) in rules.filter(|(_, got)| got.process_fits) {
        let row = words::rule_row(rule, got, UNITS);
        let name = format!("{}: {}", row.name, row.asks);
        let line = format!("      {:<3}  {name:<78}  {}", row.met, row.missing);
        writeln!(out, "{}", line.trim_end())?;
    }
    let class_a = |it: &&&Judgement<'_>| matches!(it.finding, Finding::ClassA(_));
    here.iter()
        .filter(class_a)
        .try_for_each(|it| write_judgement(it, out))
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
        Some(likely) => writeln!(out, "    {text}. {}.", words::likely(likely)),
        None => writeln!(out, "    {text}."),
    }
}
