//! What goes on behind the window, tended once in every frame.
//!
//! In: the clock, answers of the jobs. Out: what is shown, brought up to date; wishes to be woken.
//!
//! Not here: the jobs themselves (`jobs`), a trial's news (`class`), the search for a plan (`plan`), files
//! and unsaved work (`files`, `unsaved`).
//!
//! Tested by: `tests/window/heap_section.rs`, `tests/window/results.rs`.

use std::time::Duration;

use eframe::egui;

use crate::assess::Subject;
use crate::forecast::RunStages;
use crate::outcome::Outcome;
use crate::text::error::{
    CLASS_FILE_SKIPPED, FEEDING_NOT_COMPARED, NO_TRIALS, NOT_JUDGED, NOT_LEARNT, NOT_PROJECTED,
    TURNINGS_NOT_COUNTED, no_thread,
};

use crate::window::jobs::learning::LearnNews;
use crate::window::jobs::projecting::{FrameNow, HeapNews};
use crate::window::piles::books::Books;
use crate::window::piles::choices::View;
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Takes what has arrived since the last frame.
    pub(in crate::window) fn before_drawing(&mut self, ctx: &egui::Context) {
        self.now_s = ctx.input(|input| input.time);
        self.now = self.clock.now();
        self.shown.behind = self.refines;
        self.take_trial_news();
        self.take_page(ctx);
        self.open_books();
    }

    /// Hands the jobs what has changed in this frame.
    pub(in crate::window) fn tend_jobs(&mut self, ctx: &egui::Context) {
        self.refine(ctx);
        self.tend_plan_search(ctx);
        self.tend_complaint(ctx);
        self.tend_import(ctx);
        self.run_trials_ahead(ctx);
        self.tend_year(ctx);
        self.tend_recipes(ctx);
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
            Err(problem) => notices.push(Notice::problem(NO_TRIALS, problem)),
        }
        if let Some(folders) = &self.store.folders {
            for problem in self.shelf.books.add_own(&folders.recipes, built_in) {
                notices.push(Notice::problem(CLASS_FILE_SKIPPED, problem));
            }
        }
        for notice in notices {
            self.tell(notice);
        }
    }

    /// Lets the background project the heap, and takes what it has found.
    fn refine(&mut self, ctx: &egui::Context) {
        if !self.refines {
            self.judge(ctx);
            return;
        }
        self.learn(ctx);
        let waking = ctx.clone();
        let members = if self.shown.follows_newest() {
            0
        } else {
            RunStages::AT_REST.members
        };
        let frame = FrameNow {
            // Both only ever count up, so their sum is another whenever one of them is.
            revision: self.shown.stages.revision() + self.shown.following.turns(),
            now_s: self.now_s,
            held: ctx.input(|input| input.pointer.any_down()),
            at_rest: RunStages {
                members,
                ..RunStages::AT_REST
            },
        };
        let inputs = self.shown.inputs();
        let wake = move || waking.request_repaint();
        self.shown.at_rest = self.jobs.background.rests(frame);
        let Ok(all) = self.jobs.background.tend(frame, inputs.as_ref(), wake) else {
            // Where no thread is to be had, the window calculates by itself.
            self.refines = false;
            self.shown.stages.forget();
            ctx.request_repaint();
            return;
        };
        for news in all {
            if let HeapNews::Failed(sentence) = &news {
                self.tell(Notice::problem(NOT_PROJECTED, sentence));
            }
            let subject = Subject::of(&self.project, &self.stock.all);
            self.shown.refine(news, &subject);
            ctx.request_repaint();
        }
        self.judge(ctx);
        self.count_turnings(ctx);
        self.compare_feeding(ctx);
        if let Some(seconds) = self.jobs.background.wants_frame_in() {
            ctx.request_repaint_after(Duration::from_secs_f64(seconds));
        }
    }

    /// Lets the diary say which members to believe, once all rests, and follows that.
    fn learn(&mut self, ctx: &egui::Context) {
        let following = &mut self.shown.following;
        following.want(self.state.diary.followed);
        let diary = &self.project.diary;
        let teaches = diary.teaches();
        let Some(inputs) = self.shown.stages.inputs().filter(|_| teaches) else {
            self.jobs.learning.call_off();
            following.busy = false;
            following.drop_learnt(None);
            return;
        };
        if !self.shown.at_rest {
            return;
        }
        let today = diary.day_of(self.now).unwrap_or(0.0);
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let answer = self.jobs.learning.tend(inputs, (diary, today), wake);
        following.busy = self.jobs.learning.is_busy();
        let news = match answer {
            Ok(None) => return,
            Ok(Some(news)) => news,
            Err(problem) => LearnNews::Broken(no_thread(&problem)),
        };
        match news {
            LearnNews::Learnt(learnt, of) => following.take(*learnt, of),
            LearnNews::Nothing(why) => following.drop_learnt(Some(why)),
            LearnNews::Broken(cause) => {
                following.drop_learnt(None);
                self.tell(Notice::problem(NOT_LEARNT, cause));
            }
        }
        ctx.request_repaint();
    }

    /// Lets the projection be judged while that is looked at: once all rests and behind the window, or at once where
    /// the window calculates by itself.
    fn judge(&mut self, ctx: &egui::Context) {
        if let Some(answer) = self.jobs.judging.poll() {
            self.take_judged(answer, ctx);
        }
        if !matches!(self.state.view, View::Results | View::Class | View::Diary)
            || (self.shown.behind && !self.shown.at_rest)
        {
            return;
        }
        let subject = Subject::of(&self.project, &self.stock.all);
        if let Some(due) = self.shown.stages.judgement_due(&subject) {
            if self.shown.behind {
                let waking = ctx.clone();
                let wake = move || waking.request_repaint();
                if let Err(problem) = self.jobs.judging.start(due, wake) {
                    let why = no_thread(&problem);
                    self.take_judged(Err(why), ctx);
                }
            } else {
                let answer = due.outcome().map_err(|problem| problem.to_string());
                self.take_judged(answer, ctx);
            }
        }
        if let Err(problem) = self.shown.stages.weigh() {
            self.tell(Notice::problem(NOT_JUDGED, problem.to_string()));
        }
    }

    /// Takes the outcome; why there is none is told.
    fn take_judged(&mut self, answer: Result<Option<Outcome>, String>, ctx: &egui::Context) {
        match answer {
            Ok(outcome) => self.shown.stages.take_outcome(outcome),
            Err(problem) => {
                self.shown.stages.take_outcome(None);
                self.tell(Notice::problem(NOT_JUDGED, problem));
            }
        }
        ctx.request_repaint();
    }

    /// Lets feeding be compared with building at once while the heap is looked at.
    fn compare_feeding(&mut self, ctx: &egui::Context) {
        if self.state.view != View::Heap || !self.shown.at_rest {
            return;
        }
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let inputs = self.shown.inputs();
        match self.jobs.fed.tend(inputs.as_ref(), wake) {
            None => return,
            Some(Ok(found)) => self.shown.fed = found,
            Some(Err(problem)) => {
                self.tell(Notice::problem(FEEDING_NOT_COMPARED, problem));
            }
        }
        ctx.request_repaint();
    }

    /// Lets the turnings be counted while they are looked at.
    fn count_turnings(&mut self, ctx: &egui::Context) {
        if self.state.view != View::Results || !self.shown.at_rest {
            return;
        }
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let inputs = self.shown.inputs();
        let from_day = self.project.diary.first_free_day(self.now);
        let asked = inputs.as_ref().map(|inputs| (inputs, from_day));
        match self.jobs.turn_count.tend(asked, wake) {
            None => return,
            Some(Ok(rows)) => self.shown.turnings = rows,
            Some(Err(problem)) => {
                self.tell(Notice::problem(TURNINGS_NOT_COUNTED, problem));
            }
        }
        ctx.request_repaint();
    }
}
