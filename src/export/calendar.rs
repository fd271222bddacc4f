//! The next days as an iCalendar file (RFC 5545).
//!
//! In: a schedule with its words, the name of the project's file, when it is written. Out: the file's text: CRLF at the
//! end of lines, lines folded at 75 octets, text escaped, one whole-day entry for each day.
//!
//! An entry is found again by its UID, a name-based UUID (RFC 9562, version 5; RFC 7986 asks for UUIDs) of the name of
//! the project's file, of what is due and of which of its kind it is. So neither another title nor other dates change
//! it, and a second export moves what is there; a project saved under another name is another heap. `SEQUENCE`
//! (RFC 5545, 3.8.7.4) grows with the time of writing. Entries ring no bell and leave the day free.
//!
//! Not here: what is due (`outcome::next_days`), words (`text::next_days`), clocks: the time is handed in.
//!
//! Tested by: `tests/document/calendar.rs`.

use std::path::Path;

use icalendar::{Calendar, Component, Event, EventLike, Property};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, datetime};
use uuid::Uuid;

use crate::assess::{DatedDay, Schedule};
use crate::document::EXTENSION;
use crate::text::garden;
use crate::text::next_days::{SaidOf, in_line, said};

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

/// What an iCalendar file is made with.
#[derive(Debug, Clone, Copy)]
pub struct CalendarFile<'a> {
    /// What is due.
    pub schedule: &'a Schedule,
    /// The project and the words.
    pub of: SaidOf<'a>,
    /// Name of the project's file, its folder left out; what entries are found again by.
    pub name: &'a str,
    /// When it is written, UTC.
    pub written: DateTime,
}

/// The name that entries are found again by: that of the file, without folder and ending.
pub fn calendar_name(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.trim_end_matches(EXTENSION).to_owned()
}

/// The file's text.
pub fn calendar(file: &CalendarFile<'_>) -> String {
    let project = file.of.project;
    let mut calendar = Calendar::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", PRODUCT));
    calendar.append_property(Property::new("CALSCALE", "GREGORIAN"));
    calendar.append_property(Property::new("METHOD", "PUBLISH"));
    for day in &file.schedule.days {
        calendar.push(entry(file, day, garden::title(project)));
    }
    calendar.to_string()
}

fn entry(file: &CalendarFile<'_>, day: &DatedDay, title: &str) -> Event {
    let said = said(day, &file.of);
    let stamp = file.written.strftime("%Y%m%dT%H%M%SZ").to_string();
    // The end is not part of it (RFC 5545, 3.6.1).
    let end = day.date.saturating_add(1.day());
    let mut event = Event::with_uid(&uid(file.name, day));
    event
        .append_property(Property::new("DTSTAMP", &stamp))
        .append_property(Property::new("LAST-MODIFIED", &stamp))
        .append_property(Property::new(
            "SEQUENCE",
            sequence(file.written).to_string(),
        ))
        .append_property(whole_day("DTSTART", day.date))
        .append_property(whole_day("DTEND", end))
        .append_property(Property::new("TRANSP", "TRANSPARENT"))
        .summary(&one_line(&format!("{title}: {}", in_line(&said.what))));
    if !said.why.is_empty() {
        event.description(&said.why.join("\n"));
    }
    let place = one_line(&file.of.project.place);
    if !place.is_empty() {
        event.location(&place);
    }
    event.done()
}

/// What an entry is found again by.
fn uid(name: &str, day: &DatedDay) -> String {
    let due = day.next.due.first().map_or("", |due| due.id());
    let told = format!("{name}/{due}/{}", day.next.nth);
    Uuid::new_v5(&NAMES, told.as_bytes()).to_string()
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
