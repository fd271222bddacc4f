//! What was done to the heap, and what was planned and has passed.
//!
//! In: the plan and the diary. Out: asked-for entries of the past.
//!
//! Not here: the plan that is still to come (the Heap view), doing (`verbs::diary`).
//!
//! Tested by: `tests/window/diary.rs`.

use eframe::egui::{Button, TextEdit, Ui};

use crate::heap::{Cover, Operation, Turning};
use crate::quantity::bounds;
use crate::text::diary::{done, still_open};
use crate::text::typed_reading::moment_typed;
use crate::text::{date, plan, sentence};

use crate::window::action::{Action, DiaryAction};
use crate::window::diary::built::problem_ui;
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Thickness of straw when it is laid on, m.
const USUAL_STRAW_M: f64 = 0.1;
/// Most buckets that are added at once.
const MOST_BUCKETS: f64 = 200.0;

/// Buttons for everything that can have been done, and when.
pub fn done_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let (look, units) = (page.look, page.state.settings.units);
    ui.horizontal_wrapped(|ui| {
        for turning in [Turning::Remix, Turning::InsideOut] {
            happened_ui(
                ui,
                page,
                Operation::Turn {
                    turning,
                    wet_to: None,
                },
            );
        }
        let thickness_m = USUAL_STRAW_M;
        for cover in [Cover::Sheet, Cover::Straw { thickness_m }, Cover::Bare] {
            happened_ui(ui, page, Operation::Cover(cover));
        }
    });
    ui.horizontal_wrapped(|ui| {
        QuantityField::within("Water poured", bounds::POURED_WATER)
            .unit(ShownUnit::litres(units))
            .hint("How much water was poured over it. Drag it, or click to type it.")
            .speed(0.5)
            .decimals(1)
            .trimmed()
            .show(ui, &mut page.state.diary.poured_l);
        let litres = page.state.diary.poured_l;
        let poured = Action::Diary(DiaryAction::Happened(Operation::Pour { litres }));
        styled_button(ui, page, poured, Button::new("Watered"), "Watered");
        ui.separator();
        QuantityField::new("Buckets added", 0.1, MOST_BUCKETS)
            .hint("How many buckets were added. Drag it, or click to type it.")
            .speed(0.05)
            .decimals(1)
            .trimmed()
            .show(ui, &mut page.state.diary.buckets);
        ui.label("buckets added");
        action_button(ui, page, Action::Diary(DiaryAction::PickAdded));
    });
    ui.horizontal(|ui| {
        ui.label("when");
        let at = &mut page.state.diary.done_at;
        let mut text = at.clone().unwrap_or_else(|| moment_typed(page.now));
        let field = ui
            .add(TextEdit::singleline(&mut text).desired_width(look.sizes.date_width))
            .named("When it was done")
            .on_hover_text("Date and time of what was done; now, unless you type another first.");
        if field.changed() {
            *at = (!text.trim().is_empty()).then_some(text);
            page.state.diary.done_problem.clear();
        }
    });
    problem_ui(ui, page, &page.state.diary.done_problem.clone());
}

/// The button for one thing that can have been done.
fn happened_ui(ui: &mut Ui, page: &mut Page<'_>, operation: Operation) {
    let name = sentence(&done(&operation, page.state.settings.units));
    let action = Action::Diary(DiaryAction::Happened(operation));
    styled_button(ui, page, action, Button::new(name.as_str()), &name);
}

/// Planned entries whose day has passed, by their place in the plan and that day; of one that repeats the first day that
/// is open.
pub fn open_entries(page: &Page<'_>) -> Vec<(usize, f64)> {
    let diary = &page.project.diary;
    let Some(today) = diary.day_of(page.now) else {
        return Vec::new();
    };
    let mut open: Vec<(usize, f64)> = Vec::new();
    for due in page.project.heap.plan.in_order() {
        let is_open = due.day <= today && !diary.done.contains(&due.day);
        if is_open && open.iter().all(|(entry, _)| *entry != due.entry) {
            open.push((due.entry, due.day));
        }
    }
    open
}

/// Asks of each whether it was done, and when.
pub fn open_entries_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let open = open_entries(page);
    if open.is_empty() {
        return;
    }
    ui.label(strong(still_open(open.len())));
    for (place, day) in open {
        let event = page.project.heap.plan.events[place].clone();
        let start = page.project.heap.start_day_of_year;
        ui.horizontal_wrapped(|ui| {
            let what = plan::operation_and_water(&event.operation);
            ui.label(unbroken(format!(
                "{what}, {}",
                date::day_and_date(start, day.floor())
            )));
            let planned = page.project.diary.moment_of(day);
            let planned = planned.map(moment_typed).unwrap_or_default();
            let mut text = page
                .state
                .diary
                .answers
                .get(&place)
                .cloned()
                .unwrap_or(planned);
            let number = place + 1;
            let field = ui
                .add(TextEdit::singleline(&mut text).desired_width(page.look.sizes.date_width))
                .named(&format!("When entry {number} was done"))
                .on_hover_text("Day on which it was really done.");
            if field.changed() {
                page.state.diary.answers.insert(place, text);
                page.state.diary.done_problem.clear();
            }
            for (action, word) in [
                (DiaryAction::WasDone(place), "Done"),
                (DiaryAction::NotDone(place), "Not done"),
            ] {
                let name = format!("{word}: entry {number}");
                styled_button(ui, page, Action::Diary(action), Button::new(word), &name);
            }
        });
    }
    ui.add_space(page.look.sizes.gap);
}
