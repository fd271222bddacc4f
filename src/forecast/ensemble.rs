//! The ensemble: members run on all threads, taken in order.
//!
//! In: [`Inputs`], how many members, a seed. Out: a [`Forecast`], told of as it grows.
//!
//! Threads take the next member of the sequence as soon as they are free; what they bring is taken in the
//! order of the sequence, so that a forecast of the first so many members is the same whoever ran
//! them. A thread is idle only at the very end.
//!
//! Not here: the threads (`crew`), who waits for it (`worker`).
//!
//! Tested by: `tests/science/forecast_band.rs`.

use std::sync::atomic::AtomicBool;

use crate::heap::{
    Addition, Ended, Heap, Kinetics, Projection, Resolution, RunControl, simulate_with,
};
use crate::mix::Totals;
use crate::outcome::{Brief, shared};

use super::band::{Forecast, Gathered, Member, grid_days_of};
use super::crew::{Gather, Run, run_all};
use super::draw::{Draws, WIDTHS, Widths};
use super::{Inputs, MEMBERS};

/// Most members of an ensemble.
const MOST_MEMBERS: usize = 100_000;

/// What simulates one heap; [`simulate_with`] unless a test says otherwise.
pub type Simulator =
    fn(&Totals, &[Addition], &Heap, &Kinetics, RunControl<'_>) -> Option<Projection>;

/// How an ensemble is made.
#[derive(Debug, Clone, Copy)]
pub struct Ensemble {
    /// Members beside the typical one, at most 100 000. Default
    /// [`MEMBERS`].
    pub count: usize,
    /// Shifts all draws. Default 1; the same every time, so that a projection does not flicker.
    pub seed: u64,
    /// How uncertain each input is. Default [`WIDTHS`].
    pub widths: Widths,
    /// How finely a member is simulated. Default [`Resolution::member`].
    pub resolution: Resolution,
    /// What simulates. Default [`simulate_with`].
    pub simulator: Simulator,
}

impl Default for Ensemble {
    fn default() -> Self {
        Self {
            count: MEMBERS,
            seed: 1,
            widths: WIDTHS,
            resolution: Resolution::member(),
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
        let days = grid_days_of(&[&inputs.heap]);
        let bands = Bands {
            wanted: count,
            gathered: Gathered::new(days.clone(), count),
            on_progress,
        };
        let one = |number| self.run_one(&draws.member(number), &days, stop);
        let (typical, bands) = run_all(count, stop, one, bands)?;
        Some(bands.gathered.forecast(&typical, count))
    }

    fn run_one(&self, inputs: &Inputs, days: &[f64], stop: &AtomicBool) -> Run<Box<Member>> {
        let projection = (self.simulator)(
            &inputs.totals,
            &inputs.additions,
            &inputs.heap,
            &inputs.kinetics,
            RunControl {
                resolution: &self.resolution,
                stop,
            },
        );
        let Some(projection) = projection else {
            return Run::Nothing;
        };
        let mut member = Box::new(Member::of(&projection, days));
        // A damaged table is told of where the heap itself is judged.
        if let Ok(facts) = shared() {
            member.brief = Brief::of(&projection, facts, &inputs.heap, &inputs.kinetics);
        }
        match projection.ended {
            Ended::Finished => Run::Whole(member),
            Ended::Stopped { .. } => Run::Short(member),
            Ended::Cancelled { .. } => Run::CalledOff,
        }
    }
}

/// Members gathered into bands.
struct Bands<F> {
    wanted: usize,
    gathered: Gathered,
    on_progress: F,
}

impl<F: FnMut(&Forecast)> Gather<Box<Member>> for Bands<F> {
    fn take(&mut self, member: Option<&Box<Member>>) {
        self.gathered.take(member.map(AsRef::as_ref));
    }

    fn tell(&mut self, typical: &Box<Member>) {
        (self.on_progress)(&self.gathered.forecast(typical, self.wanted));
    }
}
