//! Unsaved work: kept every so often, offered again at the next start.
//!
//! In: the clock, the project. Out: a kept copy, a question, a recovered project.
//!
//! Not here: how it is stored (`document::recovery`).
//!
//! Tested by: `tests/window/files.rs`.

use std::time::Duration;

use eframe::egui;

use crate::document::recovery::{self, Recovery};
use crate::text::error;

use crate::window::action::Reply;
use crate::window::piles::choices::Question;
use crate::window::piles::notices::Notice;
use crate::window::piles::store::KEEP_EVERY_S;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Takes a place for unsaved work and looks for what earlier runs have left.
    pub(in crate::window) fn start_recovery(&mut self) {
        let Some(folders) = self.store.folders.clone() else {
            return;
        };
        let pending = recovery::pending(&folders, &self.stock.built_in);
        for problem in &pending.problems {
            self.tell(Notice::problem(error::unsaved_unread(&problem), ""));
        }
        self.store.leftovers = pending.leftovers;
        match Recovery::start(&folders) {
            Ok(place) => self.store.recovery = Some(place),
            Err(problem) => self.tell(Notice::problem(
                error::unsaved_has_no_place(&problem),
                error::SAVE_OFTEN,
            )),
        }
        self.offer_leftover();
    }

    fn offer_leftover(&mut self) {
        if let Some(first) = self.store.leftovers.first() {
            self.state.question = Some(Question::Recover {
                title: first.project.title.clone(),
                count: self.store.leftovers.len(),
            });
        }
    }

    /// Carries out the answer to the offer of unsaved work.
    pub(in crate::window) fn reply_recover(&mut self, reply: Reply) {
        if reply == Reply::Cancel || self.store.leftovers.is_empty() {
            // Letting go of them leaves them for the next start.
            self.store.leftovers.clear();
            return;
        }
        let leftover = self.store.leftovers.remove(0);
        if reply == Reply::Yes {
            let project = leftover.project.clone();
            self.take_over(project, leftover.original.clone(), leftover.stamp.clone());
            self.store.saved = None;
            // The next offer would take the place of this one: the others wait for another start.
            self.store.leftovers.clear();
            self.keep_now();
            if self.store.kept.is_none() {
                return;
            }
        }
        if let Err(problem) = leftover.discard() {
            self.tell(Notice::problem(problem.to_string(), ""));
        }
        self.offer_leftover();
    }

    /// Keeps unsaved work when it is due, and asks to be woken when it will be.
    pub(in crate::window) fn keep_unsaved(&mut self, ctx: &egui::Context) {
        if self.store.recovery.is_none() || !self.is_unsaved() {
            self.store.kept_s = self.now_s;
            return;
        }
        if self.store.kept.as_ref() == Some(&self.project) {
            return;
        }
        let left_s = KEEP_EVERY_S - (self.now_s - self.store.kept_s);
        if left_s <= 0.0 {
            self.keep_now();
        } else {
            ctx.request_repaint_after(Duration::from_secs_f64(left_s));
        }
    }

    /// Keeps the project as it stands.
    pub(in crate::window) fn keep_now(&mut self) {
        self.store.kept_s = self.now_s;
        let Some(place) = &self.store.recovery else {
            return;
        };
        let store = &self.store;
        match place.keep(&self.project, store.path.as_deref(), store.stamp.as_ref()) {
            Ok(()) => self.store.kept = Some(self.project.clone()),
            Err(problem) => self.tell(Notice::problem(
                error::unsaved_not_kept(&problem),
                error::SAVE_OFTEN,
            )),
        }
    }

    /// Forgets kept work: it is saved, or given up on purpose.
    pub(in crate::window) fn forget_kept(&mut self) {
        self.store.kept = None;
        if let Some(Err(problem)) = self.store.recovery.as_ref().map(Recovery::clear) {
            self.tell(Notice::problem(problem.to_string(), ""));
        }
    }

    /// Ends in order: nothing is left to recover, settings are written.
    pub fn finish(&mut self) {
        self.write_settings();
        if let Some(place) = self.store.recovery.take() {
            // The window is gone: there is nobody left to tell.
            let _ = place.finish();
        }
    }

    /// Writes the settings if they have changed.
    pub(in crate::window) fn write_settings(&mut self) {
        if self.state.settings == self.store.written_settings {
            return;
        }
        self.store.written_settings = self.state.settings.clone();
        let Some(folders) = &self.store.folders else {
            return;
        };
        if let Err(problem) = self.state.settings.save(folders) {
            self.tell(Notice::problem(error::settings_not_kept(&problem), ""));
        }
    }
}
