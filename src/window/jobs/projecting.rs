//! The heap behind the window: a coarse projection as fast as the heap changes, and once all rests a fine one
//! and an ensemble whose band grows smoother as members arrive.
//!
//! In: the sums that were last calculated with. Out: answers, each with the inputs it belongs to.
//!
//! While something is dragged the coarse run at work is let finish, so that the picture always moves; then the
//! newest state is next. Fine work that is out of date is called off.
//!
//! Not here: the thread (`forecast::worker`), what is made of an answer (`state`).
//!
//! Tested by: `tests/window/heap.rs`.

use std::sync::Arc;

use crate::forecast::{Forecast, Inputs, News, Request, Stages, Worker};
use crate::heap::Projection;

/// Time that everything must have rested before a fine run starts, s.
const REST_S: f64 = 0.3;

/// What the background has found.
#[derive(Debug, Clone)]
pub enum Answer {
    /// A projection, coarse or fine; none where there is nothing to rot.
    Projected(Option<Box<Projection>>, Arc<Inputs>),
    /// The members so far.
    Forecast(Arc<Forecast>),
    /// A run broke down; a sentence on it.
    Failed(String),
}

/// What the thread is at.
#[derive(Debug, Default)]
enum Work {
    #[default]
    Nothing,
    Coarse(Arc<Inputs>),
    Settled(Arc<Inputs>),
}

/// Runs in the background, for one state of the heap at a time.
#[derive(Debug, Default)]
pub struct Background {
    worker: Option<Worker>,
    at: Work,
    seen: u64,
    seen_at_s: f64,
    coarse_due: bool,
    settled_due: bool,
}

impl Background {
    /// Once a frame: takes answers, calls off what is out of date, asks for the run that is due.
    ///
    /// `held` is whether the pointer is down; `wake` is called when an answer is there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn tend(
        &mut self,
        (revision, now_s, held): (u64, f64, bool),
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Vec<Answer>> {
        let answers = self.take_answers();
        if self.seen != revision {
            (self.seen, self.seen_at_s) = (revision, now_s);
            let something = inputs.is_some();
            (self.coarse_due, self.settled_due) = (something, something);
            if !something || matches!(self.at, Work::Settled(_)) {
                self.call_off();
            }
        }
        if let Some(inputs) = inputs
            && !matches!(self.at, Work::Coarse(_))
        {
            if self.coarse_due {
                self.coarse_due = false;
                self.ask(inputs, Stages::COARSE, wake)?;
                self.at = Work::Coarse(Arc::clone(inputs));
            } else if self.settled_due && self.rests((revision, now_s, held)) {
                self.settled_due = false;
                self.ask(inputs, Stages::AT_REST, wake)?;
                self.at = Work::Settled(Arc::clone(inputs));
            }
        }
        Ok(answers)
    }

    /// Whether a further frame is needed soon to start a run, s from now.
    pub fn wants_frame_in(&self) -> Option<f64> {
        self.settled_due.then_some(REST_S)
    }

    /// Whether nothing has changed for a while and the coarse answer to the last change is there.
    pub fn rests(&self, (revision, now_s, held): (u64, f64, bool)) -> bool {
        self.seen == revision
            && !self.coarse_due
            && !matches!(self.at, Work::Coarse(_))
            && !held
            && now_s - self.seen_at_s >= REST_S
    }

    fn call_off(&mut self) {
        self.at = Work::Nothing;
        if let Some(worker) = &mut self.worker {
            worker.call_off();
        }
    }

    fn ask(
        &mut self,
        inputs: &Arc<Inputs>,
        stages: Stages,
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

    fn take_answers(&mut self) -> Vec<Answer> {
        let messages = self.worker.as_mut().map(Worker::poll).unwrap_or_default();
        let mut answers = Vec::new();
        for message in messages {
            let (Work::Coarse(inputs) | Work::Settled(inputs)) = &self.at else {
                break;
            };
            let inputs = Arc::clone(inputs);
            if matches!(self.at, Work::Coarse(_)) {
                self.at = Work::Nothing;
            }
            answers.push(match message.news {
                News::Coarse(projection) | News::Fine(projection) => {
                    Answer::Projected(Some(projection), inputs)
                }
                News::Nothing => Answer::Projected(None, inputs),
                News::Forecast(forecast) => Answer::Forecast(Arc::from(forecast)),
                News::Failed(sentence) => Answer::Failed(sentence),
            });
        }
        answers
    }
}
