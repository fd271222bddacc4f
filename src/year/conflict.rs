//! Which wishes cannot be met together.
//!
//! In: a [`Task`] without a solution. Out: wishes of which every one is needed for the contradiction.
//!
//! Wishes are dropped one at a time: one without which there is still no plan is not to blame and stays out. What is
//! left contradicts itself, and would not without any one of it. Without wishes there is always a plan: to build nothing.
//! Not here: what to say about it (`text::year`).
//!
//! Tested by: `tests/science/year.rs`.

use std::sync::atomic::{AtomicBool, Ordering};

use super::program::{Unsolved, solve_until};
use super::{Goal, Task};

/// The wishes to blame, by their number from 0; `None` if `stop` was set.
pub(super) fn conflict(task: &Task, stop: &AtomicBool) -> Option<Vec<usize>> {
    let mut blamed: Vec<usize> = (0..task.demands.len()).collect();
    let contradicts = |wishes: &[usize]| {
        let asked = Task {
            demands: wishes.iter().map(|at| task.demands[*at]).collect(),
            goal: Goal::Any,
            ..task.clone()
        };
        solve_until(&asked, stop) == Err(Unsolved::Infeasible)
    };
    for wish in 0..task.demands.len() {
        let rest: Vec<usize> = blamed.iter().copied().filter(|at| *at != wish).collect();
        if contradicts(&rest) {
            blamed = rest;
        }
        if stop.load(Ordering::Relaxed) {
            return None;
        }
    }
    Some(blamed)
}
