//! Dates as they are said: days of a plan, days of the year, months.
//!
//! In: days. Out: words.
//!
//! Not here: calendars as such.
//!
//! Tested by: `tests/document/export.rs`.
