//! A logger's file: how it is understood, what is taken of it, and how that comes into the diary.
//!
//! In: the bytes of a file, [`Choices`]. Out: [`Import`]: what was [`Understood`], and the rows as they would be taken
//! ([`Imported`]); a [`Diary`](super::Diary) with them.
//!
//! In order: letters (`encoding`), columns and rows (`table`), numbers (`number`), times (`moment`, `axis`), what a heading
//! says (`heading`), all of it together (`understood`), the rows (`rows`), what looks odd in them (`flags`), the
//! diary (`merge`). Every guess says how it was come by, and a choice stands in its place.
//!
//! Not here: reading a file (`document::file`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

mod axis;
mod choices;
mod encoding;
mod flags;
mod heading;
mod merge;
mod moment;
mod number;
mod rows;
mod table;
mod understood;

pub use choices::{
    Choices, Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Guess, How, Keep,
    Place, ProbeChoice, Spikes, Unit,
};
pub use flags::{AirWhy, Flag};
pub use merge::{Merged, TooManyReadings, merge};
pub use moment::MomentKind;
pub use rows::{
    BAD_ROWS_KEPT, BadRow, BadWhy, FirstRow, Import, Imported, ImportedProbe, RowCounts, import,
};
pub use understood::{Column, Lack, NotUnderstood, Probe, ROW_LIMIT, Understood};
