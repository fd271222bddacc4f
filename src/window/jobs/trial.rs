//! A trial behind the window: both typical heaps first, then more and more pairs.
//!
//! In: what both heaps need. Out: news, as they come. A new trial calls off the one before.
//!
//! Not here: the pairs themselves (`forecast::Pairs`), what is made of the news (`class_perform`).
//!
//! Tested by: `tests/window/class.rs`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use crate::forecast::{Comparison, Inputs, Pairs};
use crate::heap::{Projection, Resolution};

use crate::window::piles::curve::Curve;

/// What a trial has found.
#[derive(Debug, Clone)]
pub enum TrialNews {
    /// Both typical heaps, and their curves.
    Heaps(Arc<SideBySide>, Arc<[Curve; 2]>),
    /// The pairs so far.
    Pairs(Arc<Comparison>),
    /// It has ended.
    Ended,
}

/// Two typical heaps on the same days.
#[derive(Debug, Clone)]
pub struct SideBySide {
    /// Without the change and with it.
    pub heaps: [Projection; 2],
    /// Day of the year the first is built.
    pub start_day_of_year: f64,
    /// Days projected.
    pub days: f64,
}

/// The trial at work.
#[derive(Debug, Default)]
pub struct TrialRuns {
    running: Option<Running>,
}

#[derive(Debug)]
struct Running {
    stop: Arc<AtomicBool>,
    news: Receiver<TrialNews>,
}

impl Drop for Running {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl TrialRuns {
    /// Starts a trial; `wake` is called when news are there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(
        &mut self,
        cases: (Inputs, Inputs),
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let stop = Arc::new(AtomicBool::new(false));
        let (sender, news) = channel();
        let called_off = Arc::clone(&stop);
        let tell = move |found: TrialNews| {
            // Nobody listens any more once another trial was begun.
            let _ = sender.send(found);
            wake();
        };
        std::thread::Builder::new()
            .name("trial".to_owned())
            .spawn(move || {
                carry_out(&cases, &called_off, &tell);
                tell(TrialNews::Ended);
            })?;
        self.running = Some(Running { stop, news });
        Ok(())
    }

    /// Calls it off; what was found stays.
    pub fn call_off(&mut self) {
        self.running = None;
    }

    /// News since the last call. Never waits.
    pub fn poll(&mut self) -> Vec<TrialNews> {
        let Some(running) = &self.running else {
            return Vec::new();
        };
        let mut found = Vec::new();
        loop {
            match running.news.try_recv() {
                Ok(news) => found.push(news),
                Err(TryRecvError::Empty) => return found,
                // The thread broke down without a last word.
                Err(TryRecvError::Disconnected) => {
                    found.push(TrialNews::Ended);
                    self.running = None;
                    return found;
                }
            }
        }
    }
}

fn carry_out(cases: &(Inputs, Inputs), stop: &AtomicBool, tell: &(impl Fn(TrialNews) + Sync)) {
    let typical = |inputs: &Inputs| inputs.simulate(&Resolution::coarse(), stop);
    if let (Some(first), Some(second)) = (typical(&cases.0), typical(&cases.1)) {
        let curves = [
            Curve::of(&first, &cases.0.heap),
            Curve::of(&second, &cases.1.heap),
        ];
        let heaps = SideBySide {
            heaps: [first, second],
            start_day_of_year: cases.0.heap.start_day_of_year,
            days: cases.0.heap.days.min(cases.1.heap.days),
        };
        tell(TrialNews::Heaps(Arc::new(heaps), Arc::new(curves)));
    }
    let progress = |pairs: &Comparison| tell(TrialNews::Pairs(Arc::new(pairs.clone())));
    if let Some(all) = Pairs::default().run((&cases.0, &cases.1), stop, progress) {
        tell(TrialNews::Pairs(Arc::new(all)));
    }
}
