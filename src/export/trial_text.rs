//! A trial in words: what is claimed, what came out, what is known.
//!
//! In: a trial and, if it was run, its comparison; or beliefs to be told without a run. Out: plain text.
//!
//! Not here: effects and verdicts in words (`text::trial`), running (`command`, `window`).
//!
//! Tested by: `tests/document/command.rs`.

use std::fmt::{self, Write};

use crate::assess::trial::Trial;
use crate::forecast::Comparison;
use crate::material::MaterialQuestion;
use crate::quantity::UnitSystem;
use crate::text::material::standing;
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
    write_known(trial, out)?;
    writeln!(out, "  {}", words::cannot_tell(trial))
}

/// What is known of it, and from where.
fn write_known(trial: &Trial, out: &mut String) -> fmt::Result {
    if let Some(answer) = words::answered(trial) {
        writeln!(out, "  {answer}")?;
    }
    for evidence in &trial.evidence {
        writeln!(out, "  {}", words::published(evidence))?;
    }
    Ok(())
}

/// Beliefs with what is known of each, and what people ask of materials; for those who want no run.
pub fn beliefs_text(beliefs: &[&Trial], questions: &[&MaterialQuestion]) -> String {
    let mut out = String::new();
    // Writing to a String cannot fail.
    let _ = write_beliefs(beliefs, questions, &mut out);
    out
}

fn write_beliefs(
    beliefs: &[&Trial],
    questions: &[&MaterialQuestion],
    out: &mut String,
) -> fmt::Result {
    for trial in beliefs {
        writeln!(
            out,
            "{} ({})\n  {}",
            trial.title,
            trial.id,
            words::claimed(trial)
        )?;
        write_known(trial, out)?;
        writeln!(out, "  {}\n", words::how_to_run(trial))?;
    }
    for asked in questions {
        writeln!(out, "{}\n  {}", asked.question, asked.answer)?;
        let standing = standing(asked.standing);
        writeln!(out, "  [{}; {standing}]\n", asked.source)?;
    }
    if beliefs.is_empty() && questions.is_empty() {
        writeln!(out, "{}", words::NO_BELIEF)?;
    }
    Ok(())
}

/// All beliefs, one a line.
pub fn beliefs_list(trials: &[Trial]) -> String {
    let lines = trials.iter().map(|trial| words::listed(trial) + "\n");
    lines.collect()
}
