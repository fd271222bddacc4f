//! The trial last run: what came of it so far, and the recipe it belongs to.
//!
//! In: news of the trial's job. Out: [`TrialShown`].
//!
//! Not here: running it (`jobs::trial`), drawing it (`class::trial`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use std::sync::Arc;

use crate::assess::Key;
use crate::forecast::Comparison;

use crate::window::jobs::job::Told;
use crate::window::jobs::trial::{SideBySide, TrialNews};
use crate::window::piles::curve::Curve;

/// A trial that is being or has been run.
#[derive(Debug, Clone)]
pub struct TrialShown {
    /// Its id.
    pub trial: String,
    /// The recipe that was at hand when it was begun.
    pub of: Key,
    /// Both typical heaps.
    pub heaps: Option<Arc<SideBySide>>,
    /// Their curves, with the bands there are.
    pub curves: Option<Arc<[Curve; 2]>>,
    /// The pairs so far.
    pub comparison: Option<Arc<Comparison>>,
    /// Whether it still runs.
    pub running: bool,
    /// Whether nothing more comes of it, found or failed.
    pub whole: bool,
    /// Why there is no answer.
    pub problem: Option<String>,
}

impl TrialShown {
    /// A trial that has just begun.
    pub fn begun(trial: &str, of: Key) -> Self {
        Self {
            trial: trial.to_owned(),
            of,
            heaps: None,
            curves: None,
            comparison: None,
            running: true,
            whole: false,
            problem: None,
        }
    }

    /// Whether it was run to its end.
    pub fn is_whole(&self) -> bool {
        !self.running && self.whole
    }

    /// Ends it without an answer.
    pub fn fail(&mut self, problem: String) {
        (self.running, self.whole) = (false, true);
        self.problem = Some(problem);
    }

    /// Takes what the job has told.
    pub fn take(&mut self, told: Told<TrialNews<Curve>>) {
        match told {
            Told::News(TrialNews::Heaps(heaps, curves)) => {
                (self.heaps, self.curves) = (Some(heaps), Some(curves));
            }
            Told::News(TrialNews::Pairs(pairs)) => {
                if let Some(curves) = &mut self.curves {
                    let [first, second] = Arc::make_mut(curves);
                    first.take_forecast(&pairs.first);
                    second.take_forecast(&pairs.second);
                }
                self.comparison = Some(pairs);
            }
            Told::Done if self.comparison.is_none() => self.fail(
                "one of the two heaps has nothing that rots, or too much; change the mix"
                    .to_owned(),
            ),
            Told::Done => (self.running, self.whole) = (false, true),
            Told::Broken(cause) => self.fail(format!(
                "the trial failed ({cause}); nothing is lost, change the mix or the heap to try again"
            )),
        }
    }
}
