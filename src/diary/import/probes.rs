//! The probes of a logger's file: what each is called, where it sits, what its temperatures are given in.
//!
//! In: columns whose use is known. Out: [`Probe`]s.
//!
//! Not here: what columns hold (`columns`), what a heading says (`heading`).
//!
//! Tested by: `tests/document/logger.rs`.

use super::choices::{Choices, ColumnUse, DecimalSign, Guess, How, Place, Unit};
use super::heading;
use super::number::{self, Cell};
use super::table::{self, Layout};
use super::understood::{PROBE_LIMIT, Probe, ROW_LIMIT, Understood};
use crate::diary::Spot;

/// Above this no heap is in degC, and up to the other it can be in degF (steam at 100 degC; handbook heaps stay below
/// 80 degC, 176 degF).
const ONLY_FAHRENHEIT: std::ops::RangeInclusive<f64> = 95.0..=200.0;
/// No heap, no winter and no hot day is outside this, K.
const KELVINS: std::ops::Range<f64> = 230.0..380.0;
/// So many readings, and one in so many of all, tell a unit.
const UNIT_READINGS: usize = 3;
const UNIT_SHARE: usize = 50;

/// The probes of a file, each with its unit and where it sits.
pub(super) fn probes_of(
    text: &str,
    layout: &Layout,
    choices: &Choices,
    found: &Understood,
) -> Vec<Probe> {
    let temperatures: Vec<usize> = found.columns_of(ColumnUse::Temperature).collect();
    let usual = unit_of_all(layout, &temperatures, found.decimal.value);
    let names = found.columns_of(ColumnUse::ProbeName).next();
    let mut keys: Vec<(String, usize)> = Vec::new();
    match (names, temperatures.first()) {
        (Some(names), Some(column)) => {
            for key in names_in(text, names, found) {
                keys.push((key, *column));
            }
        }
        _ => {
            for (number, at) in temperatures.into_iter().enumerate() {
                let heading = found.columns[at].heading.clone();
                let mut key = match heading.as_str() {
                    "" => format!("T{}", number + 1),
                    heading => heading.to_owned(),
                };
                if keys.iter().any(|(other, _)| *other == key) {
                    key = format!("{key} ({})", at + 1);
                }
                keys.push((key, at));
            }
        }
    }
    keys.into_iter()
        .map(|(key, column)| {
            let choice = choices.probes.get(&key);
            let heading = &found.columns[column].heading;
            let unit = Guess::or(choices.unit, || match heading::unit(heading) {
                Some(unit) => (unit, How::Heading),
                None => usual,
            });
            Probe {
                name: choice
                    .and_then(|choice| choice.name.clone())
                    .unwrap_or_else(|| table::shortened(&key)),
                column,
                place: Guess::or(
                    choice.and_then(|choice| choice.place),
                    || match heading::place(&key) {
                        Some(place) => (place, How::Heading),
                        None => (Place::Heap(Spot::CENTRE), How::Assumed),
                    },
                ),
                unit,
                left_out: choice.is_some_and(|choice| choice.left_out),
                key,
            }
        })
        .collect()
}

/// The names in a column of probes' names, in the order in which they come.
fn names_in(text: &str, at: usize, found: &Understood) -> Vec<String> {
    let mut rows = table::reader(text, found.delimiter.value, found.quoted);
    let mut row = csv::StringRecord::new();
    let mut names: Vec<String> = Vec::new();
    let mut seen = 0;
    while names.len() < PROBE_LIMIT && seen < ROW_LIMIT {
        if !rows.read_record(&mut row).unwrap_or(false) {
            break;
        }
        seen += 1;
        let name = row.get(at).unwrap_or_default().trim();
        if seen > found.rows_before && !name.is_empty() && !names.iter().any(|it| it == name) {
            names.push(name.to_owned());
        }
    }
    names
}

/// The unit of all temperatures whose own heading gives none: that of another heading, one behind the numbers, the
/// only one in which they can be, or degC.
fn unit_of_all(layout: &Layout, temperatures: &[usize], decimal: DecimalSign) -> (Unit, How) {
    let headings = temperatures
        .iter()
        .filter_map(|at| layout.headings.get(*at));
    if let Some(unit) = headings.into_iter().find_map(|title| heading::unit(title)) {
        return (unit, How::Heading);
    }
    let (mut all, mut fahrenheit, mut kelvin) = (0, 0, 0);
    for cell in temperatures.iter().flat_map(|at| layout.cells(*at)) {
        let Cell::Number(value) = number::read(cell, decimal) else {
            continue;
        };
        let small = cell.trim().to_lowercase();
        if let (_, Some(unit)) = number::split_unit(&small) {
            return (unit, How::Values);
        }
        all += 1;
        fahrenheit += usize::from(ONLY_FAHRENHEIT.contains(&value));
        kelvin += usize::from(KELVINS.contains(&value));
    }
    if 2 * kelvin > all {
        (Unit::Kelvin, How::Values)
    } else if fahrenheit >= UNIT_READINGS && UNIT_SHARE * fahrenheit >= all {
        (Unit::Fahrenheit, How::Values)
    } else {
        (Unit::Celsius, How::Assumed)
    }
}
