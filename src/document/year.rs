//! A year to plan, in one file: opened whole or not at all, saved so that nothing is ever half-written.
//!
//! In: a path. Out: a [`YearFile`], checked, or a sentence.
//!
//! Bytes and text come and go as those of every file.
//! Not here: the plan, which is calculated again and never saved (`year::plan`).
//!
//! Tested by: `tests/document/year.rs`.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::check::{CheckError, NOTES_LIMIT, check_own, length, line, named};
use super::error::{FileError, shown};
use super::{file, parse, reading, writing};
use crate::material::{Catalogue, CatalogueError, Material};
use crate::quantity::Measure;
use crate::year::{Year, YearError};

/// How the name of a year's file ends.
pub const YEAR_EXTENSION: &str = ".year.ron";
/// Newest format of a year's file.
pub const NEWEST_YEAR_FORMAT: u32 = 1;

/// Everything a year's file holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YearFile {
    /// File format, first in the file.
    pub format: u32,
    /// What the year is called.
    pub title: String,
    /// Anything worth keeping with it.
    pub notes: String,
    /// What arrives, where heaps can stand, what is wanted.
    pub year: Year,
    /// Materials of the person's own.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_materials: Vec<Material>,
}

/// Why a year cannot be opened or saved.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum YearFileError {
    /// The file as such.
    #[error("{}", of_year(.0))]
    File(FileError),
    /// A text in it.
    #[error("{problem}: {}", shown(.path))]
    Text {
        /// What of it.
        problem: CheckError,
        /// Which file.
        path: PathBuf,
    },
    /// An own material in it.
    #[error("own {problem}: {}", shown(.path))]
    OwnMaterial {
        /// What of it.
        problem: CatalogueError,
        /// Which file.
        path: PathBuf,
    },
    /// A number, a name or a list in it.
    #[error("{problem}: {}", shown(.path))]
    Year {
        /// What of it.
        problem: YearError,
        /// Which file.
        path: PathBuf,
    },
    /// Another format.
    #[error("the format is {found}, and this program reads years of format {NEWEST_YEAR_FORMAT}; update the program or set it to {NEWEST_YEAR_FORMAT}: {}", shown(.path))]
    Format {
        /// Format found.
        found: u64,
        /// Which file.
        path: PathBuf,
    },
}

/// What is said of a file, in the words of a year.
fn of_year(error: &FileError) -> String {
    let wanted = format!("choose a {YEAR_EXTENSION} file");
    match error {
        FileError::Empty { path } => {
            format!(
                "this file is empty, so there is no year in it; {wanted}: {}",
                shown(path)
            )
        }
        FileError::NotText { at, path } => {
            format!(
                "byte {at} is not text, so this is no year; {wanted}: {}",
                shown(path)
            )
        }
        FileError::NotAFile { path } => {
            format!("this is not an ordinary file; {wanted}: {}", shown(path))
        }
        FileError::NotAProject { line, quote, path } => format!(
            "line {line} should begin a year with \"(format: {NEWEST_YEAR_FORMAT},\" but reads `{quote}`; {wanted}: {}",
            shown(path)
        ),
        other => other.to_string(),
    }
}

/// The head of a file, read before the rest.
#[derive(Deserialize)]
struct Head {
    format: u64,
}

impl YearFile {
    /// A year in which nothing arrives yet, with one bay of this name; the plan begins in this month, 1 is January.
    pub fn empty(first_month: u8, bay: String) -> Self {
        Self {
            format: NEWEST_YEAR_FORMAT,
            title: String::new(),
            notes: String::new(),
            year: Year::empty(first_month, bay),
            own_materials: Vec::new(),
        }
    }

    /// The first thing in it that cannot be, in a sentence; what it arrives of is not looked up.
    pub fn flaw(&self) -> Option<String> {
        let texts = self.check_texts().map_err(|problem| problem.to_string());
        let numbers = || {
            let checked = self.year.check_alone();
            checked.map_err(|problem| problem.to_string())
        };
        texts.and_then(|()| numbers()).err()
    }

    /// Checks texts, numbers and names; materials against the catalogue with the own ones laid over it, which comes back.
    ///
    /// # Errors
    /// [`YearFileError`] for the first thing that cannot be.
    pub fn check(&self, catalogue: &Catalogue, path: &Path) -> Result<Catalogue, YearFileError> {
        self.check_alone(path)?;
        let catalogue = catalogue.with_own(&self.own_materials).map_err(|problem| {
            YearFileError::OwnMaterial {
                problem,
                path: path.to_owned(),
            }
        })?;
        self.year
            .check(&catalogue)
            .map_err(|problem| YearFileError::Year {
                problem,
                path: path.to_owned(),
            })?;
        Ok(catalogue)
    }

    /// Checks what can be checked without a catalogue; saving asks this.
    fn check_alone(&self, path: &Path) -> Result<(), YearFileError> {
        if self.format != NEWEST_YEAR_FORMAT {
            return Err(YearFileError::Format {
                found: u64::from(self.format),
                path: path.to_owned(),
            });
        }
        self.check_texts().map_err(|problem| YearFileError::Text {
            problem,
            path: path.to_owned(),
        })?;
        self.year
            .check_alone()
            .map_err(|problem| YearFileError::Year {
                problem,
                path: path.to_owned(),
            })
    }

    fn check_texts(&self) -> Result<(), CheckError> {
        line("the title", &self.title)?;
        length("the notes", &self.notes, NOTES_LIMIT)?;
        for (row, bay) in (1..).zip(&self.year.bays) {
            named(&format!("the name of bay {row}"), &bay.name)?;
        }
        for (row, arrival) in (1..).zip(&self.year.arrivals) {
            named(&format!("the material of arrival {row}"), &arrival.material)?;
            if let Measure::Own { name, .. } = &arrival.measure {
                named(&format!("the measure of arrival {row}"), name)?;
            }
        }
        check_own(&self.own_materials)
    }
}

/// Whether this is how the path of a year's file ends.
pub fn is_year_path(path: &Path) -> bool {
    path.to_string_lossy()
        .to_lowercase()
        .ends_with(YEAR_EXTENSION)
}

/// The path with [`YEAR_EXTENSION`] at its end, added where it is missing.
pub fn with_year_extension(path: &Path) -> PathBuf {
    file::ending_with(path, YEAR_EXTENSION)
}

/// Opens a year; the catalogue with its own materials laid over it comes with it.
///
/// # Errors
/// [`YearFileError`]: the file is missing, empty, too large, no text, damaged, of another format, or holds something that
/// cannot be.
pub fn read_year(
    path: &Path,
    catalogue: &Catalogue,
) -> Result<(YearFile, Catalogue), YearFileError> {
    let content = reading::content_of(path).map_err(YearFileError::File)?;
    let text = reading::text_of(&content, path).map_err(YearFileError::File)?;
    // A damaged head passes: reading the whole says better what is wrong.
    if let Ok(Head { format: found }) = ron::from_str(text)
        && found != u64::from(NEWEST_YEAR_FORMAT)
    {
        return Err(YearFileError::Format {
            found,
            path: path.to_owned(),
        });
    }
    let year: YearFile = parse::value(text, path).map_err(YearFileError::File)?;
    let catalogue = year.check(catalogue, path)?;
    Ok((year, catalogue))
}

/// Saves a year, whole or not at all.
///
/// # Errors
/// [`YearFileError`]: the year cannot be, or the system refused. The old file is untouched.
pub fn write_year(path: &Path, year: &YearFile) -> Result<(), YearFileError> {
    year.check_alone(path)?;
    let content = file::to_text(year, path).map_err(YearFileError::File)?;
    writing::replace(path, content.as_bytes()).map_err(YearFileError::File)
}
