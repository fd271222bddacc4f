//! The plan: operations with their days, added, moved and dropped.
//!
//! In: the plan of the project. Out: the same, edited.
//!
//! Not here: the same as markers on a line of days (`day_line`), what an entry adds (`plan_addition`), what a
//! operation does (`heap::plan`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use eframe::egui::{Button, Ui};

use crate::heap::{Cover, Event, Heap, MOST_EVENTS, Operation, Repeat, Turning};
use crate::quantity::bounds;
use crate::text::plan;

use crate::window::action::Action;
use crate::window::heap::fed_rows::fed_ui;
use crate::window::heap::plan_addition::addition_ui;
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::operations::{USUAL_WET_TO, add_operation};
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Wettest that water can be poured to, as a share.
const MOST_WET_TO: f64 = 0.85;
/// Most times that an entry is done.
const MOST_TIMES: f64 = bounds::REPEAT_TIMES.high;
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
        Some(Done::Again(index)) => do_again(&mut page.project.heap, index),
        Some(Done::Weekly(index)) => do_weekly(&mut page.project.heap, index),
        None => {}
    }
    if page.project.heap.plan.events.is_empty() {
        ui.weak("No plan yet: the heap is left alone.");
    }
    fed_ui(ui, page);
}

/// One entry: its day, what is done, how wet it gets, how it repeats, and the button that drops it.
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
        if event.repeat.is_none() {
            for (word, name, tip, what) in [
                (
                    "again",
                    format!("Do entry {number} again"),
                    "Does the same once more, a week later.",
                    Done::Again(index),
                ),
                (
                    "weekly",
                    format!("Do entry {number} weekly"),
                    "Does the same every week until the end of the forecast; then say how often.",
                    Done::Weekly(index),
                ),
            ] {
                let button = Button::new(unbroken(word).small());
                let button = ui.add(button).named(&name);
                if button.on_hover_text(unbroken(tip)).clicked() {
                    *done = Some(what);
                }
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
    repeat_ui(ui, page, index);
}

/// How often an entry that repeats is done, and how far apart; nothing for one that is done once.
fn repeat_ui(ui: &mut Ui, page: &mut Page<'_>, index: usize) {
    let gap = page.look.sizes.gap;
    let start = page.project.heap.start_day_of_year;
    let event = &mut page.project.heap.plan.events[index];
    let Some(mut repeat) = event.repeat else {
        return;
    };
    let number = index + 1;
    let name = plan::operation(&event.operation);
    let mut once = false;
    ui.horizontal(|ui| {
        ui.add_space(gap);
        let apart = bounds::REPEAT_DAYS;
        QuantityField::new(
            &format!("Days between times of entry {number}: {name}"),
            apart.low,
            apart.high,
        )
        .hint("Days from one time to the next.")
        .prefix("every ")
        .speed(0.1)
        .decimals(1)
        .show(ui, &mut repeat.every_days);
        ui.label("days,");
        let mut times = f64::from(repeat.times);
        QuantityField::new(&format!("Times of entry {number}: {name}"), 1.0, MOST_TIMES)
            .hint("How many times in all, the first counted.")
            .speed(0.1)
            .decimals(0)
            .show(ui, &mut times);
        ui.label("times,");
        repeat.times = times.round().clamp(1.0, MOST_TIMES) as u32;
        event.repeat = Some(repeat);
        ui.label(unbroken(plan::until(event, start)));
        let button = ui.button(unbroken("once").small());
        let tip = "Does it on its first day alone.";
        once = button
            .named(&format!("Do entry {number} once"))
            .on_hover_text(unbroken(tip))
            .clicked();
    });
    if once {
        event.repeat = None;
    }
}

/// What is done to an entry besides moving it.
enum Done {
    /// It is taken out.
    Dropped(usize),
    /// The same is done once more, a week later.
    Again(usize),
    /// The same is done every week.
    Weekly(usize),
}

/// The same entry again a week later, where the forecast and the plan have room and the same is not planned already.
fn do_again(heap: &mut Heap, index: usize) {
    let Some(first) = heap.plan.events.get(index) else {
        return;
    };
    let again = Event::once(first.day + WEEK_DAYS, first.operation.clone());
    let is_new = !heap.plan.events.contains(&again);
    if again.day <= heap.days && heap.plan.times() < MOST_EVENTS && is_new {
        heap.plan.events.push(again);
    }
}

/// Repeats an entry every week to the end of the forecast, as long as the plan has room.
fn do_weekly(heap: &mut Heap, index: usize) {
    let room = (MOST_EVENTS - heap.plan.times().min(MOST_EVENTS)) as f64;
    let days = heap.days;
    let Some(event) = heap.plan.events.get_mut(index) else {
        return;
    };
    let weeks = ((days - event.day) / WEEK_DAYS).floor().clamp(0.0, room);
    event.repeat = Some(Repeat {
        every_days: WEEK_DAYS,
        times: 1 + weeks as u32,
    });
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
