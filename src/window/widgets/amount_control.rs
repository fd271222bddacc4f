//! A slider with a typed value and its measure beside it, for an amount that has no natural end.
//!
//! In: a value, where its slider ends at first. Out: the value, edited; the measure that was picked. The upper end grows once the
//! value comes near it, and holds still while the slider is dragged.
//!
//! Not here: what the amount is of (`ingredient_rows`).
//!
//! Tested by: `tests/window/mix.rs`.

use std::cell::RefCell;

use eframe::egui::{
    self, Button, ComboBox, PopupCloseBehavior, Rect, Slider, Stroke, TextEdit, Ui, pos2,
};

use crate::quantity::{Amount, Measure, OwnMeasure, UnitSystem, bounds};
use crate::text::{amount, number, typed_amount};

use crate::window::piles::choices::WindowState;
use crate::window::theme::{Look, fill_strongly, unbroken};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// What can be typed, said on hover.
const TYPE_IT: &str = "Drag it, or click and type: 2, 2.5, 1/2, 2 sacks, 200 L.";
/// Written where there is no end to a stock.
const ANY: &str = "any";
/// The number that stands for it.
const NO_END: f64 = -1.0;

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
        .on_hover_text(unbroken(control.hint));
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

/// The field of a number beside its slider.
fn field<'a>(control: &Control<'a>, width: f32, hint: &'a str) -> QuantityField<'a> {
    QuantityField::new(control.name, 0.0, control.most)
        .hint(hint)
        .speed(drag_speed(control.first_top))
        .width(width)
        .trimmed()
}

/// How fast a number is dragged whose slider ends here at first, a point.
pub fn drag_speed(first_top: f64) -> f64 {
    first_top / 200.0
}

/// The typed value beside it.
pub fn value_ui(ui: &mut Ui, control: &Control<'_>, width: f32, value: &mut f64) {
    let hint = format!("{} Click to type it.", control.hint);
    field(control, width, &hint).show(ui, value);
}

/// The typed amount beside a slider: a number, or a number with its measure, which the amount then takes on.
///
/// What cannot be read leaves the amount as it was; the sentence that says so comes back.
pub fn amount_field_ui(
    ui: &mut Ui,
    control: &Control<'_>,
    width: f32,
    own: &[OwnMeasure],
    amount: &mut Amount,
) -> Option<String> {
    let heard: RefCell<Option<Result<Amount, String>>> = RefCell::new(None);
    let present = amount.measure.clone();
    let read = |text: &str| {
        let said = read_within(text, &present, own, control.most);
        let value = said.as_ref().ok().map(|said| said.value);
        heard.replace(Some(said));
        value
    };
    let hint = format!("{} {TYPE_IT}", control.hint);
    field(control, width, &hint)
        .read_by(&read)
        .show(ui, &mut amount.value);
    match heard.into_inner()? {
        Ok(said) => {
            *amount = said;
            None
        }
        Err(problem) => Some(problem),
    }
}

/// How much there is, in the measure of the row: "have 3", "have any".
///
/// What is typed in another measure is said in the row's. The sentence that says what cannot be read comes back.
pub fn stock_field_ui(
    ui: &mut Ui,
    (name, width): (&str, f32),
    own: &[OwnMeasure],
    density_kg_per_m3: f64,
    (amount, stock): (&Amount, &mut Option<f64>),
) -> Option<String> {
    let most = bounds::STOCK.high;
    let problem: RefCell<Option<String>> = RefCell::new(None);
    let read = |text: &str| {
        if text.trim().is_empty() || text.trim() == ANY {
            return Some(NO_END);
        }
        match read_within(text, &amount.measure, own, most) {
            Ok(said) => Some(
                said.said_in(amount.measure.clone(), density_kg_per_m3)
                    .value,
            ),
            Err(said) => {
                problem.replace(Some(said));
                None
            }
        }
    };
    let said = |number: f64| {
        if number < 0.0 {
            ANY.to_owned()
        } else {
            number::rounded(number)
        }
    };
    let hint = format!(
        "How much {name} there is, in {}: what is proposed keeps to it, or says how much more it needs. {TYPE_IT} Leave it empty if there is no end to it.",
        amount::several(&amount.measure)
    );
    let before = stock.unwrap_or(NO_END);
    let mut value = before;
    QuantityField::new(&format!("Stock of {name}"), NO_END, most)
        .hint(&hint)
        .prefix("have ")
        .speed(drag_speed(first_top(&amount.measure)))
        .width(width)
        .said_by(&said)
        .read_by(&read)
        .show(ui, &mut value);
    if value.to_bits() != before.to_bits() {
        *stock = (value >= 0.0).then_some(value);
    }
    problem.into_inner()
}

/// An amount that was typed, or the sentence that says what is wrong with it.
fn read_within(
    text: &str,
    present: &Measure,
    own: &[OwnMeasure],
    most: f64,
) -> Result<Amount, String> {
    let said =
        typed_amount::read(text, present, own).map_err(|problem| typed_amount::unread(&problem))?;
    if said.value <= most {
        Ok(said)
    } else {
        Err(typed_amount::too_much(most, &said.measure))
    }
}

/// The measure beside the amount of `name`; the one that was picked.
pub fn measure_picker_ui(
    ui: &mut Ui,
    name: &str,
    amount: &Amount,
    (units, own): (UnitSystem, &mut Vec<OwnMeasure>),
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
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .show_ui(ui, |ui| {
            for measure in measures(units, &amount.measure, own) {
                let text = amount::offered(&measure, units);
                let chosen = measure == amount.measure;
                let entry = ui.selectable_label(chosen, text);
                let tip = "Gives the amount in this measure; the amount itself stays the same.";
                if entry.on_hover_text(unbroken(tip)).clicked() {
                    picked = (!chosen).then_some(measure);
                    ui.close();
                }
            }
            ui.separator();
            picked = own_measure_ui(ui, own, look).or(picked.take());
        })
        .response
        .named(&format!("Measure of {name}"))
        .on_hover_text("The measure of the amount; picking another keeps the amount the same.");
    picked
}

/// Name and size of a measure of one's own, and the button that keeps it; the measure, once it is kept.
fn own_measure_ui(ui: &mut Ui, own: &mut Vec<OwnMeasure>, look: Look<'_>) -> Option<Measure> {
    let id = ui.scope_id().with("own measure");
    let begun = ui.data(|data| data.get_temp::<(String, f64)>(id));
    let (mut name, mut litres) = begun.unwrap_or((String::new(), 85.0));
    ui.label("A measure of your own:");
    let mut kept = None;
    ui.horizontal(|ui| {
        TextEdit::singleline(&mut name)
            .hint_text("my barrow")
            .desired_width(look.sizes.measure_width)
            .show(ui)
            .response
            .response
            .named("Name of a measure of your own");
        QuantityField::within("Size of a measure of your own", bounds::OWN_MEASURE)
            .unit(ShownUnit::times(1.0, "L"))
            .hint("What it holds, filled loosely to the brim.")
            .show(ui, &mut litres);
        let named = !name.trim().is_empty();
        let tip = "Keeps it with this recipe and says the amount in it.";
        if ui
            .add_enabled(named, Button::new("Keep"))
            .on_hover_text(unbroken(tip))
            .clicked()
        {
            let measure = OwnMeasure {
                name: name.trim().to_owned(),
                litres,
            };
            kept = Some(measure.measure());
            own.retain(|other| other.name != measure.name);
            own.push(measure);
            name.clear();
            ui.close();
        }
    });
    ui.data_mut(|data| data.insert_temp(id, (name, litres)));
    kept
}

/// The measures offered: own ones and those of the units shown first, the present one always among them.
fn measures(units: UnitSystem, present: &Measure, own: &[OwnMeasure]) -> Vec<Measure> {
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
    all.splice(0..0, own.iter().map(OwnMeasure::measure));
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
