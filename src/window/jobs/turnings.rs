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
use crate::outcome::turns::{Planned, Timetable, TurnRow, further_turnings};
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
    pub count: fn(&Inputs, Option<f64>, &AtomicBool) -> Counted,
    of: Option<(Arc<Inputs>, Option<f64>)>,
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
    /// there are none. With the inputs comes the first day that is still open; `None`: the heap does not stand yet.
    pub fn tend(
        &mut self,
        inputs: Option<(&Arc<Inputs>, Option<f64>)>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Option<Result<Vec<TurnRow>, String>> {
        let same = match (&self.of, inputs) {
            (Some((of, from)), Some((newest, from_day))) => {
                Arc::ptr_eq(of, newest) && *from == from_day
            }
            (None, None) => true,
            _ => false,
        };
        if !same {
            self.of = inputs.map(|(inputs, from_day)| (Arc::clone(inputs), from_day));
            self.job = None;
            if let Some((inputs, from_day)) = inputs
                && let Err(problem) = self.start((Arc::clone(inputs), from_day), wake)
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
        (inputs, from_day): (Arc<Inputs>, Option<f64>),
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let count = self.count;
        self.job = Some(Job::start("turnings", wake, move |teller| {
            teller.tell(count(&inputs, from_day, teller.stop()));
        })?);
        Ok(())
    }
}

fn counted(inputs: &Inputs, from_day: Option<f64>, stop: &AtomicBool) -> Counted {
    let facts = shared()?;
    let Some(class) = facts.kill.plants().find(|class| class.id == SEEDS) else {
        return Ok(Vec::new());
    };
    let timetable = Timetable {
        first_day: from_day.map_or(TIMETABLE.first_day, |from| from.max(TIMETABLE.first_day)),
        ..TIMETABLE
    };
    Ok(further_turnings(
        Planned {
            heap: &inputs.heap,
            additions: &inputs.additions,
            from_day,
        },
        &timetable,
        |parcels| class.share(parcels, facts.kill.moisture_floor),
        |heap: &Heap, additions: &[(usize, Totals)]| {
            simulate(&inputs.totals, additions, heap, &Resolution::coarse(), stop)
        },
    ))
}
