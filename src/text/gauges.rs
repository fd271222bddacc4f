//! The gauges of a mix as lines of a page: name, value, likely range, verdict, band.
//!
//! In: gauges, the room of the heap, the units. Out: a line for each, in the order they are read.
//!
//! Not here: the words of one gauge (`mix`), how lines are arranged (`export`).
//!
//! Tested by: `tests/document/export.rs`, `tests/document/handout.rs`.

use crate::mix::{Gauge, Gauges, TargetBand, bands};
use crate::quantity::{Range, UnitSystem};

use super::{mix, number};

/// End of the scale of C:N.
const CARBON_NITROGEN_END: f64 = 80.0;
/// End of the scale of bulk density, kg/m3.
const DENSITY_END_KG_PER_M3: f64 = 1000.0;
/// End of the scale of volume, as a multiple of the room or of what there is.
const VOLUME_END: f64 = 1.3;
/// Room assumed for the scale of an open heap, m3.
const OPEN_ROOM_M3: f64 = 1.0;

/// Said where there is no C:N.
pub const NO_NITROGEN: &str = "there is no nitrogen to compare the carbon with";
/// The poured water among what brings water.
pub const WATER_POURED_ON: &str = "water poured on";

/// What a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineSubject {
    /// A gauge that has a band.
    Of(Gauge),
    /// C:N of what rots within the run; it has no band.
    AvailableCarbonNitrogen,
}

impl LineSubject {
    /// Every one, in the order in which they are read.
    pub const ALL: [Self; 6] = [
        Self::Of(Gauge::CarbonNitrogen),
        Self::AvailableCarbonNitrogen,
        Self::Of(Gauge::Moisture),
        Self::Of(Gauge::Volume),
        Self::Of(Gauge::AirSpace),
        Self::Of(Gauge::Density),
    ];
}

/// A gauge in words, and the numbers behind them.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeLine {
    /// Which.
    pub subject: LineSubject,
    /// Its name.
    pub name: &'static str,
    /// The value with its unit, or "none".
    pub value: String,
    /// "18.2 to 31.0"; empty if nothing is uncertain.
    pub spread: String,
    /// The word for the side it lies on, where it is judged.
    pub word: Option<&'static str>,
    /// The range, SI.
    pub range: Range,
    /// What works and what is best, SI, where it is judged.
    pub band: Option<TargetBand>,
    /// End of its scale, SI; it begins at 0.
    pub scale_end: f64,
}

/// The word for the side a gauge lies on; `None` without a band or a value.
pub fn word(gauges: &Gauges, gauge: Gauge, room_m3: Option<f64>) -> Option<&'static str> {
    let value = gauges.value(gauge);
    let band = bands::of(gauge, room_m3).filter(|_| !value.is_nan())?;
    Some(mix::verdict(gauge, band.judge(value)))
}

/// Every gauge, in the order in which they are read.
pub fn gauge_lines(gauges: &Gauges, room_m3: Option<f64>, units: UnitSystem) -> Vec<GaugeLine> {
    let line = |subject| match subject {
        LineSubject::Of(gauge) => judged(gauges, gauge, room_m3, units),
        LineSubject::AvailableCarbonNitrogen => available(gauges, units),
    };
    LineSubject::ALL.into_iter().map(line).collect()
}

fn judged(gauges: &Gauges, gauge: Gauge, room_m3: Option<f64>, units: UnitSystem) -> GaugeLine {
    let range = gauges.range(gauge);
    GaugeLine {
        subject: LineSubject::Of(gauge),
        name: mix::gauge_title(gauge),
        value: value_or_none(gauge, range.typical, units),
        spread: mix::likely(gauge, range, units),
        word: word(gauges, gauge, room_m3),
        range,
        band: bands::of(gauge, room_m3),
        scale_end: match gauge {
            Gauge::CarbonNitrogen => CARBON_NITROGEN_END,
            Gauge::Moisture | Gauge::AirSpace => 1.0,
            Gauge::Density => DENSITY_END_KG_PER_M3,
            Gauge::Volume => room_m3.unwrap_or(OPEN_ROOM_M3).max(range.typical) * VOLUME_END,
        },
    }
}

fn available(gauges: &Gauges, units: UnitSystem) -> GaugeLine {
    let range = gauges.cn_available;
    GaugeLine {
        subject: LineSubject::AvailableCarbonNitrogen,
        name: "C:N available",
        value: value_or_none(Gauge::CarbonNitrogen, range.typical, units),
        spread: mix::likely(Gauge::CarbonNitrogen, range, units),
        word: None,
        range,
        band: None,
        scale_end: CARBON_NITROGEN_END,
    }
}

fn value_or_none(gauge: Gauge, value: f64, units: UnitSystem) -> String {
    if value.is_finite() {
        mix::gauge_value(gauge, value, units)
    } else {
        "none".to_owned()
    }
}

/// A line as it stands on a page: "28.3, balanced".
pub fn value_and_word(line: &GaugeLine) -> String {
    match line.word {
        Some(word) => format!("{}, {word}", line.value),
        None => line.value.clone(),
    }
}

/// The same with its range: "C:N: 28.3, balanced (18.2 to 31.0)".
pub fn whole_line(line: &GaugeLine) -> String {
    let value = value_and_word(line);
    match line.spread.as_str() {
        "" => format!("{}: {value}", line.name),
        spread => format!("{}: {value} ({spread})", line.name),
    }
}

/// Ingredients that bring most of something: "carbon: Leaves 62 %; Grass 20 %".
pub fn drivers(what: mix::GaugeDriver, named: &[String]) -> String {
    format!("{}: {}", what.name(), named.join("; "))
}

/// The weight of a mix, as the heading of its ingredients.
pub fn mix_heading(wet_kg: f64, units: UnitSystem) -> String {
    format!("The mix, {}", number::mass(wet_kg, units))
}
