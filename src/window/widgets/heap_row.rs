//! The heap in one row: shape with its dimensions, the day it is built, the forecast length.
//!
//! In: the heap of the project, the units shown. Out: the same, edited.
//!
//! Not here: kinds of heap (`heap_kind`), climate and plan, what the shape does to heat (`heap::shape`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{ComboBox, Ui};

use crate::heap::{Heap, Shape};
use crate::quantity::{Bound, UnitSystem, bounds};
use crate::text::date::{MONTHS, day_of_year, days_in_month, month_and_day};

use crate::window::theme::{Look, strong};
use crate::window::widgets::heap_kind::HeapKind;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Whether small words stand between the fields.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Words {
    /// There is room for them.
    Shown,
    /// There is none.
    LeftOut,
}

/// The row.
pub fn heap_row_ui(ui: &mut Ui, heap: &mut Heap, units: UnitSystem, look: Look<'_>) {
    let words = if ui.available_width() >= look.sizes.words_from_width {
        Words::Shown
    } else {
        Words::LeftOut
    };
    ui.horizontal_wrapped(|ui| {
        if words == Words::Shown {
            ui.label(strong("Heap"));
        }
        kind_ui(ui, &mut heap.shape, look);
        dimensions_ui(ui, &mut heap.shape, units, words);
        date_ui(ui, heap, words);
        days_ui(ui, heap, words);
    });
}

fn kind_ui(ui: &mut Ui, shape: &mut Shape, look: Look<'_>) {
    let present = HeapKind::of(shape);
    ComboBox::from_id_salt("shape")
        .selected_text(present.label())
        .width(look.sizes.measure_width * 1.35)
        .show_ui(ui, |ui| {
            for kind in HeapKind::ALL {
                let chosen = kind == present;
                if ui.selectable_label(chosen, kind.label()).clicked() && !chosen {
                    *shape = kind.shape_like(shape);
                }
            }
        })
        .response
        .named("Shape of the heap")
        .on_hover_text("What holds the heap; it decides how heat and air get out.");
}

/// The lengths that the shape has.
pub(in crate::window) fn dimensions_ui(
    ui: &mut Ui,
    shape: &mut Shape,
    units: UnitSystem,
    words: Words,
) {
    match shape {
        Shape::OpenHeap => {
            ui.weak("height follows from the volume");
        }
        Shape::SlattedBin {
            width_m,
            length_m,
            height_m,
        }
        | Shape::SolidBin {
            width_m,
            length_m,
            height_m,
            ..
        } => {
            length_ui(ui, units, "Width", width_m);
            times_ui(ui, words);
            length_ui(ui, units, "Length", length_m);
            times_ui(ui, words);
            length_ui(ui, units, "Height", height_m);
        }
        Shape::WireCylinder {
            diameter_m,
            height_m,
        } => {
            length_ui(ui, units, "Diameter", diameter_m);
            times_ui(ui, words);
            length_ui(ui, units, "Height", height_m);
        }
        Shape::Tumbler {
            diameter_m,
            length_m,
        } => {
            length_ui(ui, units, "Diameter", diameter_m);
            times_ui(ui, words);
            length_ui(ui, units, "Length", length_m);
        }
        Shape::Row { width_m, length_m } => {
            length_ui(ui, units, "Width", width_m);
            times_ui(ui, words);
            length_ui(ui, units, "Length", length_m);
        }
        Shape::Layer { thickness_m } => {
            let name = "Thickness of the heap";
            bounded_length_ui(ui, units, (name, bounds::LAYER_THICKNESS), thickness_m);
        }
    }
}

/// The sign between two lengths.
fn times_ui(ui: &mut Ui, words: Words) {
    if words == Words::Shown {
        ui.weak("×");
    }
}

fn length_ui(ui: &mut Ui, units: UnitSystem, name: &str, metres: &mut f64) {
    let name = format!("{name} of the heap");
    bounded_length_ui(ui, units, (&name, bounds::HEAP_LENGTH), metres);
}

/// One length, typed or dragged in the shown unit.
pub(in crate::window) fn bounded_length_ui(
    ui: &mut Ui,
    units: UnitSystem,
    (name, bound): (&str, Bound),
    metres: &mut f64,
) {
    let hint = format!("{name}; drag it, or click to type it.");
    QuantityField::within(name, bound)
        .unit(ShownUnit::length(units))
        .hint(&hint)
        .speed(0.01)
        .show(ui, metres);
}

/// The day it is built.
pub(in crate::window) fn date_ui(ui: &mut Ui, heap: &mut Heap, words: Words) {
    let (month, day) = month_and_day(heap.start_day_of_year);
    let (mut new_month, mut new_day) = (month, f64::from(day));
    if words == Words::Shown {
        ui.weak("built");
    }
    let last = f64::from(days_in_month(month));
    QuantityField::new("Day of the month it is built", 1.0, last)
        .hint("Day of the month on which the heap is built.")
        .decimals(0)
        .show(ui, &mut new_day);
    ComboBox::from_id_salt("month")
        .selected_text(MONTHS[month])
        .show_ui(ui, |ui| {
            for (index, name) in MONTHS.iter().enumerate() {
                ui.selectable_value(&mut new_month, index, *name);
            }
        })
        .response
        .named("Month it is built")
        .on_hover_text("Month in which the heap is built; it decides the weather.");
    let new_day = new_day.round() as u32;
    if (new_month, new_day) != (month, day) {
        heap.start_day_of_year = day_of_year(new_month, new_day);
    }
}

/// The forecast length.
pub(in crate::window) fn days_ui(ui: &mut Ui, heap: &mut Heap, words: Words) {
    if words == Words::Shown {
        ui.weak("forecast");
    }
    QuantityField::within("Forecast length", bounds::DAYS)
        .unit(ShownUnit::DAYS)
        .hint("How many days ahead the heat is projected.")
        .speed(0.5)
        .decimals(0)
        .show(ui, &mut heap.days);
}
