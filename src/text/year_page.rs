//! The words of the year's page: headings, hints, what arrives and where heaps can stand.
//!
//! In: parts of a [`crate::year::Year`]. Out: lines and labels.
//!
//! Not here: the plan in words (`year`), how lines are arranged (`window`).
//!
//! Tested by: `tests/window/year.rs`.

use crate::material::Catalogue;
use crate::quantity::{Amount, UnitSystem};
use crate::year::{Arrival, Bay};

use super::mix::name_of;
use super::{amount, number};

/// Heading before a year is open.
pub const START: &str = "Plan a year of heaps";
/// What it is for.
pub const WHAT_IT_IS: [&str; 3] = [
    "Say what arrives in each month and where heaps can stand.",
    "You are told which heap to build when, of what, so that most is used, little spoils and a bay is free in time.",
    "Begin with the example to see how it works, or with an empty year.",
];
/// Heading of the arrivals.
pub const ARRIVES: &str = "What arrives";
/// Heading of the bays.
pub const BAYS: &str = "Where heaps can stand";

/// What arrives of one material in the year: "64 sacks of Autumn leaves".
pub fn arrival(row: &Arrival, catalogue: &Catalogue) -> String {
    let whole = Amount::new(row.monthly.iter().sum(), row.measure.clone());
    amount::amount_of(&whole, name_of(&row.material, catalogue))
}

/// What a new bay is called.
pub fn bay_name(number: usize) -> String {
    format!("Bay {number}")
}

/// A bay with its room: "Bay 1, 1.44 m³".
pub fn bay(bay: &Bay, units: UnitSystem) -> String {
    format!("{}, {}", bay.name, number::volume(bay.room_m3, units))
}
