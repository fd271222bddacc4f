//! When it is done, in words.
//!
//! In: the finish with its table. Out: sentences, numbers.
//!
//! Not here: the rule of "finished" (`outcome::finish`).
//!
//! Tested by: `tests/science/outcome_finish.rs`, `tests/document/finish.rs`.

use crate::outcome::Trust;
use crate::outcome::finish::{
    Decides, Finish, FinishLimit, FinishTable, LimitOn, StillToCome, WayName,
};
use crate::quantity::UnitSystem;
use crate::text::number;

use super::curing;
use super::facts::NamedNumber;

/// When it is fit for what, and how far from it the heap is at the end of the run.
pub(super) fn finish(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    if got.leaves && !got.curing.stops() {
        return leafmould(table, got, units);
    }
    let first = curing::dig_in(table, got, units).unwrap_or_else(|| first_end(got, units));
    let second = curing::pots(table, got, units).unwrap_or_else(|| second_end(table, got, units));
    let early = curing::too_early(table, got, units);
    format!("{first}; {second}{early}{}", usual(table, got))
}

/// The first end as projected.
fn first_end(got: &Finish, units: UnitSystem) -> String {
    match got.usable_day {
        Some(day) if got.digs_in => format!("{FIT_TO_DIG_IN} from about day {day:.0}"),
        Some(day) => format!(
            "Fit as mulch from about day {day:.0}, not to be dug in: at C:N {} it would tie nitrogen up",
            number::whole(got.cn_at_end)
        ),
        None => format!(
            "Not fit to dig in or mulch within the {} of the run: at its end it would still heat up by {} in the self-heating (Dewar) test",
            number::days(got.run_days),
            number::temperature_difference(got.flask_at_end.rise_k, units)
        ),
    }
}

/// The second end as projected.
fn second_end(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    match got.day {
        Some(day) => {
            format!("fit for seedlings and pots from about day {day:.0}, {CONFIRM}")
        }
        None => format!(
            "not fit for seedlings and pots within the run, still to come: {}",
            open(table, got, units)
        ),
    }
}

/// The first end in words.
const FIT_TO_DIG_IN: &str = "Fit to dig in or mulch";
/// What is asked of a class V heap before seedlings go in.
const CONFIRM: &str = "confirm it with a bag, radish or self-heating test";

/// What leaves by themselves become, by common practice; the simulation is told beside it.
fn leafmould(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    let row = &table.leafmould;
    let (mulch, pots) = (row.mulch_days / 365.0, row.pots_days / 365.0);
    let rise = number::temperature_difference(got.flask_at_end.rise_k, units);
    format!(
        "Leaves by themselves become leafmould, not compost: by common practice fit as mulch after about {} and for seed and pots after {} or more. At the end of this run, day {:.0}, it would still heat up by {rise} in the self-heating (Dewar) test",
        years(mulch),
        years(pots),
        got.run_days
    )
}

/// "1 year", "2 years".
fn years(years: f64) -> String {
    number::count(years.round() as usize, "year", "years")
}

/// What is still to come, in one piece of a sentence.
fn open(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    let open = got.still_to_come.iter();
    let open: Vec<String> = open.map(|it| still_to_come(*it, table, units)).collect();
    open.join("; ")
}

/// ". Heaps of this kind (hot, turned a few times) are usually given 3 to 6 months"; nothing where the table has no such
/// way. Days that come sooner than that are told as the earliest.
fn usual(table: &FinishTable, got: &Finish) -> String {
    let Some(row) = table.usual(got.way) else {
        return String::new();
    };
    let given = format!(
        ". Heaps of this kind ({}) are usually given {}",
        row.name,
        months(row.days)
    );
    let soon = |day: Option<f64>| day.filter(|day| got.is_soon(*day));
    match (soon(got.usable_day), soon(got.day)) {
        (Some(first), Some(second)) if first < second => {
            format!("{given}, so take both days as the earliest")
        }
        (Some(day), _) => format!("{given}, so take day {day:.0} as the earliest"),
        (None, _) => given,
    }
}

/// "3 to 6 months", or in weeks where it is shorter.
fn months((from, to): (f64, f64)) -> String {
    /// Mean length of a month, d.
    const MONTH: f64 = 365.25 / 12.0;
    let (one, unit) = if to < 2.0 * MONTH {
        (7.0, "weeks")
    } else {
        (MONTH, "months")
    };
    format!("{:.0} to {:.0} {unit}", from / one, to / one)
}

/// The same rule in a short sentence, for a summary of the heap.
pub fn finished(got: &Finish) -> String {
    if let Some(told) = curing::stopped(got) {
        return told;
    }
    if got.leaves {
        return "Leaves by themselves become leafmould in a year or two.".to_owned();
    }
    let Some(first) = got.dig_in_day() else {
        return "It would not be finished by the end, nor fit to dig in or mulch.".to_owned();
    };
    let from = if got.is_soon(first) {
        format!("from day {first:.0} at the earliest")
    } else {
        format!("from about day {first:.0}")
    };
    match got.pots_day() {
        Some(day) if first < day => {
            let earliest = match (got.is_soon(first), got.is_soon(day)) {
                (true, true) => ", both at the earliest",
                (true, false) => ", the first at the earliest",
                (false, _) => "",
            };
            format!(
                "It would be fit to dig in or mulch from about day {first:.0}, for seedlings and pots from about day {day:.0}{earliest}."
            )
        }
        Some(day) => {
            let earliest = if got.is_soon(day) {
                " at the earliest"
            } else {
                ""
            };
            format!(
                "It would be fit to dig in or mulch, and for seedlings and pots, from about day {day:.0}{earliest}."
            )
        }
        None if !got.digs_in => format!(
            "It would be fit as mulch {from}, but not to be dug in, and not yet for seedlings and pots by the end."
        ),
        None if got.way == WayName::Cold => format!(
            "It would be fit to dig in or mulch {from}, but not yet for seedlings and pots by the end; cool heaps are usually given a year or two."
        ),
        None => format!(
            "It would be fit to dig in or mulch {from}, but not yet for seedlings and pots by the end."
        ),
    }
}

fn still_to_come(it: StillToCome, table: &FinishTable, units: UnitSystem) -> String {
    match it {
        StillToCome::Limit(place) => table.limits.get(place).map_or_else(String::new, |limit| {
            let name = limit_name(limit, units);
            match limit.decides {
                Decides::PotsByAnyOf => format!("{name} (or another of its tests)"),
                Decides::Nothing | Decides::DigIn | Decides::Pots => name,
            }
        }),
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
        NamedNumber::new("C:N at the end", number::whole(got.cn_at_end)),
        NamedNumber::new("self-heating test at the end", at_end),
        curing::counts_from(table, got),
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
    if let Some(row) = table.usual(got.way) {
        let (from, to) = row.days;
        let days = format!("{from:.0} to {to:.0} days ({})", row.source);
        numbers.push(NamedNumber::new(format!("usual time, {}", row.name), days));
    }
    numbers
}

/// Where it stands.
pub(super) fn finish_source(table: &FinishTable) -> String {
    format!(
        "own self-heating estimate from the model's pools; fit to dig in: class III or better and C:N at most {:.0} ({}); curing: {}; leaves: {}",
        table.digs_in_cn, table.digs_in_source, table.curing_source, table.leafmould.source
    )
}
