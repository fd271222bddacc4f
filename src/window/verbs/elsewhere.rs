//! What other windows and programs do to the open file: it is open twice, or holds something else by now.
//!
//! In: the open file, the keyboard coming back to the window. Out: a notice, a question.
//!
//! Not here: the answer (`files`), which program holds what (`document::recovery`).
//!
//! Tested by: `tests/window/elsewhere.rs`.

use std::path::Path;

use eframe::egui;

use crate::document::{file, recovery};
use crate::text::error;

use crate::window::piles::choices::Question;
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Notes for other windows which file is open here.
    pub(in crate::window) fn note_path(&mut self) {
        self.store.looked_at = None;
        self.store.declined = None;
        if let Some(keeper) = &self.store.keeper {
            keeper.note_open(self.store.path.as_deref());
        }
    }

    /// Says so if another window has this file open as well.
    pub(in crate::window) fn tell_of_another_window(&mut self, path: &Path) {
        let own = self.store.keeper.as_ref().map(|keeper| keeper.work_path());
        let Some(folders) = &self.store.folders else {
            return;
        };
        if recovery::is_open_elsewhere(folders, path, own.as_deref()) {
            self.tell(Notice::problem(error::OPEN_TWICE, ""));
        }
    }

    /// Looks at the open file when the keyboard comes back to the window, and asks if it holds something else by now.
    pub(in crate::window) fn look_at_file_on_focus(&mut self, ctx: &egui::Context) {
        let focused = ctx.input(|input| input.focused);
        let had_focus = std::mem::replace(&mut self.store.had_focus, focused);
        if focused && !had_focus && !self.state.is_covered() {
            self.look_at_file();
        }
    }

    fn look_at_file(&mut self) {
        let (Some(path), Some(known)) = (&self.store.path, &self.store.stamp) else {
            return;
        };
        let Ok(metadata) = std::fs::metadata(path) else {
            return;
        };
        let seen = metadata.modified().ok().map(|then| (metadata.len(), then));
        if seen.is_some() && seen == self.store.looked_at {
            return;
        }
        let held = file::stamp_of(path).filter(|held| held != known);
        if held.is_some() && held != self.store.declined {
            self.state.question = Some(Question::Reload(path.clone()));
        }
        self.store.looked_at = seen;
    }
}
