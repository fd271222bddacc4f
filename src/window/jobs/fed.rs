//! Fed as planned against built at once, simulated in the background while the Heap view is shown.
//!
//! In: what a projection needs. Out: how both ways went, once it is there.
//!
//! Not here: what is compared (`outcome::fed`), drawing (`heap::fed_rows`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use std::sync::Arc;

use crate::forecast::Inputs;
use crate::heap::{Resolution, simulate};
use crate::outcome::fed::{FedOrSaved, fed_or_saved};
use crate::text::error::no_thread;

use crate::window::jobs::job::{Job, Told};

/// A comparison under way, and what it is of.
#[derive(Debug, Default)]
pub struct FedRuns {
    of: Option<Arc<Inputs>>,
    job: Option<Job<Option<FedOrSaved>>>,
}

impl FedRuns {
    /// Starts a comparison where there is none of these inputs; gives the answer when it is there, or a sentence on why
    /// there is none.
    pub fn tend(
        &mut self,
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Option<Result<Option<FedOrSaved>, String>> {
        let same = match (&self.of, inputs) {
            (Some(of), Some(newest)) => Arc::ptr_eq(of, newest),
            (None, None) => true,
            _ => false,
        };
        if !same {
            self.of = inputs.cloned();
            self.job = None;
            if let Some(inputs) = inputs.cloned() {
                let started = Job::start("fed or saved up", wake, move |teller| {
                    let stop = teller.stop();
                    let coarse = Resolution::coarse();
                    let found = fed_or_saved(
                        &inputs.totals,
                        &inputs.additions,
                        &inputs.heap,
                        |totals, additions, heap| simulate(totals, additions, heap, &coarse, stop),
                    );
                    teller.tell(found);
                });
                match started {
                    Ok(job) => self.job = Some(job),
                    Err(problem) => return Some(Err(no_thread(&problem))),
                }
            }
        }
        let first = self.job.as_mut()?.poll().into_iter().next()?;
        self.job = None;
        match first {
            Told::News(found) => Some(Ok(found)),
            Told::Done => None,
            Told::Broken(cause) => Some(Err(cause)),
        }
    }
}
