//! Amounts in words: measures for one and for several, what a measure holds.
//!
//! In: an amount or a measure. Out: "2.5 buckets", "12 L".
//!
//! Not here: sizes of measures (`quantity`), weights and volumes as such (`number`).
//!
//! Tested by: `tests/science/words.rs`, `tests/science/quantity.rs`.

use crate::quantity::{Amount, Extent, LITRE_PER_CUBIC_METRE, Measure, UnitSystem};

use super::number;

/// Most buckets or pails that are carried as such; more are said in barrows (common practice).
pub(super) const MOST_BUCKETS: f64 = 5.0;

/// The words for one and for several of a measure.
struct MeasureWords<'a> {
    one: &'a str,
    several: &'a str,
}

fn words(measure: &Measure) -> MeasureWords<'_> {
    let (one, several) = match measure {
        Measure::Litre => ("litre", "litres"),
        Measure::Kilogram => ("kg", "kg"),
        Measure::Gram => ("g", "g"),
        Measure::Bucket => ("bucket", "buckets"),
        Measure::Barrow => ("barrow", "barrows"),
        Measure::Sack => ("sack", "sacks"),
        Measure::Caddy => ("caddy", "caddies"),
        Measure::GrassBox => ("grass box", "grass boxes"),
        Measure::Bale => ("small bale", "small bales"),
        Measure::Fork => ("fork-load", "fork-loads"),
        Measure::Pail => ("5 gal pail", "5 gal pails"),
        Measure::CubicFoot => ("cubic foot", "cubic feet"),
        Measure::CubicYard => ("cubic yard", "cubic yards"),
        Measure::Pound => ("lb", "lb"),
        // A person names one of it; no rule makes several of any name.
        Measure::Own { name, .. } => (name.as_str(), name.as_str()),
    };
    MeasureWords { one, several }
}

/// The word for one of a measure: "bucket".
pub fn one(measure: &Measure) -> &str {
    words(measure).one
}

/// The word for several of a measure: "buckets".
pub fn several(measure: &Measure) -> &str {
    words(measure).several
}

/// The words after a number, for one and for several: "bucket" and "buckets". A pail's own number is in letters, since
/// "2 5 gal pails" reads as 25.
pub fn counted(measure: &Measure) -> (&str, &str) {
    match measure {
        Measure::Pail => ("five-gallon pail", "five-gallon pails"),
        measure => (one(measure), several(measure)),
    }
}

/// An amount: "2.5 buckets", "1 barrow", "300 g"; of a person's own measure "3 × skip".
pub fn amount(amount: &Amount) -> String {
    let number = number::rounded(amount.value);
    let (one, several) = counted(&amount.measure);
    match &amount.measure {
        _ if number == "1" => format!("{number} {one}"),
        Measure::Own { name, .. } => format!("{number} × {name}"),
        _ => format!("{number} {several}"),
    }
}

/// More than five buckets or pails as the barrows they come to, to the half, below one to the quarter.
pub fn in_barrows(amount: &Amount) -> Option<Amount> {
    let small = matches!(amount.measure, Measure::Bucket | Measure::Pail);
    let (Extent::VolumeM3(m3), Extent::VolumeM3(one)) = (amount.extent(), Measure::Barrow.one())
    else {
        return None;
    };
    let barrows = m3 / one;
    let grain = if barrows < 1.0 { 0.25 } else { 0.5 };
    let whole = (barrows / grain).round() * grain;
    (small && amount.value > MOST_BUCKETS).then(|| Amount::new(whole, Measure::Barrow))
}

/// An amount as it is carried: "4 buckets", "about 1½ barrows".
pub fn carried(amount: &Amount) -> String {
    let Some(barrows) = in_barrows(amount) else {
        return self::amount(amount);
    };
    let word = if barrows.value > 1.0 {
        several(&Measure::Barrow)
    } else {
        one(&Measure::Barrow)
    };
    format!("about {} {word}", number::halves(barrows.value))
}

/// So much of something as it is carried: "about 1½ barrows of straw".
pub fn carried_of(amount: &Amount, name: &str) -> String {
    format!("{} of {name}", carried(amount))
}

/// So much of something: "2.5 buckets of Leaves".
pub fn amount_of(amount: &Amount, name: &str) -> String {
    format!("{} of {name}", self::amount(amount))
}

/// Water that is poured: "20 L of water", "5.28 gal of water".
pub fn water(litres: f64, units: UnitSystem) -> String {
    let volume = number::small_volume(litres / LITRE_PER_CUBIC_METRE, units);
    format!("{volume} of water")
}

/// What one of a measure holds or weighs: "12 L", "1 kg".
pub fn holds(measure: &Measure, units: UnitSystem) -> String {
    match measure.one() {
        Extent::VolumeM3(m3) => number::small_volume(m3, units),
        Extent::MassKg(kg) => number::small_mass(kg, units),
    }
}

/// A measure with its size, as a list offers it: "bucket (12 L)".
pub fn offered(measure: &Measure, units: UnitSystem) -> String {
    format!("{} ({})", one(measure), holds(measure, units))
}
