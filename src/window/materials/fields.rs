//! Fields that the forms for own materials share: name, numbers in the units shown, expected result.
//!
//! In: a form. Out: the same, edited.
//!
//! Not here: the forms themselves (`materials_form`, `materials_copy`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{DragValue, RichText, TextEdit, Ui, vec2};

use crate::material::own::{Made, OwnError};
use crate::quantity::{KG_PER_POUND, LITRE_PER_US_GALLON, UnitSystem};
use crate::text::error::not_yet;
use crate::text::material::summary;
use crate::text::own_material::{doubt, working, working_source};

use crate::window::page::Page;
use crate::window::piles::drawer_choices::Form;
use crate::window::theme::strong;
use crate::window::widgets::named::Named;

/// Name of the new material.
pub(in crate::window) fn name_ui(ui: &mut Ui, form: &mut Form) {
    ui.horizontal(|ui| {
        let label = ui.label("Name");
        ui.add(
            TextEdit::singleline(&mut form.name)
                .hint_text("reed cuttings from the pond")
                .desired_width(ui.available_width()),
        )
        .labelled_by(label.id)
        .named("Name of the material")
        .on_hover_text("What it is called in lists and in the mix.");
    });
}

/// A unit and how many of it make one of the SI unit.
pub(in crate::window) type Unit = (&'static str, f64);

/// Per cent.
pub(in crate::window) const PERCENT: Unit = ("%", 1.0);

/// Units of a bucket's volume, its weight, and of bulk density.
pub(in crate::window) fn units_of(units: UnitSystem) -> [Unit; 3] {
    let density = (units.density_unit(), units.density(1.0));
    match units {
        UnitSystem::Metric => [("L", 1.0), ("kg", 1.0), density],
        UnitSystem::UsCustomary => [
            ("gal", 1.0 / LITRE_PER_US_GALLON),
            ("lb", 1.0 / KG_PER_POUND),
            density,
        ],
    }
}

/// A typed number with its unit.
pub(in crate::window) fn number_ui(
    ui: &mut Ui,
    name: &str,
    (unit, factor): Unit,
    value: &mut f64,
    hint: &str,
) {
    ui.horizontal(|ui| {
        let width = ui.available_width();
        let mut shown = *value * factor;
        let response = ui
            .add(
                DragValue::new(&mut shown)
                    .speed(0.1)
                    .max_decimals(2)
                    .range(0.0..=100_000.0)
                    .min_size(vec2(width * 0.16, 0.0))
                    .suffix(format!(" {unit}")),
            )
            .named(name)
            .on_hover_text(format!("{hint} Click to type it."));
        // Written only when moved: there and back must not change the value.
        if response.changed() {
            *value = shown / factor;
        }
        ui.label(name);
    });
}

/// Expected result: formulas with their sources, or the first thing that cannot be.
pub(in crate::window) fn result_ui(ui: &mut Ui, page: &Page<'_>, made: Result<Made, OwnError>) {
    let colours = page.look.colours;
    ui.separator();
    match made {
        Err(problem) => {
            ui.colored_label(colours.bad.0, not_yet(&problem));
        }
        Ok(made) => {
            if !made.workings.is_empty() {
                ui.label(strong("Calculation"));
            }
            for used in &made.workings {
                ui.label(working(used));
                let source = RichText::new(working_source(used)).small();
                ui.label(source.color(colours.text_weak.0));
            }
            ui.label(summary(&made.material, page.state.settings.units));
            for it in &made.doubts {
                ui.colored_label(colours.near.0, doubt(it));
            }
        }
    }
}
