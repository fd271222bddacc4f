//! The plan: operations with their days, added, moved and dropped.
//!
//! In: the plan of the project. Out: the same, edited.
//!
//! Not here: the same as markers on a line of days (`day_line`), what an entry adds (`plan_addition`), what a
//! operation does (`heap::plan`).
//!
//! Tested by: `tests/window/heap.rs`.

use eframe::egui::{DragValue, Ui};

use crate::heap::{Cover, Operation, Turning};

use crate::window::action::Action;
use crate::window::heap::plan_addition::addition_ui;
use crate::window::page::Page;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::operations::{USUAL_WET_TO, add_operation, operation_label};

/// Thickness of straw when it is laid on, m.
const USUAL_STRAW_M: f64 = 0.1;

/// The list with its buttons.
pub fn plan_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        for (operation, tip) in [
            (
                turn(Turning::Remix),
                "Mixes everything through and wets it to 55 % if it is drier.",
            ),
            (
                turn(Turning::InsideOut),
                "Brings the skin to the middle and the middle to the outside.",
            ),
            (
                Operation::Water {
                    wet_to: USUAL_WET_TO,
                },
                "Waters the heap until it holds 55 %.",
            ),
            (
                Operation::Cover(Cover::Sheet),
                "Lays a sheet over it: no rain in, little steam out.",
            ),
            (
                Operation::Cover(Cover::Straw {
                    thickness_m: USUAL_STRAW_M,
                }),
                "Lays 10 cm of straw over it: warmth stays, air passes.",
            ),
            (Operation::Cover(Cover::Bare), "Takes the cover off."),
        ] {
            let label = format!("+ {}", operation_label(&operation));
            if ui.button(label).on_hover_text(tip).clicked() {
                add_operation(&mut page.project.heap, operation);
            }
        }
        action_button(ui, page, Action::PickForPlan(None));
        action_button(ui, page, Action::ProposePlan);
    });
    let mut dropped = None;
    for index in 0..page.project.heap.plan.events.len() {
        entry_ui(ui, page, index, &mut dropped);
        addition_ui(ui, page, index);
    }
    if let Some(index) = dropped {
        page.project.heap.plan.events.remove(index);
    }
    if page.project.heap.plan.events.is_empty() {
        ui.weak("No plan yet: the heap is left alone.");
    }
}

/// One entry: its day, what is done, how wet it gets, and the button that drops it.
fn entry_ui(ui: &mut Ui, page: &mut Page<'_>, index: usize, dropped: &mut Option<usize>) {
    let days = page.project.heap.days;
    let event = &mut page.project.heap.plan.events[index];
    ui.horizontal(|ui| {
        let number = index + 1;
        let name = operation_label(&event.operation);
        // An entry past the last day stays there while the forecast length are changed.
        let event_day = event.day;
        ui.add(
            DragValue::new(&mut event.day)
                .range(0.0..=days.max(event_day))
                .speed(0.2)
                .max_decimals(1)
                .prefix("day "),
        )
        .named(&format!("Day of entry {number}: {name}"))
        .on_hover_text("Drag it to another day, or click to type it; the curve follows.");
        ui.label(name);
        if let Some(wet_to) = wet_to(&mut event.operation) {
            let mut percent = 100.0 * *wet_to;
            let field = DragValue::new(&mut percent)
                .range(0.0..=85.0)
                .speed(0.5)
                .max_decimals(0)
                .suffix(" %");
            let field = ui.add(field).named(&format!("Moisture of entry {number}"));
            if field
                .on_hover_text("Wets to this moisture if it is drier.")
                .changed()
            {
                *wet_to = percent / 100.0;
            }
        }
        let drop = ui.button("×").named(&format!("Drop entry {number}"));
        if drop
            .on_hover_text("Takes this entry out of the plan.")
            .clicked()
        {
            *dropped = Some(index);
        }
    });
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
        Operation::Add { .. } | Operation::Cover(_) => None,
    }
}
