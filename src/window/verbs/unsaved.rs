//! Unsaved work: handed to the keeper with each change, offered again at the next start.
//!
//! In: the project. Out: work for the keeper, a question, a recovered project.
//!
//! Not here: when it is kept (`document::keeper`), how it is stored (`document::recovery`).
//!
//! Tested by: `tests/window/files.rs`.

use std::path::Path;
use std::sync::Arc;

use eframe::egui;

use crate::document::keeper::{Keeper, Pace, Work};
use crate::document::recovery::{self, Recovery};
use crate::document::{Doing, FileError, tidy};
use crate::text::error;

use crate::window::action::Reply;
use crate::window::piles::choices::{Question, View};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Takes a place for unsaved work and looks for what earlier runs have left.
    pub(in crate::window) fn start_recovery(&mut self) {
        let Some(folders) = self.store.folders.clone() else {
            return;
        };
        for folder in [
            &folders.data,
            &folders.config,
            &folders.recipes,
            &folders.materials(),
        ] {
            tidy(folder);
        }
        if let Some(folder) = self.store.path.as_deref().and_then(Path::parent) {
            tidy(folder);
        }
        let pending = recovery::pending(&folders, &self.stock.built_in);
        for problem in &pending.problems {
            self.tell(Notice::problem(error::unsaved_unread(&problem), ""));
        }
        self.store.leftovers = pending.leftovers;
        let begun = Recovery::start(&folders).and_then(|place| {
            Keeper::start(place, Pace::USUAL)
                .map_err(|err| FileError::system(Doing::Writing, &err, &folders.data))
        });
        match begun {
            Ok(keeper) => {
                self.store.keeper = Some(keeper);
                self.note_path();
            }
            Err(problem) => self.tell(Notice::problem(
                error::unsaved_has_no_place(&problem),
                error::SAVE_OFTEN,
            )),
        }
        self.offer_leftover();
    }

    /// Keeps the work before it returns.
    fn keep_now(&mut self) -> Result<(), FileError> {
        let work = self.work();
        self.store.handed = Some(Arc::clone(&work.project));
        let keeper = self.store.keeper.as_ref();
        keeper.map_or(Ok(()), |keeper| keeper.keep_now(work))
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
            if self.keep_now().is_err() {
                // The keeper tells why; what was found stays where it is.
                return;
            }
        }
        if let Err(problem) = leftover.discard() {
            self.tell(Notice::problem(problem.to_string(), ""));
        }
        self.offer_leftover();
    }

    /// Hands unsaved work to the keeper as soon as it is other work, and tells what it could not keep.
    pub(in crate::window) fn hand_to_keeper(&mut self, ctx: &egui::Context) {
        let Some(keeper) = &self.store.keeper else {
            return;
        };
        if let Some(problem) = keeper.problem() {
            self.tell(Notice::problem(
                error::unsaved_not_kept(&problem),
                error::SAVE_OFTEN,
            ));
        }
        let newest = &self.changes.seen;
        if !self.is_unsaved() {
            if self.store.handed.is_some() {
                self.forget_kept();
            }
        } else if !matches!(&self.store.handed, Some(handed) if Arc::ptr_eq(handed, newest)) {
            let work = self.work();
            self.store.handed = Some(Arc::clone(&work.project));
            if let Some(keeper) = &self.store.keeper {
                keeper.hand(work);
            }
            // By then a problem is known.
            ctx.request_repaint_after(Pace::USUAL.longest * 2);
        }
    }

    /// The work as it stands, with the file it belongs to.
    fn work(&self) -> Work {
        Work {
            project: Arc::clone(&self.changes.seen),
            original: self.store.path.clone(),
            stamp: self.store.stamp.clone(),
        }
    }

    /// Forgets kept work: it is saved, or given up on purpose.
    pub(in crate::window) fn forget_kept(&mut self) {
        self.store.handed = None;
        if let Some(Err(problem)) = self.store.keeper.as_ref().map(Keeper::forget) {
            self.tell(Notice::problem(problem.to_string(), ""));
        }
    }

    /// Notes how the window stands, to be written when it ends.
    pub(in crate::window) fn remember_layout(&mut self, ctx: &egui::Context) {
        let zoom = ctx.zoom_factor();
        let layout = &mut self.store.layout;
        ctx.input(|input| {
            let window = input.viewport();
            layout.maximised = window.maximized == Some(true);
            let plain = !layout.maximised && window.fullscreen != Some(true);
            if let Some(rect) = window.inner_rect.filter(|_| plain) {
                layout.size = Some((
                    (rect.width() * zoom).round(),
                    (rect.height() * zoom).round(),
                ));
            }
        });
        // In a class everything is drawn larger by itself.
        if self.state.view != View::Class {
            layout.zoom = Some(zoom);
        }
        if layout.view != self.state.view.name() {
            self.state.view.name().clone_into(&mut layout.view);
        }
    }

    /// Ends in order: settings are written, and nothing is left to recover unless the window went without asking.
    pub fn finish(&mut self) {
        self.state.settings.layout = self.store.layout.clone();
        self.write_settings();
        let Some(keeper) = self.store.keeper.take() else {
            return;
        };
        // The window is gone: there is nobody left to tell.
        let _ = if self.closing || !self.is_unsaved() {
            keeper.finish()
        } else {
            keeper.rescue().run()
        };
    }

    /// Writes the settings if they have changed.
    pub(in crate::window) fn write_settings(&mut self) {
        if self.state.settings == self.store.written_settings {
            return;
        }
        let here = self.state.settings.clone();
        let known = std::mem::replace(&mut self.store.written_settings, here.clone());
        let Some(folders) = &self.store.folders else {
            return;
        };
        match here.save_changes(&known, folders) {
            Ok(stands) => {
                // Files that another window has opened belong into this window's list; its look does not.
                self.state.settings.recent.clone_from(&stands.recent);
                self.store.written_settings.recent = stands.recent;
            }
            Err(problem) => self.tell(Notice::problem(error::settings_not_kept(&problem), "")),
        }
    }
}
