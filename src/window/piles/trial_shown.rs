//! The trial last run: what came of it so far.
//!
//! In: news of the trial's job. Out: [`TrialShown`].
//!
//! Not here: running it (`jobs::trial`), drawing it (`class::trial`).
//!
//! Tested by: `tests/window/class.rs`.

use std::sync::Arc;

use crate::forecast::Comparison;

use crate::window::jobs::trial::SideBySide;
use crate::window::piles::curve::Curve;

/// A trial that is being or has been run.
#[derive(Debug, Clone, Default)]
pub struct TrialShown {
    /// Its id.
    pub trial: String,
    /// Both typical heaps.
    pub heaps: Option<Arc<SideBySide>>,
    /// Their curves, with the bands there are.
    pub curves: Option<Arc<[Curve; 2]>>,
    /// The pairs so far.
    pub comparison: Option<Arc<Comparison>>,
    /// Whether it still runs.
    pub running: bool,
    /// Why there is no answer.
    pub problem: Option<String>,
}
