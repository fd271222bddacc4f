//! The next days in words: what is due, why, and when.
//!
//! In: a schedule with its project. Out: a date, a heading and a line of explanation for each entry.
//!
//! Not here: what is due (`outcome::next_days`), dates (`assess::schedule`), days of a plan (`date`).
//!
//! Tested by: `tests/document/calendar.rs`, `tests/science/next_days.rs`.

use jiff::civil::Date;

use crate::assess::{DatedDay, Schedule};
use crate::document::Project;
use crate::heap::Operation;
use crate::material::Catalogue;
use crate::outcome::next_days::{Due, TURN_ABOVE_C, TURN_BELOW_C, TurnFor, WATER_BELOW};
use crate::outcome::smell::TroubleKind;
use crate::quantity::UnitSystem;

use super::date::calendar_date;
use super::outcome::in_units;
use super::{garden, list, number, plan, sentence};

/// Heading of the list.
pub const HEADING: &str = "Next days";
/// Said where nothing is due.
pub const NOTHING: &str = "Nothing is due within the days that are simulated.";
/// Where the rules stand, in metric units.
const SOURCE: &str = "Turn below 45 °C or above 65 °C: Cornell Composting (rot is fastest at 40 to 60 °C, managers stay below about 65 °C) and the troubleshooting tables of Cornell, NC State and BioCycle; the 45 and the days between readings are common practice. Water below 40 %: The Composting Handbook.";

/// Where the rules stand, one line below the list.
pub fn source(units: UnitSystem) -> String {
    in_units(SOURCE, units).into_owned()
}

/// Names of the days of the week, Monday first.
const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

/// An entry in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SaidDay {
    /// "Mon 12 October 2026".
    pub when: String,
    /// What is due, in a few words.
    pub what: String,
    /// Why, or how, a sentence or two for each thing due.
    pub why: Vec<String>,
}

/// What is said with: the project the entries are of, its materials, the units a person reads.
#[derive(Debug, Clone, Copy)]
pub struct SaidOf<'a> {
    /// The project.
    pub project: &'a Project,
    /// The materials it knows.
    pub catalogue: &'a Catalogue,
    /// The units.
    pub units: UnitSystem,
}

/// A date: "Mon 12 October 2026".
pub fn short_date(date: Date) -> String {
    let weekday = usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0);
    let weekday = WEEKDAYS.get(weekday).copied().unwrap_or_default();
    format!("{weekday} {}", calendar_date(date))
}

/// The heading with the next thing due: "Next days: Mon 12 October 2026, turn it".
pub fn heading(first: Option<&SaidDay>) -> String {
    match first {
        Some(day) => format!("{HEADING}: {}, {}", day.when, in_line(&day.what)),
        None => HEADING.to_owned(),
    }
}

/// Behind a colon or a comma: its first letter small.
pub fn in_line(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// One line over the list: from when it is dated.
pub fn dated_from(schedule: &Schedule) -> String {
    let date = short_date(schedule.built);
    if schedule.stands {
        format!("Dated from the day it was built, {date}.")
    } else {
        format!("The heap does not stand yet: dated as if it were built on {date}.")
    }
}

/// An entry in words.
pub fn said(day: &DatedDay, of: &SaidOf<'_>) -> SaidDay {
    let due = &day.next.due;
    let names: Vec<String> = due.iter().map(|due| what(*due, of)).collect();
    let whys = due.iter().map(|due| why(*due, of));
    SaidDay {
        when: short_date(day.date),
        what: sentence(&list(&names)),
        why: whys.filter(|why| !why.is_empty()).collect(),
    }
}

/// The whole list as lines of text.
pub fn as_text(schedule: &Schedule, of: &SaidOf<'_>) -> String {
    let mut text = format!(
        "{}: {}\n",
        garden::title(of.project),
        HEADING.to_lowercase()
    );
    text.push_str(&dated_from(schedule));
    text.push('\n');
    if schedule.days.is_empty() {
        text.push_str(NOTHING);
        text.push('\n');
        return text;
    }
    for day in &schedule.days {
        let said = said(day, of);
        text.push_str(&format!("  {:<22} {}\n", said.when, said.what));
        for why in &said.why {
            text.push_str(&format!("  {:<22}   {why}\n", ""));
        }
    }
    text.push_str(&source(of.units));
    text.push('\n');
    text
}

/// What is due, in a few words that can begin a line.
fn what(due: Due, of: &SaidOf<'_>) -> String {
    match due {
        Due::Build => "build the heap".to_owned(),
        Due::Planned(place) => planned(place, of),
        Due::Turn { wet: true, .. } => "turn and water it".to_owned(),
        Due::Turn { wet: false, .. } => "turn it".to_owned(),
        Due::Water => "water it".to_owned(),
        Due::CheckSmell(_) => "check how it smells".to_owned(),
        Due::Cure => "let it cure".to_owned(),
        Due::FieldTest => "do a field test".to_owned(),
        Due::FitToDigIn { digs_in: true, .. } => "fit to dig in or mulch".to_owned(),
        Due::FitToDigIn { digs_in: false, .. } => "fit as mulch".to_owned(),
        Due::FitForPots { .. } => "fit for seedlings and pots".to_owned(),
        Due::Probe => "read the thermometer".to_owned(),
    }
}

fn planned(place: usize, of: &SaidOf<'_>) -> String {
    let event = of.project.heap.plan.events.get(place);
    event.map_or_else(String::new, |event| {
        plan::instruction(&event.operation, of.catalogue, of.units)
    })
}

/// Why, or how.
fn why(due: Due, of: &SaidOf<'_>) -> String {
    let units = of.units;
    match due {
        Due::Build | Due::Probe => String::new(),
        Due::Planned(place) => planned_why(place, of),
        Due::Turn {
            why: TurnFor::Cooling,
            ..
        } => format!(
            "Its middle would fall below {} while there is still much to rot: turned, it would heat again. Read the thermometer first.",
            number::temperature(TURN_BELOW_C, units)
        ),
        Due::Turn {
            why: TurnFor::TooHot,
            ..
        } => format!(
            "Its middle would pass {}: turning cools it. Turn it moist, upwind, with a mask if dust or moulds trouble you.",
            number::temperature(TURN_ABOVE_C, units)
        ),
        Due::Water => format!(
            "It would dry to less than {} moisture. Squeeze a handful: water it until it holds together and leaves the hand damp.",
            number::percent(WATER_BELOW)
        ),
        Due::CheckSmell(kind) => smell(kind).to_owned(),
        Due::Cure => "Its hot stage would be over. Sieve out big lumps for the next heap, or leave it; keep it moist and add nothing more.".to_owned(),
        Due::FieldTest => "A bag test for rot and a radish or cress test with seeds: they decide, whatever is projected.".to_owned(),
        Due::FitToDigIn { soon, .. } | Due::FitForPots { soon } => {
            let sooner = "That is sooner than heaps of this kind are usually given: take it as the earliest.";
            if soon { sooner.to_owned() } else { "As projected.".to_owned() }
        }
    }
}

fn planned_why(place: usize, of: &SaidOf<'_>) -> String {
    let event = of.project.heap.plan.events.get(place);
    let turns = |it: &Operation| matches!(it, Operation::Turn { .. });
    match event {
        Some(event) if turns(&event.operation) => {
            "As planned. Read the thermometer first.".to_owned()
        }
        Some(_) => "As planned.".to_owned(),
        None => String::new(),
    }
}

fn smell(kind: TroubleKind) -> &'static str {
    match kind {
        TroubleKind::Ammonia => {
            "From about now it would smell of ammonia: if it does, mix in leaves, straw or card."
        }
        TroubleKind::Sour => {
            "From about now it could turn sour: if it does, loosen it and mix in coarse browns."
        }
        _ => {
            "From about now it could smell of rot: if it does, turn it and mix in coarse dry browns."
        }
    }
}
