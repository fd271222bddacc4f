//! When a planned heap is filled, works and cures.
//!
//! In: a [`PlannedHeap`], its bay. Out: [`Stage`]s in months from the beginning of the plan, parts of months included.
//!
//! A heap is begun on the first day of its month. What its stages leave of its last month the bay stands empty.
//! Not here: which months a heap takes up (`task`), dates of a calendar (`assess::planned`).
//!
//! Tested by: `tests/document/year_out.rs`.

use super::task::MONTH_DAYS;
use super::{Bay, PlannedHeap};

/// What a heap is at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StageKind {
    /// It is filled.
    Filling,
    /// It works.
    Working,
    /// It cures.
    Curing,
}

/// A stage of a heap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stage {
    /// What it is at.
    pub kind: StageKind,
    /// Beginning, months from the beginning of the plan.
    pub from: f64,
    /// End, months from the beginning of the plan.
    pub to: f64,
}

/// The stages of a heap in its bay, one after another; those that take no time are left out.
pub fn stages(heap: &PlannedHeap, bay: &Bay) -> Vec<Stage> {
    let mut from = heap.month as f64;
    let mut stages = Vec::new();
    for (kind, weeks) in [
        (StageKind::Filling, bay.fills_weeks),
        (StageKind::Working, bay.works_weeks),
        (StageKind::Curing, bay.cures_weeks),
    ] {
        let to = from + 7.0 * weeks / MONTH_DAYS;
        if weeks > 0.0 {
            stages.push(Stage { kind, from, to });
        }
        from = to;
    }
    stages
}
