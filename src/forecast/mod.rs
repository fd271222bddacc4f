//! The forecast: the same heap many times over, each time with other values of what is not well known.
//!
//! In: the sums of a mix, later additions, a heap, kinetics, and what is known of the mix's ranges
//! ([`Inputs`]). Out: a [`Forecast`], the median and the 10-90 % band of everything a run records and
//! the spread of its few numbers.
//!
//! Chapter: `sequence` spreads points evenly, `draw` makes a member of each, `band` keeps what the
//! members did, `ensemble` runs them on all threads, `worker` does so in the background, newest
//! request first. Member 0 holds the typical values: its curve is given beside the band and is not
//! counted in it. The result is the same for any number of threads.
//!
//! `learn` weighs the members by what was measured of the heap that stands.
//! `pairs` runs two heaps side by side with the same draws, `kept` holds the runs that several such have in common,
//! `effect` says what the differences amount to.
//! `likelihood` tells an outcome how likely its judgements are; `start` says whether such heaps start at all; `plan_search` looks for a plan of turnings.
//!
//! Not here: one run (`heap`), judgements (`outcome`). Nothing in this folder knows a screen.
//!
//! Tested by: `tests/science/forecast.rs`, `tests/science/forecast_band.rs`,
//! `tests/science/forecast_coverage.rs`, `tests/science/forecast_line.rs`, `tests/science/forecast_worker.rs`,
//! `tests/science/trials.rs`.

mod band;
mod crew;
mod draw;
mod effect;
mod ensemble;
mod kept;
pub mod learn;
mod likelihood;
mod pairs;
pub mod plan_search;
pub mod sequence;
mod start;
mod worker;

pub use band::{Band, Forecast, Member, Series, grid_days, quantile, reached};
pub use draw::{Draws, Law, Unknown, WIDTHS, Widths};
pub use effect::{Effect, Measured, Verdict};
pub use ensemble::{Ensemble, Simulator, ensemble};
pub use kept::KeptRuns;
pub use likelihood::weigh;
pub use pairs::{Comparison, Pairs};
pub use start::{HELD_OF_TEN, Share, Start};
pub use worker::{Message, News, Request, RunStages, Worker};

use std::sync::atomic::AtomicBool;

use crate::heap::{Addition, Heap, Kinetics, Projection, Resolution, RunControl, simulate_with};
use crate::mix::{Gauges, Totals};

/// Members of an ensemble, and pairs of a trial, beside the typical one: quantiles of the peak are then within a
/// degree or two, and "7 in 10" is right to one in ten.
pub const MEMBERS: usize = 200;

/// Everything a run needs, and how well the mix is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// Sums of the mix.
    pub totals: Totals,
    /// Sums of what the plan adds.
    pub additions: Vec<Addition>,
    /// The heap; it has passed [`Heap::check`].
    pub heap: Heap,
    /// Rates and shares of rot.
    pub kinetics: Kinetics,
    /// Ranges of the mix, for moisture and C:N; `None` if nothing is known of its materials.
    pub gauges: Option<Gauges>,
}

impl Inputs {
    /// A mix and a heap with nothing added later, usual kinetics and no ranges.
    pub fn of(totals: &Totals, heap: &Heap) -> Self {
        Self {
            totals: *totals,
            additions: Vec::new(),
            heap: heap.clone(),
            kinetics: Kinetics::default(),
            gauges: None,
        }
    }

    /// One run of it; `None` if there is nothing to rot.
    pub fn simulate(&self, resolution: &Resolution, stop: &AtomicBool) -> Option<Projection> {
        simulate_with(
            &self.totals,
            &self.additions,
            &self.heap,
            &self.kinetics,
            RunControl { resolution, stop },
        )
    }
}
