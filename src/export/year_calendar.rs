//! What is due in a planned year, as an iCalendar file.
//!
//! In: a year with its plan, when it begins, the name of its file. Out: the file's text: when to build each heap, when to
//! stop filling it, when to let it cure, when to empty its bay.
//!
//! An entry is told apart by the name of the year's file, the bay, the month in which the heap is begun and by what is
//! due: another plan with a heap in the same place and month moves its entries, no others.
//!
//! Not here: how an entry is written (`ical`), the dates (`assess::planned`), words (`text::year_page`).
//!
//! Tested by: `tests/document/year_out.rs`.

use jiff::civil::{Date, DateTime};

use crate::assess::planned::{date_at, due_days};
use crate::text::year::YearTold;
use crate::text::year_page as words;

use super::ical::{Entry, ical};

/// What an iCalendar file of a year is made with.
#[derive(Debug, Clone, Copy)]
pub struct YearCalendar<'a> {
    /// The year, its plan and the words.
    pub told: YearTold<'a>,
    /// First day of the plan.
    pub begin: Date,
    /// What lies before this is left out.
    pub today: Date,
    /// Name of the year's file, its folder left out; what entries are found again by.
    pub name: &'a str,
    /// When it is written, UTC.
    pub written: DateTime,
}

/// The file's text.
pub fn year_calendar(file: &YearCalendar<'_>) -> String {
    ical(entries(file), file.written)
}

fn entries(file: &YearCalendar<'_>) -> Vec<Entry> {
    let told = &file.told;
    let mut entries = Vec::new();
    for heap in &told.plan.heaps {
        let bay = &told.year.bays[heap.bay];
        let begun = date_at(file.begin, heap.month as f64).strftime("%Y-%m");
        for (due, months) in due_days(heap, bay) {
            let date = date_at(file.begin, months);
            if date < file.today {
                continue;
            }
            let said = words::due(told, heap, due);
            entries.push(Entry {
                known_by: format!("{}/{}/{begun}/{}", file.name, bay.name, due.id()),
                date,
                summary: said.what,
                description: said.why.join("\n"),
                place: bay.name.clone(),
            });
        }
    }
    entries.sort_by_key(|entry| entry.date);
    entries
}
