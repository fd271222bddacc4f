//! Rules on heat in words, the class A equation among them.
//!
//! In: rules with their results. Out: sentences, numbers. Never more than "would meet the time and temperature part".
//!
//! Not here: the judging (`outcome::sanitation`).
//!
//! Tested by: `tests/science/outcome_sanitation.rs`.

use crate::outcome::sanitation::{
    CLASS_A_FROM_C, CLASS_A_SOLID, HeatRule, Missing, Process, ReadAt, RuleResult,
};
use crate::outcome::{ClassAScores, Trust};
use crate::quantity::UnitSystem;
use crate::text::{list, number, sentence};

use super::facts::{NamedNumber, holds, share_of_heap};
use super::metric;

/// Said once beside the rules.
pub const STANDING: &str = "A household's own heap is normally outside these rules; they are yardsticks here, and meeting the time and temperature part is not a certificate. Local rules come first.";

/// Where the class A equation stands.
pub(super) const CLASS_A_SOURCE: &str = "40 CFR 503.32(a)(3) as carried in 15A NCAC 02T .1106; at least one state leaves composting out of it, so it is a yardstick only";
/// Scores from here on are only said to be above it.
const HIGH_SCORE: f64 = 10.0;

/// Whether a rule would be met, and what is missing.
pub(super) fn rule(rule: &HeatRule, got: &RuleResult, units: UnitSystem) -> String {
    let memory = match rule.trust {
        Trust::Recalled => ", figures unverified (from memory)",
        Trust::Derived | Trust::SecondHand | Trust::Read => "",
    };
    let name = metric::shown(&rule.name, units);
    if !got.process_fits {
        return format!(
            "{name} is for {}, and not held against this heap{memory}",
            process(rule.process)
        );
    }
    let verb = if got.would_meet {
        "would meet"
    } else {
        "would not meet"
    };
    let missing: Vec<String> = got.missing.iter().map(|it| missing(*it, units)).collect();
    let rest = if missing.is_empty() {
        String::new()
    } else {
        format!("; missing: {}", missing.join(", "))
    };
    sentence(&format!(
        "{verb} the time and temperature part of {name}{memory}{rest}"
    ))
}

/// A rule as a row of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RuleRow {
    /// Its name.
    pub name: String,
    /// Time and temperature: "55 °C for 15 days".
    pub asks: String,
    /// "yes" or "no".
    pub met: &'static str,
    /// What is missing; empty if it would be met.
    pub missing: String,
}

/// A rule as a row.
pub fn rule_row(rule: &HeatRule, got: &RuleResult, units: UnitSystem) -> RuleRow {
    let asked = rule.any_of.get(got.alternative);
    let missing: Vec<String> = got.missing.iter().map(|it| missing(*it, units)).collect();
    let memory = match rule.trust {
        Trust::Recalled => " (unverified)",
        Trust::Derived | Trust::SecondHand | Trust::Read => "",
    };
    RuleRow {
        name: format!("{}{memory}", metric::shown(&rule.name, units)),
        asks: holds(asked.map_or(&[], Vec::as_slice), units),
        met: if got.would_meet { "yes" } else { "no" },
        missing: missing.join(", "),
    }
}

/// All rules in one sentence: how many of those for such a heap it would meet in time and temperature.
pub fn rules_in_one(rules: &[HeatRule], got: &[RuleResult]) -> String {
    let both = rules.iter().zip(got);
    let fit = || both.clone().filter(|(_, got)| got.process_fits);
    let met: Vec<&str> = fit()
        .filter(|(_, got)| got.would_meet)
        .map(|(rule, _)| rule.name.as_str())
        .collect();
    let (all, others) = (fit().count(), rules.len() - fit().count());
    let meets = match met.as_slice() {
        [] => format!(
            "It would meet the time and temperature part of none of the {all} rules that are for a heap like this"
        ),
        met => format!(
            "It would meet the time and temperature part of {} of the {all} rules that are for a heap like this: {}",
            met.len(),
            list(met)
        ),
    };
    format!(
        "{meets}. {others} more are for closed vessels, halls or forced air and are not held against it"
    )
}

/// What a rule still wants: "2 turnings while it is hot", "9 more days at 55 °C in the coolest parcel".
pub fn missing(missing: Missing, units: UnitSystem) -> String {
    match missing {
        Missing::Turnings(count) => {
            let turnings = number::count(count, "turning", "turnings");
            format!("{turnings} while it is hot")
        }
        Missing::Time {
            days,
            at_c,
            in_coolest,
        } => {
            let place = if in_coolest {
                "in the coolest parcel"
            } else {
                "inside"
            };
            let at = number::temperature(at_c, units);
            format!("{} at {at} {place}", more_time(days))
        }
    }
}

/// A time that is still wanted: "4 more hours", "9.5 more days".
fn more_time(days: f64) -> String {
    let hours = days * 24.0;
    let (value, one, several) = if hours < 1.0 {
        ((hours * 60.0).round(), "more minute", "more minutes")
    } else if days < 1.0 {
        (hours.round(), "more hour", "more hours")
    } else if days < 10.0 {
        ((days * 10.0).round() / 10.0, "more day", "more days")
    } else {
        (days.round(), "more day", "more days")
    };
    let words = if value == 1.0 { one } else { several };
    format!("{} {words}", number::rounded(value))
}

/// What a way of composting is called in a rule.
fn process(process: Process) -> &'static str {
    match process {
        Process::Turned => "turned rows or heaps",
        Process::HousedRow => "rows under a roof",
        Process::StillAerated => "still heaps with forced air under a cover",
        Process::Enclosed => "closed vessels",
        Process::Any => "any way of composting",
    }
}

/// The numbers behind a rule.
pub(super) fn rule_numbers(
    rule: &HeatRule,
    got: &RuleResult,
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let asked = rule
        .any_of
        .get(got.alternative)
        .map_or(&[][..], Vec::as_slice);
    let read = match rule.read_at {
        ReadAt::Inside => "by a probe inside",
        ReadAt::EveryPart => "in every part",
    };
    let mut numbers = vec![
        NamedNumber::new("asks", holds(asked, units)),
        NamedNumber::new("for", process(rule.process)),
        NamedNumber::new("read", read),
        NamedNumber::new("parcels that would meet it", share_of_heap(got.share)),
    ];
    for (hold, days) in asked.iter().zip(&got.coolest_days) {
        let at = number::temperature(hold.at_c, units);
        let name = format!("coolest parcel at {at}");
        numbers.push(NamedNumber::new(name, number::time(*days)));
    }
    if let Some(turnings) = rule.turnings {
        let value = format!("{} of {}", got.turnings, turnings.least);
        numbers.push(NamedNumber::new("turnings while hot", value));
    }
    if let Some(floor) = rule.moisture_floor {
        let value = format!("{} moisture", number::percent(floor));
        numbers.push(NamedNumber::new("counts only above", value));
    }
    let also = rule.also_asks.iter();
    numbers.extend(
        also.map(|ask| NamedNumber::new("also asks, not judged", metric::shown(ask, units))),
    );
    numbers
}

/// The scores of the class A equation.
pub(super) fn class_a(scores: ClassAScores) -> String {
    format!(
        "The class A equation asks for 1: the centre scores {}, the coolest parcel {}",
        score(scores.centre),
        score(scores.coolest)
    )
}

/// The numbers behind them.
pub(super) fn class_a_numbers(scores: ClassAScores, units: UnitSystem) -> Vec<NamedNumber> {
    let solids = number::percent(CLASS_A_SOLID.solids.0);
    let from = number::temperature(CLASS_A_FROM_C, units);
    let shortest = number::time(CLASS_A_SOLID.shortest_days);
    let valid = format!("solids {solids} or more, {from} or more, {shortest} or more");
    vec![
        NamedNumber::new("valid for", valid),
        NamedNumber::new("score at the centre", score(scores.centre)),
        NamedNumber::new("score in the coolest parcel", score(scores.coolest)),
    ]
}

fn score(score: f64) -> String {
    match score {
        high if high >= HIGH_SCORE => "more than 10".to_owned(),
        some => format!("{some:.2}"),
    }
}
