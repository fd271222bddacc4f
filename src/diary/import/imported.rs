//! The rows of a logger's file as they would be taken: series, bad rows with their reasons, what looks odd.
//!
//! In: nothing. Out: [`Import`], [`Imported`] and their parts.
//!
//! Not here: taking them (`rows`), the diary (`merge`).
//!
//! Tested by: `tests/document/logger.rs`.

use jiff::civil::DateTime;

use super::choices::{Guess, Keep, Place};
use super::flags::Flag;
use super::understood::Understood;

/// Bad rows that are kept with line and reason; all are counted.
pub const BAD_ROWS_KEPT: usize = 200;

/// Why a row was not taken, or not wholly.
#[derive(Debug, Clone, PartialEq)]
pub enum BadWhy {
    /// Its cell for date or time is empty.
    NoMoment,
    /// What stands there is no date and time, or no such day or hour.
    NotAMoment(String),
    /// The row does not say which probe it is of.
    NoProbe,
    /// What stands for a temperature is no number.
    NotANumber {
        /// Which probe, by place.
        probe: usize,
        /// What stands there.
        text: String,
    },
    /// A temperature that no heap has, see [`bounds::READ_TEMPERATURE`](crate::quantity::bounds::READ_TEMPERATURE).
    OutOfRange {
        /// Which probe, by place.
        probe: usize,
        /// degC.
        found_c: f64,
    },
    /// Before the heap was built.
    BeforeBuilt(DateTime),
    /// Longer after it than any heap is followed.
    TooLate(DateTime),
}

/// A row that was not taken, or not wholly.
#[derive(Debug, Clone, PartialEq)]
pub struct BadRow {
    /// Line of the file, from 1.
    pub line: u64,
    /// Why.
    pub why: BadWhy,
}

/// How many rows there are of each kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RowCounts {
    /// All rows below the headings.
    pub all: usize,
    /// Taken.
    pub good: usize,
    /// Not, or not wholly.
    pub bad: usize,
    /// Nothing was measured.
    pub gaps: usize,
}

/// What one probe has recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportedProbe {
    /// What it is called.
    pub name: String,
    /// Where it sits.
    pub place: Place,
    /// Whether it is left out.
    pub left_out: bool,
    /// Temperatures read of the file.
    pub read: usize,
    /// Days since the heap was built and temperature, degC; days rise.
    pub temperatures_c: Vec<(f64, f64)>,
}

/// A row as it would be taken.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstRow {
    /// Line of the file, from 1.
    pub line: u64,
    /// When, by the clock at the heap.
    pub at: DateTime,
    /// Temperature of each probe, degC.
    pub temperatures_c: Vec<Option<f64>>,
}

/// The rows of a file as they would be taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Imported {
    /// When the heap was built, by the clock at the heap.
    pub built: Guess<DateTime>,
    /// Probes, in the order of [`Understood::probes`].
    pub probes: Vec<ImportedProbe>,
    /// Rows of each kind.
    pub rows: RowCounts,
    /// Bad rows, at most [`BAD_ROWS_KEPT`] of them.
    pub bad: Vec<BadRow>,
    /// What looks odd.
    pub flags: Vec<Flag>,
    /// How much looks odd beyond what is listed.
    pub more_flags: usize,
    /// How many readings are kept.
    pub keep: Guess<Keep>,
    /// The first rows.
    pub first: Vec<FirstRow>,
}

impl Imported {
    /// The probes that are taken into a diary.
    pub fn taken(&self) -> impl Iterator<Item = &ImportedProbe> {
        self.probes.iter().filter(|probe| {
            !probe.left_out && probe.place != Place::Air && !probe.temperatures_c.is_empty()
        })
    }

    /// How many readings a diary would get of it.
    pub fn readings(&self) -> usize {
        self.taken().map(|probe| probe.temperatures_c.len()).sum()
    }
}

/// A file: how it is understood and what would be taken of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Import {
    /// How it is understood.
    pub understood: Understood,
    /// Its rows; `None` while date or temperature is missing.
    pub imported: Option<Imported>,
}
