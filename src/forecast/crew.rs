//! Many runs on the threads there are, gathered in their order.
//!
//! In: how one run is made, by its number, and what gathers them. Out: the typical run (number 0) and the gatherer.
//! The order in which threads are done does not matter: a run waits until all before it are there.
//!
//! Not here: what a run is (`ensemble`, `pairs`).
//!
//! Tested by: `tests/science/forecast_band.rs`, `tests/science/trials.rs`.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// Runs that are told of first; then twice as many each time.
const FIRST_TOLD: usize = 8;

/// How a run went.
pub(super) enum Run<T> {
    /// To its last day.
    Whole(T),
    /// Until it left what the model covers.
    Short(T),
    /// There was nothing to rot.
    Nothing,
    /// It was called off.
    CalledOff,
}

/// What takes runs in their order.
pub(super) trait Gather<T> {
    /// Takes the next run; `None` for one that is left out.
    fn take(&mut self, run: Option<&T>);
    /// Tells of the runs so far.
    fn tell(&mut self, typical: &T);
}

/// Makes `count` runs beside the typical one on the threads of the present rayon pool; the typical one
/// and the gatherer, or `None` if there is nothing to rot or it was called off before the typical was done.
///
/// The gatherer tells of 8, 16, 32 and so on and of the last, from any thread, one call at a time.
pub(super) fn run_all<T: Send, G: Gather<T> + Send>(
    count: usize,
    stop: &AtomicBool,
    one: impl Fn(u32) -> Run<T> + Sync,
    gather: G,
) -> Option<(T, G)> {
    let desk = Mutex::new(Desk {
        wanted: count,
        count: 0,
        typical: None,
        nothing: false,
        waiting: BTreeMap::new(),
        gather,
    });
    let next = AtomicUsize::new(0);
    rayon::broadcast(|_| {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            if number > count || stop.load(Ordering::Relaxed) {
                return;
            }
            // `count` is far below 2^32.
            let run = one(number as u32);
            let mut desk = desk.lock().unwrap_or_else(PoisonError::into_inner);
            if matches!(run, Run::CalledOff) || desk.nothing {
                return;
            }
            desk.take(number, run);
        }
    });
    let desk = desk.into_inner().unwrap_or_else(PoisonError::into_inner);
    Some((desk.typical?, desk.gather))
}

/// Where threads hand in what they ran.
struct Desk<T, G> {
    wanted: usize,
    /// Runs taken in their order.
    count: usize,
    typical: Option<T>,
    /// Even the typical run could not be made.
    nothing: bool,
    /// Handed in before their turn.
    waiting: BTreeMap<usize, Option<T>>,
    gather: G,
}

impl<T, G: Gather<T>> Desk<T, G> {
    fn take(&mut self, number: usize, run: Run<T>) {
        match (number, run) {
            // However far the typical run came, it is what the others lie about.
            (0, Run::Whole(run) | Run::Short(run)) => self.typical = Some(run),
            (0, Run::Nothing | Run::CalledOff) => self.nothing = true,
            (_, Run::Whole(run)) => _ = self.waiting.insert(number, Some(run)),
            (_, _) => _ = self.waiting.insert(number, None),
        }
        let Some(typical) = &self.typical else { return };
        while let Some(run) = self.waiting.remove(&(self.count + 1)) {
            self.gather.take(run.as_ref());
            self.count += 1;
            let told = self.count >= FIRST_TOLD && self.count.is_power_of_two();
            if told || self.count == self.wanted {
                self.gather.tell(typical);
            }
        }
    }
}
