//! Metric figures inside the texts of `assets/`, said in the units a person reads.
//!
//! In: a text that holds figures like "25 to 75 mm", "10 m" or "60 °C". Out: the same, in US units where those are chosen.
//!
//! What the texts hold is metric; a figure whose unit is not known here stays as it is ("455 µg/kg").
//! Not here: figures that are calculated (`number`).
//!
//! Tested by: `tests/science/words.rs`.

use std::borrow::Cow;

use crate::quantity::UnitSystem;
use crate::text::number;

/// What a figure measures, and how much of the SI unit one of it is.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Unit {
    /// Metres in one.
    Length(f64),
    /// Square metres.
    Area,
    /// Cubic metres in one.
    Volume(f64),
    /// Kilograms in one.
    Mass(f64),
    /// A temperature.
    Celsius,
}

/// Units by their names, the longer ones first where one begins like another.
const UNITS: [(&str, Unit); 9] = [
    ("mm", Unit::Length(0.001)),
    ("cm", Unit::Length(0.01)),
    ("m²", Unit::Area),
    ("m³", Unit::Volume(1.0)),
    ("m", Unit::Length(1.0)),
    ("L", Unit::Volume(0.001)),
    ("kg", Unit::Mass(1.0)),
    ("g", Unit::Mass(0.001)),
    ("°C", Unit::Celsius),
];

/// Metres in an inch (exact).
const INCH_M: f64 = 0.0254;
/// Metres in a foot (exact).
const FOOT_M: f64 = 0.3048;

/// The text in these units; borrowed where nothing changes.
pub fn shown(text: &str, units: UnitSystem) -> Cow<'_, str> {
    converted(text, units, Degrees::Reading)
}

/// The same where degrees are a rise above something: "at most 10 °C above the room".
pub fn shown_rise(text: &str, units: UnitSystem) -> Cow<'_, str> {
    converted(text, units, Degrees::Rise)
}

/// What degrees in a text are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Degrees {
    /// A reading of a thermometer.
    Reading,
    /// A rise.
    Rise,
}

fn converted(text: &str, units: UnitSystem, degrees: Degrees) -> Cow<'_, str> {
    if units == UnitSystem::Metric {
        return Cow::Borrowed(text);
    }
    let mut said = String::with_capacity(text.len());
    let mut rest = text;
    let mut before = ' ';
    while let Some(first) = rest.chars().next() {
        let starts = first.is_ascii_digit() && !(before.is_alphanumeric() || before == '.');
        match starts.then(|| figure(rest, degrees)).flatten() {
            Some((shown, length)) => {
                said.push_str(&shown);
                before = ' ';
                rest = &rest[length..];
            }
            // A number without such a unit is passed by whole, so that no part of it is taken for one.
            None if starts => {
                let (_, length) = number_at(rest).unwrap_or((0.0, first.len_utf8()));
                said.push_str(&rest[..length]);
                before = '0';
                rest = &rest[length..];
            }
            None => {
                said.push(first);
                before = first;
                rest = &rest[first.len_utf8()..];
            }
        }
    }
    Cow::Owned(said)
}

/// A number at the beginning of a text, with its length.
fn number_at(text: &str) -> Option<(f64, usize)> {
    let digits = text.find(|c: char| !(c.is_ascii_digit() || c == '.'));
    let mut length = digits.unwrap_or(text.len());
    // A full stop behind a number is none of it.
    if text[..length].ends_with('.') {
        length -= 1;
    }
    text[..length].parse().ok().map(|value| (value, length))
}

/// "25 to 75 mm" or "10 m" at the beginning of a text in US units, with its length in the text.
fn figure(text: &str, degrees: Degrees) -> Option<(String, usize)> {
    let (first, mut length) = number_at(text)?;
    let mut values = vec![first];
    if let Some(second) = text[length..].strip_prefix(" to ")
        && let Some((value, its)) = number_at(second)
    {
        values.push(value);
        length += " to ".len() + its;
    }
    let gap = text[length..].strip_prefix([' ', '\u{a0}'])?;
    let gap_length = text.len() - length - gap.len();
    let (name, unit) = UNITS.iter().find(|(name, _)| {
        let after = gap.strip_prefix(name);
        after.is_some_and(|after| {
            !after.starts_with(|c: char| c.is_alphanumeric() || c == '/' || c == '²' || c == '³')
        })
    })?;
    Some((
        in_us(&values, *unit, degrees),
        length + gap_length + name.len(),
    ))
}

/// One or two values in US units.
fn in_us(values: &[f64], unit: Unit, degrees: Degrees) -> String {
    let us = UnitSystem::UsCustomary;
    let largest = values.iter().copied().fold(0.0, f64::max);
    let (one, name): (f64, &str) = match unit {
        Unit::Length(metres) if largest * metres < 2.0 * FOOT_M => (metres / INCH_M, "in"),
        Unit::Length(metres) => (metres / FOOT_M, "ft"),
        Unit::Area => (us.area(1.0), "ft²"),
        Unit::Volume(m3) if largest * m3 < 0.5 => (us.volume(m3), us.volume_unit()),
        Unit::Volume(m3) => (us.bulk_volume(m3), us.bulk_volume_unit()),
        Unit::Mass(kg) => (us.mass(kg), us.mass_unit()),
        Unit::Celsius => {
            let shown = |value: &f64| match degrees {
                Degrees::Reading => us.temperature(*value),
                Degrees::Rise => us.temperature_difference(*value),
            };
            let shown: Vec<String> = values.iter().map(shown).map(number::whole).collect();
            return format!("{}\u{a0}°F", shown.join(" to "));
        }
    };
    let shown: Vec<String> = values.iter().map(|value| few_digits(value * one)).collect();
    format!("{} {name}", shown.join(" to "))
}

/// As exact as such a figure is meant: whole from ten up, halves from one, quarters below.
fn few_digits(value: f64) -> String {
    let step = match value {
        large if large >= 10.0 => 1.0,
        some if some >= 1.0 => 0.5,
        _ => 0.25,
    };
    number::rounded(((value / step).round() * step).max(step))
}
