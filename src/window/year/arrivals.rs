//! What arrives: a row for each material, a column for each month, how long it keeps.
//!
//! In: the open year. Out: the same, edited; asked-for actions.
//!
//! Not here: adding and removing a material (`verbs::year`), what becomes of it (`beside`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{Button, ComboBox, Grid, Label, ScrollArea, Ui, vec2};

use crate::material::Catalogue;
use crate::quantity::{Amount, Measure, OwnMeasure};
use crate::text::mix::name_of;
use crate::text::{number, year_page as words};
use crate::year::{Arrival, Keeps, MONTHS, Year, keeps};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::OpenYear;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::amount_control::measure_picker_ui;
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::named::Named;
use crate::window::year::amount::AmountField;

/// How long things can be said to keep.
const KEEPS: [Keeps; 9] = [
    Keeps::Days(3.0),
    Keeps::Days(7.0),
    Keeps::Days(14.0),
    Keeps::Months(1),
    Keeps::Months(3),
    Keeps::Months(6),
    Keeps::Months(12),
    Keeps::Months(24),
    Keeps::Months(60),
];
/// Width of a month, as a share of that of a value.
const MONTH_WIDTH: f32 = 0.75;
/// How fast an amount is dragged, measures a point.
const DRAGGED: f64 = 0.1;
/// Width of a measure, as a share of the usual.
const MEASURE_WIDTH: f32 = 1.2;

/// The whole part.
pub(in crate::window) fn arrivals_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear) {
    ui.horizontal(|ui| {
        action_button(ui, page, Action::Year(YearAction::PickArrival));
        if open.file.year.arrivals.is_empty() {
            ui.label(unbroken(words::NOTHING_ARRIVES));
        } else {
            ui.weak(unbroken(words::TYPE_AMOUNTS));
        }
    });
    if open.file.year.arrivals.is_empty() {
        return;
    }
    ScrollArea::both()
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let gap = page.look.sizes.gap;
            Grid::new("arrivals")
                .spacing(vec2(0.5 * gap, 0.5 * gap))
                .striped(true)
                .show(ui, |ui| {
                    heads_ui(ui, &open.file.year);
                    for row in 0..open.file.year.arrivals.len() {
                        row_ui(ui, page, open, row);
                        ui.end_row();
                    }
                });
        });
}

fn heads_ui(ui: &mut Ui, year: &Year) {
    for head in words::ARRIVAL_HEADS {
        ui.label(strong(head));
    }
    for place in 0..MONTHS {
        ui.label(strong(words::short_month(year, place)));
    }
    for head in words::ARRIVAL_TAILS {
        ui.label(strong(head));
    }
    ui.label("");
    ui.end_row();
}

fn row_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear, row: usize) {
    let sizes = page.look.sizes;
    let year = &mut open.file.year;
    let name = name_of(&year.arrivals[row].material, &open.catalogue).to_owned();
    let order: [usize; MONTHS] = std::array::from_fn(|at| usize::from(year.month_at(at)) - 1);
    let heads: [&str; MONTHS] = std::array::from_fn(|at| words::short_month(year, at));
    let mut own = own_measures(year, page);
    let arrival = &mut year.arrivals[row];
    ui.scope(|ui| {
        ui.set_width(sizes.name_width);
        ui.add(Label::new(unbroken(&name)).truncate());
    });
    ui.push_id(("measure", row), |ui| {
        ui.set_width(MEASURE_WIDTH * sizes.measure_width);
        let amount = Amount::new(2.0, arrival.measure.clone());
        let units = page.state.settings.units;
        let picked = measure_picker_ui(ui, &name, &amount, (units, &mut own), page.look);
        if let Some(measure) = picked {
            say_in(arrival, measure, &open.catalogue);
        }
    });
    for (head, month) in heads.into_iter().zip(order) {
        let field = AmountField {
            name: &format!("{name} in {head}"),
            hint: words::TYPE_AMOUNTS,
            measure: &arrival.measure,
            own: &own,
            speed: DRAGGED,
            width: MONTH_WIDTH * sizes.value_width,
        };
        if let Some(problem) = field.show(ui, &mut arrival.monthly[month]) {
            page.ask(Action::TellUnread(problem));
        }
    }
    let sum: f64 = arrival.monthly.iter().sum();
    ui.label(number::rounded(sum));
    ui.push_id(("keeps", row), |ui| {
        keeps_ui(ui, (&name, sizes.keeps_width), arrival, &open.catalogue);
    });
    let remove = Action::Year(YearAction::RemoveArrival(row));
    styled_button(
        ui,
        page,
        remove,
        Button::new("×"),
        &format!("Remove {name}"),
    );
}

/// Measures of the person's own: those of the recipe and those that the year uses.
fn own_measures(year: &Year, page: &Page<'_>) -> Vec<OwnMeasure> {
    let mut own = page.project.measures.clone();
    for arrival in &year.arrivals {
        if let Measure::Own { name, litres } = &arrival.measure
            && !own.iter().any(|known| known.name == *name)
        {
            own.push(OwnMeasure {
                name: name.clone(),
                litres: *litres,
            });
        }
    }
    own
}

/// All months said in another measure.
fn say_in(arrival: &mut Arrival, measure: Measure, catalogue: &Catalogue) {
    let Some(material) = catalogue.find(&arrival.material) else {
        return;
    };
    let density = material.bulk_density.typical;
    for value in &mut arrival.monthly {
        let amount = Amount::new(*value, arrival.measure.clone());
        *value = amount.said_in(measure.clone(), density).value;
    }
    arrival.measure = measure;
}

fn keeps_ui(ui: &mut Ui, (name, width): (&str, f32), arrival: &mut Arrival, catalogue: &Catalogue) {
    let usual = catalogue.find(&arrival.material).map(keeps);
    let usually = usual.map_or_else(String::new, words::keeps_usual);
    let shown = arrival.keeps.map_or_else(|| usually.clone(), words::keeps);
    ComboBox::from_id_salt("keeps")
        .selected_text(shown)
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut arrival.keeps, None, usually);
            for choice in KEEPS {
                ui.selectable_value(&mut arrival.keeps, Some(choice), words::keeps(choice));
            }
        })
        .response
        .named(&format!("How long {name} keeps"))
        .on_hover_text(words::KEEPS_TIP);
}
