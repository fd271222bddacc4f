//! What is saved: one project.
//!
//! In: what the person entered. Out: the same, as a RON file and back.
//!
//! Only inputs are here; everything computed is computed again. A project that has been checked
//! holds no NaN and no number outside its bound, so equality and undo can rely on it.
//!
//! Here: the noun and its names. Every byte comes in through `reading` and goes out through `writing`. Files are in [`mod@file`], unsaved work in [`recovery`], when it is written in [`keeper`], kept recipes in
//! [`library`], what is done with them in [`keeping`], a year to plan in [`mod@year`], undo in [`history`], the person's folders in [`Folders`] and choices in [`Settings`].
//!
//! Not here: anything calculated (`assess`), words on screen (`text`).
//!
//! Tested by: `tests/document/`.

mod again;
mod check;
mod error;
mod examples;
pub mod file;
mod folders;
pub mod history;
pub mod keeper;
pub mod keeping;
pub mod library;
mod parse;
mod reading;
pub mod recovery;
mod season;
mod settings;
mod writing;
pub mod year;

pub use check::{
    BED_LIMIT, CheckError, FIELD_TEST_LIMIT, INGREDIENT_LIMIT, MEASURE_LIMIT, NAME_LIMIT,
    NOTES_LIMIT, OWN_MATERIAL_LIMIT, PHOTO_LIMIT, REMARK_LIMIT,
};
pub use error::{CLASS_LIMIT_BYTES, Doing, FileError, LOGGER_LIMIT_BYTES, SIZE_LIMIT_BYTES};
pub use examples::examples;
pub use file::{Opened, Saved, Stamp};
pub use folders::Folders;
pub use history::History;
pub use reading::{absolute, class_text, logger_bytes};
pub use season::{Season, coming, day_in, day_of_year};
pub use settings::{Layout, Loaded, RECENT_LIMIT, Settings, ThemeChoice};
pub use writing::{Unkept, tidy};

pub(crate) use error::{is_steering, one_line, plain, shown};
pub(crate) use writing::replace;

use serde::{Deserialize, Serialize};

use crate::diary::Diary;
use crate::garden::{Aim, Bed, TestResult, Use};
use crate::heap::Heap;
use crate::material::Material;
use crate::mix::Mix;
use crate::quantity::OwnMeasure;

/// Newest file format this build writes and reads.
pub const NEWEST_FORMAT: u32 = 4;

/// How the name of a project file ends.
pub const EXTENSION: &str = ".heap.ron";

/// Everything a file holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Project {
    /// File format, first in the file.
    pub format: u32,
    /// What the recipe is called.
    pub title: String,
    /// Time of year it belongs to.
    pub season: Season,
    /// Where the heap stands.
    pub place: String,
    /// Anything worth keeping with it.
    pub notes: String,
    /// What goes in.
    pub mix: Mix,
    /// Where and how it stands.
    pub heap: Heap,
    /// Materials of the user's own.
    pub own_materials: Vec<Material>,
    /// Beds that the compost is for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beds: Vec<Bed>,
    /// What the compost is for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub uses: Vec<Use>,
    /// Results of field tests, in the order they were entered.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub field_tests: Vec<TestResult>,
    /// What is wanted of the heap; `None`: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aim: Option<Aim>,
    /// Measures of the person's own, offered for every amount.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measures: Vec<OwnMeasure>,
    /// What was measured of the heap that was built of it.
    #[serde(default, skip_serializing_if = "Diary::is_empty")]
    pub diary: Diary,
}

impl Project {
    /// A project of an older format in the newest one.
    ///
    /// Format 2 only adds: stock and state of an ingredient, which format 1 leaves as the catalogue has it; beds,
    /// uses, field tests, an aim and own measures, of which format 1 has none. An own material may say in either what
    /// gardeners call it. Format 3 adds a diary, of which older formats have none, and pourings in the plan. Format 4 adds entries of the plan that repeat; those of
    /// older formats are done once.
    #[must_use]
    pub fn raised(mut self) -> Self {
        self.format = self.format.max(NEWEST_FORMAT);
        self
    }
}
