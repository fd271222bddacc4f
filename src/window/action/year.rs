//! What the year's page can be asked to do.
//!
//! In: nothing. Out: for each its words and its one-sentence tooltip.
//!
//! Not here: the doing (`verbs::year`, `verbs::year_files`), everything else (`list`).
//!
//! Tested by: `tests/window/year.rs`.

use crate::window::action::entry::Entry;
use crate::window::piles::choices::SeasonsPage;

/// One thing to do with the year.
#[derive(Debug, Clone, PartialEq)]
pub enum YearAction {
    /// Go to a page of the Seasons view.
    Show(SeasonsPage),
    /// Start an empty year.
    New,
    /// Open the example.
    Example,
    /// Open by the system's dialog.
    Open,
    /// Open by typing a path.
    OpenByPath,
}

impl YearAction {
    /// Those that need nothing more to be said.
    pub const LISTED: [Self; 6] = [
        Self::Show(SeasonsPage::Recipes),
        Self::Show(SeasonsPage::Year),
        Self::New,
        Self::Example,
        Self::Open,
        Self::OpenByPath,
    ];

    /// What it says of itself.
    pub(in crate::window) fn entry(&self) -> Entry {
        match self {
            Self::Show(SeasonsPage::Recipes) => {
                Entry::new("Recipes", "Shows the recipes you have kept.")
            }
            Self::Show(SeasonsPage::Year) => Entry::new(
                "The year",
                "Shows what arrives when, and which heap to build in which bay.",
            ),
            Self::New => Entry::new("New year", "Starts a year in which nothing arrives yet."),
            Self::Example => Entry::new(
                "Open the example",
                "Opens a copy of the invented year of the Withybed School Garden.",
            ),
            Self::Open => Entry::new("Open a year…", "Opens a year from a file."),
            Self::OpenByPath => {
                Entry::new("By path…", "Opens a year whose path you type or paste.")
            }
        }
    }
}
