//! The heap as it is designed: shape, place, season and plan.
//!
//! In: what the gardener chose. Out: the same, checked, and the temperature at which material comes to it.
//!
//! Not here: what it is made of (`mix`), how it is simulated (`run`).
//!
//! Tested by: `tests/science/absurd_heaps.rs`, `tests/science/plan.rs`, `tests/science/heap_cases.rs`.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::quantity::{OutOfRange, bounds};

use super::climate::Climate;
use super::operation::Cover;
use super::plan::{Plan, PlanError};
use super::shape::{Base, Shape};

/// Coldest that a fresh mix is taken to be when nothing is said, degC (tuned: sheds, stacks and the greens themselves
/// keep that much, and a right mix of 1 m3 lights in a winter of 0-3 degC).
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
    pub(super) fn fresh_temperature_c(&self, day: f64) -> f64 {
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
