//! A logger's file as it is understood: letters, columns, dates, units, probes; each with how it was found out.
//!
//! In: nothing. Out: [`Understood`] and its parts; [`NotUnderstood`].
//!
//! Not here: finding it out (`understand`), the rows themselves (`rows`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

use jiff::tz::TimeZone;
use thiserror::Error;

use super::choices::{
    Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Guess, Place, Unit,
};
use super::moment::MomentKind;

/// Most rows of one file that are read.
pub const ROW_LIMIT: usize = 2_000_000;
/// Most probes told apart by a column of their names.
pub(super) const PROBE_LIMIT: usize = 64;

/// Why a file is not understood at all.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NotUnderstood {
    /// No row in it.
    #[error("there is no row in this file; export it again from the logger's program as CSV")]
    NoRows,
    /// More rows than are read.
    #[error(
        "this file has more than {ROW_LIMIT} rows; export a shorter time from the logger's program"
    )]
    TooManyRows,
    /// A zone that the database does not have.
    #[error("there is no time zone \"{0}\"; write it as in Europe/London, or leave it empty")]
    NoSuchZone(String),
}

/// What is still missing before rows can be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// No column holds dates.
    Moment,
    /// No column holds temperatures.
    Temperature,
}

/// One column of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading; empty where it has none.
    pub heading: String,
    /// What it holds.
    pub holds: Guess<ColumnUse>,
    /// Its first cells.
    pub examples: Vec<String>,
}

/// One probe.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// What it is called in the file: the key of its choices.
    pub key: String,
    /// What it is to be called.
    pub name: String,
    /// Which column its temperatures stand in.
    pub column: usize,
    /// Where it sits.
    pub place: Guess<Place>,
    /// What its temperatures are given in.
    pub unit: Guess<Unit>,
    /// Whether it is left out.
    pub left_out: bool,
}

/// A file as it is understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Understood {
    /// Letters.
    pub encoding: Guess<Encoding>,
    /// Between columns.
    pub delimiter: Guess<Delimiter>,
    /// Whether cells in quotes are read as such.
    pub quoted: bool,
    /// Rows before the headings that say something else.
    pub preamble: usize,
    /// Whether there are headings.
    pub has_headings: bool,
    /// Before tenths.
    pub decimal: Guess<DecimalSign>,
    /// Columns.
    pub columns: Vec<Column>,
    /// How moments are given.
    pub kind: MomentKind,
    /// Order of day and month; `None` where figures need none.
    pub order: Option<Guess<DateOrder>>,
    /// Whether moments bear their offset from UTC.
    pub has_offsets: bool,
    /// Whether hours are counted to twelve.
    pub twelve_hours: bool,
    /// Whether the newest row stands first.
    pub newest_first: bool,
    /// Whose clock.
    pub clock: Clock,
    /// Probes.
    pub probes: Vec<Probe>,
    /// What is missing.
    pub lack: Option<Lack>,
    pub(super) rows_before: usize,
    pub(super) zone: Option<TimeZone>,
}

impl Understood {
    /// The columns that hold this.
    pub(super) fn columns_of(&self, what: ColumnUse) -> impl Iterator<Item = usize> + '_ {
        let all = self.columns.iter().enumerate();
        all.filter(move |(_, column)| column.holds.value == what)
            .map(|(at, _)| at)
    }
}
