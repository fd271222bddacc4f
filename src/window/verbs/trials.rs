//! Running trials for a class: when asked for, and ahead while the class guesses.
//!
//! In: what the class looks at. Out: the trial it looks at run, and the one that comes next.
//!
//! One trial runs at a time. What was run ahead stays unseen until it is asked for, and is thrown away once the recipe
//! is another.
//! Not here: the thread (`jobs::trial`), what is shown of it (`class::answer`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui;

use crate::assess::Key;
use crate::assess::trial::{Trial, TrialCase};
use crate::text::error::no_thread;

use crate::window::piles::choices::View;
use crate::window::piles::class_choices::Mode;
use crate::window::piles::curve::Curve;
use crate::window::piles::trial_shown::TrialShown;
use crate::window::verbs::workbench::Workbench;

/// Most trials kept for later: the one looked at, the one before and those that come next.
const KEPT_AHEAD: usize = 4;

impl Workbench {
    /// Reveals, runs or goes on, whichever comes next.
    pub(in crate::window) fn advance(&mut self, ctx: &egui::Context) {
        let class = &self.state.class;
        let trial = class.trial(&self.shelf.books);
        let waits = trial.is_some_and(|trial| trial.can_be_run() && !self.is_shown(trial));
        if class.guess.hidden {
            self.reveal(ctx);
        } else if waits {
            self.run_trial(ctx);
        } else {
            self.state.class.step(&self.shelf.books, true);
        }
    }

    /// Shows the answer; a trial is run for it.
    pub(in crate::window) fn reveal(&mut self, ctx: &egui::Context) {
        let class = &mut self.state.class;
        class.guess.hidden = false;
        let trial = class.trial(&self.shelf.books);
        if trial.is_some_and(|trial| trial.can_be_run() && !self.is_shown(trial)) {
            self.run_trial(ctx);
        }
    }

    fn is_shown(&self, trial: &Trial) -> bool {
        let shown = self.shown.trial.as_ref();
        shown.is_some_and(|shown| shown.trial == trial.id)
    }

    /// Runs the trial that is looked at, or takes it from those run ahead.
    pub(in crate::window) fn run_trial(&mut self, ctx: &egui::Context) {
        let Some(trial) = self.state.class.trial(&self.shelf.books).cloned() else {
            return;
        };
        let ready = |kept: &TrialShown| kept.trial == trial.id && self.is_fresh(kept);
        let ready = self.shown.ahead.iter().position(ready);
        self.shown.trial = Some(match ready {
            Some(place) => self.shown.ahead.remove(place),
            None => self.begin(&trial, ctx),
        });
    }

    /// Whether it is of the recipe as it is.
    fn is_fresh(&self, kept: &TrialShown) -> bool {
        kept.of.has_heap_of(&self.subject())
    }

    /// Stops the trial; what was found stays.
    pub(in crate::window) fn stop_trial(&mut self) {
        self.jobs.trials.call_off();
        for shown in self.trials_shown() {
            shown.running = false;
        }
        self.shown.ahead.retain(TrialShown::is_whole);
    }

    fn trials_shown(&mut self) -> impl Iterator<Item = &mut TrialShown> {
        self.shown.trial.iter_mut().chain(&mut self.shown.ahead)
    }

    /// Begins a trial; the one under way is called off.
    fn begin(&mut self, trial: &Trial, ctx: &egui::Context) -> TrialShown {
        self.stop_trial();
        let mut shown = TrialShown::begun(&trial.id, Key::of(&self.subject()));
        let at_hand = TrialCase::of(&self.project.mix, &self.project.heap);
        match trial.inputs(&at_hand, &self.stock.all) {
            Ok(cases) => {
                let waking = ctx.clone();
                let wake = move || waking.request_repaint();
                if let Err(problem) = self.jobs.trials.start(cases, Curve::of, wake) {
                    shown.fail(no_thread(&problem));
                }
            }
            Err(problem) => shown.fail(problem.to_string()),
        }
        shown
    }

    /// Runs what the class looks at, then what comes next, before anyone asks.
    pub(in crate::window) fn run_trials_ahead(&mut self, ctx: &egui::Context) {
        let class = &self.state.class;
        if self.state.view != View::Class || !class.runs_ahead() || self.jobs.trials.is_running() {
            return;
        }
        let books = &self.shelf.books;
        let wanted = [class.trial(books), class.next_trial(books)];
        let has = |trial: &Trial| {
            let mut kept = self.shown.trial.iter().chain(&self.shown.ahead);
            kept.any(|kept| kept.trial == trial.id && self.is_fresh(kept))
        };
        let missing = wanted.into_iter().flatten();
        let Some(trial) = missing
            .filter(|trial| trial.can_be_run())
            .find(|trial| !has(trial))
            .cloned()
        else {
            return;
        };
        let begun = self.begin(&trial, ctx);
        let mut ahead = std::mem::take(&mut self.shown.ahead);
        ahead.retain(|kept| kept.trial != trial.id && self.is_fresh(kept));
        ahead.truncate(KEPT_AHEAD - 1);
        ahead.insert(0, begun);
        self.shown.ahead = ahead;
    }

    /// Takes what the trial under way has found since the last frame.
    pub(in crate::window) fn take_trial_news(&mut self) {
        for told in self.jobs.trials.poll() {
            if let Some(shown) = self.trials_shown().find(|shown| shown.running) {
                shown.take(told);
            }
        }
    }

    /// Chooses what a class works with.
    pub(in crate::window) fn choose_mode(&mut self, mode: Mode) {
        let class = &mut self.state.class;
        class.mode = mode;
        if mode == Mode::Lessons {
            let first = class.stop(&self.shelf.books).map(|stop| stop.guess_first);
            class.guess.first = first.unwrap_or(class.guess.first);
        }
        class.guess.ask(0.0);
    }

    /// Begins a lesson at its first stop.
    pub(in crate::window) fn begin_lesson(&mut self, place: usize) {
        self.state.class.lesson = (place, 0);
        self.choose_mode(Mode::Lessons);
    }
}
