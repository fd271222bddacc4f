//! The year that is planned in this window, with its file and its steps.
//!
//! In: a year's file. Out: [`YearDesk`], which the year's page reads and edits.
//!
//! Not here: opening and saving (`verbs::year_files`), the plan (`year`), drawing (the views).
//!
//! Tested by: `tests/window/year.rs`, `tests/window/year_plan.rs`.

use std::path::PathBuf;
use std::sync::Arc;

use crate::assess::planned::Warmth;
use crate::document::History;
use crate::document::year::YearFile;
use crate::material::Catalogue;
use crate::quantity::UnitSystem;
use crate::text::year::YearTold;
use crate::year::{Plan, Unplanned};

use crate::window::jobs::year_planning::Asked;
use crate::window::piles::choices::NextYear;

/// A part of the year's page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum YearTab {
    /// The plan.
    #[default]
    Plan,
    /// What arrives.
    Arrivals,
    /// Where heaps can stand.
    Bays,
}

impl YearTab {
    /// All, in the order of the row.
    pub const ALL: [Self; 3] = [Self::Plan, Self::Arrivals, Self::Bays];
}

/// A plan, or why there is none, and the year it is of.
#[derive(Debug)]
pub struct YearShown {
    /// What was planned.
    pub of: Arc<Asked>,
    /// The plan, or why there is none.
    pub answer: Result<Plan, Unplanned>,
    /// How long it took, s.
    pub took_s: f64,
    /// How warm each heap of the plan gets, as far as that is known.
    pub warmth: Vec<Option<Warmth>>,
}

impl YearShown {
    /// The plan with what it is told with.
    pub fn told(&self, units: UnitSystem) -> Option<YearTold<'_>> {
        Some(YearTold {
            year: &self.of.file.year,
            plan: self.answer.as_ref().ok()?,
            catalogue: &self.of.catalogue,
            units,
        })
    }
}

/// The year of this window.
#[derive(Debug, Default)]
pub struct YearDesk {
    /// The open year, if one is.
    pub open: Option<OpenYear>,
    /// Which part of its page is shown.
    pub tab: YearTab,
    /// What was last planned of it.
    pub shown: Option<YearShown>,
    /// Whether it is being planned or projected.
    pub busy: bool,
    /// The bay whose name is being typed, and what is typed.
    pub typed_name: Option<(usize, String)>,
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
