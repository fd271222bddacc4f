//! A plan in words: operations, their days, what each does.
//!
//! In: a plan. Out: words and dated lines.
//!
//! Not here: dates (`date`), what an addition brings (`mix::contents`), a proposed plan (`plan_search`).
//!
//! Tested by: `tests/document/export.rs`, `tests/document/handout.rs`, `tests/window/heap_plan.rs`.

use crate::heap::{Cover, Event, Heap, Operation, Placing, Repeat, Turning};
use crate::material::Catalogue;
use crate::quantity::UnitSystem;

use super::{date, heap, mix, number};

/// An operation as an entry of a list.
pub fn operation(operation: &Operation) -> &'static str {
    match operation {
        Operation::Turn {
            turning: Turning::Remix,
            ..
        } => "Turn",
        Operation::Turn {
            turning: Turning::InsideOut,
            ..
        } => "Turn inside out",
        Operation::Water { .. } => "Water",
        Operation::Pour { .. } => "Pour water",
        Operation::Add { .. } => "Add material",
        Operation::Cover(Cover::Bare) => "Uncover",
        Operation::Cover(Cover::Sheet) => "Cover with a sheet",
        Operation::Cover(Cover::Straw { .. }) => "Cover with straw",
        Operation::Cover(Cover::Compost { .. }) => "Cover with compost",
    }
}

/// An operation with how wet it leaves the heap: "Turn inside out, wet to 58 %".
pub fn operation_and_water(operation: &Operation) -> String {
    let name = self::operation(operation);
    match operation {
        Operation::Turn {
            wet_to: Some(wet_to),
            ..
        }
        | Operation::Water { wet_to } => format!("{name}, wet to {}", number::percent(*wet_to)),
        _ => name.to_owned(),
    }
}

/// An operation as something to do on paper; an addition says what it brings.
pub fn instruction(operation: &Operation, catalogue: &Catalogue, units: UnitSystem) -> String {
    match operation {
        Operation::Turn { turning, wet_to } => turning_instruction(*turning, *wet_to),
        Operation::Water { wet_to } => {
            format!("water it to {} moisture", number::percent(*wet_to))
        }
        Operation::Pour { litres } => format!(
            "pour {} of water over it",
            number::small_volume(litres / 1000.0, units)
        ),
        Operation::Add { mix, placing } => {
            let added = mix::contents(mix, catalogue, units);
            match placing {
                Placing::OnTop => format!("add {added} on top"),
                Placing::MixedIn => format!("add {added} and mix it in"),
            }
        }
        Operation::Cover(Cover::Bare) => "take the cover off".to_owned(),
        Operation::Cover(Cover::Sheet) => "cover with a sheet".to_owned(),
        Operation::Cover(Cover::Straw { thickness_m }) => format!(
            "cover with {} of straw",
            number::thickness(*thickness_m, units)
        ),
        Operation::Cover(Cover::Compost { thickness_m }) => format!(
            "cover with {} of compost",
            number::thickness(*thickness_m, units)
        ),
    }
}

fn turning_instruction(turning: Turning, wet_to: Option<f64>) -> String {
    let how = match turning {
        Turning::Remix => "turn it, all mixed through",
        Turning::InsideOut => "turn it inside out",
    };
    match wet_to {
        Some(share) => format!("{how}, wet to {} moisture", number::percent(share)),
        None => how.to_owned(),
    }
}

/// A date with what is done on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DatedStep {
    /// "22 October (day 7)".
    pub when: String,
    /// "turn it inside out, wet to 58 % moisture".
    pub what: String,
}

/// Every date of a plan with what is done, the building first.
pub fn dated_steps(heap: &Heap, catalogue: &Catalogue, units: UnitSystem) -> Vec<DatedStep> {
    let start = heap.start_day_of_year;
    let built = DatedStep {
        when: date::date(start),
        what: format!("build the {}", heap::shape(&heap.shape)),
    };
    let mut entries: Vec<&Event> = heap.plan.events.iter().collect();
    entries.sort_by(|a, b| a.day.total_cmp(&b.day));
    let steps = entries.into_iter().map(|event| DatedStep {
        when: date::date_and_day(start, event.day),
        what: again(
            event,
            instruction(&event.operation, catalogue, units),
            start,
        ),
    });
    std::iter::once(built).chain(steps).collect()
}

/// What is done with how often: "add 1 bucket of leaves on top, every week, 12 times, to 10 January".
fn again(event: &Event, what: String, start_day_of_year: f64) -> String {
    match event.repeat {
        Some(repeat) if repeat.times > 1 => {
            let until = until(event, start_day_of_year);
            format!("{what}, {}, {until}", self::repeat(repeat))
        }
        _ => what,
    }
}

/// The date of an entry's last time: "to 10 January".
pub fn until(event: &Event, start_day_of_year: f64) -> String {
    format!("to {}", date::date(start_day_of_year + event.last_day()))
}

/// "every week, 12 times".
pub fn repeat(repeat: Repeat) -> String {
    let every = match repeat.every_days {
        1.0 => "every day".to_owned(),
        7.0 => "every week".to_owned(),
        days => format!("every {}", number::days(days)),
    };
    format!(
        "{every}, {}",
        number::count(repeat.times as usize, "time", "times")
    )
}

/// What a ready operation of the plan list does, for its tooltip.
pub fn operation_tip(operation: &Operation, units: UnitSystem) -> String {
    match operation {
        Operation::Turn {
            turning: Turning::Remix,
            wet_to,
        } => match wet_to {
            Some(wet_to) => format!(
                "Mixes everything through and wets it to {} if it is drier.",
                number::percent(*wet_to)
            ),
            None => "Mixes everything through.".to_owned(),
        },
        Operation::Turn {
            turning: Turning::InsideOut,
            ..
        } => "Brings the skin to the middle and the middle to the outside.".to_owned(),
        Operation::Water { wet_to } => {
            format!(
                "Waters the heap until it holds {}.",
                number::percent(*wet_to)
            )
        }
        Operation::Pour { litres } => format!(
            "Pours {} over it.",
            number::small_volume(litres / 1000.0, units)
        ),
        Operation::Add { .. } => "Adds material to the heap.".to_owned(),
        Operation::Cover(Cover::Bare) => "Takes the cover off.".to_owned(),
        Operation::Cover(Cover::Sheet) => {
            "Lays a sheet over it: no rain in, little steam out.".to_owned()
        }
        Operation::Cover(Cover::Straw { thickness_m }) => format!(
            "Lays {} of straw over it: warmth stays, air passes.",
            number::thickness(*thickness_m, units)
        ),
        Operation::Cover(Cover::Compost { thickness_m }) => format!(
            "Lays {} of compost over it: warmth stays, air passes.",
            number::thickness(*thickness_m, units)
        ),
    }
}
