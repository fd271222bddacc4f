//! The climate: a ready one to pick, or a place's own twelve numbers.
//!
//! In: the climate of the heap. Out: the same, edited.
//!
//! Not here: what the weather does (`heap::climate`).
//!
//! Tested by: `tests/window/heap.rs`.

use eframe::egui::{CollapsingHeader, ComboBox, DragValue, Grid, Ui};

use crate::heap::Climate;
use crate::quantity::{Bound, UnitSystem, bounds};

use crate::text::date::MONTHS;
use crate::window::page::Page;
use crate::window::widgets::named::Named;

/// mm in an inch (exact).
const MM_PER_INCH: f64 = 25.4;
/// Letters kept of the name of the climate that own numbers began with.
const NAME_LETTERS: usize = 60;

/// The row with its folded numbers.
pub fn climate_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let climate = &mut page.project.heap.climate;
    ui.horizontal_wrapped(|ui| {
        ui.label("Weather");
        ComboBox::from_id_salt("climate")
            .selected_text(climate.name.clone())
            .width(ui.available_width().min(300.0))
            .show_ui(ui, |ui| {
                for ready in Climate::ready() {
                    let chosen = ready.name == climate.name;
                    if ui.selectable_label(chosen, &ready.name).clicked() && !chosen {
                        *climate = ready;
                    }
                }
            })
            .response
            .named("Climate")
            .on_hover_text("A climate to begin with; its numbers can be changed below.");
    });
    CollapsingHeader::new("Numbers of the place")
        .id_salt("climate numbers")
        .show(ui, |ui| {
            let before = climate.clone();
            Grid::new("months").num_columns(3).show(ui, |ui| {
                months_ui(ui, climate, units);
                rest_ui(ui, climate, units);
            });
            if *climate != before {
                climate.name = own_name(&before.name);
            }
        });
}

/// What a climate is called once a number of it has been changed.
fn own_name(name: &str) -> String {
    const OWN: &str = "Own numbers";
    if name.starts_with(OWN) {
        return name.to_owned();
    }
    let short: String = name.chars().take(NAME_LETTERS).collect();
    format!("{OWN} (at first {short})")
}

/// Twelve temperatures and twelve rains.
fn months_ui(ui: &mut Ui, climate: &mut Climate, units: UnitSystem) {
    for heading in ["Month", "Air, day and night", "Rain"] {
        ui.weak(heading);
    }
    ui.end_row();
    for (month, name) in MONTHS.iter().enumerate() {
        ui.label(*name);
        let mut air = units.temperature(climate.monthly_mean_c[month]);
        let (low, high) = (bounds::AIR_TEMPERATURE.low, bounds::AIR_TEMPERATURE.high);
        let field = DragValue::new(&mut air)
            .range(units.temperature(low)..=units.temperature(high))
            .speed(0.1)
            .max_decimals(1)
            .suffix(format!(" {}", units.temperature_unit()));
        let field = ui
            .add(field)
            .named(&format!("Mean air temperature in {name}"));
        if field
            .on_hover_text("Mean of day and night in this month.")
            .changed()
        {
            climate.monthly_mean_c[month] = match units {
                UnitSystem::Metric => air,
                UnitSystem::UsCustomary => crate::quantity::celsius_from_fahrenheit(air),
            };
        }
        let (one, unit) = match units {
            UnitSystem::Metric => (1.0, " mm"),
            UnitSystem::UsCustomary => (MM_PER_INCH, " in"),
        };
        let mut rain = climate.monthly_rain_mm[month] / one;
        let field = DragValue::new(&mut rain)
            .range(0.0..=bounds::RAIN.high / one)
            .speed(0.5)
            .max_decimals(1)
            .suffix(unit);
        let field = ui.add(field).named(&format!("Rain in {name}"));
        if field.on_hover_text("Rain of the whole month.").changed() {
            climate.monthly_rain_mm[month] = rain * one;
        }
        ui.end_row();
    }
}

/// What holds all year.
fn rest_ui(ui: &mut Ui, climate: &mut Climate, units: UnitSystem) {
    let degrees = match units {
        UnitSystem::Metric => 1.0,
        UnitSystem::UsCustomary => 1.8,
    };
    let rows: [(&str, &str, Bound, f64, &mut f64); 4] = [
        (
            "Swing of a day",
            "Half of the difference between the warmest and the coldest hour.",
            bounds::DAILY_SWING,
            degrees,
            &mut climate.daily_swing_k,
        ),
        (
            "Humidity",
            "Mean relative humidity of the air, 0 to 1.",
            bounds::SHARE,
            1.0,
            &mut climate.relative_humidity,
        ),
        (
            "Wind at the heap",
            "Mean wind at the heap in m/s; 1.5 is a sheltered garden.",
            bounds::WIND,
            1.0,
            &mut climate.wind_m_per_s,
        ),
        (
            "Latitude",
            "Degrees north; south is negative. It drives the sun.",
            bounds::LATITUDE,
            1.0,
            &mut climate.latitude_deg,
        ),
    ];
    for (name, tip, bound, one, value) in rows {
        ui.label(name);
        let mut shown = *value * one;
        let field = DragValue::new(&mut shown)
            .range(bound.low * one..=bound.high * one)
            .speed(0.02)
            .max_decimals(2);
        if ui.add(field).named(name).on_hover_text(tip).changed() {
            *value = shown / one;
        }
        ui.end_row();
    }
}
