//! The next days as an iCalendar file (RFC 5545).
//!
//! In: a schedule with its words, the name of the project's file, when it is written. Out: the file's text, an entry for
//! each day.
//!
//! An entry is told apart by the name of the project's file, by what is due and by which of its kind it is. So neither
//! another title nor other dates change it; a project saved under another name is another heap.
//!
//! Not here: how an entry is written (`ical`), what is due (`outcome::next_days`), words (`text::next_days`), clocks: the
//! time is handed in.
//!
//! Tested by: `tests/document/calendar.rs`.

use std::path::Path;

use jiff::civil::DateTime;

use crate::assess::{DatedDay, Schedule};
use crate::document::EXTENSION;
use crate::text::garden;
use crate::text::next_days::{SaidOf, in_line, said};

use super::ical::{Entry, ical};

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
    let days = file.schedule.days.iter();
    ical(days.map(|day| entry(file, day)), file.written)
}

fn entry(file: &CalendarFile<'_>, day: &DatedDay) -> Entry {
    let said = said(day, &file.of);
    let due = day.next.due.first().map_or("", |due| due.id());
    let title = garden::title(file.of.project);
    Entry {
        known_by: format!("{}/{due}/{}", file.name, day.next.nth),
        date: day.date,
        summary: format!("{title}: {}", in_line(&said.what)),
        description: said.why.join("\n"),
        place: file.of.project.place.clone(),
    }
}
