//! A reading as people type it: "58,5 °C", "2026-05-03 14:00", "3 May 2026".
//!
//! In: what was typed, the units shown. Out: a moment, a number, a temperature; what to say where it is none.
//!
//! Not here: how readings are said (`diary`), amounts (`typed_amount`).
//!
//! Tested by: `tests/window/diary.rs`.

use jiff::civil::{Date, DateTime, Time};

use crate::quantity::{UnitSystem, celsius_from_fahrenheit};

/// A moment as a field shows it and reads it: "2026-05-03 14:05".
pub fn moment_typed(at: DateTime) -> String {
    let date = at.date();
    format!("{date} {:02}:{:02}", at.hour(), at.minute())
}

/// How dates may be typed, with and without a time of day.
const DATES: [&str; 3] = ["%Y-%m-%d", "%d.%m.%Y", "%d %B %Y"];

/// A moment as it was typed; a date alone is taken at `usual` time of day. `None` if it is no date.
///
/// 3/5/2026 is not read: it is in May here and in March elsewhere.
pub fn read_moment(text: &str, usual: Time) -> Option<DateTime> {
    let text = text.trim().replace([',', 'T'], " ");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    DATES.iter().find_map(|form| {
        let whole = format!("{form} %H:%M");
        let dated = || Date::strptime(form, &text).ok();
        DateTime::strptime(&whole, &text)
            .ok()
            .or_else(|| Some(dated()?.to_datetime(usual)))
    })
}

/// Told of something that is no date.
pub fn no_date(text: &str) -> String {
    format!(
        "“{}” is no date: write such as 2026-05-03 14:00.",
        text.trim()
    )
}

/// A number as it was typed, with a comma or a point; signs of units after it are left out. `None` if it is none.
pub fn read_number(text: &str) -> Option<f64> {
    let digits = |letter: char| letter.is_ascii_digit() || ".,-+−".contains(letter);
    let text = text.trim();
    let end = text.find(|letter| !digits(letter)).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit = unit.trim();
    if unit.len() > 5 || unit.chars().any(|letter| letter.is_ascii_digit()) {
        return None;
    }
    let plain = number.replace(',', ".").replace('−', "-");
    plain.parse::<f64>().ok().filter(|value| value.is_finite())
}

/// A temperature as it was typed, in the units shown unless it says C or F itself, degC.
pub fn read_temperature(text: &str, units: UnitSystem) -> Option<f64> {
    let value = read_number(text)?;
    let last = text.trim().chars().last().map(|it| it.to_ascii_uppercase());
    let fahrenheit = match last {
        Some('C') => false,
        Some('F') => true,
        _ => units == UnitSystem::UsCustomary,
    };
    Some(if fahrenheit {
        celsius_from_fahrenheit(value)
    } else {
        value
    })
}

/// Told of something that is no number.
pub fn no_number(what: &str, text: &str) -> String {
    format!(
        "{what}: “{}” is no number; write such as 58 or 58.5.",
        text.trim()
    )
}
