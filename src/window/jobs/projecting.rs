//! The heap behind the window: a coarse projection as fast as the heap changes, and once all rests a fine one
//! and an ensemble whose band grows smoother as members arrive.
//!
//! In: the sums that were last calculated with. Out: answers, each with the inputs it belongs to.
//!
//! While something is dragged the coarse run at work is let finish, so that the picture always moves; then the
//! newest state is next. Fine work that is out of date is called off.
//!
//! Not here: the thread (`forecast::worker`), what is made of an answer (`piles::shown`).
//!
//! Tested by: `tests/window/heap_section.rs`.

use std::sync::Arc;

use crate::forecast::{Forecast, Inputs, News, Request, RunStages, Worker};
use crate::heap::Projection;

/// Time that everything must have rested before a fine run starts, s.
const REST_S: f64 = 0.3;

/// What the background has found.
#[derive(Debug, Clone)]
pub enum HeapNews {
    /// A projection, coarse or fine; none where there is nothing to rot.
    Projected(Option<Box<Projection>>, Arc<Inputs>),
    /// The members so far.
    Forecast(Arc<Forecast>),
    /// A run broke down; a sentence on it.
    Failed(String),
}

/// What the thread is at.
#[derive(Debug, Default)]
enum AtWork {
    #[default]
    Nothing,
    Coarse(Arc<Inputs>),
    Settled(Arc<Inputs>),
}

/// A frame, as the background sees it.
#[derive(Debug, Clone, Copy)]
pub struct FrameNow {
    /// Revision of the inputs.
    pub revision: u64,
    /// The window's clock, s.
    pub now_s: f64,
    /// Whether the pointer is down.
    pub held: bool,
    /// What is run once all rests.
    pub at_rest: RunStages,
}

/// Runs in the background, for one state of the heap at a time.
#[derive(Debug, Default)]
pub struct Background {
    worker: Option<Worker>,
    at: AtWork,
    seen: u64,
    seen_at_s: f64,
    coarse_due: bool,
    settled_due: bool,
}

impl Background {
    /// Once a frame: takes answers, calls off what is out of date, asks for the run that is due.
    ///
    /// `wake` is called when an answer is there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn tend(
        &mut self,
        frame: FrameNow,
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Vec<HeapNews>> {
        let answers = self.take_answers();
        if self.seen != frame.revision {
            (self.seen, self.seen_at_s) = (frame.revision, frame.now_s);
            let something = inputs.is_some();
            (self.coarse_due, self.settled_due) = (something, something);
            if !something || matches!(self.at, AtWork::Settled(_)) {
                self.call_off();
            }
        }
        if let Some(inputs) = inputs
            && !matches!(self.at, AtWork::Coarse(_))
        {
            if self.coarse_due {
                self.coarse_due = false;
                self.ask(inputs, RunStages::COARSE, wake)?;
                self.at = AtWork::Coarse(Arc::clone(inputs));
            } else if self.settled_due && self.rests(frame) {
                self.settled_due = false;
                self.ask(inputs, frame.at_rest, wake)?;
                self.at = AtWork::Settled(Arc::clone(inputs));
            }
        }
        Ok(answers)
    }

    /// Whether a further frame is needed soon to start a run, s from now.
    pub fn wants_frame_in(&self) -> Option<f64> {
        self.settled_due.then_some(REST_S)
    }

    /// Whether nothing has changed for a while and the coarse answer to the last change is there.
    pub fn rests(&self, frame: FrameNow) -> bool {
        self.seen == frame.revision
            && !self.coarse_due
            && !matches!(self.at, AtWork::Coarse(_))
            && !frame.held
            && frame.now_s - self.seen_at_s >= REST_S
    }

    fn call_off(&mut self) {
        self.at = AtWork::Nothing;
        if let Some(worker) = &mut self.worker {
            worker.call_off();
        }
    }

    fn ask(
        &mut self,
        inputs: &Arc<Inputs>,
        stages: RunStages,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let worker = match &mut self.worker {
            Some(worker) => worker,
            none => none.insert(Worker::new(wake)?),
        };
        worker.submit(Request {
            revision: self.seen,
            inputs: Arc::clone(inputs),
            stages,
        });
        Ok(())
    }

    fn take_answers(&mut self) -> Vec<HeapNews> {
        let messages = self.worker.as_mut().map(Worker::poll).unwrap_or_default();
        let mut answers = Vec::new();
        for message in messages {
            let (AtWork::Coarse(inputs) | AtWork::Settled(inputs)) = &self.at else {
                break;
            };
            let inputs = Arc::clone(inputs);
            if matches!(self.at, AtWork::Coarse(_)) {
                self.at = AtWork::Nothing;
            }
            answers.push(match message.news {
                News::Coarse(projection) | News::Fine(projection) => {
                    HeapNews::Projected(Some(projection), inputs)
                }
                News::Nothing => HeapNews::Projected(None, inputs),
                News::Forecast(forecast) => HeapNews::Forecast(Arc::from(forecast)),
                News::Failed(sentence) => HeapNews::Failed(sentence),
            });
        }
        answers
    }
}
