//! Fixed words of a printed page and of the pictures on it: headings, keys, columns, notes.
//!
//! In: what a page shows. Out: words, each short enough for its place.
//!
//! Not here: where they stand (`export`), sentences on a mix, a heap or a trial (the files named after them).
//!
//! Tested by: `tests/document/handout.rs`, `tests/document/export.rs`.

use crate::heap::{Operation, SectionValue};
use crate::quantity::UnitSystem;

use super::number;

/// Heading of the ingredients.
pub const MIX: &str = "The mix";
/// Heading of the gauges.
pub const GAUGES: &str = "The gauges";
/// Heading of the gauges where their ranges stand beside them.
pub const GAUGES_WITH_RANGES: &str =
    "The gauges, each with the range that eight in ten such mixes would lie in";
/// Heading of what is done when.
pub const DATES: &str = "Dates";
/// Behind the count of what goes on on the next page: "and 3 more dates overleaf".
pub const OVERLEAF: &str = "overleaf";
/// Heading of the cautions.
pub const SAFETY_NOTES: &str = "Safety notes";
/// Heading of what is judged of a heap.
pub const EXPECTED: &str = "Expected result";
/// Heading of the empty table for notes by hand.
pub const LOG: &str = "Log";
/// Said of a mix without ingredients.
pub const NOTHING_YET: &str = "Nothing yet.";
/// Column of a value before a change.
pub const BEFORE: &str = "before";
/// Column of a value after a change.
pub const AFTER: &str = "after";
/// Column of the best part of a band.
pub const BEST: &str = "best";
/// Beside an amount that a balance leaves alone.
pub const LOCKED: &str = "(locked)";
/// What the drawn gauges mean.
pub const GAUGES_KEY: &str = "Dark: best; light: works; thin line: range; triangle: this mix.";
/// At the foot of a handout.
pub const FOOT: &str =
    "A projection says what such a heap would do, not what it will. Local rules come first.";
/// Below the days of a curve.
pub const DAY_AXIS: &str = "day after building";
/// Title of a picture of the inside of a heap.
pub const SECTION: &str = "Section";

/// A column of the table for notes by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogColumn {
    /// Which day.
    Day,
    /// Temperature by a probe.
    Probe,
    /// Moisture by squeezing a handful.
    Squeeze,
    /// How it smells.
    Smell,
    /// What was done.
    Done,
}

/// The head of a column of the table for notes by hand.
pub fn log_column(column: LogColumn, units: UnitSystem) -> String {
    match column {
        LogColumn::Day => "Day".to_owned(),
        LogColumn::Probe => format!("Probe, {}", units.temperature_unit()),
        LogColumn::Squeeze => "Moisture squeeze".to_owned(),
        LogColumn::Smell => "Smell".to_owned(),
        LogColumn::Done => "What was done".to_owned(),
    }
}

/// The letter of an operation on a curve, and what it means.
fn letter_and_word(operation: &Operation) -> (&'static str, &'static str) {
    match operation {
        Operation::Turn { .. } => ("T", "turn"),
        Operation::Water { .. } | Operation::Pour { .. } => ("W", "water"),
        Operation::Add { .. } => ("A", "add"),
        Operation::Cover(_) => ("C", "cover"),
    }
}

/// The letter of an operation on a curve.
pub fn letter(operation: &Operation) -> &'static str {
    letter_and_word(operation).0
}

/// What a curve shows beside its black line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CurveShows {
    /// The line alone.
    Line,
    /// The line in the band of an ensemble.
    LineAndBand,
}

/// What the lines and letters of a curve mean.
pub fn curve_key<'a>(shows: CurveShows, operations: impl Iterator<Item = &'a Operation>) -> String {
    let mut parts = vec!["Black: centre of the heap".to_owned()];
    if shows == CurveShows::LineAndBand {
        parts.push("grey: four in five such heaps".to_owned());
    }
    parts.push("dotted: air".to_owned());
    let found: Vec<(&str, &str)> = operations.map(letter_and_word).collect();
    let order = ["T", "W", "A", "C"];
    for letter in order {
        if let Some((letter, word)) = found.iter().find(|(of, _)| *of == letter) {
            parts.push(format!("{letter}: {word}"));
        }
    }
    format!("{}.", parts.join("; "))
}

/// What the picture of the inside shows: day, least and greatest temperature, degC.
pub fn section_caption(day: f64, low_c: f64, high_c: f64, units: UnitSystem) -> String {
    format!(
        "Cut through the middle on day {}: {}, darker is hotter.",
        number::whole(day),
        number::temperature_span(low_c, high_c, units)
    )
}

/// What of the inside is shown, as a button is named.
pub fn section_value_label(value: SectionValue) -> &'static str {
    match value {
        SectionValue::Temperature => "Temperature",
        SectionValue::Moisture => "Moisture",
        SectionValue::Oxygen => "Oxygen",
        SectionValue::LeftToRot => "Still to rot",
    }
}

/// The same inside a sentence.
pub fn section_value_in_sentence(value: SectionValue) -> &'static str {
    match value {
        SectionValue::Temperature => "temperature",
        SectionValue::Moisture => "moisture",
        SectionValue::Oxygen => "oxygen",
        SectionValue::LeftToRot => "still to rot",
    }
}

/// A value of the inside with its unit.
pub fn section_value(of: SectionValue, value: f64, units: UnitSystem) -> String {
    match of {
        SectionValue::Temperature => number::temperature(value, units),
        SectionValue::Moisture | SectionValue::Oxygen | SectionValue::LeftToRot => {
            number::percent(value)
        }
    }
}
