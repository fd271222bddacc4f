//! A proposed plan in words: what can be wanted of it, its entries, what it reaches, what each turning buys.
//!
//! In: a proposal, the heap it is for. Out: lines, cells and sentences.
//!
//! Not here: operations as such (`plan`), the search (`forecast::plan_search`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use crate::forecast::plan_search::{Proposed, Tried, Want, operations_replaced};
use crate::heap::{Heap, Occurrence, Plan};
use crate::outcome::course::Hold;
use crate::outcome::kill::PlantClass;
use crate::outcome::turns::TurnRow;
use crate::quantity::UnitSystem;

use super::outcome::trust_in_brackets;
use super::plan::operation_and_water;
use super::{date, list, number};

/// Days of a year.
const DAYS_OF_YEAR: f64 = 365.0;
/// A smaller share of the heap than this is none of it.
const LEAST_SHARE: f64 = 0.005;
/// Side of the smallest heap that keeps its warmth, m. Source: Raabe, University of California: 32 inches.
const LEAST_SIDE_M: f64 = 0.8;

/// Where the column of the formula comes from.
pub const FORMULA_SOURCE: &str = "At random: as if every turning mixed the heap at random and all of it heated up again; by probability 1 \u{2212} (1 \u{2212} h)^(n + 1) for n turnings, with h the share that had enough with no turning. It is a yardstick, not a simulation: a real turning may do better or worse.";

/// What is wanted of a plan.
pub fn want(want: Want) -> &'static str {
    match want {
        Want::FinishSoonest => "Finish soonest",
        Want::KillSeeds => "Kill weed seeds",
        Want::LeastWork => "Least work",
        Want::KeepNitrogen => "Keep nitrogen",
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

/// The entries by day; of a heap that stands, those before `from_day` stay.
pub fn plan_lines(plan: &Plan, start_day_of_year: f64, from_day: Option<f64>) -> Vec<PlanLine> {
    let line = |due: Occurrence<'_>| PlanLine {
        when: date::day_and_date(start_day_of_year, due.day),
        operation: operation_and_water(due.operation),
        kept: !due.is_replaced(from_day),
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
pub fn too_cold(proposed: &Proposed, peak_c: Option<f64>, units: UnitSystem) -> Option<String> {
    let best = proposed
        .trade_off
        .iter()
        .chain([&proposed.untouched, &proposed.chosen])
        .map(|tried| tried.treated)
        .fold(0.0, f64::max);
    (best < LEAST_SHARE).then(|| {
        let side = number::length(LEAST_SIDE_M, units);
        let peak = peak_c.map_or_else(String::new, |peak_c| {
            format!(
                " As planned now its centre gets to {} at most.",
                number::temperature(peak_c, units)
            )
        });
        format!(
            "No timetable that was tried heats any of it enough.{peak} Look at the mix first (C:N, moisture) and at how much there is: a heap of less than about {side} a side loses its warmth too fast (Raabe, University of California)."
        )
    })
}

/// Said where the proposed plan finishes it after the day of the year that is aimed at, or not at all.
pub fn too_late(proposed: &Proposed, day_of_year: f64, heap: &Heap) -> Option<String> {
    let within = (day_of_year - heap.start_day_of_year).rem_euclid(DAYS_OF_YEAR);
    let aim = date::day_and_date(heap.start_day_of_year, within);
    match proposed.chosen.finished_day {
        Some(day) if day <= within => None,
        Some(day) => Some(format!(
            "This plan finishes it on {}, after your date ({aim}): begin earlier, or ask for the soonest with more work.",
            date::day_and_date(heap.start_day_of_year, day)
        )),
        None if heap.days < within => None,
        None => Some(format!(
            "This plan does not finish it by your date ({aim}): begin earlier, or ask for the soonest with more work."
        )),
    }
}

/// A point of the trade-off: "work 2.5 turnings, 48 %".
pub fn point(work: f64, treated: f64) -> String {
    format!("work {}, {}", self::work(work), number::percent(treated))
}

/// How many entries of a plan are replaced by a proposal, and how many stay.
struct Replaced {
    replaced: usize,
    kept: usize,
    stands: bool,
}

impl Replaced {
    fn of(heap: &Heap, from_day: Option<f64>) -> Self {
        let replaced = operations_replaced(heap, from_day).len();
        Self {
            replaced,
            kept: heap.plan.times() - replaced,
            stands: from_day.is_some(),
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
        if self.stands {
            return number::count(self.kept, "other entry", "other entries");
        }
        number::count(self.kept, "cover or addition", "covers or additions")
    }
}

/// What using a proposal replaces and what stays, before it is used.
pub fn will_replace(heap: &Heap, from_day: Option<f64>) -> String {
    let counts = Replaced::of(heap, from_day);
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
pub fn was_used(heap: &Heap, from_day: Option<f64>) -> String {
    let counts = Replaced::of(heap, from_day);
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
