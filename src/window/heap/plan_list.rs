//! The plan: operations with their days, added, moved and dropped.
//!
//! In: the plan of the project. Out: the same, edited.
//!
//! Not here: the same as markers on a line of days (`day_line`), what an entry adds (`plan_addition`), what a
//! operation does (`heap::plan`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use eframe::egui::{Button, Ui};

use crate::heap::{Cover, Event, Heap, MOST_EVENTS, Operation, Turning};
use crate::text::plan;

use crate::window::action::Action;
use crate::window::heap::plan_addition::addition_ui;
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::operations::{USUAL_WET_TO, add_operation};
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Wettest that water can be poured to, as a share.
const MOST_WET_TO: f64 = 0.85;
/// Days of a week.
const WEEK_DAYS: f64 = 7.0;
/// Thickness of straw when it is laid on, m.
const USUAL_STRAW_M: f64 = 0.1;

/// The list with its buttons.
pub fn plan_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        let units = page.state.settings.units;
        for operation in ready_operations() {
            let label = format!("+ {}", plan::operation(&operation));
            let tip = plan::operation_tip(&operation, units);
            if ui.button(label).on_hover_text(unbroken(tip)).clicked() {
                add_operation(&mut page.project.heap, operation);
            }
        }
        action_button(ui, page, Action::PickForPlan(None));
        action_button(ui, page, Action::ProposePlan);
    });
    let mut done = None;
    for index in 0..page.project.heap.plan.events.len() {
        entry_ui(ui, page, index, &mut done);
        addition_ui(ui, page, index);
    }
    match done {
        Some(Done::Dropped(index)) => {
            page.project.heap.plan.events.remove(index);
        }
        Some(Done::Repeated(index, times)) => repeat(&mut page.project.heap, index, times),
        None => {}
    }
    if page.project.heap.plan.events.is_empty() {
        ui.weak("No plan yet: the heap is left alone.");
    }
}

/// One entry: its day, what is done, how wet it gets, and the button that drops it.
fn entry_ui(ui: &mut Ui, page: &mut Page<'_>, index: usize, done: &mut Option<Done>) {
    let days = page.project.heap.days;
    let event = &mut page.project.heap.plan.events[index];
    ui.horizontal(|ui| {
        let number = index + 1;
        let name = plan::operation(&event.operation);
        // An entry past the last day stays there while the forecast length is changed.
        let last = days.max(event.day);
        QuantityField::new(&format!("Day of entry {number}: {name}"), 0.0, last)
            .hint("Drag it to another day, or click to type it; the curve follows.")
            .prefix("day ")
            .speed(0.2)
            .decimals(1)
            .show(ui, &mut event.day);
        ui.label(unbroken(name));
        if let Some(wet_to) = wet_to(&mut event.operation) {
            QuantityField::new(&format!("Moisture of entry {number}"), 0.0, MOST_WET_TO)
                .unit(ShownUnit::PERCENT)
                .hint("Wets to this moisture if it is drier.")
                .speed(0.5)
                .decimals(0)
                .show(ui, wet_to);
        }
        for (word, name, tip, times) in [
            (
                "again",
                format!("Do entry {number} again"),
                "Does the same once more, a week later.",
                Times::Once,
            ),
            (
                "weekly",
                format!("Do entry {number} weekly"),
                "Does the same every week until the end of the forecast.",
                Times::Weekly,
            ),
        ] {
            let button = Button::new(unbroken(word).small());
            if ui
                .add(button)
                .named(&name)
                .on_hover_text(unbroken(tip))
                .clicked()
            {
                *done = Some(Done::Repeated(index, times));
            }
        }
        let drop = ui.button("×").named(&format!("Remove entry {number}"));
        if drop
            .on_hover_text("Takes this entry out of the plan.")
            .clicked()
        {
            *done = Some(Done::Dropped(index));
        }
    });
}

/// What is done to an entry besides moving it.
enum Done {
    /// It is taken out.
    Dropped(usize),
    /// The same is done again.
    Repeated(usize, Times),
}

/// How often the same is done again.
#[derive(Clone, Copy)]
enum Times {
    Once,
    Weekly,
}

/// The same entry again, a week later or every week to the end of the forecast, as long as the plan has room; a day on
/// which the same is planned already is left out.
fn repeat(heap: &mut Heap, index: usize, times: Times) {
    let Some(first) = heap.plan.events.get(index).cloned() else {
        return;
    };
    let most = match times {
        Times::Once => 1,
        Times::Weekly => MOST_EVENTS,
    };
    let later = (1..=most).map(|week| first.day + WEEK_DAYS * week as f64);
    for day in later.take_while(|day| *day <= heap.days) {
        let again = Event {
            repeat: None,
            day,
            operation: first.operation.clone(),
        };
        let events = &mut heap.plan.events;
        if events.len() < MOST_EVENTS && !events.contains(&again) {
            events.push(again);
        }
    }
}

/// What can be added with one click, in the order of its buttons.
fn ready_operations() -> [Operation; 6] {
    [
        turn(Turning::Remix),
        turn(Turning::InsideOut),
        Operation::Water {
            wet_to: USUAL_WET_TO,
        },
        Operation::Cover(Cover::Sheet),
        Operation::Cover(Cover::Straw {
            thickness_m: USUAL_STRAW_M,
        }),
        Operation::Cover(Cover::Bare),
    ]
}

fn turn(turning: Turning) -> Operation {
    Operation::Turn {
        turning,
        wet_to: Some(USUAL_WET_TO),
    }
}

fn wet_to(operation: &mut Operation) -> Option<&mut f64> {
    match operation {
        Operation::Turn { wet_to, .. } => wet_to.as_mut(),
        Operation::Water { wet_to } => Some(wet_to),
        Operation::Pour { .. } | Operation::Add { .. } | Operation::Cover(_) => None,
    }
}
