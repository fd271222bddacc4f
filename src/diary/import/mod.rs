//! A logger's file: how it is understood, what is taken of it, and how that comes into the diary.
//!
//! In: the bytes of a file, [`Choices`]. Out: [`Import`]: what was [`Understood`], and the rows as they would be taken
//! ([`Imported`]); a [`Diary`](super::Diary) with them.
//!
//! In order: letters (`encoding`), columns and rows (`table`), numbers (`number`), times (`moment`, `axis`), what a heading
//! says (`heading`), what columns hold (`columns`), how dates are given (`dates`), `probes`, all of it together
//! (`understand`, which gives an `understood`), the rows (`rows` with `moment_columns`, which give an `imported`), what
//! looks odd in them (`flags`), the diary (`merge`). Every guess says how it was come by, and a choice stands in its place.
//!
//! Not here: reading a file (`document::file`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

mod axis;
mod choices;
mod columns;
mod dates;
mod encoding;
mod flags;
mod heading;
mod imported;
mod merge;
mod moment;
mod moment_columns;
mod number;
mod probes;
mod rows;
mod table;
mod understand;
mod understood;

pub use choices::{
    Choices, Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Guess, How, Keep,
    Place, ProbeChoice, Spikes, Unit,
};
pub use flags::{AirWhy, Flag};
pub use imported::{
    BAD_ROWS_KEPT, BadRow, BadWhy, FirstRow, Import, Imported, ImportedProbe, RowCounts,
};
pub use merge::{Merged, TooManyReadings, merge};
pub use moment::MomentKind;
pub use rows::import;
pub use understood::{Column, Lack, NotUnderstood, Probe, ROW_LIMIT, Understood};
