//! The heap: a mix with a shape, a place, a season and a plan, and the simulation of what becomes of it.
//!
//! In: the sums of a mix and a [`Heap`]. Out: a [`Projection`].
//!
//! Chapter: the outside world is in `climate` and `outside`, shapes in `shape`, the gardener's operations in
//! `plan`, the air's properties in `moist_air` (tabulated in `tables`), cells in `grid` and `cell`, the
//! biology in `rot`. `airflow`, `transport`, `surface`, `oxygen` and `ammonia` are the balance laws;
//! `run` alone advances time, `event` does the operations, `record` writes down the `projection`.
//!
//! Not here: judgements on a projection (`outcome`). Nothing in this folder reads a clock or draws.
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/ledgers.rs`, `tests/science/heap_cases.rs`.

pub mod airflow;
mod ammonia;
pub mod cell;
mod climate;
mod event;
pub mod grid;
pub mod moist_air;
pub mod outside;
pub mod oxygen;
mod plan;
mod projection;
mod record;
pub mod rot;
mod run;
mod shape;
pub mod surface;
pub mod tables;
pub mod transport;

pub use climate::Climate;
pub use plan::{Cover, Event, MOST_EVENTS, Operation, Placing, Plan, PlanError, Turning};
pub use projection::{
    Ended, Field, Ledger, Left, Moment, Parcel, Projection, Record, SectionGrid, Summary,
    longest_spell,
};
pub use rot::Kinetics;
pub use run::simulate_on_grid;
pub use shape::{Base, Board, Lid, Shape, Skin, Wall};

use std::sync::atomic::AtomicBool;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::mix::Totals;
use crate::quantity::{OutOfRange, bounds};

/// Coldest that a fresh mix is taken to be when nothing is said, degC: sheds, stacks and the greens themselves keep
/// that much (tuned).
const FRESH_COLDEST_C: f64 = 10.0;

/// A heap: shape, place, season, plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heap {
    /// Kind and size.
    pub shape: Shape,
    /// What it stands on.
    pub base: Base,
    /// What lies over it at the start.
    pub cover: Cover,
    /// Whether the sun reaches it.
    pub in_sun: bool,
    /// Weather of the place.
    pub climate: Climate,
    /// Day of the year on which it is built, 1 January = 1.
    pub start_day_of_year: f64,
    /// Temperature of the fresh mix, degC; `None` is the day's mean, but at least 10 degC.
    pub start_temperature_c: Option<f64>,
    /// Days to project.
    pub days: f64,
    /// What is done to it, and when.
    pub plan: Plan,
}

/// Why a heap cannot be simulated.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum HeapError {
    /// A number is outside its bound.
    #[error(transparent)]
    Number(#[from] OutOfRange),
    /// The plan cannot be.
    #[error(transparent)]
    Plan(#[from] PlanError),
}

impl Heap {
    /// Checks every number.
    ///
    /// # Errors
    /// [`HeapError`] for the first number outside its bound.
    pub fn check(&self) -> Result<(), HeapError> {
        self.shape.check()?;
        self.climate.check()?;
        self.plan.check()?;
        self.cover.check()?;
        bounds::DAY_OF_YEAR.check(self.start_day_of_year)?;
        bounds::DAYS.check(self.days)?;
        if let Some(start) = self.start_temperature_c {
            bounds::START_TEMPERATURE.check(start)?;
        }
        Ok(())
    }

    /// Temperature of material that comes to the heap on this day after the start, degC.
    fn fresh_temperature_c(&self, day: f64) -> f64 {
        let air = self
            .climate
            .daily_mean_c(self.start_day_of_year - 1.0 + day)
            .max(FRESH_COLDEST_C);
        match self.start_temperature_c {
            Some(start) if day <= 0.0 => start,
            _ => air,
        }
    }
}

/// How finely to simulate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Cells outward and upward.
    pub cells: (usize, usize),
    /// Longest step, h.
    pub step_hours: f64,
    /// Change of temperature that a step aims at, K; three times as much is redone.
    pub change_k: f64,
    /// Time between refreshes of what changes slowly, h.
    pub refresh_hours: f64,
    /// Sweeps of the oxygen solve per step, each over columns and rows.
    pub oxygen_sweeps: usize,
    /// Time between records, h.
    pub record_hours: f64,
    /// Time between fields, h; `None` keeps no fields and follows no parcels.
    pub field_hours: Option<f64>,
    /// For checks of the kinetics: nothing crosses the skin, and the pores always hold open air.
    pub isolated: bool,
}

impl Settings {
    /// For every frame while something is dragged: 8 by 8 cells, steps up to 6 h.
    pub const fn coarse() -> Self {
        Self {
            cells: (8, 8),
            step_hours: 6.0,
            change_k: 3.0,
            refresh_hours: 12.0,
            oxygen_sweeps: 2,
            record_hours: 3.0,
            field_hours: Some(12.0),
            isolated: false,
        }
    }

    /// For a member of an ensemble: 6 by 8 cells, a field a day for its parcels. Three quarters of the time of 8 by 8 cells; the
    /// band of an ensemble lies as near to that of fine members (0.4-1.7 K, root mean square).
    pub const fn member() -> Self {
        Self {
            cells: (6, 8),
            field_hours: Some(24.0),
            record_hours: 12.0,
            ..Self::coarse()
        }
    }

    /// When the hand rests: 16 by 16 cells, steps up to 3 h.
    pub const fn fine() -> Self {
        Self {
            cells: (16, 16),
            step_hours: 3.0,
            change_k: 1.0,
            refresh_hours: 6.0,
            oxygen_sweeps: 2,
            record_hours: 3.0,
            field_hours: Some(6.0),
            isolated: false,
        }
    }
}

/// A mix that is added later: its sums and its place in the plan's list.
pub type Addition = (usize, Totals);

/// Simulates a heap of this mix; `None` if there is nothing to rot (no dry matter, or a volume
/// outside [`bounds::HEAP_VOLUME`]).
///
/// `heap` must have passed [`Heap::check`]; the result is then finite. `additions` hold the sums of what
/// the plan adds. `stop` calls the run off from another thread.
pub fn simulate(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    settings: &Settings,
    stop: &AtomicBool,
) -> Option<Projection> {
    simulate_with(
        totals,
        additions,
        heap,
        &Kinetics::default(),
        (settings, stop),
    )
}

/// The same with other kinetics.
pub fn simulate_with(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    how: (&Settings, &AtomicBool),
) -> Option<Projection> {
    let all = additions
        .iter()
        .fold(totals.volume_m3(), |sum, (_, more)| sum + more.volume_m3());
    bounds::HEAP_VOLUME.check(totals.volume_m3()).ok()?;
    bounds::HEAP_VOLUME.check(all).ok()?;
    (totals.dry_kg > 0.0).then(|| simulate_on_grid(totals, additions, heap, kinetics, how))
}
