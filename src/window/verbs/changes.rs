//! What becomes of a change: checked, recorded for undo, or taken back.
//!
//! In: the project as it was and as it is. Out: a step of the history, or the project as it was and a
//! notice that says why.
//!
//! Not here: the steps themselves (`document::history`), what changes are called (`text::change`).
//!
//! Tested by: `tests/window/undo.rs`.

use std::sync::Arc;

use eframe::egui;

use crate::document::{History, Project};
use crate::text::change::change;
use crate::text::error::change_rejected;

use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::{Changes, Workbench};

impl Workbench {
    /// Checks and records what was edited in this frame.
    pub(in crate::window) fn settle(&mut self, ctx: &egui::Context) {
        if self.project != *self.changes.seen {
            if let Err(problem) = self.project.check_alone() {
                self.revert(&problem.to_string());
            } else {
                self.match_materials();
                let seen = &self.changes.seen;
                self.changes.label = change(seen, &self.project, &self.stock.all);
                self.changes.seen = Arc::new(self.project.clone());
            }
            // What was drawn before the edit catches up.
            ctx.request_repaint();
        }
        let held = ctx.input(|input| input.pointer.any_down()) || ctx.text_edit_focused();
        let Changes { history, label, .. } = &mut self.changes;
        history.note(&self.project, label, self.now_s, !held);
        self.settle_year(!held, ctx);
    }

    /// Takes over what an action has changed; the action itself has recorded it.
    pub(in crate::window) fn settle_quietly(&mut self) {
        if self.project != *self.changes.seen {
            self.match_materials();
            self.changes.seen = Arc::new(self.project.clone());
        }
    }

    /// Lays the project's own materials over the catalogue anew, if they have changed.
    fn match_materials(&mut self) {
        if self.project.own_materials != self.changes.seen.own_materials {
            self.stock.lay_over(&self.project.own_materials);
        }
    }

    /// Goes back to the project as it was before the edit, and says why.
    fn revert(&mut self, problem: &str) {
        self.project = Project::clone(&self.changes.seen);
        self.tell(Notice::problem(change_rejected(&problem), ""));
    }

    /// Takes a step for what was changed, or takes it back if it cannot be; whether it was taken.
    pub(in crate::window) fn record_or_revert(&mut self, label: &str) -> bool {
        if let Err(problem) = self.project.check_alone() {
            self.revert(&problem.to_string());
            return false;
        }
        self.changes.history.record(&self.project, label);
        true
    }

    /// Takes the newest change back, of the year where that is looked at.
    pub(in crate::window) fn undo(&mut self) {
        match self.shown_year() {
            Some(_) => self.step_year(History::undo),
            None => self.step(History::undo),
        }
    }

    /// Does it again.
    pub(in crate::window) fn redo(&mut self) {
        match self.shown_year() {
            Some(_) => self.step_year(History::redo),
            None => self.step(History::redo),
        }
    }

    /// One step of the history, in either direction.
    fn step(&mut self, way: impl FnOnce(&mut History, &Project) -> Option<(Project, String)>) {
        if let Some((project, _)) = way(&mut self.changes.history, &self.project) {
            self.project = project;
            self.state.held_slider = None;
        }
    }
}
