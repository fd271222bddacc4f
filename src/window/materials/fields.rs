//! Fields that the forms for own materials share: name, numbers in the units shown, expected result.
//!
//! In: a form. Out: the same, edited.
//!
//! Not here: the forms themselves (`form`, `copy`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{Label, TextEdit, Ui, vec2};

use crate::material::Sourced;
use crate::material::own::{Made, OwnError};
use crate::text::error::not_yet;
use crate::text::material::summary;
use crate::text::own_material::{doubt, working, working_source};

use crate::window::page::Page;
use crate::window::piles::drawer_choices::Form;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

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

/// Per cent, where the number is kept as such.
pub(in crate::window) const PERCENT: ShownUnit = ShownUnit::times(1.0, "%");
/// Greatest number that can be typed.
const MOST: f64 = 100_000.0;
/// Share of the width that a number takes.
const NUMBER_SHARE: f32 = 0.16;

/// A typed number with its unit.
pub(in crate::window) fn number_ui(
    ui: &mut Ui,
    name: &str,
    unit: ShownUnit,
    value: &mut f64,
    hint: &str,
) {
    ui.horizontal(|ui| {
        QuantityField::new(name, 0.0, unit.value(MOST))
            .unit(unit)
            .hint(&format!("{hint} Click to type it."))
            .width(ui.available_width() * NUMBER_SHARE)
            .show(ui, value);
        ui.label(unbroken(name));
    });
}

/// Low, usual and high of one value, under the heads of [`heads_ui`].
pub(in crate::window) fn three_ui(ui: &mut Ui, name: &str, unit: ShownUnit, value: &mut Sourced) {
    ui.horizontal(|ui| {
        let width = ui.available_width() * NUMBER_SHARE;
        for (word, number) in [
            ("low", &mut value.low),
            ("usual", &mut value.typical),
            ("high", &mut value.high),
        ] {
            let named = format!("{name}, {word}");
            QuantityField::new(&named, 0.0, unit.value(MOST))
                .unit(unit.unsigned())
                .hint(&format!("{named}. Click to type it."))
                .width(width)
                .show(ui, number);
        }
        ui.label(unbroken(match unit.sign {
            "" => name.to_owned(),
            sign => format!("{name}, {sign}"),
        }));
    });
}

/// Heads of the three columns.
pub(in crate::window) fn heads_ui(ui: &mut Ui) {
    ui.horizontal(|ui| {
        let cell = vec2(
            ui.available_width() * NUMBER_SHARE,
            ui.spacing().interact_size.y,
        );
        for word in ["low", "usual", "high"] {
            ui.add_sized(cell, Label::new(unbroken(word).small()));
        }
    });
}

/// Expected result: formulas with their sources, or the first thing that cannot be.
pub(in crate::window) fn result_ui(ui: &mut Ui, page: &Page<'_>, made: Result<Made, OwnError>) {
    let colours = page.look.colours;
    ui.separator();
    match made {
        Err(problem) => {
            ui.colored_label(colours.bad.0, unbroken(not_yet(&problem)));
        }
        Ok(made) => {
            if !made.workings.is_empty() {
                ui.label(strong("Calculation"));
            }
            for used in &made.workings {
                ui.label(unbroken(working(used)));
                let source = unbroken(working_source(used)).small();
                ui.label(source.color(colours.text_weak.0));
            }
            ui.label(unbroken(summary(&made.material, page.state.settings.units)));
            for it in &made.doubts {
                ui.colored_label(colours.near.0, unbroken(doubt(it)));
            }
        }
    }
}
