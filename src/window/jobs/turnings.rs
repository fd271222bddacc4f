//! What each further turning buys, counted in the background while the Results view is shown.
//!
//! In: what a projection needs. Out: one row for no turning, one, two and so on, once they are there.
//!
//! Turned as the plan's own button does it: mixed through every ten days, wetted to 55 %, on the coarse grid.
//! Not here: the counting (`outcome::turns`), drawing (`turn_table`).
//!
//! Tested by: `tests/window/jobs.rs`, `tests/window/results.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::forecast::Inputs;
use crate::forecast::plan_search::SEEDS;
use crate::heap::{Heap, Resolution, Turning, simulate};
use crate::mix::Totals;
use crate::outcome::turns::{Timetable, TurnRow, further_turnings};
use crate::outcome::{TableError, shared};
use crate::text::error::no_thread;

use crate::window::jobs::job::{Job, Told};

/// The turnings that are counted.
pub(in crate::window) const TIMETABLE: Timetable = Timetable {
    first_day: 10.0,
    every_days: 10.0,
    count: 4,
    waterings: 0,
    turning: Turning::Remix,
    wet_to: Some(0.55),
};

/// What a count ends with.
type Counted = Result<Vec<TurnRow>, TableError>;

/// A count under way, and what it is of.
#[derive(Debug)]
pub struct TurnCount {
    /// What counts: the simulator unless a test says otherwise.
    pub count: fn(&Inputs, &AtomicBool) -> Counted,
    of: Option<Arc<Inputs>>,
    job: Option<Job<Counted>>,
}

impl Default for TurnCount {
    fn default() -> Self {
        Self {
            count: counted,
            of: None,
            job: None,
        }
    }
}

impl TurnCount {
    /// Starts a count where there is none for these inputs; gives the rows when they are there, or a sentence on why
    /// there are none.
    pub fn tend(
        &mut self,
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Option<Result<Vec<TurnRow>, String>> {
        let same = match (&self.of, inputs) {
            (Some(of), Some(newest)) => Arc::ptr_eq(of, newest),
            (None, None) => true,
            _ => false,
        };
        if !same {
            self.of = inputs.cloned();
            self.job = None;
            if let Some(inputs) = inputs
                && let Err(problem) = self.start(Arc::clone(inputs), wake)
            {
                return Some(Err(no_thread(&problem)));
            }
        }
        let first = self.job.as_mut()?.poll().into_iter().next()?;
        self.job = None;
        match first {
            Told::News(rows) => Some(rows.map_err(|problem| problem.to_string())),
            Told::Done => None,
            Told::Broken(cause) => Some(Err(cause)),
        }
    }

    fn start(
        &mut self,
        inputs: Arc<Inputs>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let count = self.count;
        self.job = Some(Job::start("turnings", wake, move |teller| {
            teller.tell(count(&inputs, teller.stop()));
        })?);
        Ok(())
    }
}

fn counted(inputs: &Inputs, stop: &AtomicBool) -> Counted {
    let facts = shared()?;
    let Some(class) = facts.kill.plants().find(|class| class.id == SEEDS) else {
        return Ok(Vec::new());
    };
    Ok(further_turnings(
        (&inputs.heap, &inputs.additions),
        &TIMETABLE,
        |parcels| class.share(parcels, facts.kill.moisture_floor),
        |heap: &Heap, additions: &[(usize, Totals)]| {
            simulate(&inputs.totals, additions, heap, &Resolution::coarse(), stop)
        },
    ))
}
