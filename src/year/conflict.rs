//! Which wishes cannot be met together.
//!
//! In: a [`Task`] without a solution. Out: wishes of which every one is needed for the contradiction.
//!
//! Wishes are dropped one at a time: one without which there is still no plan is not to blame and stays out. What is
//! left contradicts itself, and would not without any one of it. Without wishes there is always a plan: to build nothing.
//! Not here: what to say about it (`text::year`).
//!
//! Tested by: `tests/science/year.rs`.

use super::program::{Unsolved, solve};
use super::{Goal, Task};

/// The wishes to blame, by their number from 0.
pub(super) fn conflict(task: &Task) -> Vec<usize> {
    let mut blamed: Vec<usize> = (0..task.demands.len()).collect();
    let contradicts = |wishes: &[usize]| {
        let asked = Task {
            demands: wishes.iter().map(|at| task.demands[*at]).collect(),
            goal: Goal::Any,
            ..task.clone()
        };
        solve(&asked) == Err(Unsolved::Infeasible)
    };
    for wish in 0..task.demands.len() {
        let rest: Vec<usize> = blamed.iter().copied().filter(|at| *at != wish).collect();
        if contradicts(&rest) {
            blamed = rest;
        }
    }
    blamed
}
