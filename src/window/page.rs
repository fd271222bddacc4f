//! What a view is handed: the three piles, colours, and a place for what it asks for.
//!
//! In: the project, what is chosen, what is computed. Out: [`Page`], whose fields a view reads and edits, and the
//! actions it asked for.
//!
//! Not here: doing anything (`verbs`), drawing anything (the views).
//!
//! Tested by: `tests/window/main.rs`.

use std::sync::Arc;

use jiff::civil::DateTime;

use crate::assess::Subject;
use crate::document::Project;
use crate::material::{Catalogue, Material};

use crate::window::action::{Action, Facts};
use crate::window::piles::choices::WindowState;
use crate::window::piles::preview::Preview;
use crate::window::piles::shelf::Shelf;
use crate::window::piles::shown::Shown;
use crate::window::piles::year_desk::YearDesk;
use crate::window::theme::Look;

/// What a view reads and edits.
pub struct Page<'a> {
    /// The recipe; fields are edited in place.
    pub project: &'a mut Project,
    /// Choices and open dialogs.
    pub state: &'a mut WindowState,
    /// Everything computed.
    pub shown: &'a mut Shown,
    /// The year; its fields are edited in place.
    pub year: &'a mut YearDesk,
    /// All materials.
    pub catalogue: &'a Arc<Catalogue>,
    /// What was read from folders and tables.
    pub shelf: &'a Shelf,
    /// Colours and sizes.
    pub look: Look<'a>,
    /// The moment at the heap, by the clock of the system.
    pub now: DateTime,
    /// What can be done.
    pub facts: &'a Facts,
    /// What is asked for; carried out after the frame.
    pub actions: &'a mut Vec<Action>,
}

impl Page<'_> {
    /// Asks for something to be done after this frame.
    pub fn ask(&mut self, action: Action) {
        self.actions.push(action);
    }

    /// Brings everything computed up to date with the edits made so far in this frame.
    pub fn refresh(&mut self) {
        let subject = Subject::of(self.project, self.catalogue);
        self.shown.refresh(&subject);
    }

    /// First day on which the plan can still be another; `None`: the heap does not stand yet.
    pub fn first_open_day(&self) -> Option<f64> {
        self.project.diary.first_free_day(self.now)
    }

    /// Whether a material is one of the recipe's own.
    pub fn is_own(&self, id: &str) -> bool {
        self.project.own_materials.iter().any(|own| own.id == id)
    }

    /// A material of the recipe, the catalogue or the person's library.
    pub fn known(&self, id: &str) -> Option<&Material> {
        self.catalogue
            .find(id)
            .or_else(|| self.shelf.kept_materials.find(id))
    }

    /// Lets a balance go that belongs to another mix or room.
    pub fn drop_stale_preview(&mut self) {
        let room_m3 = self.project.heap.shape.room_m3();
        let mix = &self.project.mix;
        let stale = |preview: &Preview| preview.of.0 != *mix || preview.of.1 != room_m3;
        if self.shown.preview.as_ref().is_some_and(stale) {
            self.shown.preview = None;
        }
    }

    /// Name of a material, or its id where it is not known.
    pub fn name_of(&self, id: &str) -> String {
        self.catalogue
            .find(id)
            .map_or_else(|| id.to_owned(), |material| material.name.clone())
    }
}
