//! The five gauges of a mix: which they are, in which order, how long their scales are, and what drives each.
//!
//! In: a blend, the one to compare against, the room of the heap, the units. Out: five readings.
//!
//! Not here: how a gauge is drawn (`gauge`), what its band is (`mix::bands`), its words (`text::mix`).
//!
//! Tested by: `tests/window/gauge.rs`.

use crate::mix::{self, Blend, Gauges, bands};
use crate::quantity::UnitSystem;
use crate::text::mix::{GaugeDriver, added_water, mostly_from};

use crate::window::page::Page;
use crate::window::widgets::gauge::GaugeReading;

/// End of the scale of C:N.
const CARBON_NITROGEN_END: f64 = 80.0;
/// End of the scale of bulk density, kg/m3.
const DENSITY_END_KG_PER_M3: f64 = 1000.0;
/// End of the scale of volume, as a multiple of the room; of an open heap as a multiple of what there is.
const ROOM_END: f64 = 1.5;
const OPEN_END: f64 = 1.25;

/// The gauges from the top down.
pub const ORDER: [mix::Gauge; 5] = [
    mix::Gauge::CarbonNitrogen,
    mix::Gauge::Moisture,
    mix::Gauge::Volume,
    mix::Gauge::AirSpace,
    mix::Gauge::Density,
];

/// What the gauges are compared against: a balance that is looked at, else the pinned mix.
pub fn ghost<'a>(page: &'a Page<'_>) -> Option<(&'a Gauges, &'static str)> {
    let balanced = page
        .shown
        .preview
        .as_ref()
        .and_then(|preview| preview.gauges());
    let pinned = page.shown.pinned.as_ref().map(|pinned| &pinned.gauges);
    balanced
        .map(|gauges| (gauges, "balanced"))
        .or(pinned.map(|gauges| (gauges, "pinned")))
}

/// The gauges a class looks at: C:N, moisture and volume; none for an empty mix.
pub fn class_readings(page: &Page<'_>) -> Vec<GaugeReading> {
    let Some(blend) = page.shown.stages.blend() else {
        return Vec::new();
    };
    let names = names(page);
    let mut readings = readings(&GaugedMix {
        blend,
        names: &names,
        ghost: ghost(page),
        room_m3: page.project.heap.shape.room_m3(),
        units: page.state.settings.units,
    });
    readings.truncate(3);
    readings
}

/// Names of the ingredients, in order.
pub fn names(page: &Page<'_>) -> Vec<String> {
    let rows = page.project.mix.ingredients.iter();
    rows.map(|row| page.name_of(&row.material)).collect()
}

/// What readings are made from.
pub struct GaugedMix<'a> {
    /// The mix, blended.
    pub blend: &'a Blend,
    /// Names of its ingredients, in order.
    pub names: &'a [String],
    /// Gauges to compare against, and what they are.
    pub ghost: Option<(&'a Gauges, &'static str)>,
    /// Room of the heap, m3; `None` for an open heap.
    pub room_m3: Option<f64>,
    /// Units shown.
    pub units: UnitSystem,
}

/// The readings, most telling first; none for an empty mix.
pub fn readings(source: &GaugedMix<'_>) -> Vec<GaugeReading> {
    let Some(gauges) = &source.blend.gauges else {
        return Vec::new();
    };
    ORDER
        .into_iter()
        .map(|gauge| reading(source, gauges, gauge))
        .collect()
}

fn reading(source: &GaugedMix<'_>, gauges: &Gauges, gauge: mix::Gauge) -> GaugeReading {
    GaugeReading {
        gauge,
        range: gauges.range(gauge),
        ghost: source.ghost.map(|(ghost, _)| ghost.value(gauge)),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: bands::of(gauge, source.room_m3),
        scale_end: scale_end(gauge, gauges, source.room_m3),
        units: source.units,
        driven_by: driven_by(source, gauge),
    }
}

/// End of a gauge's scale, SI.
fn scale_end(gauge: mix::Gauge, gauges: &Gauges, room_m3: Option<f64>) -> f64 {
    match gauge {
        mix::Gauge::CarbonNitrogen => CARBON_NITROGEN_END,
        mix::Gauge::Moisture | mix::Gauge::AirSpace => 1.0,
        mix::Gauge::Density => DENSITY_END_KG_PER_M3,
        mix::Gauge::Volume => room_m3.map_or_else(
            || round_up(gauges.volume_m3.typical * OPEN_END),
            |room| room * ROOM_END,
        ),
    }
}

/// The next of 1, 2, 5, 10, .. at or above a value.
fn round_up(value: f64) -> f64 {
    let value = value.max(0.01);
    let ten = 10_f64.powf(value.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|step| step * ten)
        .find(|top| *top >= value)
        .unwrap_or(value)
}

/// What drives a gauge, in lines.
fn driven_by(source: &GaugedMix<'_>, gauge: mix::Gauge) -> String {
    let largest = |what: GaugeDriver| {
        let parts = source.blend.shares.iter().zip(source.names);
        let shares = parts.map(|(part, name)| (what.share(part), name.as_str()));
        mostly_from(what, shares.collect())
    };
    match gauge {
        mix::Gauge::CarbonNitrogen => {
            [largest(GaugeDriver::Carbon), largest(GaugeDriver::Nitrogen)].join("\n")
        }
        mix::Gauge::Moisture => {
            let added = added_water(source.blend.added_water_share);
            [largest(GaugeDriver::Water), added].join("; ")
        }
        mix::Gauge::Volume | mix::Gauge::AirSpace => largest(GaugeDriver::Volume),
        mix::Gauge::Density => {
            [largest(GaugeDriver::DryMatter), largest(GaugeDriver::Water)].join("\n")
        }
    }
}
