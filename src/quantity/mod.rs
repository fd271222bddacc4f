//! Numbers with a unit and an uncertainty: ranges, allowed bounds, household measures, units shown.
//!
//! In: what a person typed or a file holds. Out: SI values, checked; numbers in the chosen units.
//!
//! Here: the words and factors everything else relies on. Not here: what a material is made of
//! (`material`), what a mix does (`mix`), text (`text`).
//!
//! Tested by: `tests/science/quantity.rs`.

mod bound;
mod measure;
mod range;
mod units;

pub(crate) use bound::number_text;
pub use bound::{Bound, OutOfRange, bounds};
pub use measure::{Amount, Extent, Measure, OwnMeasure};
pub use range::Range;
pub use units::{
    CUBIC_METRE_PER_LITRE, KG_PER_POUND, LITRE_PER_CUBIC_METRE, LITRE_PER_US_GALLON, UnitSystem,
    celsius_from_fahrenheit, fahrenheit_from_celsius,
};
