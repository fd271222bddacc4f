//! A cell as a number: decimal point or comma, thousands signs, a unit behind it, and the words loggers write for nothing.
//!
//! In: a cell, the decimal sign. Out: [`Cell`].
//!
//! Not here: what the number means (`columns`).
//!
//! Tested by: `tests/document/logger.rs`.

use super::choices::{DecimalSign, Unit};

/// What a cell holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell {
    /// A number, always finite.
    Number(f64),
    /// Nothing was measured.
    Gap,
    /// Something else.
    Other,
}

/// Longest cell that can be a number, bytes.
const LONGEST: usize = 40;

/// What loggers write where nothing was measured, in small letters (common practice).
const GAP_WORDS: [&str; 24] = [
    "na",
    "n/a",
    "nan",
    "#n/a",
    "#na",
    "#value!",
    "null",
    "none",
    "nil",
    "ol",
    "o.l",
    "o.l.",
    "err",
    "error",
    "fault",
    "open",
    "short",
    "inf",
    "+inf",
    "-inf",
    "infinity",
    "-infinity",
    "missing",
    "?",
];

/// Units that may stand behind a number, and what each says of it.
const SUFFIXES: [(&str, Unit); 9] = [
    ("°c", Unit::Celsius),
    ("degc", Unit::Celsius),
    ("deg c", Unit::Celsius),
    ("c", Unit::Celsius),
    ("°f", Unit::Fahrenheit),
    ("degf", Unit::Fahrenheit),
    ("deg f", Unit::Fahrenheit),
    ("f", Unit::Fahrenheit),
    ("k", Unit::Kelvin),
];

/// Reads a cell.
pub(super) fn read(cell: &str, sign: DecimalSign) -> Cell {
    let cell = cell.trim_matches(|c: char| c.is_whitespace() || c == '"' || c == '\'');
    let plain = |byte: u8| byte.is_ascii_digit() || byte == b'.' || byte == b'-';
    if sign == DecimalSign::Point
        && !cell.is_empty()
        && cell.bytes().all(plain)
        && let Ok(value) = cell.parse()
    {
        return Cell::Number(value);
    }
    slow(cell, sign)
}

fn slow(cell: &str, sign: DecimalSign) -> Cell {
    if cell
        .bytes()
        .all(|byte| matches!(byte, b'-' | b'.' | b'*' | b'_'))
    {
        // Empty, "---", "-.-".
        return Cell::Gap;
    }
    if cell.len() > LONGEST {
        return Cell::Other;
    }
    let small = cell.to_lowercase();
    if GAP_WORDS.contains(&small.as_str()) {
        return Cell::Gap;
    }
    let (bare, _) = split_unit(&small);
    match plain(bare, sign).and_then(|text| text.parse::<f64>().ok()) {
        Some(value) if value.is_finite() => Cell::Number(value),
        _ => Cell::Other,
    }
}

/// The number without the unit behind it, and that unit; `small` is in small letters.
pub(super) fn split_unit(small: &str) -> (&str, Option<Unit>) {
    for (ending, unit) in SUFFIXES {
        if let Some(bare) = small.strip_suffix(ending) {
            return (bare.trim_end(), Some(unit));
        }
    }
    (small, None)
}

/// The number as the language writes it: no thousands signs, a point. `None` where it is no number.
fn plain(text: &str, sign: DecimalSign) -> Option<String> {
    let (point, thousands) = match sign {
        DecimalSign::Point => ('.', ','),
        DecimalSign::Comma => (',', '.'),
    };
    let mut out = String::with_capacity(text.len());
    // Digits since the last thousands sign, once there was one.
    let mut group: Option<usize> = None;
    let (mut digits, mut after_point, mut in_power) = (0, false, false);
    for letter in text.chars() {
        match letter {
            '0'..='9' => {
                out.push(letter);
                digits += 1;
                group = group.map(|count| count + 1);
            }
            '-' | '\u{2212}' if out.is_empty() || out.ends_with('e') => out.push('-'),
            '+' if out.is_empty() || out.ends_with('e') => {}
            'e' if digits > 0 && !in_power => {
                in_power = true;
                out.push('e');
            }
            _ if letter == point && !after_point && !in_power => {
                if group.is_some_and(|count| count != 3) {
                    return None;
                }
                group = None;
                after_point = true;
                out.push('.');
            }
            _ if !after_point
                && !in_power
                && (letter == thousands
                    || matches!(letter, '\'' | '\u{2019}' | ' ' | '\u{a0}' | '\u{202f}')) =>
            {
                if digits == 0 || group.is_some_and(|count| count != 3) {
                    return None;
                }
                group = Some(0);
            }
            _ => return None,
        }
    }
    let whole = group.is_none_or(|count| count == 3);
    (digits > 0 && whole).then_some(out)
}

/// Which decimal sign a cell speaks for, if it is a number with one.
pub(super) fn decimal_of(cell: &str) -> Option<DecimalSign> {
    let small = cell.trim().to_lowercase();
    let (bare, _) = split_unit(&small);
    if bare.len() > LONGEST || !bare.bytes().any(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let count = |sign: char| bare.matches(sign).count();
    let sign = match (count(','), count('.'), bare.rfind(','), bare.rfind('.')) {
        (1, 0, ..) => DecimalSign::Comma,
        (0, 1, ..) => DecimalSign::Point,
        // The last of two kinds stands before the tenths.
        (_, 1, Some(comma), Some(point)) if comma < point => DecimalSign::Point,
        (1, _, Some(comma), Some(point)) if point < comma => DecimalSign::Comma,
        _ => return None,
    };
    plain(bare, sign).map(|_| sign)
}

/// Whether a cell is a number by either sign.
pub(super) fn is_number(cell: &str) -> bool {
    DecimalSign::ALL
        .into_iter()
        .any(|sign| matches!(read(cell, sign), Cell::Number(_)))
}

/// Whether something was measured, or was to be: a number, or a word for nothing.
pub(super) fn is_measured(cell: &str) -> bool {
    let gap = read(cell, DecimalSign::Point) == Cell::Gap;
    is_number(cell) || gap && !cell.trim().is_empty()
}
