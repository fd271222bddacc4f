//! Words of gauges and measures for the sentences of this room.
//!
//! In: gauges, measures, SI values. Out: words.
//!
//! Not here: sentences (`advice`, `lines`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::mix::{Band, Fit, Gauge};
use crate::quantity::{Measure, UnitSystem};

/// A value tested against a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Judged {
    /// Which side.
    pub(super) fit: Fit,
    /// The word for it.
    pub(super) word: &'static str,
}

/// Where a value of a gauge lies against its band.
pub(super) fn judged(gauge: Gauge, band: &Band, value: f64) -> Judged {
    let words = match gauge {
        Gauge::CarbonNitrogen => [
            "too green",
            "on the green side",
            "balanced",
            "on the brown side",
            "too brown",
        ],
        Gauge::Moisture => [
            "too dry",
            "on the dry side",
            "moist",
            "on the wet side",
            "too wet",
        ],
        Gauge::AirSpace => ["airless", "tight", "airy", "loose", "very loose"],
        Gauge::Density => ["fluffy", "light", "about right", "heavy", "too heavy"],
        Gauge::Volume => ["too little", "not full", "full", "over-full", "too much"],
    };
    let fit = band.judge(value);
    let word = words[fit as usize];
    Judged { fit, word }
}

/// What a gauge is called in a sentence.
pub(super) fn gauge_name(gauge: Gauge) -> &'static str {
    match gauge {
        Gauge::Moisture => "moisture",
        Gauge::CarbonNitrogen => "C:N",
        Gauge::AirSpace => "free air space",
        Gauge::Volume => "volume",
        Gauge::Density => "bulk density",
    }
}

/// A number with about three significant digits.
pub(crate) fn rounded(value: f64) -> String {
    let size = value.abs();
    let decimals = if size >= 100.0 {
        0
    } else if size >= 10.0 {
        1
    } else {
        2
    };
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// A temperature.
pub(super) fn temperature(celsius: f64, units: UnitSystem) -> String {
    let shown = units.temperature(celsius);
    format!("{shown:.0} {}", units.temperature_unit())
}

/// A volume.
pub(super) fn volume(m3: f64, units: UnitSystem) -> String {
    if m3 >= 2.0 {
        let shown = rounded(units.bulk_volume(m3));
        format!("{shown} {}", units.bulk_volume_unit())
    } else {
        format!("{} {}", rounded(units.volume(m3)), units.volume_unit())
    }
}

/// A weight.
pub(super) fn mass(kg: f64, units: UnitSystem) -> String {
    format!("{} {}", rounded(units.mass(kg)), units.mass_unit())
}

/// The words for one and for several of a measure.
pub(super) fn measure(measure: &Measure) -> (&str, &str) {
    match measure {
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
        Measure::Own { name, .. } => (name.as_str(), name.as_str()),
    }
}
