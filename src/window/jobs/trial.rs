//! A trial behind the window: both typical heaps first, then more and more pairs.
//!
//! In: what both heaps need, and how a heap is made ready to be drawn. Out: news, as they come. A new trial calls off
//! the one before.
//!
//! Not here: the pairs themselves (`forecast::Pairs`), what is made of the news (`piles::trial_shown`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use std::sync::Arc;

use crate::forecast::{Comparison, Inputs, Pairs};
use crate::heap::{Heap, Projection, Resolution};

use crate::window::jobs::job::{Job, Teller, Told};

/// What a trial has found; `C` is what is drawn of a heap.
#[derive(Debug, Clone)]
pub enum TrialNews<C> {
    /// Both typical heaps, and what is drawn of them.
    Heaps(Arc<SideBySide>, Arc<[C; 2]>),
    /// The pairs so far.
    Pairs(Arc<Comparison>),
}

/// Two typical heaps on the same days.
#[derive(Debug, Clone)]
pub struct SideBySide {
    /// Without the change and with it.
    pub heaps: [Projection; 2],
    /// Day of the year the first is built.
    pub start_day_of_year: f64,
    /// Days projected.
    pub days: f64,
}

/// The trial at work.
#[derive(Debug)]
pub struct TrialRuns<C> {
    job: Option<Job<TrialNews<C>>>,
}

impl<C> Default for TrialRuns<C> {
    fn default() -> Self {
        Self { job: None }
    }
}

impl<C: Send + Sync + 'static> TrialRuns<C> {
    /// Starts a trial; `drawn` makes a heap ready to be drawn, `wake` is called when news are there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(
        &mut self,
        cases: (Inputs, Inputs),
        drawn: fn(&Projection, &Heap) -> C,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        self.job = Some(Job::start("trial", wake, move |teller| {
            carry_out(&cases, drawn, teller);
        })?);
        Ok(())
    }

    /// Calls it off; what was found stays.
    pub fn call_off(&mut self) {
        self.job = None;
    }

    /// Whether a trial is under way.
    pub fn is_running(&self) -> bool {
        self.job.as_ref().is_some_and(Job::is_running)
    }

    /// What was told since the last call. Never waits.
    pub fn poll(&mut self) -> Vec<Told<TrialNews<C>>> {
        self.job.as_mut().map(Job::poll).unwrap_or_default()
    }
}

fn carry_out<C: Send + Sync>(
    cases: &(Inputs, Inputs),
    drawn: fn(&Projection, &Heap) -> C,
    teller: &Teller<TrialNews<C>>,
) {
    let typical = |inputs: &Inputs| inputs.simulate(&Resolution::coarse(), teller.stop());
    if let (Some(first), Some(second)) = (typical(&cases.0), typical(&cases.1)) {
        let curves = [drawn(&first, &cases.0.heap), drawn(&second, &cases.1.heap)];
        let heaps = SideBySide {
            heaps: [first, second],
            start_day_of_year: cases.0.heap.start_day_of_year,
            days: cases.0.heap.days.min(cases.1.heap.days),
        };
        teller.tell(TrialNews::Heaps(Arc::new(heaps), Arc::new(curves)));
    }
    let progress = |pairs: &Comparison| teller.tell(TrialNews::Pairs(Arc::new(pairs.clone())));
    if let Some(all) = Pairs::default().run((&cases.0, &cases.1), teller.stop(), progress) {
        teller.tell(TrialNews::Pairs(Arc::new(all)));
    }
}
