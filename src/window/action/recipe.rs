//! What can be asked of kept recipes and examples.
//!
//! In: nothing. Out: for each its words and its one-sentence tooltip.
//!
//! Not here: the doing (`verbs::recipes`), keeping and opening (`list`).
//!
//! Tested by: `tests/window/recipes.rs`, `tests/window/actions.rs`.

use std::path::PathBuf;

use jiff::civil::Date;

use crate::text::recipes as words;

use crate::window::action::entry::Entry;
use crate::window::piles::recipe_cards::{CardKey, RecipesPage};

/// One thing to do with a recipe.
#[derive(Debug, Clone, PartialEq)]
pub enum RecipeAction {
    /// Open a copy of an example, by its place.
    OpenExample(usize),
    /// Start the next heap of a recipe: of the coming same season.
    StartAgain {
        /// Which.
        key: CardKey,
        /// When it would be built.
        built: Date,
    },
    /// Copy a kept recipe, by its file.
    Copy(PathBuf),
    /// Open the field for another title of this file's recipe.
    StartRename(PathBuf),
    /// Give it the title typed there.
    Rename,
    /// Leave its title as it is.
    LeaveRename,
    /// Put the recipe of this file into the bin.
    PutAway(PathBuf),
    /// Bring the recipe of this file back from the bin.
    BringBack(PathBuf),
    /// Tick a recipe to be compared, or no longer.
    Tick(CardKey),
    /// Tick none any more.
    TickNone,
    /// Show the two that are ticked side by side.
    Compare,
    /// Show this page of the recipes.
    Show(RecipesPage),
}

impl RecipeAction {
    /// Those that need nothing more to be said.
    pub const LISTED: [Self; 6] = [
        Self::Rename,
        Self::LeaveRename,
        Self::TickNone,
        Self::Compare,
        Self::Show(RecipesPage::Cards),
        Self::Show(RecipesPage::Bin),
    ];

    /// What it says of itself.
    pub(in crate::window) fn entry(&self) -> Entry {
        match self {
            Self::OpenExample(_) => Entry::new(
                "Open the example",
                "Opens a copy; the example itself stays as it is.",
            ),
            Self::StartAgain { built, .. } => {
                Entry::new("Start the next one", words::start_again_tip(*built))
            }
            Self::Copy(_) => Entry::new("Duplicate", "Keeps a copy of it under another title."),
            Self::StartRename(_) => {
                Entry::new("Rename…", "Gives it another title; its file follows.")
            }
            Self::Rename => Entry::new("Rename", "Takes the title typed here (Enter)."),
            Self::LeaveRename => Entry::new("Leave it", "Leaves the title as it is (Esc)."),
            Self::PutAway(_) => Entry::new(
                "Move to the bin",
                "Takes it out of the list; the bin brings it back.",
            ),
            Self::BringBack(_) => Entry::new("Bring back", "Puts it among the kept recipes again."),
            Self::Tick(_) => Entry::new("Compare", "Ticks it to be compared with another."),
            Self::TickNone => Entry::new("Untick", "Ticks no recipe any more."),
            Self::Compare => Entry::new(
                "Compare",
                "Shows the two recipes that are ticked side by side: what differs, and both curves.",
            ),
            Self::Show(RecipesPage::Cards) => Entry::new(
                "Back to the recipes",
                "Shows all recipes by time of year (Esc).",
            ),
            Self::Show(RecipesPage::Bin) => Entry::new(
                "Bin",
                "Shows the recipes that were put away, to bring them back.",
            ),
            Self::Show(RecipesPage::Compared) => {
                Entry::new("Both", "Shows both recipes side by side again.")
            }
        }
    }
}
