//! Operations of a plan as the window adds them.
//!
//! In: an operation, a heap. Out: the heap with a further entry in its plan.
//!
//! Not here: what an operation does to a heap (`heap::event`), what it is called (`text::plan`), the list (`heap::plan_list`), markers
//! (`day_line`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use crate::heap::{Event, Heap, MOST_EVENTS, Operation, Placing};
use crate::mix::{Ingredient, Mix};

/// Days between a new operation and the one before.
const USUAL_GAP_DAYS: f64 = 10.0;
/// Moisture that watering and turning wet to when added.
pub const USUAL_WET_TO: f64 = 0.55;

/// A new entry some days after the last one.
pub fn add_operation(heap: &mut Heap, operation: Operation) {
    if heap.plan.times() >= MOST_EVENTS {
        return;
    }
    let last = heap
        .plan
        .events
        .iter()
        .map(Event::last_day)
        .fold(0.0, f64::max);
    let day = (last + USUAL_GAP_DAYS).min(heap.days);
    heap.plan.events.push(Event {
        repeat: None,
        day,
        operation,
    });
}

/// Lays this much more on top.
pub fn addition(ingredient: Ingredient) -> Operation {
    Operation::Add {
        mix: Mix {
            ingredients: vec![ingredient],
            added_water_l: 0.0,
        },
        placing: Placing::OnTop,
    }
}
