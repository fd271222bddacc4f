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
use crate::text::{number, trial as words};

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
        "{} ({})\n  Claimed: {}",
        trial.title, trial.id, trial.claim
    )?;
    match comparison {
        Some(comparison) => {
            writeln!(out, "  {}", trial.differs)?;
            let (first, second) = (comparison.first.typical(), comparison.second.typical());
            writeln!(
                out,
                "  Typical peak {} and {}; {} pairs, with the same draws:",
                number::temperature(first.summary.peak_c, units),
                number::temperature(second.summary.peak_c, units),
                comparison.pairs()
            )?;
            for effect in &comparison.effects {
                writeln!(out, "    {}", words::effect(effect, units))?;
            }
        }
        None if trial.can_be_run() => writeln!(out, "  Nothing rots in one of the two heaps.")?,
        None => writeln!(out, "  The model cannot test this; evidence only.")?,
    }
    for evidence in &trial.evidence {
        writeln!(
            out,
            "  Published: {} [{}; {}]",
            evidence.finding,
            evidence.source,
            words::mark(evidence.mark)
        )?;
    }
    writeln!(out, "  It cannot tell: {}", trial.cannot_tell)
}
