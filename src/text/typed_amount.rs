//! Amounts as people type them: "2 sacks", "2,5", "1/2", "1½ barrows", "200 L".
//!
//! In: what was typed, the measure it is typed in, own measures. Out: an amount, or what cannot be read in it.
//!
//! A number alone keeps its measure; a number with a measure is kept in that one.
//! Not here: how an amount is written (`amount`), the field (`window::widgets::quantity_field`).
//!
//! Tested by: `tests/science/words.rs`, `tests/window/mix.rs`.

use crate::quantity::{Amount, LITRE_PER_CUBIC_METRE, LITRE_PER_US_GALLON, Measure, OwnMeasure};

use super::amount::{one, several};

/// Why something typed is no amount.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unread {
    /// There is no number in it that can be read.
    Number(String),
    /// The word after the number is no measure.
    Measure(String),
    /// A comma that may part thousands or tenths.
    Comma(String),
}

/// What was typed, as an amount; a number alone is in `present`.
///
/// # Errors
/// [`Unread`] says which part of it cannot be read.
pub fn read(text: &str, present: &Measure, own: &[OwnMeasure]) -> Result<Amount, Unread> {
    let text = text.trim().to_lowercase();
    let begins_word = |letter: char| letter.is_alphabetic();
    let end = text.find(begins_word).unwrap_or(text.len());
    let (number, word) = text.split_at(end);
    let value = number_of(number.trim()).map_err(|comma| {
        if comma {
            Unread::Comma(number.trim().to_owned())
        } else {
            Unread::Number(text.clone())
        }
    })?;
    let word = word.trim().trim_end_matches('.').trim_start_matches("of ");
    if word.is_empty() {
        return Ok(Amount::new(value, present.clone()));
    }
    if let Some(own) = named(word, own) {
        return Ok(Amount::new(value, own));
    }
    let (times, measure) = measure_of(word).ok_or_else(|| Unread::Measure(word.to_owned()))?;
    Ok(Amount::new(value * times, measure))
}

/// What to say of something that is no amount.
pub fn unread(problem: &Unread) -> String {
    match problem {
        Unread::Number(text) => {
            format!(
                "“{text}” is no amount: write 2, 2.5, 1/2, 2 sacks or 200 L. Nothing was changed."
            )
        }
        Unread::Measure(word) => format!(
            "“{word}” is no measure that is known here: choose one from the list, or add your own there. Nothing was changed."
        ),
        Unread::Comma(text) => format!(
            "“{text}” may mean thousands or a fraction: write it without the comma, or with one or two digits after it. Nothing was changed."
        ),
    }
}

/// Said of an amount beyond what a row can hold.
pub fn too_much(most: f64, measure: &Measure) -> String {
    format!(
        "A row holds at most {} {}. Nothing was changed.",
        super::number::rounded(most),
        several(measure)
    )
}

fn named(word: &str, own: &[OwnMeasure]) -> Option<Measure> {
    let found = own.iter().find(|own| {
        let name = own.name.to_lowercase();
        name == word || format!("{name}s") == word
    })?;
    Some(found.measure())
}

/// A number with point or comma, a fraction, or both; `Err(true)` where a comma may part thousands.
fn number_of(text: &str) -> Result<f64, bool> {
    let (whole, part) = match text.char_indices().find_map(|(at, letter)| {
        let part = match letter {
            '½' => 0.5,
            '¼' => 0.25,
            '¾' => 0.75,
            _ => return None,
        };
        Some((at, letter.len_utf8(), part))
    }) {
        Some((at, wide, part)) if at + wide == text.len() => (text[..at].trim(), Some(part)),
        Some(_) => return Err(false),
        None => (text, None),
    };
    if let Some(part) = part {
        let whole = if whole.is_empty() { 0.0 } else { plain(whole)? };
        return Ok(whole + part);
    }
    let Some((before, below)) = text.split_once('/') else {
        return plain(text);
    };
    let (whole, above) = match before.trim().rsplit_once(' ') {
        Some((whole, above)) => (plain(whole.trim())?, above),
        None => (0.0, before.trim()),
    };
    let (above, below) = (plain(above)?, plain(below.trim())?);
    if below > 0.0 {
        Ok(whole + above / below)
    } else {
        Err(false)
    }
}

/// A number with one point or comma.
fn plain(text: &str) -> Result<f64, bool> {
    let digits =
        |text: &str| !text.is_empty() && text.bytes().all(|letter| letter.is_ascii_digit());
    let read = |text: &str| text.parse::<f64>().map_err(|_| false);
    if digits(text) {
        return read(text);
    }
    let (whole, part) = text.split_once(['.', ',']).ok_or(false)?;
    let sound = (whole.is_empty() || digits(whole)) && digits(part);
    if !sound {
        return Err(text.contains(',') && text.contains('.'));
    }
    // "1,000" is a thousand to some and one to others.
    if text.contains(',') && part.len() == 3 && !whole.is_empty() && whole != "0" {
        return Err(true);
    }
    read(&format!(
        "{}.{part}",
        if whole.is_empty() { "0" } else { whole }
    ))
}

/// A measure by its word for one or several, or a usual short form, and how many of it the word means.
fn measure_of(word: &str) -> Option<(f64, Measure)> {
    let said = |measure: &&Measure| {
        one(measure).to_lowercase() == word || several(measure).to_lowercase() == word
    };
    if let Some(measure) = Measure::READY.iter().find(said) {
        return Some((1.0, measure.clone()));
    }
    let measure = match word {
        "l" | "lt" | "ltr" | "liter" | "liters" => Measure::Litre,
        "kilo" | "kilos" | "kilogram" | "kilograms" => Measure::Kilogram,
        "gram" | "grams" => Measure::Gram,
        "lbs" | "pound" | "pounds" => Measure::Pound,
        "wheelbarrow" | "wheelbarrows" => Measure::Barrow,
        "bag" | "bags" | "bin bag" | "bin bags" => Measure::Sack,
        "bale" | "bales" => Measure::Bale,
        "fork" | "forks" | "fork-load" | "forkful" | "forkfuls" => Measure::Fork,
        "box" | "boxes" => Measure::GrassBox,
        "pail" | "pails" => Measure::Pail,
        "ft3" | "ft³" | "cu ft" => Measure::CubicFoot,
        "yd3" | "yd³" | "cu yd" => Measure::CubicYard,
        "m3" | "m³" => return Some((LITRE_PER_CUBIC_METRE, Measure::Litre)),
        "gal" | "gallon" | "gallons" => return Some((LITRE_PER_US_GALLON, Measure::Litre)),
        _ => return None,
    };
    Some((1.0, measure))
}
