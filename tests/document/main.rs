//! What is kept and how it leaves the program: files, recovery, recipes, undo, tables, commands.
//!
//! Each module is one promise of `document`, `export` or `command`.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a helper of a test fails the test"
)]

mod again;
mod assess;
mod bad_input;
mod calendar;
mod command;
mod complaint;
mod diary;
mod export;
mod faults;
mod finish;
mod formats;
mod handout;
mod history;
mod keeper;
mod keeping;
mod learn;
mod library;
mod logger;
mod logger_bad;
mod pinned_reports;
mod recovery;
mod round_trip;
mod sample;
mod shell;
mod special_files;
mod writing;
mod year;
mod year_out;
