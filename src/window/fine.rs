//! The settled projection: once nothing changes any more, the heap is simulated finely in the background,
//! and then as an ensemble whose band grows smoother as members arrive.
//!
//! In: the sums that were last reckoned with. Out: answers for the same revision; work that is out of date
//! is called off.
//!
//! Not here: the coarse run of the same frame (`state`).
//!
//! Held against: `tests/window/heap.rs`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use crate::forecast::{Band, Forecast, Question};
use crate::heap::{Addition, Heap, Projection, Settings, simulate};
use crate::mix::Totals;

/// Time that everything must have rested before a fine run starts, s.
const REST_S: f64 = 0.3;

/// Members of the ensemble, and after how many the band is drawn anew.
const MEMBERS: (usize, usize) = (200, 20);
/// Shifts the ensemble's draws; the same every time, so that a projection does not flicker.
const SEED: u64 = 1;

/// What the background has found.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// The fine projection.
    Fine(Box<Projection>),
    /// The band of the members so far.
    Band(Band),
}

/// Everything a run needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Inputs {
    /// Sums of the mix.
    pub totals: Totals,
    /// Sums of what the plan adds.
    pub additions: Vec<Addition>,
    /// The heap.
    pub heap: Heap,
}

/// The fine run of one revision at a time.
#[derive(Debug, Default)]
pub struct FineRuns {
    running: Option<Running>,
    seen: u64,
    seen_at_s: f64,
    done: u64,
}

#[derive(Debug)]
struct Running {
    revision: u64,
    stop: Arc<AtomicBool>,
    answer: Receiver<Answer>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl FineRuns {
    /// Once a frame: calls off what is out of date, takes an answer, starts a run when all has rested.
    ///
    /// `held` is whether the pointer is down; `wake` is called when an answer is there.
    pub fn tend(
        &mut self,
        (revision, now_s, held): (u64, f64, bool),
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Answer> {
        if self.seen != revision {
            (self.seen, self.seen_at_s) = (revision, now_s);
        }
        if self
            .running
            .as_ref()
            .is_some_and(|running| running.revision != revision)
        {
            self.running = None;
        }
        if let Some(running) = &self.running {
            match running.answer.try_recv() {
                Ok(answer) => return Some(answer),
                Err(TryRecvError::Empty) => {}
                Err(TryRecvError::Disconnected) => {
                    self.running = None;
                    self.done = revision;
                }
            }
        } else if self.done != revision && !held && now_s - self.seen_at_s >= REST_S {
            match inputs {
                Some(inputs) => self.start(revision, Arc::clone(inputs), wake),
                None => self.done = revision,
            }
        }
        None
    }

    /// Whether a further frame is needed soon to start a run, s from now.
    pub fn wants_frame_in(&self) -> Option<f64> {
        (self.running.is_none() && self.done != self.seen).then_some(REST_S)
    }

    fn start(&mut self, revision: u64, inputs: Arc<Inputs>, wake: impl Fn() + Send + 'static) {
        let (sender, answer) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let run = move || {
            // Nobody waits for an answer any more when the window has moved on.
            let tell = |answer| {
                if sender.send(answer).is_ok() {
                    wake();
                }
            };
            answers(&inputs, &stopped, tell);
        };
        match std::thread::Builder::new()
            .name("fine projection".to_owned())
            .spawn(run)
        {
            Ok(_) => {
                self.running = Some(Running {
                    revision,
                    stop,
                    answer,
                })
            }
            // No thread to be had: the coarse projection stays.
            Err(_) => self.done = revision,
        }
    }
}

/// The fine projection first, then the bands of a growing ensemble.
fn answers(inputs: &Inputs, stop: &AtomicBool, tell: impl Fn(Answer)) {
    let Inputs {
        totals,
        additions,
        heap,
    } = inputs;
    let Some(projection) = simulate(totals, additions, heap, &Settings::fine(), stop) else {
        return;
    };
    if stop.load(Ordering::Relaxed) {
        return;
    }
    tell(Answer::Fine(Box::new(projection)));
    let (count, every) = MEMBERS;
    let question = Question {
        totals,
        additions,
        heap,
        count,
        seed: SEED,
    };
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    Forecast::of(&question, threads, stop, every, |so_far| {
        if let Some(band) = so_far.centre_band() {
            tell(Answer::Band(band));
        }
    });
}
