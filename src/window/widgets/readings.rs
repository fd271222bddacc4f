//! The five gauges of a mix: which they are, in which order, in which unit, and what drives each.
//!
//! In: a blend, the one to compare against, the room of the heap, the units. Out: five readings.
//!
//! Not here: how a gauge is drawn (`gauge`), what its band is (`mix::bands`).
//!
//! Tested by: `tests/window/gauge.rs`.

use crate::mix::{self, Band, Blend, Gauges, PartShare, bands};
use crate::quantity::{Range, UnitSystem};

use crate::window::page::Page;
use crate::window::widgets::gauge::Reading;

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
pub fn class_readings(page: &Page<'_>) -> Vec<Reading> {
    let Some(blend) = page.shown.stages.blend() else {
        return Vec::new();
    };
    let mut readings = readings(&GaugedMix {
        blend,
        names: &[],
        ghost: ghost(page),
        room_m3: page.project.heap.shape.room_m3(),
        units: page.state.settings.units,
    });
    readings.truncate(3);
    readings
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

/// A band in another unit.
fn scaled(band: Band, factor: f64) -> Band {
    let ends = |(low, high): (f64, f64)| (low * factor, high * factor);
    Band {
        works: ends(band.works),
        best: ends(band.best),
        ..band
    }
}

/// The readings, most telling first; none for an empty mix.
pub fn readings(source: &GaugedMix<'_>) -> Vec<Reading> {
    let Some(gauges) = &source.blend.gauges else {
        return Vec::new();
    };
    vec![
        carbon_nitrogen(source, gauges),
        moisture(source, gauges),
        volume(source, gauges),
        free_air_space(source, gauges),
        bulk_density(source, gauges),
    ]
}

fn carbon_nitrogen(source: &GaugedMix<'_>, gauges: &Gauges) -> Reading {
    Reading {
        name: "C:N",
        range: gauges.cn,
        ghost: source.ghost.map(|(ghost, _)| ghost.cn.typical),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: Some(bands::CN),
        scale: (0.0, 80.0),
        unit: "to 1",
        decimals: 0,
        without_limit: "no nitrogen",
        without_band: "",
        driven_by: format!(
            "{}\n{}",
            largest("carbon", source, |share| share.carbon),
            largest("nitrogen", source, |share| share.nitrogen)
        ),
    }
}

fn moisture(source: &GaugedMix<'_>, gauges: &Gauges) -> Reading {
    let percent = |range: Range| range.map(|share| share * 100.0);
    let added = source.blend.added_water_share * 100.0;
    Reading {
        name: "Moisture",
        range: percent(gauges.moisture),
        ghost: source
            .ghost
            .map(|(ghost, _)| ghost.moisture.typical * 100.0),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: Some(scaled(bands::MOISTURE, 100.0)),
        scale: (0.0, 100.0),
        unit: "%",
        decimals: 0,
        without_limit: "",
        without_band: "",
        driven_by: format!(
            "{}; added water {added:.0} %",
            largest("water", source, |share| share.water)
        ),
    }
}

fn volume(source: &GaugedMix<'_>, gauges: &Gauges) -> Reading {
    let units = source.units;
    let shown = |range: Range| range.map(|m3| units.volume(m3));
    let room = source.room_m3;
    let typical = gauges.volume_m3.typical;
    let end_m3 = room.map_or_else(|| round_up(typical * 1.25), |room| room * 1.5);
    Reading {
        name: "Volume",
        range: shown(gauges.volume_m3),
        ghost: source
            .ghost
            .map(|(ghost, _)| units.volume(ghost.volume_m3.typical)),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: room.map(|room| scaled(bands::volume(room), units.volume(1.0))),
        scale: (0.0, units.volume(end_m3)),
        unit: units.volume_unit(),
        decimals: 0,
        without_limit: "",
        without_band: "no fixed size",
        driven_by: largest("volume", source, |share| share.volume),
    }
}

fn free_air_space(source: &GaugedMix<'_>, gauges: &Gauges) -> Reading {
    Reading {
        name: "Free air space",
        range: gauges.free_air_space.map(|share| share * 100.0),
        ghost: source
            .ghost
            .map(|(ghost, _)| ghost.free_air_space.typical * 100.0),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: Some(scaled(bands::FREE_AIR_SPACE, 100.0)),
        scale: (0.0, 100.0),
        unit: "%",
        decimals: 0,
        without_limit: "",
        without_band: "",
        driven_by: largest("volume", source, |share| share.volume),
    }
}

fn bulk_density(source: &GaugedMix<'_>, gauges: &Gauges) -> Reading {
    let units = source.units;
    Reading {
        name: "Bulk density",
        range: gauges
            .wet_bulk_density_kg_per_m3
            .map(|density| units.density(density)),
        ghost: source
            .ghost
            .map(|(ghost, _)| units.density(ghost.wet_bulk_density_kg_per_m3.typical)),
        ghost_name: source.ghost.map_or("", |(_, name)| name),
        band: Some(scaled(bands::BULK_DENSITY_KG_PER_M3, units.density(1.0))),
        scale: (0.0, units.density(1000.0)),
        unit: units.density_unit(),
        decimals: 0,
        without_limit: "",
        without_band: "",
        driven_by: format!(
            "{}\n{}",
            largest("dry matter", source, |share| share.dry_mass),
            largest("water", source, |share| share.water)
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

/// "nitrogen mostly from Grass 62 %, Leaves 30 %".
fn largest(what: &str, source: &GaugedMix<'_>, share: impl Fn(&PartShare) -> f64) -> String {
    let mut shares: Vec<(f64, &str)> = source
        .blend
        .shares
        .iter()
        .zip(source.names)
        .map(|(part, name)| (share(part), name.as_str()))
        .filter(|(part, _)| *part >= 0.005)
        .collect();
    shares.sort_by(|a, b| b.0.total_cmp(&a.0));
    if shares.is_empty() {
        return format!("no {what} from any ingredient");
    }
    let words: Vec<String> = shares
        .iter()
        .take(2)
        .map(|(part, name)| format!("{name} {:.0} %", part * 100.0))
        .collect();
    format!("{what} mostly from {}", words.join(", "))
}
