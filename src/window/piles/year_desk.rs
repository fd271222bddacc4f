//! The year that is planned in this window, with its file and its steps.
//!
//! In: a year's file. Out: [`YearDesk`], which the year's page reads and edits.
//!
//! Not here: opening and saving (`verbs::year_files`), the plan (`year`), drawing (the views).
//!
//! Tested by: `tests/window/year.rs`.

use std::path::PathBuf;
use std::sync::Arc;

use crate::document::History;
use crate::document::year::YearFile;
use crate::material::Catalogue;

use crate::window::piles::choices::NextYear;

/// The year of this window.
#[derive(Debug, Default)]
pub struct YearDesk {
    /// The open year, if one is.
    pub open: Option<OpenYear>,
    /// What to do once it is saved.
    pub after_save: Option<NextYear>,
}

/// An open year.
#[derive(Debug)]
pub struct OpenYear {
    /// The year; fields are edited in place.
    pub file: YearFile,
    /// Its file, once it has one.
    pub path: Option<PathBuf>,
    /// The year as last saved or opened.
    pub saved: YearFile,
    /// All materials, the year's own among them.
    pub catalogue: Arc<Catalogue>,
    /// The steps to take back.
    pub history: History<YearFile>,
    /// The year as it was last found to be in order.
    pub seen: YearFile,
    /// What the newest change is called.
    pub label: String,
}

impl OpenYear {
    /// A year that was just opened.
    pub fn of(file: YearFile, path: Option<PathBuf>, catalogue: Arc<Catalogue>) -> Self {
        Self {
            path,
            saved: file.clone(),
            catalogue,
            history: History::new(&file),
            seen: file.clone(),
            label: String::new(),
            file,
        }
    }

    /// Whether there are changes that no file holds.
    pub fn is_unsaved(&self) -> bool {
        self.saved != self.file
    }
}

impl YearDesk {
    /// Whether there are changes that no file holds.
    pub fn is_unsaved(&self) -> bool {
        self.open.as_ref().is_some_and(OpenYear::is_unsaved)
    }
}
