//! The settled projection: once nothing changes any more, the heap is simulated finely in the background,
//! and then as an ensemble whose band grows smoother as members arrive.
//!
//! In: the sums that were last reckoned with. Out: answers for the same revision; work that is out of date
//! is called off.
//!
//! Not here: the coarse run of the same frame (`state`), the thread (`forecast::worker`).
//!
//! Held against: `tests/window/heap.rs`.

use std::sync::Arc;

use crate::forecast::{Band, Inputs, News, Request, Series, Stages, Worker};
use crate::heap::Projection;

/// Time that everything must have rested before a fine run starts, s.
const REST_S: f64 = 0.3;

/// What the background has found.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// The fine projection.
    Fine(Box<Projection>),
    /// The band of the members so far.
    Band(Band),
    /// A run broke down; a sentence on it.
    Failed(String),
}

/// The fine run of one revision at a time.
#[derive(Debug, Default)]
pub struct FineRuns {
    worker: Option<Worker>,
    seen: u64,
    seen_at_s: f64,
    asked: u64,
}

impl FineRuns {
    /// Once a frame: calls off what is out of date, takes answers, asks for a run when all has rested.
    ///
    /// `held` is whether the pointer is down; `wake` is called when an answer is there.
    pub fn tend(
        &mut self,
        (revision, now_s, held): (u64, f64, bool),
        inputs: Option<&Arc<Inputs>>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Vec<Answer> {
        if self.seen != revision {
            (self.seen, self.seen_at_s) = (revision, now_s);
            if let Some(worker) = &mut self.worker {
                worker.call_off();
            }
        }
        if self.asked != revision && !held && now_s - self.seen_at_s >= REST_S {
            self.asked = revision;
            if let Some(inputs) = inputs {
                self.ask(revision, Arc::clone(inputs), wake);
            }
        }
        let messages = self.worker.as_mut().map(Worker::poll).unwrap_or_default();
        let news = messages.into_iter().map(|message| message.news);
        news.filter_map(answer).collect()
    }

    /// Whether a further frame is needed soon to start a run, s from now.
    pub fn wants_frame_in(&self) -> Option<f64> {
        (self.asked != self.seen).then_some(REST_S)
    }

    fn ask(&mut self, revision: u64, inputs: Arc<Inputs>, wake: impl Fn() + Send + Sync + 'static) {
        if self.worker.is_none() {
            // Where no thread is to be had the coarse projection stays.
            self.worker = Worker::new(wake).ok();
        }
        if let Some(worker) = &mut self.worker {
            worker.submit(Request {
                revision,
                inputs,
                stages: Stages::AT_REST,
            });
        }
    }
}

/// What the window makes of news; where there is nothing to rot it has said so already.
fn answer(news: News) -> Option<Answer> {
    match news {
        News::Fine(projection) => Some(Answer::Fine(projection)),
        News::Forecast(forecast) => Some(Answer::Band(forecast.band(Series::Centre).clone())),
        News::Failed(sentence) => Some(Answer::Failed(sentence)),
        News::Coarse(_) | News::Nothing => None,
    }
}
