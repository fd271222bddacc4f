//! When it is done, in words.
//!
//! In: the finish with its table. Out: sentences, numbers.
//!
//! Not here: the rule of "finished" (`outcome::finish`).
//!
//! Tested by: `tests/science/outcome_finish.rs`, `tests/document/finish.rs`.

use crate::outcome::Trust;
use crate::outcome::finish::{Finish, FinishLimit, FinishTable, LimitOn, StillToCome};
use crate::quantity::UnitSystem;
use crate::text::number;

use super::facts::NamedNumber;

/// When it is done, and how far from it the heap is at the end of the run.
pub(super) fn finish(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    match got.day {
        Some(day) => format!(
            "It would hardly heat again on turning from about day {day:.0}; confirm it with a bag, radish or self-heating test"
        ),
        None => {
            let open = got.still_to_come.iter();
            let open: Vec<String> = open.map(|it| still_to_come(*it, table, units)).collect();
            format!(
                "It would not be finished within the run: at its end it would still heat up by {} in the self-heating (Dewar) test; still to come: {}",
                number::temperature_difference(got.flask_at_end.rise_k, units),
                open.join("; ")
            )
        }
    }
}

/// The same rule in a short sentence, for a summary of the heap.
pub fn finished(got: &Finish) -> String {
    match got.day {
        Some(day) => format!("It would hardly heat again on turning from about day {day:.0}."),
        None => "It would not be finished by the end.".to_owned(),
    }
}

fn still_to_come(it: StillToCome, table: &FinishTable, units: UnitSystem) -> String {
    match it {
        StillToCome::Limit(place) => table
            .limits
            .get(place)
            .map_or_else(String::new, |limit| limit_name(limit, units)),
        StillToCome::Curing => {
            format!(
                "{} of curing after the hot stage",
                number::days(table.curing_days)
            )
        }
    }
}

/// A limit with its value, where the table's name leaves that to the units.
fn limit_name(limit: &FinishLimit, units: UnitSystem) -> String {
    match limit.measure {
        LimitOn::FlaskRise => {
            let most = number::temperature_difference(limit.most, units);
            format!("{}: at most {most} of rise", limit.name)
        }
        _ => limit.name.clone(),
    }
}

/// A value of what a limit is on: "7.9 °C", "0.4 mg O₂/g OM h", "15.2".
fn limit_value(measure: LimitOn, value: f64, units: UnitSystem) -> String {
    let unit = match measure {
        LimitOn::FlaskRise => {
            let rise = units.temperature_difference(value);
            return format!("{rise:.1} {}", units.temperature_unit());
        }
        LimitOn::CarbonNitrogen => return format!("{value:.1}"),
        LimitOn::OxygenMgPerGH => "mg O₂/g OM h",
        LimitOn::OxygenMmolPerKgH => "mmol O₂/kg OM h",
        LimitOn::CarbonMgPerGDay => "mg CO₂-C/g OM d",
        LimitOn::CarbonDioxideMgPerGDay => "mg CO₂/g OM d",
    };
    format!("{value:.1} {unit}")
}

/// The numbers behind it.
pub(super) fn finish_numbers(
    table: &FinishTable,
    got: &Finish,
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let hot_until = got
        .hot_until_day
        .map_or("it never is".to_owned(), |day| format!("day {day:.0}"));
    let flask = got.flask_at_end;
    let rise = number::temperature_difference(flask.rise_k, units);
    let at_end = format!("{rise} of rise, class {}", flask.class());
    let mut numbers = vec![
        NamedNumber::new("the heap is hot until", hot_until),
        NamedNumber::new("curing after that", number::days(table.curing_days)),
        NamedNumber::new("self-heating test at the end", at_end),
    ];
    for (limit, got) in table.limits.iter().zip(&got.limits) {
        let memory = match limit.trust {
            Trust::Recalled => " (from memory)",
            Trust::Derived | Trust::SecondHand | Trust::Read => "",
        };
        let day = got
            .day
            .map_or("not within the run".to_owned(), |d| format!("day {d:.0}"));
        let at_end = limit_value(limit.measure, got.at_end, units);
        let value = format!("{day} (at the end {at_end}){memory}");
        numbers.push(NamedNumber::new(limit_name(limit, units), value));
    }
    if let Some(row) = table.ways.iter().find(|row| row.way == got.way) {
        let (from, to) = row.days;
        let days = format!("{from:.0} to {to:.0} days ({})", row.source);
        numbers.push(NamedNumber::new(format!("usual time, {}", row.name), days));
    }
    numbers
}

/// Where it stands.
pub(super) fn finish_source(table: &FinishTable) -> String {
    format!(
        "own self-heating estimate from the model's pools; {}",
        table.curing_source
    )
}
