//! What each further turning buys, counted in the background while the Results view is shown.
//!
//! In: what a projection needs. Out: one row for no turning, one, two and so on, once they are there.
//!
//! Turned as the plan's own button does it: mixed through every ten days, wetted to 55 %, on the coarse grid.
//! Not here: the counting (`outcome::turns`), drawing (`turn_table`).
//!
//! Tested by: `tests/window/results.rs`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, channel};

use crate::forecast::Inputs;
use crate::forecast::plan_search::SEEDS;
use crate::heap::{Heap, Resolution, Turning, simulate};
use crate::mix::Totals;
use crate::outcome::shared;
use crate::outcome::turns::{Timetable, TurnRow, further_turnings};

/// The turnings that are counted.
pub(in crate::window) const TIMETABLE: Timetable = Timetable {
    first_day: 10.0,
    every_days: 10.0,
    count: 4,
    waterings: 0,
    turning: Turning::Remix,
    wet_to: Some(0.55),
};

/// A count under way, and what it is of.
#[derive(Debug, Default)]
pub(in crate::window) struct TurnCount {
    of: Option<Arc<Inputs>>,
    answer: Option<Receiver<Vec<TurnRow>>>,
    stop: Arc<AtomicBool>,
}

impl TurnCount {
    /// Starts a count where there is none for these inputs; gives the rows when they are there.
    pub(in crate::window) fn tend(
        &mut self,
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Vec<TurnRow>> {
        let same = match (&self.of, inputs) {
            (Some(of), Some(now)) => Arc::ptr_eq(of, now),
            (None, None) => true,
            _ => false,
        };
        if !same {
            self.stop.store(true, Ordering::Relaxed);
            self.of = inputs.cloned();
            self.answer = inputs.and_then(|inputs| self.start(Arc::clone(inputs), wake));
        }
        let rows = self.answer.as_ref()?.try_recv().ok()?;
        self.answer = None;
        Some(rows)
    }

    /// Counts on a thread of its own; nothing where the system has none to give.
    fn start(
        &mut self,
        inputs: Arc<Inputs>,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Receiver<Vec<TurnRow>>> {
        let (sender, receiver) = channel();
        self.stop = Arc::default();
        let stop = Arc::clone(&self.stop);
        let count = move || {
            // Nobody listens any more when the receiver is gone; there is nothing to do about it.
            let _ = sender.send(counted(&inputs, &stop));
            wake();
        };
        let thread = std::thread::Builder::new().name("turnings".to_owned());
        thread.spawn(count).ok()?;
        Some(receiver)
    }
}

impl Drop for TurnCount {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

fn counted(inputs: &Inputs, stop: &AtomicBool) -> Vec<TurnRow> {
    let Some(facts) = shared() else {
        return Vec::new();
    };
    let Some(class) = facts.kill.plants().find(|class| class.id == SEEDS) else {
        return Vec::new();
    };
    further_turnings(
        (&inputs.heap, &inputs.additions),
        &TIMETABLE,
        |parcels| class.share(parcels, facts.kill.moisture_floor),
        |heap: &Heap, additions: &[(usize, Totals)]| {
            simulate(&inputs.totals, additions, heap, &Resolution::coarse(), stop)
        },
    )
}
