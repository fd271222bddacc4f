//! What is made and when: mass, volume, N-P-K with their ranges, nitrogen lost.
//!
//! In: an outcome. Out: lines and a small table.
//!
//! Not here: the calculation (`outcome::produce`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{Grid, RichText, Ui, vec2};

use crate::outcome::Outcome;
use crate::outcome::nutrient::enough_text;
use crate::quantity::{Range, UnitSystem};
use crate::text::number;

use crate::window::page::Page;
use crate::window::theme::strong;

/// Lines and table.
pub(in crate::window) fn yield_ui(ui: &mut Ui, page: &Page<'_>, outcome: &Outcome) {
    let units = page.state.settings.units;
    let out = &outcome.produce;
    let weak = page.look.colours.text_weak.0;
    let when = match outcome.finish.day {
        Some(day) => format!("Finished about day {day:.0}"),
        None => format!("Not finished within {:.0} days; by then", out.day),
    };
    ui.label(strong(format!(
        "{when}: about {} of compost, {}",
        number::volume(out.volume_m3.typical, units),
        enough_text(out.volume_m3.typical, units)
    )));
    ui.label(
        RichText::new(format!(
            "{}; volume {}; moisture {}; C:N {}; nitrogen lost as ammonia {}",
            with_range(out.mass_kg, |kg| number::mass(kg, units)),
            with_range(out.volume_m3, |m3| number::volume(m3, units)),
            with_range(out.moisture, percent_text),
            with_range(out.cn, |cn| format!("{cn:.0}")),
            with_range(out.ammonia_kg, |kg| nutrient_text(kg, units)),
        ))
        .color(weak),
    );
    let tight = vec2(page.look.sizes.gap * 1.5, page.look.sizes.nudge);
    let table = Grid::new("N-P-K").min_row_height(0.0).spacing(tight);
    table.show(ui, |ui| {
        for name in ["", "of dry matter", "in all"] {
            ui.label(RichText::new(name).small().color(weak));
        }
        ui.end_row();
        for (name, share, kg) in [
            ("N", out.nitrogen_share(), out.nitrogen_kg),
            ("P₂O₅", out.phosphate_share(), out.phosphate_kg),
            ("K₂O", out.potash_share(), out.potash_kg),
        ] {
            ui.label(name);
            ui.label(with_range(share, |share| format!("{:.1} %", 100.0 * share)));
            ui.label(with_range(kg, |kg| nutrient_text(kg, units)));
            ui.end_row();
        }
    });
}

fn percent_text(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// "58 % (50 to 63 %)"; the range only where there is one to see.
fn with_range(range: Range, text: impl Fn(f64) -> String) -> String {
    let (low, typical, high) = (text(range.low), text(range.typical), text(range.high));
    if low == high {
        return typical;
    }
    // A unit that both ends share is said once.
    let shared = low
        .split_once(' ')
        .filter(|(_, unit)| high.ends_with(&format!(" {unit}")))
        .map_or(low.as_str(), |(number, _)| number);
    format!("{typical} ({shared} to {high})")
}

/// A mass of a nutrient: grams or ounces where kilograms or pounds would be mostly zeros.
pub(in crate::window) fn nutrient_text(kg: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric if kg < 0.9995 => {
            format!("{} g", number::rounded((1000.0 * kg).round()))
        }
        UnitSystem::UsCustomary if units.mass(kg) < 0.995 => {
            format!("{} oz", number::rounded(16.0 * units.mass(kg)))
        }
        _ => number::mass(kg, units),
    }
}
