//! What is chosen and typed in the Diary view.
//!
//! In: typed words. Out: [`DiaryState`]; a [`Reading`] of what is in its form, or a sentence on what is missing.
//!
//! Not here: what is calculated of a diary (`diary_shown`), drawing (`diary`), doing (`verbs::diary`).
//!
//! Tested by: `tests/window/diary.rs`.

use std::collections::BTreeMap;

use jiff::civil::{DateTime, Time};

use crate::diary::{Reading, Smell, Spot, Squeeze, Wetness};
use crate::quantity::UnitSystem;
use crate::text::diary::NOTHING_ENTERED;
use crate::text::sentence;
use crate::text::typed_reading::{
    moment_typed, no_date, no_number, read_moment, read_number, read_temperature,
};

/// Time of day of a date that was typed without one: noon.
pub const NOON: Time = Time::constant(12, 0, 0, 0);
/// Water first poured, L (common practice: two cans).
const USUAL_POUR_L: f64 = 20.0;
/// Entries of the list that are shown at first.
pub const FIRST_ENTRIES: usize = 40;

/// What the form of a reading holds, as typed.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingForm {
    /// Where it was taken.
    pub spot: Spot,
    /// Temperature.
    pub temperature: String,
    /// When, once another moment than now was typed.
    pub at: Option<String>,
    /// What the squeezed hand saw.
    pub squeeze: Option<Squeeze>,
    /// Moisture of a probe, %.
    pub moisture: String,
    /// Oxygen, %.
    pub oxygen: String,
    /// Height, in the unit shown.
    pub height: String,
    /// What it smells of.
    pub smell: Option<Smell>,
    /// A note.
    pub note: String,
    /// Path or link of a photo.
    pub photo: String,
}

impl Default for ReadingForm {
    fn default() -> Self {
        Self {
            spot: Spot::CENTRE,
            temperature: String::new(),
            at: None,
            squeeze: None,
            moisture: String::new(),
            oxygen: String::new(),
            height: String::new(),
            smell: None,
            note: String::new(),
            photo: String::new(),
        }
    }
}

/// A number of the form; `None` where nothing is typed.
fn number(what: &str, text: &str, times: f64) -> Result<Option<f64>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    let value = read_number(text).ok_or_else(|| no_number(what, text))?;
    Ok(Some(value * times))
}

/// A number of a reading as it is typed.
fn typed(value: Option<f64>, times: f64) -> String {
    let shown = |value: f64| crate::text::number::rounded(value * times);
    value.map(shown).unwrap_or_default()
}

impl ReadingForm {
    /// The form of a reading that is to be changed.
    pub fn of(reading: &Reading, units: UnitSystem) -> Self {
        let degrees = reading.temperature_c.map(|it| units.temperature(it));
        let moisture = match reading.wetness {
            Some(Wetness::Probe(share) | Wetness::Oven(share)) => Some(share),
            _ => None,
        };
        Self {
            spot: reading.spot,
            temperature: typed(degrees, 1.0),
            at: Some(moment_typed(reading.at)),
            squeeze: match reading.wetness {
                Some(Wetness::Squeezed(class)) => Some(class),
                _ => None,
            },
            moisture: typed(moisture, 100.0),
            oxygen: typed(reading.oxygen, 100.0),
            height: typed(reading.height_m, 1.0 / units.one_length_m()),
            smell: reading.smell,
            note: reading.note.clone(),
            photo: reading.photo.clone(),
        }
    }

    /// Whether anything beside temperature, place and date is filled in.
    pub fn has_more(&self) -> bool {
        let blank = Self {
            spot: self.spot,
            temperature: self.temperature.clone(),
            at: self.at.clone(),
            ..Self::default()
        };
        *self != blank
    }

    /// The reading that was typed; `before` is that which is changed, if one is.
    ///
    /// # Errors
    /// A sentence on what cannot be read.
    pub fn reading(
        &self,
        units: UnitSystem,
        now: DateTime,
        before: Option<&Reading>,
    ) -> Result<Reading, String> {
        let at = match &self.at {
            Some(text) => read_moment(text, NOON).ok_or_else(|| no_date(text))?,
            None => now,
        };
        let mut reading = Reading::blank(at, self.spot);
        if !self.temperature.trim().is_empty() {
            let read = read_temperature(&self.temperature, units);
            let value = read.ok_or_else(|| no_number("Temperature", &self.temperature))?;
            reading.temperature_c = Some(value);
        }
        let moisture = number("Moisture", &self.moisture, 0.01)?;
        let oven = matches!(before.and_then(|it| it.wetness), Some(Wetness::Oven(_)));
        let measured = moisture.map(|it| {
            if oven {
                Wetness::Oven(it)
            } else {
                Wetness::Probe(it)
            }
        });
        // A number says more than a hand.
        reading.wetness = measured.or(self.squeeze.map(Wetness::Squeezed));
        reading.oxygen = number("Oxygen", &self.oxygen, 0.01)?;
        reading.height_m = number("Height", &self.height, units.one_length_m())?;
        reading.smell = self.smell;
        reading.note = self.note.trim().to_owned();
        reading.photo = self.photo.trim().to_owned();
        let blank = Reading::blank(at, self.spot);
        if reading == blank {
            return Err(NOTHING_ENTERED.to_owned());
        }
        reading
            .check_numbers()
            .map_err(|problem| sentence(&format!("{problem}.")))?;
        Ok(reading)
    }
}

/// Which members the drawn projection, the likelihoods and the plan search follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Followed {
    /// What was learnt, where there is something.
    #[default]
    Learnt,
    /// The plan alone, whatever was measured.
    Planned,
}

/// What is chosen in the Diary view.
#[derive(Debug, Clone, PartialEq)]
pub struct DiaryState {
    /// The form of a reading.
    pub form: ReadingForm,
    /// The reading that is changed, by its place; `None`: a new one.
    pub changing: Option<usize>,
    /// Whether the further parts of the form are open.
    pub more_open: bool,
    /// What was wrong with the last try; empty at first.
    pub problem: String,
    /// Whether the temperature is to have the keyboard with the next frame.
    pub wants_keyboard: bool,
    /// When the heap was built, as typed; `None`: as the diary has it.
    pub built: Option<String>,
    /// What was wrong with that date; empty at first.
    pub built_problem: String,
    /// When something was done, once another moment than now was typed.
    pub done_at: Option<String>,
    /// What was wrong with what was done; empty at first.
    pub done_problem: String,
    /// Water that was poured, L.
    pub poured_l: f64,
    /// Buckets of what was added.
    pub buckets: f64,
    /// When planned entries were done, as typed, by their place in the plan.
    pub answers: BTreeMap<usize, String>,
    /// Entries of the list that are shown.
    pub entries_shown: usize,
    /// Which members are followed.
    pub followed: Followed,
}

impl Default for DiaryState {
    fn default() -> Self {
        Self {
            form: ReadingForm::default(),
            changing: None,
            more_open: false,
            problem: String::new(),
            wants_keyboard: false,
            built: None,
            built_problem: String::new(),
            done_at: None,
            done_problem: String::new(),
            poured_l: USUAL_POUR_L,
            buckets: 1.0,
            answers: BTreeMap::new(),
            entries_shown: FIRST_ENTRIES,
            followed: Followed::default(),
        }
    }
}

impl DiaryState {
    /// When the reading of the form was taken, as far as it can be read; else now.
    pub fn form_moment(&self, now: DateTime) -> DateTime {
        let typed = self.form.at.as_deref();
        typed
            .and_then(|text| read_moment(text, NOON))
            .unwrap_or(now)
    }

    /// When something was done: as typed, else now.
    ///
    /// # Errors
    /// A sentence where what is typed is no date.
    pub fn done_moment(&self, now: DateTime) -> Result<DateTime, String> {
        match &self.done_at {
            Some(text) => read_moment(text, NOON).ok_or_else(|| no_date(text)),
            None => Ok(now),
        }
    }
}
