//! A slider with a typed value and its measure beside it, for an amount that has no natural end.
//!
//! In: a value, where its slider ends at first. Out: the value, edited; the measure that was picked. The upper end grows once the
//! value comes near it, and holds still while the slider is dragged.
//!
//! Not here: what the amount is of (`ingredient_rows`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{self, ComboBox, Rect, Slider, Stroke, Ui, pos2};

use crate::quantity::{Amount, Measure, UnitSystem};
use crate::text::amount;

use crate::window::piles::choices::WindowState;
use crate::window::theme::{Look, fill_strongly};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::QuantityField;

/// What a slider with its typed value needs to know.
pub struct Control<'a> {
    /// Name of slider and field.
    pub name: &'a str,
    /// What both say on hover.
    pub hint: &'a str,
    /// Under which its upper end is remembered.
    pub key: &'a str,
    /// Place of the row.
    pub row: usize,
    /// Upper end of the slider at first.
    pub first_top: f64,
    /// Greatest value that can be typed.
    pub most: f64,
    /// Width taken by what follows the slider.
    pub tail: f32,
    /// A value to mark on the slider: where a balance would put it.
    pub mark: Option<f64>,
}

/// A slider whose upper end grows once the value comes near it, but never while it is dragged.
pub fn slider_ui(
    ui: &mut Ui,
    state: &mut WindowState,
    look: Look<'_>,
    control: &Control<'_>,
    value: &mut f64,
) {
    let held = state
        .held_slider
        .filter(|(row, _)| *row == control.row)
        .map(|(_, top)| top);
    let known = state.slider_tops.get(control.key).copied();
    let top = held
        .unwrap_or_else(|| grown_top(known.unwrap_or(control.first_top), *value).min(control.most));
    state.slider_tops.insert(control.key.to_owned(), top);
    let room = ui.available_width() - control.tail;
    ui.spacing_mut().slider_width = room.max(look.sizes.least_width);
    fill_strongly(ui, look);
    let decimals = if top <= 20.0 { 2 } else { 1 };
    let response = ui
        .add(
            Slider::new(value, 0.0..=top)
                .show_value(false)
                .clamping(egui::SliderClamping::Edits)
                .max_decimals(decimals),
        )
        .named(control.name)
        .on_hover_text(control.hint);
    if let Some(mark) = control.mark.filter(|mark| *mark <= top) {
        paint_mark(ui, response.rect, (mark / top) as f32, look);
    }
    if response.dragged() {
        state.held_slider = Some((control.row, top));
    } else if held.is_some() {
        state.held_slider = None;
    }
}

/// A dashed line where the handle would stand at this share of the slider.
fn paint_mark(ui: &Ui, slider: Rect, share: f32, look: Look<'_>) {
    // The middle of the handle runs from half its width within one end to as much within the other.
    let reach = slider.height() / 2.5;
    let x = egui::lerp(slider.left() + reach..=slider.right() - reach, share);
    let stroke = Stroke::new(look.sizes.needle, look.colours.ghost.0);
    let line = [pos2(x, slider.top()), pos2(x, slider.bottom())];
    let painter = ui.painter();
    painter.extend(egui::Shape::dashed_line(
        &line,
        stroke,
        look.sizes.tick,
        look.sizes.needle,
    ));
}

/// The typed value beside it.
pub fn value_ui(ui: &mut Ui, control: &Control<'_>, width: f32, value: &mut f64) {
    let hint = format!("{} Click to type it.", control.hint);
    QuantityField::new(control.name, 0.0, control.most)
        .hint(&hint)
        .speed(control.first_top / 200.0)
        .width(width)
        .trimmed()
        .show(ui, value);
}

/// The measure beside the amount of `name`; the one that was picked.
pub fn measure_picker_ui(
    ui: &mut Ui,
    name: &str,
    amount: &Amount,
    units: UnitSystem,
    look: Look<'_>,
) -> Option<Measure> {
    let word = if amount.value == 1.0 {
        amount::one(&amount.measure)
    } else {
        amount::several(&amount.measure)
    };
    let mut picked = None;
    ComboBox::from_id_salt("measure")
        .selected_text(word)
        .width(ui.available_width().min(look.sizes.measure_width * 1.3))
        .truncate()
        .show_ui(ui, |ui| {
            for measure in measures(units, &amount.measure) {
                let text = amount::offered(&measure, units);
                let chosen = measure == amount.measure;
                let entry = ui.selectable_label(chosen, text);
                let tip = "Gives the amount in this measure; the amount itself stays the same.";
                if entry.on_hover_text(tip).clicked() && !chosen {
                    picked = Some(measure);
                }
            }
        })
        .response
        .named(&format!("Measure of {name}"))
        .on_hover_text("The measure of the amount; picking another keeps the amount the same.");
    picked
}

/// The measures offered: those of the units shown first, the present one always among them.
fn measures(units: UnitSystem, present: &Measure) -> Vec<Measure> {
    let us = |measure: &Measure| {
        matches!(
            measure,
            Measure::Pail | Measure::CubicFoot | Measure::CubicYard | Measure::Pound
        )
    };
    let mut all: Vec<Measure> = Measure::READY.to_vec();
    if units == UnitSystem::UsCustomary {
        all.sort_by_key(|measure| !us(measure));
    }
    if !all.contains(present) {
        all.push(present.clone());
    }
    all
}

/// Where a slider of this measure ends at first.
pub fn first_top(measure: &Measure) -> f64 {
    match measure {
        Measure::Gram => 2000.0,
        Measure::Litre => 200.0,
        Measure::Kilogram => 50.0,
        Measure::Pound => 100.0,
        Measure::CubicFoot | Measure::Caddy | Measure::Fork => 20.0,
        Measure::CubicYard => 5.0,
        _ => 10.0,
    }
}

/// The upper end for a value: the given one, grown in steps of 2 until the value fits with room.
pub fn grown_top(top: f64, value: f64) -> f64 {
    let mut top = top;
    while value.is_finite() && value >= 0.95 * top {
        top *= 2.0;
    }
    top
}
