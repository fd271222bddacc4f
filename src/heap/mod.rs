//! The heap: a mix with a shape, a place and a season, and the simulation of what becomes of it.
//!
//! In: the sums of a mix and a [`Heap`]. Out: a [`Projection`].
//!
//! Chapter: the outside world is in `climate`, the skin in `shape`, the air's properties in
//! `moist_air`, the biology in `rot`; `well_mixed` puts them together as one cell and advances time
//! with `integrate`. Results are `projection`.
//!
//! Not here: judgements on a projection (`outcome`). Nothing in this folder reads a clock or draws.
//!
//! Held against: `tests/science/one_cell.rs`, `tests/science/heap_cases.rs`.

pub mod airflow;
mod climate;
pub mod grid;
mod integrate;
pub mod moist_air;
mod projection;
pub mod rot;
mod shape;
pub mod transport;
mod well_mixed;

pub use climate::Climate;
pub use projection::{Ended, Ledger, Projection, Record, Summary};
pub use rot::Kinetics;
pub use shape::{Envelope, Lid, Shape};
pub use well_mixed::Settings;

use serde::{Deserialize, Serialize};

use crate::mix::Totals;
use crate::quantity::{OutOfRange, bounds};

/// A heap: shape, place, season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heap {
    /// Kind and size.
    pub shape: Shape,
    /// Weather of the place.
    pub climate: Climate,
    /// Day of the year on which it is built, 1 January = 1.
    pub start_day_of_year: f64,
    /// Temperature of the fresh mix, degC; `None` is the day's mean, but at least 8 degC.
    pub start_temperature_c: Option<f64>,
    /// Days to project.
    pub days: f64,
}

impl Heap {
    /// Checks every number.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first number outside its bound.
    pub fn check(&self) -> Result<(), OutOfRange> {
        self.shape.check()?;
        self.climate.check()?;
        bounds::DAY_OF_YEAR.check(self.start_day_of_year)?;
        bounds::DAYS.check(self.days)?;
        if let Some(start) = self.start_temperature_c {
            bounds::START_TEMPERATURE.check(start)?;
        }
        Ok(())
    }
}

/// Simulates a heap of this mix with the usual settings; `None` if there is nothing to rot (no dry
/// matter, or a volume outside [`bounds::HEAP_VOLUME`]).
///
/// `heap` must have passed [`Heap::check`]; the result is then finite.
pub fn simulate(totals: &Totals, heap: &Heap) -> Option<Projection> {
    simulate_with(totals, heap, &Kinetics::default(), &Settings::default())
}

/// The same with other kinetics or settings.
pub fn simulate_with(
    totals: &Totals,
    heap: &Heap,
    kinetics: &Kinetics,
    settings: &Settings,
) -> Option<Projection> {
    bounds::HEAP_VOLUME.check(totals.volume_m3()).ok()?;
    (totals.dry_kg > 0.0).then(|| well_mixed::simulate_well_mixed(totals, heap, kinetics, settings))
}
