//! A trial in words: what is claimed, what came out, what is known.
//!
//! In: a trial and, if it was run, its comparison. Out: plain text.
//!
//! Not here: effects and verdicts in words (`text::trial`), running (`command`, `window`).
//!
//! Tested by: `tests/document/command.rs`.

use std::fmt::{self, Write};

use crate::assess::trial::Trial;
use crate::forecast::Comparison;
use crate::quantity::UnitSystem;
use crate::text::trial as words;

/// A trial with what came of it; `None` for one that was not run.
pub fn trial_text(trial: &Trial, comparison: Option<&Comparison>, units: UnitSystem) -> String {
    let mut out = String::new();
    // Writing to a String cannot fail.
    let _ = write_trial(trial, comparison, units, &mut out);
    out
}

fn write_trial(
    trial: &Trial,
    comparison: Option<&Comparison>,
    units: UnitSystem,
    out: &mut String,
) -> fmt::Result {
    writeln!(
        out,
        "{} ({})\n  {}",
        trial.title,
        trial.id,
        words::claimed(trial)
    )?;
    match comparison {
        Some(comparison) => {
            writeln!(out, "  {}", trial.differs)?;
            writeln!(out, "  {}", words::peaks(comparison, units))?;
            for effect in &comparison.effects {
                writeln!(out, "    {}", words::effect(effect, units))?;
            }
        }
        None if trial.can_be_run() => writeln!(out, "  {}", words::NOTHING_ROTS)?,
        None => writeln!(out, "  {}", words::EVIDENCE_ONLY)?,
    }
    for evidence in &trial.evidence {
        writeln!(out, "  {}", words::published(evidence))?;
    }
    writeln!(out, "  {}", words::cannot_tell(trial))
}
