//! What is made and when: mass, volume, N-P-K with their ranges, nitrogen lost.
//!
//! In: an outcome. Out: lines and a small table.
//!
//! Not here: the calculation (`outcome::produce`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{Grid, Ui, vec2};

use crate::outcome::Outcome;
use crate::text::outcome as words;

use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};

/// Lines and table.
pub(in crate::window) fn yield_ui(ui: &mut Ui, page: &Page<'_>, outcome: &Outcome) {
    let units = page.state.settings.units;
    let out = &outcome.produce;
    let weak = page.look.colours.text_weak.0;
    let [heading, numbers] = words::product_lines(outcome, units);
    ui.label(strong(heading));
    ui.label(unbroken(numbers).color(weak));
    let tight = vec2(page.look.sizes.gap * 1.5, page.look.sizes.nudge);
    let table = Grid::new("N-P-K").min_row_height(0.0).spacing(tight);
    table.show(ui, |ui| {
        for name in ["", "of dry matter", "in all"] {
            ui.label(unbroken(name).small().color(weak));
        }
        ui.end_row();
        for (name, share, kg) in [
            ("N", out.nitrogen_share(), out.nitrogen_kg),
            ("P₂O₅", out.phosphate_share(), out.phosphate_kg),
            ("K₂O", out.potash_share(), out.potash_kg),
        ] {
            ui.label(unbroken(name));
            ui.label(unbroken(words::ranged_percent(share)));
            ui.label(unbroken(words::ranged_nutrient(kg, units)));
            ui.end_row();
        }
    });
}
