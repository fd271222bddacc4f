//! A proposed plan in words and rows: what is done when, what it reaches, what each turning buys.
//!
//! In: a proposal, the heap it is for. Out: text.
//!
//! Not here: where the words stand (`plan_sheet`), the search (`forecast::plan_search`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use crate::forecast::plan_search::{Proposed, Tried, operations_replaced};
use crate::heap::{Heap, Operation, Plan};
use crate::outcome::course::rise_text;
use crate::outcome::kill::PlantClass;
use crate::outcome::turns::TurnRow;
use crate::quantity::{UnitSystem, rounded_text};

use crate::window::piles::calendar::date_text;
use crate::window::widgets::operations::operation_label;

/// A smaller share of the heap than this is none of it.
const LEAST_SHARE: f64 = 0.005;

/// Where the column of the formula comes from.
pub const FORMULA_SOURCE: &str = "At random: as if every turning mixed the heap at random and all of it heated up again; by probability 1 \u{2212} (1 \u{2212} h)^(n + 1) for n turnings, with h the share that had enough with no turning. It is a yardstick, not a simulation: careful turning inside out does better, careless turning worse.";

/// One entry of the proposed plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanLine {
    /// "day 7, 22 October".
    pub when: String,
    /// "Turn inside out, wet to 58 %".
    pub operation: String,
    /// Whether it is an entry of the present plan that stays.
    pub kept: bool,
}

/// The entries by day.
pub fn plan_lines(plan: &Plan, start_day_of_year: f64) -> Vec<PlanLine> {
    let line = |(_, event): (usize, &crate::heap::Event)| PlanLine {
        when: format!(
            "day {:.0}, {}",
            event.day,
            date_text(start_day_of_year + event.day)
        ),
        operation: operation_text(&event.operation),
        kept: !matches!(
            event.operation,
            Operation::Turn { .. } | Operation::Water { .. }
        ),
    };
    plan.in_order().into_iter().map(line).collect()
}

fn operation_text(operation: &Operation) -> String {
    let name = operation_label(operation);
    match operation {
        Operation::Turn {
            wet_to: Some(wet_to),
            ..
        }
        | Operation::Water { wet_to } => format!("{name}, wet to {:.0} %", 100.0 * wet_to),
        _ => name.to_owned(),
    }
}

/// What counts as enough heat for a class of seeds.
pub fn enough_text(class: &PlantClass, units: UnitSystem) -> String {
    let hold = |hold: &crate::outcome::course::Hold| {
        let on_end = if hold.unbroken { " on end" } else { "" };
        format!(
            "{} days{on_end} at {} or more",
            rounded_text(hold.days),
            units.temperature_text(hold.at_c)
        )
    };
    let holds: Vec<String> = class.holds.iter().map(hold).collect();
    format!(
        "Enough heat for {} ({}): {} in one moist part of the heap ({}).",
        class.name,
        class.examples.join(", "),
        holds.join(" and "),
        class.trust.label()
    )
}

/// One thing that is reached, with the heap left alone and with the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct ReachedRow {
    /// What.
    pub what: String,
    /// Turned and watered never.
    pub alone: String,
    /// By the plan.
    pub planned: String,
}

/// What the plan reaches against the heap left alone.
pub fn reached_rows(
    proposed: &Proposed,
    seeds: &str,
    days: f64,
    units: UnitSystem,
) -> Vec<ReachedRow> {
    let row = |what: String, says: &dyn Fn(&Tried) -> String| ReachedRow {
        what,
        alone: says(&proposed.untouched),
        planned: says(&proposed.chosen),
    };
    let mut rows = vec![
        row(
            format!("Share that had enough heat for {seeds}"),
            &|tried| percent(tried.treated),
        ),
        row("Finished".to_owned(), &|tried| finished_text(tried, days)),
        row("Nitrogen lost as ammonia".to_owned(), &|tried| {
            percent(tried.nitrogen_lost)
        }),
        row("Work".to_owned(), &|tried| work_text(tried.work)),
    ];
    if [&proposed.untouched, &proposed.chosen]
        .iter()
        .any(|tried| tried.finished_day.is_none())
    {
        // How far from finished: the same test that says when it is.
        let what = "Still heats up in a flask on the last day, by".to_owned();
        let rise = row(what, &|tried| rise_text(tried.still_heats_k, units));
        rows.insert(2, rise);
    }
    rows
}

/// "32 %" of the heap, or of what is meant.
fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

fn finished_text(tried: &Tried, days: f64) -> String {
    match tried.finished_day {
        Some(day) => format!("day {day:.0}"),
        None => format!("not in {days:.0} days"),
    }
}

/// "2.5 turnings".
pub fn work_text(work: f64) -> String {
    match work {
        none if none <= 0.0 => "none".to_owned(),
        one if (one - 1.0).abs() < 1e-9 => "1 turning".to_owned(),
        more => format!("{} turnings", rounded_text(more)),
    }
}

/// A row of the table of turnings: how many, simulated, at random, in words.
pub fn turn_cells(row: &TurnRow) -> [String; 3] {
    [
        match row.turnings {
            0 => "none".to_owned(),
            more => more.to_string(),
        },
        percent(row.treated),
        percent(1.0 - row.untreated_by_formula),
    ]
}

/// The trade-off in one sentence, for those who do not see the plot.
pub fn trade_off_text(proposed: &Proposed) -> String {
    let points: Vec<String> = proposed
        .trade_off
        .iter()
        .map(|tried| point_text(tried.work, tried.treated))
        .collect();
    format!(
        "Most of the heap that had enough heat, for each amount of work: {}; this plan: {}.",
        points.join("; "),
        point_text(proposed.chosen.work, proposed.chosen.treated)
    )
}

/// Said where no timetable heats any of the heap enough: turning is then not what it lacks.
pub fn too_cold_text(proposed: &Proposed) -> Option<&'static str> {
    let best = proposed
        .trade_off
        .iter()
        .chain([&proposed.untouched, &proposed.chosen])
        .map(|tried| tried.treated)
        .fold(0.0, f64::max);
    (best < LEAST_SHARE).then_some(
        "No timetable that was tried heats any of it enough. Look at the mix first (C:N, moisture) and at how much there is: a heap of less than about 0.8 m a side loses its warmth too fast (Raabe, University of California).",
    )
}

/// "work 2.5 turnings, 48 %".
pub fn point_text(work: f64, treated: f64) -> String {
    format!("work {}, {}", work_text(work), percent(treated))
}

/// What using a proposal replaces and what stays, before it is used.
pub fn replaced_text(heap: &Heap) -> String {
    let (replaced, kept) = replaced_and_kept(heap);
    let stays = match kept {
        0 => String::new(),
        1 => " 1 cover or addition stays.".to_owned(),
        more => format!(" {} stay.", entries(more, "cover or addition")),
    };
    match replaced {
        0 => format!("No turning or watering of the present plan is replaced.{stays}"),
        more => format!(
            "Using it replaces {} of the present plan.{stays}",
            entries(more, "turning or watering")
        ),
    }
}

/// The same, once it was used; `heap` is that before.
pub fn used_text(heap: &Heap) -> String {
    let (replaced, kept) = replaced_and_kept(heap);
    let told: Vec<String> = [
        (replaced, "turning or watering", "replaced"),
        (kept, "cover or addition", "kept"),
    ]
    .into_iter()
    .filter(|(count, ..)| *count > 0)
    .map(|(count, of, done)| format!(", {} {done}", entries(count, of)))
    .collect();
    format!(
        "The proposed plan is in use{}. Undo brings the old one back.",
        told.concat()
    )
}

fn replaced_and_kept(heap: &Heap) -> (usize, usize) {
    let replaced = operations_replaced(heap).len();
    (replaced, heap.plan.events.len() - replaced)
}

/// "2 turnings or waterings".
fn entries(count: usize, of: &str) -> String {
    if count == 1 {
        return format!("1 {of}");
    }
    let many: Vec<String> = of.split(" or ").map(|word| format!("{word}s")).collect();
    format!("{count} {}", many.join(" or "))
}
