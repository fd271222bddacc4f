//! What a diary taught, as plain text.
//!
//! In: [`Learning`]. Out: how much was learnt, what it says of the heap, readings beside what is expected.
//!
//! Not here: the sentences (`text::learnt`), figures for another program (`learnt_json`).
//!
//! Tested by: `tests/document/learn.rs`.

use std::fmt::{self, Write};

use crate::assess::Learning;
use crate::forecast::learn::{KeptOut, Learnt, NotLearnt, Told};
use crate::quantity::UnitSystem;
use crate::text::learnt as words;

/// All that was learnt, or why nothing was.
pub fn learnt_text(learning: &Learning, units: UnitSystem) -> String {
    let mut out = String::new();
    // Writing to a String cannot fail.
    let _ = match learning {
        Learning::Learnt(learnt) => write_learnt(learnt, units, &mut out),
        Learning::Not(why) => write_not(why, &mut out),
    };
    out
}

fn write_not(why: &NotLearnt, out: &mut String) -> fmt::Result {
    writeln!(out, "{}", words::not_learnt(why))?;
    match why {
        NotLearnt::NoValues(kept_out) => write_kept_out(kept_out, out),
        NotLearnt::NotBuilt | NotLearnt::NothingToRot | NotLearnt::CalledOff => Ok(()),
    }
}

fn write_kept_out(kept_out: &[KeptOut], out: &mut String) -> fmt::Result {
    for one in kept_out {
        writeln!(out, "  {}", words::kept_out(one))?;
    }
    Ok(())
}

fn write_learnt(learnt: &Learnt, units: UnitSystem, out: &mut String) -> fmt::Result {
    writeln!(out, "{}", words::gained(&learnt.gained, units))?;
    writeln!(out, "{}", words::carried_by(learnt))?;
    writeln!(out, "\n{}", words::SPEAKS_OF)?;
    let spoken_of = learnt.spoken_of();
    for shift in &spoken_of {
        writeln!(out, "  {}", words::shift(shift))?;
    }
    if spoken_of.is_empty() {
        writeln!(out, "  {}", words::SAYS_NOTHING)?;
    } else {
        writeln!(out, "  {}", words::CAVEAT)?;
    }
    writeln!(out, "\n{}", words::BESIDE)?;
    for residual in &learnt.residuals {
        let o = residual.observation;
        let value = |number| words::value(o.what, number, units);
        write!(
            out,
            "  {:>6.1}  {:<22} {:>7}  ({} - {})",
            o.day,
            words::what(o.what),
            value(o.value),
            value(residual.expected.low),
            value(residual.expected.high)
        )?;
        match residual.told {
            Told::Fits => writeln!(out)?,
            Told::Far => writeln!(out, "  {}", words::FAR)?,
            Told::OutsideAll => writeln!(out, "  {}", words::OUTSIDE_ALL)?,
        }
    }
    write_kept_out(&learnt.kept_out, out)?;
    if let Some(next) = &learnt.next {
        writeln!(out, "\n{}", words::next_reading(next, units))?;
    }
    Ok(())
}
