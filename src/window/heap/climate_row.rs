//! The climate: a ready one to pick, or a place's own twelve numbers.
//!
//! In: the climate of the heap. Out: the same, edited.
//!
//! Not here: what the weather does (`heap::climate`).
//!
//! Tested by: `tests/window/heap.rs`.

use eframe::egui::{CollapsingHeader, ComboBox, Grid, Ui};

use crate::heap::Climate;
use crate::quantity::{UnitSystem, bounds};

use crate::text::date::MONTHS;
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Letters kept of the name of the climate that own numbers began with.
const NAME_LETTERS: usize = 60;

/// The row with its folded numbers.
pub fn climate_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let look = page.look;
    let climate = &mut page.project.heap.climate;
    ui.horizontal_wrapped(|ui| {
        ui.label("Weather");
        ComboBox::from_id_salt("climate")
            .selected_text(climate.name.clone())
            .width(ui.available_width().min(look.sizes.title_width))
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
            .on_hover_text("A climate to start from; its numbers can be changed below.");
    });
    CollapsingHeader::new("Your own weather numbers")
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
        ui.label(unbroken(*name));
        let air = format!("Mean air temperature in {name}");
        QuantityField::within(&air, bounds::AIR_TEMPERATURE)
            .unit(ShownUnit::temperature(units))
            .hint("Mean of day and night in this month.")
            .decimals(1)
            .show(ui, &mut climate.monthly_mean_c[month]);
        QuantityField::within(&format!("Rain in {name}"), bounds::RAIN)
            .unit(ShownUnit::rain(units))
            .hint("Rain of the whole month.")
            .speed(0.5)
            .decimals(1)
            .show(ui, &mut climate.monthly_rain_mm[month]);
        ui.end_row();
    }
}

/// What holds all year.
fn rest_ui(ui: &mut Ui, climate: &mut Climate, units: UnitSystem) {
    let plain = ShownUnit::PLAIN;
    let rows = [
        (
            "Daily temperature swing",
            "Half of the difference between the warmest and the coldest hour.",
            bounds::DAILY_SWING,
            ShownUnit::temperature_difference(units),
            &mut climate.daily_swing_k,
        ),
        (
            "Humidity",
            "Mean relative humidity of the air, 0 to 1.",
            bounds::SHARE,
            plain,
            &mut climate.relative_humidity,
        ),
        (
            "Wind at the heap",
            "Mean wind at the heap in m/s; 1.5 is a sheltered garden.",
            bounds::WIND,
            plain,
            &mut climate.wind_m_per_s,
        ),
        (
            "Latitude",
            "Degrees north; south is negative. It sets how high the sun stands.",
            bounds::LATITUDE,
            plain,
            &mut climate.latitude_deg,
        ),
    ];
    for (name, hint, bound, unit, value) in rows {
        ui.label(unbroken(name));
        QuantityField::within(name, bound)
            .unit(unit)
            .hint(hint)
            .speed(0.02)
            .show(ui, value);
        ui.end_row();
    }
}
