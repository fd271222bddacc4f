//! The plan: deeds with their days, added, moved and dropped.
//!
//! In: the plan of the project. Out: the same, edited.
//!
//! Not here: the same as markers on a line of days (`day_line`), what an entry adds (`plan_addition`), what a
//! deed does (`heap::plan`).
//!
//! Held against: `tests/window/heap.rs`.

use eframe::egui::{DragValue, Ui};

use crate::heap::{Cover, Deed, Event, Heap, MOST_EVENTS, Placing, Turning};
use crate::mix::{Ingredient, Mix};

use super::action::Action;
use super::buttons::plain_button;
use super::named::Named;
use super::plan_addition::addition_ui;
use super::state::Page;

/// Moisture that "Water" and "Turn" wet to when added.
const USUAL_WET_TO: f64 = 0.55;
/// Thickness of straw when it is laid on, m.
const USUAL_STRAW_M: f64 = 0.1;
/// Days between a new deed and the one before.
const USUAL_GAP_DAYS: f64 = 10.0;

/// What a deed is called in the list.
pub fn deed_label(deed: &Deed) -> &'static str {
    match deed {
        Deed::Turn {
            turning: Turning::Remix,
            ..
        } => "Turn",
        Deed::Turn {
            turning: Turning::InsideOut,
            ..
        } => "Turn inside out",
        Deed::Water { .. } => "Water",
        Deed::Add { .. } => "Add material",
        Deed::Cover(Cover::Bare) => "Uncover",
        Deed::Cover(Cover::Sheet) => "Cover with a sheet",
        Deed::Cover(Cover::Straw { .. }) => "Cover with straw",
        Deed::Cover(Cover::Compost { .. }) => "Cover with compost",
    }
}

/// The list with its buttons.
pub fn plan_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        for (deed, tip) in [
            (
                turn(Turning::Remix),
                "Mixes everything through and wets it to 55 % if it is drier.",
            ),
            (
                turn(Turning::InsideOut),
                "Brings the skin to the middle and the middle to the outside.",
            ),
            (
                Deed::Water {
                    wet_to: USUAL_WET_TO,
                },
                "Waters the heap until it holds 55 %.",
            ),
            (
                Deed::Cover(Cover::Sheet),
                "Lays a sheet over it: no rain in, little steam out.",
            ),
            (
                Deed::Cover(Cover::Straw {
                    thickness_m: USUAL_STRAW_M,
                }),
                "Lays 10 cm of straw over it: warmth stays, air passes.",
            ),
            (Deed::Cover(Cover::Bare), "Takes the cover off."),
        ] {
            let label = format!("+ {}", deed_label(&deed));
            if ui.button(label).on_hover_text(tip).clicked() {
                add_deed(&mut page.project.heap, deed);
            }
        }
        plain_button(
            ui,
            page,
            Action::PickForPlan(None),
            &Action::PickForPlan(None).text(page.facts),
        );
        let propose = Action::ProposePlan;
        let text = propose.text(page.facts);
        plain_button(ui, page, propose, &text);
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
        let name = deed_label(&event.deed);
        // An entry past the last day stays there while the days to project are changed.
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
        if let Some(wet_to) = wet_to(&mut event.deed) {
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

fn turn(turning: Turning) -> Deed {
    Deed::Turn {
        turning,
        wet_to: Some(USUAL_WET_TO),
    }
}

fn wet_to(deed: &mut Deed) -> Option<&mut f64> {
    match deed {
        Deed::Turn { wet_to, .. } => wet_to.as_mut(),
        Deed::Water { wet_to } => Some(wet_to),
        Deed::Add { .. } | Deed::Cover(_) => None,
    }
}

/// A new entry some days after the last one.
pub fn add_deed(heap: &mut Heap, deed: Deed) {
    if heap.plan.events.len() >= MOST_EVENTS {
        return;
    }
    let last = heap
        .plan
        .events
        .iter()
        .map(|event| event.day)
        .fold(0.0, f64::max);
    let day = (last + USUAL_GAP_DAYS).min(heap.days);
    heap.plan.events.push(Event { day, deed });
}

/// Lays this much more on top.
pub fn addition(ingredient: Ingredient) -> Deed {
    Deed::Add {
        mix: Mix {
            ingredients: vec![ingredient],
            added_water_l: 0.0,
        },
        placing: Placing::OnTop,
    }
}
