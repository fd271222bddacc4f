//! A value that is known only within limits.
//!
//! In: low, typical and high. Out: the same three, carried through monotone formulas.
//!
//! A range is read as a 10-90 % interval around its typical value. Not here: how independent
//! ranges combine (`mix::spread`).
//!
//! Tested by: `tests/science/quantity.rs`.

use serde::{Deserialize, Serialize};

/// Low, typical and high value of one quantity, in the unit of the field that holds it.
///
/// `low <= typical <= high` and all three finite, once [`Range::is_sound`] has been asked.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Range {
    /// Lower end: one in ten lies below it.
    pub low: f64,
    /// The value to calculate with.
    pub typical: f64,
    /// Upper end: one in ten lies above it.
    pub high: f64,
}

impl Range {
    /// A range from its three values, in rising order.
    pub const fn new(low: f64, typical: f64, high: f64) -> Self {
        Self { low, typical, high }
    }

    /// A value without uncertainty.
    pub const fn exact(value: f64) -> Self {
        Self::new(value, value, value)
    }

    /// Whether all three are finite and in rising order.
    pub fn is_sound(&self) -> bool {
        self.low.is_finite()
            && self.high.is_finite()
            && self.low <= self.typical
            && self.typical <= self.high
    }

    /// The range of `f(value)` for an `f` that rises or falls throughout.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        let (a, b) = (f(self.low), f(self.high));
        Self::new(a.min(b), f(self.typical), a.max(b))
    }

    /// Distance from low to high.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}
