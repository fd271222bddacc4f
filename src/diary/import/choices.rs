//! What can be chosen of a logger's file, and how a guess was come by.
//!
//! In: what a person picks. Out: [`Choices`], each `None` where the file is to decide; [`Guess`].
//!
//! Not here: guessing (`understand`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::collections::BTreeMap;

use jiff::civil::DateTime;

use crate::diary::Spot;

/// How letters are written as bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte-order mark.
    Utf8,
    /// UTF-16, low byte first.
    Utf16Le,
    /// UTF-16, high byte first.
    Utf16Be,
    /// The Western letters of old Windows programs.
    Windows1252,
}

impl Encoding {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Utf8, Self::Utf16Le, Self::Utf16Be, Self::Windows1252];
}

/// What stands between two columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
    /// `|`
    Pipe,
}

impl Delimiter {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Comma, Self::Semicolon, Self::Tab, Self::Pipe];

    /// The sign itself.
    pub fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Pipe => b'|',
        }
    }
}

/// What stands before the tenths of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DecimalSign {
    /// 55.3
    Point,
    /// 55,3
    Comma,
}

impl DecimalSign {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Point, Self::Comma];
}

/// In which order a date is written in figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// 27/10/2024
    DayFirst,
    /// 10/27/2024
    MonthFirst,
    /// 2024/10/27
    YearFirst,
}

impl DateOrder {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::DayFirst, Self::MonthFirst, Self::YearFirst];
}

/// What temperatures are given in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// degC.
    Celsius,
    /// degF.
    Fahrenheit,
    /// K.
    Kelvin,
}

impl Unit {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Celsius, Self::Fahrenheit, Self::Kelvin];
}

/// Which clock the times of the file are of.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Clock {
    /// The one at the heap, as written; an hour of daylight saving stays in.
    #[default]
    AtHeap,
    /// That of a zone of the IANA database, "Europe/London"; daylight saving is taken out.
    Zone(String),
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColumnUse {
    /// Date and time together.
    Moment,
    /// The date alone.
    Date,
    /// The time of day alone.
    Time,
    /// Temperatures of one probe, or of all where another column names the probe.
    Temperature,
    /// The name of the probe that a row is of.
    ProbeName,
    /// Nothing that is taken.
    Nothing,
}

impl ColumnUse {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Moment,
        Self::Date,
        Self::Time,
        Self::Temperature,
        Self::ProbeName,
        Self::Nothing,
    ];
}

/// Where a probe sits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// In the heap.
    Heap(Spot),
    /// In the air beside it: compared with, not taken.
    Air,
}

/// What a person says of one probe.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ProbeChoice {
    /// Another name.
    pub name: Option<String>,
    /// Where it sits.
    pub place: Option<Place>,
    /// Whether it is left out.
    pub left_out: bool,
}

/// How many readings are kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// Every one.
    Every,
    /// The mean of every hour.
    Hourly,
}

impl Keep {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Hourly, Self::Every];
}

/// What becomes of single readings far from those beside them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spikes {
    /// They are left out.
    #[default]
    LeftOut,
    /// They are taken like the others.
    Taken,
}

/// What a person has chosen of a file; the rest is guessed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Choices {
    /// Letters.
    pub encoding: Option<Encoding>,
    /// Between columns.
    pub delimiter: Option<Delimiter>,
    /// Before tenths.
    pub decimal: Option<DecimalSign>,
    /// Order of a date in figures.
    pub order: Option<DateOrder>,
    /// Whose clock.
    pub clock: Clock,
    /// Unit of every probe.
    pub unit: Option<Unit>,
    /// What columns hold, by their place.
    pub columns: BTreeMap<usize, ColumnUse>,
    /// Probes, by the name they have in the file.
    pub probes: BTreeMap<String, ProbeChoice>,
    /// When the heap was built; `None`: when the first row was written.
    pub built: Option<DateTime>,
    /// How many readings are kept; `None`: every one while they are few.
    pub keep: Option<Keep>,
    /// What becomes of spikes.
    pub spikes: Spikes,
}

/// How something of a file was found out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// A person chose it.
    Chosen,
    /// The values leave nothing else.
    Values,
    /// A heading says so.
    Heading,
    /// It makes the days follow each other most closely.
    Sequence,
    /// Nothing speaks for or against; the usual is taken.
    Assumed,
}

/// Something of a file, and how it was found out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Guess<T> {
    /// What.
    pub value: T,
    /// How it was found out.
    pub how: How,
}

impl<T> Guess<T> {
    /// The choice, if there is one; else the guess.
    pub(super) fn or(chosen: Option<T>, guess: impl FnOnce() -> (T, How)) -> Self {
        match chosen {
            Some(value) => Self {
                value,
                how: How::Chosen,
            },
            None => {
                let (value, how) = guess();
                Self { value, how }
            }
        }
    }
}
