//! The outcome in words, as the last part of the report.
//!
//! In: an [`Outcome`]. Out: lines by topic; rules and diseases that hold nothing new are counted, not listed.
//!
//! Not here: the judgements (`outcome`), figures for another program (`outcome_json`).
//!
//! Tested by: `tests/document/export.rs`.

use std::fmt::{self, Write};

use crate::forecast::in_ten;
use crate::outcome::cautions::LOCAL;
use crate::outcome::sanitation::STANDING;
use crate::outcome::{Judgement, Outcome, Topic, Trust};

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

/// Writes the outcome.
pub(super) fn write_outcome(outcome: &Outcome, out: &mut impl Write) -> fmt::Result {
    writeln!(out, "\nExpected result")?;
    for topic in TOPICS {
        if outcome.about(topic).next().is_none() {
            continue;
        }
        writeln!(out, "  {}", topic.label())?;
        if topic == Topic::Rules {
            writeln!(out, "    {STANDING}")?;
        }
        for judgement in outcome.about(topic) {
            writeln!(out, "    {}.{}", judgement.text, likely_text(judgement))?;
        }
    }
    let out_of_it = &outcome.produce;
    writeln!(
        out,
        "    It would hold N {}, P₂O₅ {}, K₂O {} of its dry matter.",
        percent(out_of_it.nitrogen_share().typical),
        percent(out_of_it.phosphate_share().typical),
        percent(out_of_it.potash_share().typical)
    )?;
    if outcome.cautions.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nSafety notes ({LOCAL})")?;
    for caution in &outcome.cautions {
        let memory = if caution.trust == Trust::Recalled {
            ", unverified"
        } else {
            ""
        };
        writeln!(out, "  {}. ({}{memory})", caution.text, caution.source)?;
    }
    Ok(())
}

fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

/// " (7 in 10: half of it or more had enough)".
fn likely_text(judgement: &Judgement) -> String {
    let Some(likely) = &judgement.likely else {
        return String::new();
    };
    format!(" ({}: {})", in_ten(likely.share), likely.of)
}
