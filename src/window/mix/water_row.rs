//! The row of the water that is poured on: slider, typed value, unit, share.
//!
//! In: the mix, the units. Out: the water, edited.
//!
//! Not here: the rows of the ingredients (`ingredient_rows`), their columns (`row_lines`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{Align, Layout, Ui};

use crate::quantity::{LITRE_PER_US_GALLON, UnitSystem, bounds};
use crate::text::mix as words;

use crate::window::mix::row_lines::{Lines, handle_width, name_column_ui, widths_after_slider};
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::amount_control::{Control, slider_ui, value_ui};

/// Name of the water row and its controls.
pub const WATER: &str = "Added water";
/// Key of the water row among the sliders' upper ends.
const WATER_TOP: &str = "water";
/// Place that stands for the water row while its slider is held.
const WATER_ROW: usize = usize::MAX;
/// Where its slider ends at first, of either unit: a few cans.
const FIRST_TOP: f64 = 50.0;

/// Added water, laid as the rows above it are.
pub(super) fn water_ui(ui: &mut Ui, page: &mut Page<'_>, lines: Lines) {
    ui.horizontal(|ui| {
        ui.add_space(handle_width(page.look));
        match lines {
            Lines::One => {
                name_column_ui(ui, page.look.sizes, name_ui);
                amount_ui(ui, page, lines);
            }
            Lines::Two => name_ui(ui),
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if let Some(blend) = page.shown.stages.blend() {
                let text = words::share_of_water(blend.added_water_share);
                let weak = page.look.colours.text_weak.0;
                ui.label(unbroken(text).small().color(weak))
                    .on_hover_text("Its share of all the water in the mix.");
            }
        });
    });
    if lines == Lines::Two {
        ui.horizontal(|ui| amount_ui(ui, page, lines));
    }
}

fn name_ui(ui: &mut Ui) {
    ui.label(strong(WATER))
        .on_hover_text("Water poured on while mixing.");
}

fn amount_ui(ui: &mut Ui, page: &mut Page<'_>, lines: Lines) {
    let units = page.state.settings.units;
    let (litres_in_one, unit) = match units {
        UnitSystem::Metric => (1.0, "litres"),
        UnitSystem::UsCustomary => (LITRE_PER_US_GALLON, "gallons"),
    };
    let sizes = page.look.sizes;
    let before = page.project.mix.added_water_l / litres_in_one;
    let mut value = before;
    let key = format!("{WATER_TOP}/{}", units.volume_unit());
    let hint = format!("Water poured on while mixing, in {}.", units.volume_unit());
    let preview = page.shown.preview.as_ref();
    let control = Control {
        name: WATER,
        hint: &hint,
        key: &key,
        row: WATER_ROW,
        first_top: FIRST_TOP,
        most: bounds::ADDED_WATER.high / litres_in_one,
        tail: widths_after_slider(ui, lines, sizes).1,
        mark: preview.map(|preview| preview.mix().added_water_l / litres_in_one),
    };
    slider_ui(ui, page.state, page.look, &control, &mut value);
    value_ui(ui, &control, sizes.value_width, &mut value);
    // Written only when moved: a conversion there and back must not change the recipe.
    if value != before {
        page.project.mix.added_water_l = value * litres_in_one;
    }
    ui.label(unbroken(unit));
}
