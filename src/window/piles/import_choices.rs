//! What is chosen in the sheet that imports a logger's file, and what was found.
//!
//! In: a path, choices. Out: [`ImportSheet`] and [`ImportShown`].
//!
//! Not here: reading (`jobs::importing`), how it looks (`import_sheet`).
//!
//! Tested by: `tests/window/import.rs`.

use std::path::PathBuf;
use std::sync::Arc;

use crate::diary::import::{Choices, Import, Imported};

/// The sheet, while it is open.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportSheet {
    /// Which file.
    pub path: PathBuf,
    /// What a person has chosen.
    pub choices: Choices,
    /// The time zone as it is typed.
    pub zone: String,
    /// The moment of building as it is typed.
    pub built: String,
    /// Whether the sheet has had the keyboard once.
    pub focused: bool,
}

impl ImportSheet {
    /// A sheet for a file; the rest is guessed.
    pub fn of(path: PathBuf, choices: Choices) -> Self {
        Self {
            path,
            choices,
            zone: String::new(),
            built: String::new(),
            focused: false,
        }
    }
}

/// What was found in the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ImportShown {
    /// The newest that could be understood.
    pub found: Option<Arc<Import>>,
    /// Why the newest choices cannot be; one sentence.
    pub problem: Option<String>,
    /// Whether it is still being read.
    pub busy: bool,
}

impl ImportShown {
    /// The rows that would be taken.
    pub fn imported(&self) -> Option<&Imported> {
        let found = self.found.as_ref().filter(|_| self.problem.is_none());
        found.and_then(|found| found.imported.as_ref())
    }

    /// How many readings would be taken now; none while choices are still being read.
    pub fn readings(&self) -> usize {
        let now = self.imported().filter(|_| !self.busy);
        now.map_or(0, Imported::readings)
    }
}
