//! Beside the plan: what is decided, what contradicts itself, what is left, short or spoils, what waits in the store.
//!
//! In: the open year, its plan. Out: asked-for actions.
//!
//! Not here: the heaps (`heaps`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{Button, Grid, Label, Ui};

use crate::text::error::refused_for;
use crate::text::year::{COLUMNS, STORE, WHAT_BECOMES, YearTold, solved_in, unplanned, wish};
use crate::text::{sentence, year_page as words};
use crate::year::{MONTHS, Unplanned, Wish};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::{OpenYear, YearShown};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::styled_button;

/// What numbers and button of the table take, as a share of a measure's width.
const NUMBERS: f32 = 3.5;

/// The whole part.
pub(in crate::window) fn beside_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    open: &OpenYear,
    shown: Option<&YearShown>,
) {
    let newest = shown.filter(|shown| shown.of.file.year == open.file.year);
    state_ui(ui, page, newest);
    decided_ui(ui, page, open, newest);
    let units = page.state.settings.units;
    let Some(told) = shown.and_then(|shown| shown.told(units)) else {
        return;
    };
    if let Some(short) = &told.plan.short {
        ui.separator();
        ui.label(unbroken(told.short(short)));
    }
    if !told.plan.fates.is_empty() {
        ui.separator();
        fates_ui(ui, page, &told);
    }
    let stored: Vec<String> = (0..MONTHS).filter_map(|place| told.stored(place)).collect();
    if !stored.is_empty() {
        ui.separator();
        ui.label(strong(STORE));
        ui.label(unbroken(stored.join(", ")));
    }
}

/// Whether the plan is that of the year as it is, and why there may be none.
fn state_ui(ui: &mut Ui, page: &Page<'_>, newest: Option<&YearShown>) {
    match newest {
        None => {
            ui.weak(words::PLANNING);
        }
        Some(shown) => match &shown.answer {
            Ok(_) => {
                ui.weak(unbroken(sentence(&solved_in(shown.took_s))));
            }
            Err(problem) => {
                let said = unplanned(&shown.of.file.year, problem, &shown.of.catalogue);
                let text = refused_for(words::NO_PLAN, &said);
                ui.colored_label(page.look.colours.bad.0, unbroken(text));
            }
        },
    }
}

fn decided_ui(ui: &mut Ui, page: &mut Page<'_>, open: &OpenYear, newest: Option<&YearShown>) {
    ui.separator();
    ui.label(strong(words::DECIDED));
    let year = &open.file.year;
    if year.wishes.is_empty() {
        ui.label(unbroken(words::NOTHING_DECIDED));
    }
    let blamed: &[usize] = match newest.map(|shown| &shown.answer) {
        Some(Err(Unplanned::Wishes(blamed))) => blamed,
        _ => &[],
    };
    for (place, it) in year.wishes.iter().enumerate() {
        let said = wish(year, it, &open.catalogue);
        ui.push_id(("wish", place), |ui| {
            ui.horizontal_wrapped(|ui| {
                let drop = Action::Year(YearAction::DropWish(place));
                styled_button(ui, page, drop, Button::new("×"), &words::drop_wish(&said));
                ui.label(unbroken(words::decided(place + 1, &said)));
                if blamed.contains(&place) {
                    ui.colored_label(page.look.colours.bad.0, words::TO_BLAME);
                }
            });
        });
    }
}

fn fates_ui(ui: &mut Ui, page: &mut Page<'_>, told: &YearTold<'_>) {
    ui.label(strong(WHAT_BECOMES));
    let [arrives, used, left, spoils, material] = COLUMNS;
    let measure_width = page.look.sizes.measure_width;
    let width = (ui.available_width() - NUMBERS * measure_width).max(measure_width);
    Grid::new("fates").striped(true).show(ui, |ui| {
        for column in [material, arrives, used, left, spoils] {
            ui.label(strong(sentence(column)));
        }
        ui.end_row();
        for (row, fate) in told.plan.fates.iter().enumerate() {
            let [arrives, used, left, spoils, name] = told.fate(row, fate);
            ui.scope(|ui| {
                ui.set_width(width);
                ui.add(Label::new(unbroken(name)).truncate());
            });
            for number in [arrives, used, left, spoils] {
                ui.label(unbroken(number));
            }
            let material = told.year.arrivals[row].material.clone();
            let none = Wish::NoneSpoils { material };
            let spoiled: f64 = fate.spoiled.iter().sum();
            if spoiled >= words::SPOILS_FROM && !told.year.wishes.contains(&none) {
                let tip = words::none_spoils(told, row);
                let button = Button::new(unbroken(words::NONE_SPOILS).small());
                let action = Action::Year(YearAction::Decide(none));
                styled_button(ui, page, action, button, &tip).on_hover_text(unbroken(&tip));
            }
            ui.end_row();
        }
    });
}
