//! A plan in words: operations, their days, a plan that is proposed.
//!
//! In: a plan, a proposal. Out: lines, cells and sentences.
//!
//! Not here: dates (`date`), what an addition brings (`mix::contents`), the search (`forecast`).
//!
//! Tested by: `tests/document/export.rs`, `tests/window/plan_search.rs`.

use crate::forecast::plan_search::{Proposed, Tried, operations_replaced};
use crate::heap::{Cover, Heap, Operation, Placing, Plan, Turning};
use crate::material::Catalogue;
use crate::outcome::course::Hold;
use crate::outcome::kill::PlantClass;
use crate::outcome::turns::TurnRow;
use crate::quantity::UnitSystem;

use super::outcome::trust_in_brackets;
use super::{date, heap, list, mix, number};

/// A smaller share of the heap than this is none of it.
const LEAST_SHARE: f64 = 0.005;

/// Where the column of the formula comes from.
pub const FORMULA_SOURCE: &str = "At random: as if every turning mixed the heap at random and all of it heated up again; by probability 1 \u{2212} (1 \u{2212} h)^(n + 1) for n turnings, with h the share that had enough with no turning. It is a yardstick, not a simulation: careful turning inside out does better, careless turning worse.";

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
    let entries = heap.plan.in_order().into_iter();
    let steps = entries.map(|(_, event)| DatedStep {
        when: date::date_and_day(start, event.day),
        what: instruction(&event.operation, catalogue, units),
    });
    std::iter::once(built).chain(steps).collect()
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
        when: date::day_and_date(start_day_of_year, event.day),
        operation: operation_and_water(&event.operation),
        kept: !matches!(
            event.operation,
            Operation::Turn { .. } | Operation::Water { .. }
        ),
    };
    plan.in_order().into_iter().map(line).collect()
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

/// What the plan reaches against the heap left alone; `seeds` names the seeds that are meant.
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
            &|tried| number::percent(tried.treated),
        ),
        row("Finished".to_owned(), &|tried| finished(tried, days)),
        row("Nitrogen lost as ammonia".to_owned(), &|tried| {
            number::percent(tried.nitrogen_lost)
        }),
        row("Work".to_owned(), &|tried| work(tried.work)),
    ];
    if [&proposed.untouched, &proposed.chosen]
        .iter()
        .any(|tried| tried.finished_day.is_none())
    {
        // How far from finished: the same test that says when it is.
        let what = "Still heats up in the self-heating test on the last day, by".to_owned();
        let rise = row(what, &|tried| {
            number::temperature_difference(tried.still_heats_k, units)
        });
        rows.insert(2, rise);
    }
    rows
}

fn finished(tried: &Tried, days: f64) -> String {
    match tried.finished_day {
        Some(day) => format!("day {}", number::whole(day)),
        None => format!("not in {}", number::days(days)),
    }
}

/// An amount of work, in turnings: "2.5 turnings".
pub fn work(work: f64) -> String {
    match work {
        none if none <= 0.0 => "none".to_owned(),
        one if (one - 1.0).abs() < 1e-9 => "1 turning".to_owned(),
        more => format!("{} turnings", number::rounded(more)),
    }
}

/// A row of the table of turnings: how many, simulated, at random, in words.
pub fn turn_cells(row: &TurnRow) -> [String; 3] {
    [
        match row.turnings {
            0 => "none".to_owned(),
            more => more.to_string(),
        },
        number::percent(row.treated),
        number::percent(1.0 - row.untreated_by_formula),
    ]
}

/// The trade-off in one sentence, for those who do not see the plot.
pub fn trade_off(proposed: &Proposed) -> String {
    let points: Vec<String> = proposed
        .trade_off
        .iter()
        .map(|tried| point(tried.work, tried.treated))
        .collect();
    format!(
        "Most of the heap that had enough heat, for each amount of work: {}; this plan: {}.",
        points.join("; "),
        point(proposed.chosen.work, proposed.chosen.treated)
    )
}

/// The plot of the trade-off as it is spoken.
pub fn trade_off_plot(proposed: &Proposed) -> String {
    format!("Trade-off. {}", trade_off(proposed))
}

/// Said where no timetable heats any of the heap enough: turning is then not what it lacks.
pub fn too_cold(proposed: &Proposed) -> Option<&'static str> {
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

/// A point of the trade-off: "work 2.5 turnings, 48 %".
pub fn point(work: f64, treated: f64) -> String {
    format!("work {}, {}", self::work(work), number::percent(treated))
}

/// How many entries of a plan are replaced by a proposal, and how many stay.
struct Replaced {
    replaced: usize,
    kept: usize,
}

impl Replaced {
    fn of(heap: &Heap) -> Self {
        let replaced = operations_replaced(heap).len();
        Self {
            replaced,
            kept: heap.plan.events.len() - replaced,
        }
    }

    fn replaced(&self) -> String {
        number::count(
            self.replaced,
            "turning or watering",
            "turnings or waterings",
        )
    }

    fn kept(&self) -> String {
        number::count(self.kept, "cover or addition", "covers or additions")
    }
}

/// What using a proposal replaces and what stays, before it is used.
pub fn will_replace(heap: &Heap) -> String {
    let counts = Replaced::of(heap);
    let first = match counts.replaced {
        0 => "No turning or watering of the present plan is replaced.".to_owned(),
        _ => format!(
            "Using it replaces {} of the present plan.",
            counts.replaced()
        ),
    };
    match counts.kept {
        0 => first,
        1 => format!("{first} {} stays.", counts.kept()),
        _ => format!("{first} {} stay.", counts.kept()),
    }
}

/// The same, once it was used; `heap` is that before.
pub fn was_used(heap: &Heap) -> String {
    let counts = Replaced::of(heap);
    let (replaced, kept) = (counts.replaced(), counts.kept());
    let told = match (counts.replaced, counts.kept) {
        (0, 0) => "The proposed plan is in use.".to_owned(),
        (_, 0) => format!("The proposed plan is in use, {replaced} replaced."),
        (0, _) => format!("The proposed plan is in use, {kept} kept."),
        _ => format!("The proposed plan is in use, {replaced} replaced, {kept} kept."),
    };
    format!("{told} Undo brings the old one back.")
}

/// What counts as enough heat for a class of seeds.
pub fn enough_heat(class: &PlantClass, units: UnitSystem) -> String {
    let holds: Vec<String> = class.holds.iter().map(|of| hold(of, units)).collect();
    format!(
        "Enough heat for {} ({}): {} in one moist part of the heap ({}).",
        class.name,
        class.examples.join(", "),
        list(&holds),
        trust_in_brackets(class.trust)
    )
}

fn hold(hold: &Hold, units: UnitSystem) -> String {
    let (days, at) = (
        number::days(hold.days),
        number::temperature(hold.at_c, units),
    );
    if hold.unbroken {
        format!("{days} on end at {at} or more")
    } else {
        format!("{days} at {at} or more")
    }
}
