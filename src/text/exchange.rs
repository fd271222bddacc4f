//! Greens in the place of browns, in words for a class.
//!
//! In: shares, volumes, what a heap was and is short of. Out: labels and short sentences.
//!
//! Not here: the exchange itself (`mix`), hunger (`outcome::hunger`).
//!
//! Tested by: `tests/window/class.rs`, `tests/science/exchange.rs`.

use crate::material::Side;
use crate::outcome::hunger::Hunger;
use crate::quantity::{Amount, Extent, Measure, UnitSystem};

use super::amount::{MOST_BUCKETS, amount, carried, several};
use super::number;

/// Lets the heap grow instead.
pub const HEAP_GROWS: &str = "Heap grows instead";
/// What that means.
pub const HEAP_GROWS_MEANS: &str = "Adds to the heap and takes nothing away; else greens and browns change places and the heap keeps its size.";
/// Said in place of the slider while the heap grows.
pub const ADDS: &str = "The first two buttons add to the heap.";
/// Name of the slider.
pub const SLIDER: &str = "Share of greens";
/// What the slider does.
pub const SLIDER_MEANS: &str = "Drag it: greens and browns take each other's place; the heap keeps its size and is watered where it would dry.";

/// The button that exchanges, for the side that there is more of then.
pub fn more_of(side: Side) -> &'static str {
    match side {
        Side::Green => "More greens, fewer browns",
        _ => "More browns, fewer greens",
    }
}

/// What undo calls it.
pub fn undone(side: Side) -> &'static str {
    match side {
        Side::Green => "greens for browns",
        _ => "browns for greens",
    }
}

/// What the button does, with a twentieth of the heap as it is carried.
pub fn exchanges(side: Side, step_m3: f64) -> String {
    let (more, fewer) = match side {
        Side::Green => ("greens", "browns"),
        _ => ("browns", "greens"),
    };
    format!(
        "Puts {more} in the place of {fewer}: {}. The heap keeps its size; as it was it stays as a ghost.",
        twentieth(step_m3)
    )
}

/// A twentieth of a heap as it is carried: "a twentieth of the heap, 5 buckets".
pub fn twentieth(step_m3: f64) -> String {
    format!("a twentieth of the heap, {}", said(step_m3))
}

/// So many whole buckets of something: "+5 buckets Grass clippings".
pub fn plus_buckets(buckets: f64, name: &str) -> String {
    format!("+{} {name}", amount(&Amount::new(buckets, Measure::Bucket)))
}

/// Buckets in a volume, with no fraction, at least one.
pub fn whole_buckets(m3: f64) -> f64 {
    buckets(m3).round().max(1.0)
}

fn buckets(m3: f64) -> f64 {
    match Measure::Bucket.one() {
        Extent::VolumeM3(one) => m3 / one,
        Extent::MassKg(_) => 0.0,
    }
}

/// A volume to the half bucket, below one to the quarter, or in barrows.
fn said(m3: f64) -> String {
    let buckets = buckets(m3);
    let grain = if buckets < 1.0 { 0.25 } else { 0.5 };
    let near = ((buckets / grain).round() * grain).max(0.25);
    if near > MOST_BUCKETS {
        return carried(&Amount::new(near, Measure::Bucket));
    }
    let word = if near > 1.0 {
        several(&Measure::Bucket)
    } else {
        super::amount::one(&Measure::Bucket)
    };
    format!("about {} {word}", number::halves(near))
}

/// A side with its share: "Greens 42 %".
pub fn share_of(side: Side, share: f64) -> String {
    let name = match side {
        Side::Green => "Greens",
        _ => "Browns",
    };
    format!("{name} {}", number::percent(share))
}

/// The heap that stands behind the curve: "Before (dashed): C:N 28.0, up to 68 °C, 32 days over 40 °C".
pub fn before(cn: f64, peak_c: f64, days_above_40: f64, units: UnitSystem) -> String {
    let line = number::temperature(40.0, units);
    let days = if days_above_40 < 0.05 {
        format!("never over {line}")
    } else {
        format!("{} over {line}", number::days(days_above_40))
    };
    format!(
        "Before (dashed): C:N {}, up to {}, {days}",
        number::ratio(cn),
        number::temperature(peak_c, units)
    )
}

/// What a heap that is short of nitrogen comes to, for a class.
pub fn hunger(hunger: Hunger) -> &'static str {
    match hunger {
        Hunger::Short => "Too brown: short of nitrogen",
        Hunger::Starves => "Starves: too little nitrogen",
    }
}
