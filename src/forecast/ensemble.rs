//! The ensemble: members run on all threads, taken in order.
//!
//! In: [`Inputs`], how many members, a seed. Out: a [`Forecast`], told of as it grows.
//!
//! Threads take the next member of the sequence as soon as they are free; what they bring is taken in the
//! order of the sequence, so that a forecast of the first so many members is the same whoever ran
//! them. A thread is idle only at the very end.
//!
//! Not here: who waits for it (`worker`).
//!
//! Held against: `tests/science/forecast_band.rs`.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

use crate::heap::{Addition, Ended, Heap, Kinetics, Projection, Settings, simulate_with};
use crate::mix::Totals;
use crate::outcome::{Brief, shared};

use super::Inputs;
use super::band::{Forecast, Gathered, Member, grid_days};
use super::draw::{Draws, WIDTHS, Widths};

/// Members of the first forecast that is told of; after that at every doubling, and at the end.
const FIRST_TOLD: usize = 8;
/// Most members of an ensemble.
const MOST_MEMBERS: usize = 100_000;

/// What simulates one heap; [`simulate_with`] unless a test says otherwise.
pub type Simulator =
    fn(&Totals, &[Addition], &Heap, &Kinetics, (&Settings, &AtomicBool)) -> Option<Projection>;

/// How an ensemble is made.
#[derive(Debug, Clone, Copy)]
pub struct Ensemble {
    /// Members beside the typical one, at most 100 000. Default 200: quantiles of the peak are then
    /// within a degree or two.
    pub count: usize,
    /// Shifts all draws. Default 1; the same every time, so that a projection does not flicker.
    pub seed: u64,
    /// How uncertain each input is. Default [`WIDTHS`].
    pub widths: Widths,
    /// How finely a member is simulated. Default [`Settings::member`].
    pub settings: Settings,
    /// What simulates. Default [`simulate_with`].
    pub simulator: Simulator,
}

impl Default for Ensemble {
    fn default() -> Self {
        Self {
            count: 200,
            seed: 1,
            widths: WIDTHS,
            settings: Settings::member(),
            simulator: simulate_with,
        }
    }
}

/// Runs an ensemble of this many members; see [`Ensemble::run`].
pub fn ensemble(
    inputs: &Inputs,
    count: usize,
    seed: u64,
    stop: &AtomicBool,
    on_progress: impl FnMut(&Forecast) + Send,
) -> Option<Forecast> {
    let ensemble = Ensemble {
        count,
        seed,
        ..Ensemble::default()
    };
    ensemble.run(inputs, stop, on_progress)
}

/// How the run of a member went.
enum Run {
    /// To its last day.
    Whole(Box<Member>),
    /// Until it left what the model covers.
    Short(Box<Member>),
    /// There was nothing to rot.
    Nothing,
    /// It was called off.
    CalledOff,
}

impl Ensemble {
    /// Runs all members on the threads of the present rayon pool; `None` if there is nothing to rot or
    /// it was called off before the typical member was done.
    ///
    /// `on_progress` hears of 8, 16, 32 and so on members and of the last, from any thread, one call at a
    /// time. `stop` calls it off; the forecast then has fewer members than were asked for.
    pub fn run(
        &self,
        inputs: &Inputs,
        stop: &AtomicBool,
        on_progress: impl FnMut(&Forecast) + Send,
    ) -> Option<Forecast> {
        let count = self.count.min(MOST_MEMBERS);
        let draws = Draws::new(inputs, &self.widths, self.seed);
        let days = grid_days(inputs.heap.days);
        let desk = Mutex::new(Desk {
            wanted: count,
            typical: None,
            nothing: false,
            waiting: BTreeMap::new(),
            gathered: Gathered::new(days.clone(), count),
            on_progress,
        });
        let next = AtomicUsize::new(0);
        rayon::broadcast(|_| {
            loop {
                let number = next.fetch_add(1, Ordering::Relaxed);
                if number > count || stop.load(Ordering::Relaxed) {
                    return;
                }
                // `count` is far below 2^32.
                let run = self.run_one(&draws.member(number as u32), &days, stop);
                let mut desk = desk.lock().unwrap_or_else(PoisonError::into_inner);
                if matches!(run, Run::CalledOff) || desk.nothing {
                    return;
                }
                desk.take(number, run);
            }
        });
        let desk = desk.into_inner().unwrap_or_else(PoisonError::into_inner);
        let typical = desk.typical?;
        Some(desk.gathered.forecast(&typical, count))
    }

    fn run_one(&self, inputs: &Inputs, days: &[f64], stop: &AtomicBool) -> Run {
        let projection = (self.simulator)(
            &inputs.totals,
            &inputs.additions,
            &inputs.heap,
            &inputs.kinetics,
            (&self.settings, stop),
        );
        let Some(projection) = projection else {
            return Run::Nothing;
        };
        let mut member = Box::new(Member::of(&projection, days));
        if let Some(facts) = shared() {
            member.brief = Brief::of(&projection, facts, &inputs.heap, &inputs.kinetics);
        }
        match projection.ended {
            Ended::Finished => Run::Whole(member),
            Ended::Stopped { .. } => Run::Short(member),
            Ended::Cancelled { .. } => Run::CalledOff,
        }
    }
}

/// Where threads hand in what they ran.
struct Desk<F> {
    wanted: usize,
    typical: Option<Box<Member>>,
    /// Even the typical member could not be run.
    nothing: bool,
    /// Handed in before their turn.
    waiting: BTreeMap<usize, Option<Box<Member>>>,
    gathered: Gathered,
    on_progress: F,
}

impl<F: FnMut(&Forecast)> Desk<F> {
    fn take(&mut self, number: usize, run: Run) {
        match (number, run) {
            // However far the typical run came, it is what the bands lie about.
            (0, Run::Whole(member) | Run::Short(member)) => self.typical = Some(member),
            (0, Run::Nothing | Run::CalledOff) => self.nothing = true,
            (_, Run::Whole(member)) => _ = self.waiting.insert(number, Some(member)),
            (_, _) => _ = self.waiting.insert(number, None),
        }
        let Some(typical) = &self.typical else { return };
        while let Some(member) = self.waiting.remove(&(self.gathered.count() + 1)) {
            self.gathered.take(member.as_deref());
            let count = self.gathered.count();
            let told = count >= FIRST_TOLD && count.is_power_of_two();
            if told || count == self.wanted {
                (self.on_progress)(&self.gathered.forecast(typical, self.wanted));
            }
        }
    }
}
