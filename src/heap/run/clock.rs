//! The clock of a run: which steps are taken, and when operations fall due.
//!
//! In: sums of mixes, a heap, kinetics, a resolution. Out: a [`Projection`].
//!
//! This file alone advances time.
//!
//! Not here: how a step is worked out (`attempt`) and taken (`take`).
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/single_cell.rs`, `tests/science/heap_cases.rs`,
//! `tests/science/heap_convergence.rs`, `tests/science/absurd_heaps.rs`.

use std::sync::atomic::{AtomicBool, Ordering};

use crate::heap::body::Body;
use crate::heap::design::Heap;
use crate::heap::event;
use crate::heap::plan::Addition;
use crate::heap::projection::{Ended, Projection};
use crate::heap::record::Recorder;
use crate::heap::resolution::Resolution;
use crate::heap::rot::Kinetics;
use crate::mix::Totals;
use crate::quantity::bounds;

use super::attempt::Attempt;
use super::parts::{REDONE_BEYOND, Run, SECONDS_PER_DAY};

/// Shortest step, s; a run that needs less is stopped.
const SHORTEST_S: f64 = 1.0;
/// Steps no longer than this are taken whatever the change, s (tuned against thin layers: they take the weather's
/// temperature at once, and the implicit solve bears it).
const BRISK_S: f64 = 60.0;
/// Length of a step that is tried again, as a share of the one refused (tuned, reason not recorded).
const SHORTENED_TO: f64 = 0.4;
/// Least and greatest ratio of one step to the one before (tuned, reason not recorded).
const GROWTH: (f64, f64) = (0.3, 1.5);
/// Two moments nearer than this are the same, d.
const SAME_MOMENT_DAYS: f64 = 1e-9;

/// How a run is done: how finely, and what calls it off.
#[derive(Debug, Clone, Copy)]
pub struct RunControl<'a> {
    /// How finely.
    pub resolution: &'a Resolution,
    /// Calls the run off from another thread when it turns true.
    pub stop: &'a AtomicBool,
}

/// Simulates a heap of this mix; `None` if there is nothing to rot (no dry matter, or a volume
/// outside [`bounds::HEAP_VOLUME`]).
///
/// `heap` must have passed [`Heap::check`]; the result is then finite. `additions` hold the sums of what
/// the plan adds. `stop` calls the run off from another thread.
pub fn simulate(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    resolution: &Resolution,
    stop: &AtomicBool,
) -> Option<Projection> {
    let control = RunControl { resolution, stop };
    simulate_with(totals, additions, heap, &Kinetics::default(), control)
}

/// The same with other kinetics.
pub fn simulate_with(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    control: RunControl<'_>,
) -> Option<Projection> {
    let all = heap.plan.whole(totals, additions);
    bounds::HEAP_VOLUME.check(totals.volume_m3()).ok()?;
    bounds::HEAP_VOLUME.check(all.volume_m3()).ok()?;
    (totals.dry_kg > 0.0).then(|| simulate_on_grid(totals, additions, heap, kinetics, control))
}

/// The same without looking at the volumes first; `totals` must hold dry matter.
pub fn simulate_on_grid(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    control: RunControl<'_>,
) -> Projection {
    let resolution = control.resolution;
    let mut body = Body::new(totals, additions, heap, kinetics, resolution.cells);
    body.book_start();
    let mut recorder = Recorder::new(&body, resolution);
    let mut run = Run::new(body, resolution);
    let course = run.go(additions, &mut recorder, control.stop);
    run.body.book_end();
    recorder.finish(&run.body, course.ended, course.steps)
}

/// How a run went.
struct Course {
    ended: Ended,
    steps: usize,
}

impl Run<'_> {
    fn go(&mut self, later: &[Addition], recorder: &mut Recorder, stop: &AtomicBool) -> Course {
        let heap = self.body.heap;
        let operations = heap.plan.in_order();
        let (mut next, mut steps) = (0, 0);
        self.refresh();
        recorder.take(&self.body);
        let ended = loop {
            while next < operations.len()
                && operations[next].day <= self.body.day + SAME_MOMENT_DAYS
            {
                let due = operations[next];
                let addition = later
                    .iter()
                    .find(|(of, _)| *of == due.entry)
                    .map(|(_, totals)| totals);
                let cells = event::carry_out(&mut self.body, due.operation, addition);
                self.begin_afresh(cells);
                self.refresh();
                recorder.after_operation(&self.body, due.operation);
                next += 1;
            }
            let day = self.body.day;
            if day >= heap.days - SAME_MOMENT_DAYS {
                break Ended::Finished;
            }
            if stop.load(Ordering::Relaxed) {
                break Ended::Cancelled { day };
            }
            let goal = operations
                .get(next)
                .map_or(heap.days, |due| due.day.min(heap.days));
            match self.step_toward(goal) {
                Advance::Taken => steps += 1,
                Advance::NoneShortEnough => break Ended::Stopped { day },
            }
            recorder.take(&self.body);
        };
        Course { ended, steps }
    }

    /// Takes one step, at most to day `goal`.
    fn step_toward(&mut self, goal: f64) -> Advance {
        if self.body.day >= self.next_refresh {
            self.refresh();
        }
        let longest = self.longest_step_s();
        let left = (goal - self.body.day) * SECONDS_PER_DAY;
        self.look_up();
        let bearable = self.advection_limit_s().max(BRISK_S);
        loop {
            let wanted = self.step_s.min(longest);
            let dt = even_step(wanted, left).min(bearable).min(left);
            let attempt = self.attempt(dt);
            if self.refuses(&attempt, dt) {
                self.put_oxygen_back();
                self.step_s = SHORTENED_TO * dt;
                if self.step_s < SHORTEST_S {
                    return Advance::NoneShortEnough;
                }
                continue;
            }
            self.take(dt);
            let tolerance = self.resolution.change_k;
            let factor = (tolerance / attempt.largest_change_k.max(1e-3)).clamp(GROWTH.0, GROWTH.1);
            self.step_s = (dt * factor).max(BRISK_S);
            self.body.day = if dt >= left {
                goal
            } else {
                self.body.day + dt / SECONDS_PER_DAY
            };
            return Advance::Taken;
        }
    }

    /// Whether a step of `dt` seconds is to be tried again with a shorter one.
    fn refuses(&self, attempt: &Attempt, dt: f64) -> bool {
        let jumps = attempt.largest_change_k > REDONE_BEYOND * self.resolution.change_k;
        !attempt.sound || (jumps && dt > BRISK_S)
    }
}

/// How trying to advance went.
enum Advance {
    /// A step was taken.
    Taken,
    /// No step was short enough.
    NoneShortEnough,
}

/// The next step toward a goal `left` seconds away: two even steps rather than a long and a tiny one.
fn even_step(wanted: f64, left: f64) -> f64 {
    if wanted >= left {
        left
    } else if 2.0 * wanted > left {
        0.5 * left
    } else {
        wanted
    }
}
