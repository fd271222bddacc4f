//! What goes on behind the window, tended once in every frame.
//!
//! In: the clock, answers of the jobs. Out: what is shown, brought up to date; wishes to be woken.
//!
//! Not here: the jobs themselves (`jobs`), a trial's news (`class`), the search for a plan (`plan`), files
//! and unsaved work (`files`, `unsaved`).
//!
//! Tested by: `tests/window/heap.rs`, `tests/window/results.rs`.

use std::time::Duration;

use eframe::egui;

use crate::window::jobs::projecting::Answer;
use crate::window::piles::books::Books;
use crate::window::piles::choices::View;
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Takes what has arrived since the last frame.
    pub(in crate::window) fn before_drawing(&mut self, ctx: &egui::Context) {
        self.now_s = ctx.input(|input| input.time);
        self.shown.behind = self.refines;
        self.take_trial_news();
        self.take_page(ctx);
        self.open_books();
    }

    /// Hands the jobs what has changed in this frame.
    pub(in crate::window) fn tend_jobs(&mut self, ctx: &egui::Context) {
        self.refine(ctx);
        self.tend_plan_search(ctx);
    }

    /// Reads trials and lessons the first time they are looked at.
    fn open_books(&mut self) {
        if self.shelf.books_read || self.state.view != View::Class {
            return;
        }
        self.shelf.books_read = true;
        let built_in = &self.stock.built_in;
        let mut notices = Vec::new();
        match Books::ready(built_in) {
            Ok(books) => self.shelf.books = books,
            Err(problem) => notices.push(Notice::problem("There are no trials", problem)),
        }
        if let Some(folders) = &self.store.folders {
            for problem in self.shelf.books.add_own(&folders.recipes, built_in) {
                let what = "A file for the class is left out";
                notices.push(Notice::problem(what, problem));
            }
        }
        for notice in notices {
            self.tell(notice);
        }
    }

    /// Lets the background project the heap, and takes what it has found.
    fn refine(&mut self, ctx: &egui::Context) {
        if !self.refines {
            return;
        }
        let held = ctx.input(|input| input.pointer.any_down());
        let waking = ctx.clone();
        let now = (self.shown.revision, self.now_s, held);
        let inputs = self.shown.inputs.as_ref();
        let wake = move || waking.request_repaint();
        self.shown.at_rest = self.jobs.background.rests(now);
        let Ok(answers) = self.jobs.background.tend(now, inputs, wake) else {
            // Where no thread is to be had, the window calculates by itself.
            self.refines = false;
            self.shown.forget();
            ctx.request_repaint();
            return;
        };
        for answer in answers {
            if let Answer::Failed(sentence) = &answer {
                self.tell(Notice::problem("The projection broke down", sentence));
            }
            self.shown.refine(answer, &self.project, &self.stock.all);
            ctx.request_repaint();
        }
        self.count_turnings(ctx);
        if let Some(seconds) = self.jobs.background.wants_frame_in() {
            ctx.request_repaint_after(Duration::from_secs_f64(seconds));
        }
    }

    /// Lets the turnings be counted while they are looked at.
    fn count_turnings(&mut self, ctx: &egui::Context) {
        if self.state.view != View::Results || !self.shown.at_rest {
            return;
        }
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let inputs = self.shown.inputs.as_ref();
        if let Some(rows) = self.jobs.turn_count.tend(inputs, wake) {
            self.shown.turnings = rows;
            ctx.request_repaint();
        }
    }
}
