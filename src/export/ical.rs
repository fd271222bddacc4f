//! Whole-day entries as an iCalendar file (RFC 5545).
//!
//! In: entries, when they are written. Out: the file's text: CRLF at the end of lines, lines folded at 75 octets, text
//! escaped, one whole-day entry for each.
//!
//! An entry is found again by its UID, a name-based UUID (RFC 9562, version 5; RFC 7986 asks for UUIDs) of what it is
//! told apart by, so that a second export moves what is there. `SEQUENCE` (RFC 5545, 3.8.7.4) grows with the time of
//! writing. Entries ring no bell and leave the day free.
//!
//! Not here: what is due (`calendar`, `year_calendar`), clocks: the time is handed in.
//!
//! Tested by: `tests/document/calendar.rs`, `tests/document/year_out.rs`.

use icalendar::{Calendar, Component, Event, EventLike, Property};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, datetime};
use uuid::Uuid;

/// The names of all entries are made under this one (drawn once).
const NAMES: Uuid = Uuid::from_u128(0x6b0f_41d2_9c0e_4f6a_8d57_21e5_c0a9_77b3);
/// Who wrote the file.
const PRODUCT: &str = concat!(
    "-//Heapwright//Heapwright ",
    env!("CARGO_PKG_VERSION"),
    "//EN"
);
/// `SEQUENCE` counts minutes from here.
const SEQUENCE_FROM: DateTime = datetime(2020, 1, 1, 0, 0, 0, 0);

/// A whole-day entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Entry {
    /// What it is told apart by from all others, the file's name among it.
    pub(super) known_by: String,
    /// The day.
    pub(super) date: Date,
    /// What is due.
    pub(super) summary: String,
    /// Why, or how; may be empty.
    pub(super) description: String,
    /// Where; may be empty.
    pub(super) place: String,
}

/// The file's text.
pub(super) fn ical(entries: impl IntoIterator<Item = Entry>, written: DateTime) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", PRODUCT));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("METHOD", "PUBLISH"));
    for entry in entries {
        calendar.push(event(&entry, written));
    }
    calendar.to_string()
}

fn event(entry: &Entry, written: DateTime) -> Event {
    let stamp = written.strftime("%Y%m%dT%H%M%SZ").to_string();
    // The end is not part of it (RFC 5545, 3.6.1).
    let end = entry.date.saturating_add(1.day());
    let mut event = Event::with_uid(&uid(&entry.known_by));
    event
        .append_property(Property::new("DTSTAMP", &stamp))
        .append_property(Property::new("LAST-MODIFIED", &stamp))
        .append_property(Property::new("SEQUENCE", sequence(written).to_string()))
        .append_property(whole_day("DTSTART", entry.date))
        .append_property(whole_day("DTEND", end))
        .append_property(Property::new("TRANSP", "TRANSPARENT"))
        .summary(&one_line(&entry.summary));
    if !entry.description.is_empty() {
        event.description(&entry.description);
    }
    let place = one_line(&entry.place);
    if !place.is_empty() {
        event.location(&place);
    }
    event.done()
}

/// What an entry is found again by.
fn uid(known_by: &str) -> String {
    Uuid::new_v5(&NAMES, known_by.as_bytes()).to_string()
}

/// Minutes since the beginning of the count; a date before it counts as none.
fn sequence(written: DateTime) -> u32 {
    let minutes = SEQUENCE_FROM.duration_until(written).as_mins();
    // An integer of the format is at most 2147483647 (RFC 5545, 3.3.8).
    minutes.clamp(0, i64::from(i32::MAX)).unsigned_abs() as u32
}

fn whole_day(key: &str, date: Date) -> Property {
    let value = date.strftime("%Y%m%d").to_string();
    Property::new(key, value)
        .add_parameter("VALUE", "DATE")
        .done()
}

/// Without what would break a line or is none of a text's letters (RFC 5545, 3.3.11).
fn one_line(text: &str) -> String {
    let blank = |letter: char| if letter.is_control() { ' ' } else { letter };
    text.chars()
        .map(blank)
        .collect::<String>()
        .trim()
        .to_owned()
}
