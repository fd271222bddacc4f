//! What was short: of what keeps, how much more would have saved how much of what spoils.
//!
//! In: a [`Task`] and its [`Solved`]. Out: [`Short`], if more would pay.
//!
//! The year is solved once more as if more could be had, at half its value above its own; what is then taken is what was short.
//! Not here: the plan itself (`plan`).
//!
//! Tested by: `tests/science/year.rs`.

use std::sync::atomic::AtomicBool;

use super::program::{Solved, solve_until};
use super::{Goal, Task};

/// Measures below which nothing is said.
const LEAST_MEASURES: f64 = 0.25;
/// Loose volume saved from spoiling below which nothing is said, m3: a barrow.
const LEAST_SAVED_M3: f64 = 0.1;

/// What would have helped.
#[derive(Debug, Clone, PartialEq)]
pub struct Short {
    /// Month of the plan, row of the arrivals, how many more of its measure.
    pub lacking: Vec<(usize, usize, f64)>,
    /// What would then not spoil: row of the arrivals, how many of its measure.
    pub saves: Vec<(usize, f64)>,
}

/// What was short in a solved task; `None` too if `stop` was set.
pub(super) fn short(task: &Task, solved: &Solved, stop: &AtomicBool) -> Option<Short> {
    let spoils = task.stuffs.iter().any(|stuff| stuff.spoils());
    if !spoils || task.places.is_empty() {
        return None;
    }
    let asked = Task {
        goal: Goal::More,
        ..task.clone()
    };
    let more = solve_until(&asked, stop).ok()?;
    let lacking: Vec<(usize, usize, f64)> = more
        .more
        .iter()
        .map(|(month, stuff, units)| (*month, *stuff, units * task.stuffs[*stuff].measures))
        .filter(|(_, _, measures)| *measures >= LEAST_MEASURES)
        .collect();
    let rows = task.stuffs.iter().enumerate();
    let saves: Vec<(usize, f64)> = rows
        .filter(|(_, stuff)| stuff.spoils())
        .map(|(row, stuff)| {
            let units = used(&more, row) - used(solved, row);
            (
                row,
                units * stuff.measures,
                units * stuff.sums.loose_volume_m3,
            )
        })
        .filter(|(_, _, m3)| *m3 >= LEAST_SAVED_M3)
        .map(|(row, measures, _)| (row, measures))
        .collect();
    (!lacking.is_empty() && !saves.is_empty()).then_some(Short { lacking, saves })
}

/// Units of a stuff that all heaps use.
fn used(solved: &Solved, stuff: usize) -> f64 {
    let uses = solved.fillings.iter().flat_map(|filling| &filling.uses);
    uses.filter(|(_, of, _)| *of == stuff)
        .map(|(_, _, units)| units)
        .sum()
}
