//! Words of gauges and measures for the sentences of this room.
//!
//! In: gauges, measures, SI values. Out: words.
//!
//! Not here: sentences (`advice`, `lines`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::mix::{Band, Fit, Gauge};

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
