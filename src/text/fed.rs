//! Fed bit by bit against built at once, in words.
//!
//! In: how both ways went. Out: a line for each and why.
//!
//! Not here: the comparison (`outcome::fed`).
//!
//! Tested by: `tests/science/fed.rs`, `tests/window/heap_plan.rs`.

use crate::outcome::fed::{FedOrSaved, Way};
use crate::quantity::UnitSystem;

use super::{date, number};

/// Peaks nearer than this are called the same, K (a reading's worth).
const SAME_K: f64 = 3.0;

/// "Fed as planned: 38 °C at most, 0 days above 40 °C", and the same built at once.
pub fn ways(of: &FedOrSaved, units: UnitSystem) -> [String; 2] {
    let told = |way: &Way| {
        format!(
            "{} at most, {} above {}",
            number::temperature(way.peak_c, units),
            number::days(way.days_above_40),
            number::temperature(40.0, units)
        )
    };
    [
        format!("Fed as planned: {}.", told(&of.fed)),
        format!(
            "Saved up and built at once on {}: {}.",
            date::date(of.built_on),
            told(&of.saved)
        ),
    ]
}

/// What makes the difference, from the numbers of both runs.
pub fn why(of: &FedOrSaved, units: UnitSystem) -> String {
    let (fed, saved) = (&of.fed, &of.saved);
    if fed.peak_c > saved.peak_c + SAME_K {
        return "Here feeding keeps it warmer: building at once falls in a colder time or packs it too tight."
            .to_owned();
    }
    if saved.peak_c < fed.peak_c + SAME_K {
        return "Saving up would not pay: both ways come to about the same heat.".to_owned();
    }
    let share = fed.quick_food_kg / saved.quick_food_kg.max(f64::MIN_POSITIVE);
    format!(
        "Fed, at most {} of all its quick food is there at one time, and at its warmest it is {} instead of {}: what has rotted before the rest comes has given its warmth away.",
        number::percent(share.min(1.0)),
        number::volume(fed.volume_m3, units),
        number::volume(saved.volume_m3, units)
    )
}
