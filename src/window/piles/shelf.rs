//! What has been read from the person's folders and from the program's own tables.
//!
//! In: folders. Out: [`Shelf`]: kept recipes and those in the bin, examples, kept materials, trials and lessons, questions.
//!
//! Not here: when they are read anew (`verbs`).
//!
//! Tested by: `tests/window/files.rs`, `tests/window/materials.rs`, `tests/window/class.rs`.

use crate::document::library::Library;
use crate::document::{Project, examples};
use crate::material::{Catalogue, KeepOut, MaterialQuestion, keep_out, questions};

use crate::window::piles::books::Books;
use crate::window::piles::recipe_cards::Listed;

/// What was last read.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    /// Kept recipes.
    pub library: Library,
    /// Recipes that were put away.
    pub bin: Library,
    /// The examples that come with the program.
    pub examples: Vec<Project>,
    /// Kept recipes and examples as they are listed: by season, kept ones first.
    pub cards: Vec<Listed>,
    /// Materials kept for every recipe.
    pub kept_materials: Catalogue,
    /// What people ask about materials.
    pub questions: Vec<MaterialQuestion>,
    /// What does not belong in a heap.
    pub keep_out: Vec<KeepOut>,
    /// Trials and lessons.
    pub books: Books,
    /// Whether trials and lessons have been read: the first time the Class view is shown.
    pub books_read: bool,
}

impl Shelf {
    /// What comes with the program.
    pub fn ready() -> Self {
        Self {
            // Without its questions a material's page is shorter, no more; a test holds the table.
            questions: questions().unwrap_or_default(),
            keep_out: keep_out().unwrap_or_default(),
            // A test holds them, too.
            examples: examples().unwrap_or_default(),
            ..Self::default()
        }
    }
}
