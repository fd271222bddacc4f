//! The worker: a thread in the background that answers the newest request.
//!
//! In: requests. Out: messages, each with the revision it belongs to: a coarse projection, a fine one,
//! then the forecast of a growing ensemble.
//!
//! A new request calls off what is running and takes the place of what is waiting; what was found for
//! an older one is dropped. A run that panics becomes a message; the next request is served as usual.
//!
//! Knows no screen: `wake` is called whenever a message is there. Not here: what is run (`ensemble`,
//! `heap`).
//!
//! Tested by: `tests/science/forecast_worker.rs`.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::{Builder, JoinHandle, available_parallelism};

use rayon::{ThreadPool, ThreadPoolBuilder};

use crate::heap::{Projection, Resolution, RunControl};

use super::band::Forecast;
use super::ensemble::Ensemble;
use super::{Inputs, MEMBERS};

/// Which answers are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RunStages {
    /// A projection on the coarse grid.
    pub coarse: bool,
    /// One on the fine grid.
    pub fine: bool,
    /// Members of the ensemble, 0 for none.
    pub members: usize,
}

impl RunStages {
    /// Everything, for a caller that computes nothing itself.
    pub const ALL: Self = Self {
        coarse: true,
        fine: true,
        members: MEMBERS,
    };
    /// The quickest answer alone.
    pub const COARSE: Self = Self {
        coarse: true,
        fine: false,
        members: 0,
    };
    /// What follows a coarse projection.
    pub const AT_REST: Self = Self {
        coarse: false,
        ..Self::ALL
    };
}

/// What is to be projected.
#[derive(Debug, Clone)]
pub struct Request {
    /// The caller's name for the state of things; given back with every answer.
    pub revision: u64,
    /// Mix, heap, kinetics.
    pub inputs: Arc<Inputs>,
    /// Which answers are wanted.
    pub stages: RunStages,
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub enum News {
    /// The projection on the coarse grid.
    Coarse(Box<Projection>),
    /// The projection on the fine grid.
    Fine(Box<Projection>),
    /// The ensemble so far; the last one has all its members.
    Forecast(Box<Forecast>),
    /// There is nothing to rot, or it is too little or too much for a heap.
    Nothing,
    /// A run broke down; the sentence says what is known of it.
    Failed(String),
}

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Message {
    /// Revision of the request.
    pub revision: u64,
    /// What was found.
    pub news: News,
}

/// A thread in the background; dropping it ends the thread.
#[derive(Debug)]
pub struct Worker {
    desk: Arc<Desk>,
    messages: Receiver<(u64, Message)>,
    newest: u64,
    thread: Option<JoinHandle<()>>,
}

#[derive(Debug, Default)]
struct Desk {
    post: Mutex<Post>,
    rung: Condvar,
}

#[derive(Debug, Default)]
struct Post {
    waiting: Option<Job>,
    /// Calls off the job that was posted last.
    stop: Arc<AtomicBool>,
    closed: bool,
}

#[derive(Debug)]
struct Job {
    ticket: u64,
    request: Request,
    stop: Arc<AtomicBool>,
}

impl Desk {
    fn post(&self) -> MutexGuard<'_, Post> {
        self.post.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The next job; waits for one. `None` when the worker is dropped.
    fn next(&self) -> Option<Job> {
        let mut post = self.post();
        loop {
            if post.closed {
                return None;
            }
            if let Some(job) = post.waiting.take() {
                return Some(job);
            }
            post = self.rung.wait(post).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

impl Worker {
    /// A worker with an ensemble made the usual way.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn new(wake: impl Fn() + Send + Sync + 'static) -> std::io::Result<Self> {
        Self::with(Ensemble::default(), wake)
    }

    /// A worker with an ensemble (and simulator) of the caller's own; the count of each request counts.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn with(
        ensemble: Ensemble,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Self> {
        let desk = Arc::new(Desk::default());
        let (sender, messages) = channel();
        let bench = Bench {
            desk: Arc::clone(&desk),
            sender,
            wake: Box::new(wake),
            ensemble,
            pool: None,
        };
        let thread = Builder::new()
            .name("forecast".to_owned())
            .spawn(move || bench.serve())?;
        Ok(Self {
            desk,
            messages,
            newest: 0,
            thread: Some(thread),
        })
    }

    /// Asks for answers; everything asked for before is called off. Never waits.
    pub fn submit(&mut self, request: Request) {
        let stop = Arc::new(AtomicBool::new(false));
        self.newest += 1;
        let job = Job {
            ticket: self.newest,
            request,
            stop: Arc::clone(&stop),
        };
        let mut post = self.desk.post();
        post.stop.store(true, Ordering::Relaxed);
        post.stop = stop;
        post.waiting = Some(job);
        drop(post);
        self.desk.rung.notify_one();
    }

    /// Calls off everything asked for.
    pub fn call_off(&mut self) {
        self.newest += 1;
        let mut post = self.desk.post();
        post.stop.store(true, Ordering::Relaxed);
        post.waiting = None;
    }

    /// Answers to the newest request that have come since the last call. Never waits.
    pub fn poll(&mut self) -> Vec<Message> {
        self.messages
            .try_iter()
            .filter(|(ticket, _)| *ticket == self.newest)
            .map(|(_, message)| message)
            .collect()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.call_off();
        self.desk.post().closed = true;
        self.desk.rung.notify_one();
        if let Some(thread) = self.thread.take() {
            // It ends within a step of the simulation; a panic has been told of already.
            let _ = thread.join();
        }
    }
}

/// The worker's side.
struct Bench {
    desk: Arc<Desk>,
    sender: Sender<(u64, Message)>,
    wake: Box<dyn Fn() + Send + Sync>,
    ensemble: Ensemble,
    /// Made for the first ensemble.
    pool: Option<ThreadPool>,
}

impl Bench {
    fn serve(mut self) {
        while let Some(job) = self.desk.next() {
            // What a broken run leaves behind is dropped with it: runs share nothing.
            let done = catch_unwind(AssertUnwindSafe(|| self.carry_out(&job)));
            if let Err(cause) = done {
                self.tell(&job, News::Failed(failure_text(&*cause)));
            }
        }
    }

    fn carry_out(&mut self, job: &Job) {
        let stages = job.request.stages;
        for (wanted, resolution, news) in [
            (
                stages.coarse,
                Resolution::coarse(),
                News::Coarse as fn(Box<Projection>) -> News,
            ),
            (stages.fine, Resolution::fine(), News::Fine),
        ] {
            if !wanted {
                continue;
            }
            match self.project(job, &resolution) {
                Some(projection) => self.tell(job, news(Box::new(projection))),
                None => return self.tell(job, News::Nothing),
            }
        }
        if stages.members > 0 && !job.stop.load(Ordering::Relaxed) {
            self.forecast(job);
        }
    }

    fn project(&self, job: &Job, resolution: &Resolution) -> Option<Projection> {
        let inputs = &job.request.inputs;
        (self.ensemble.simulator)(
            &inputs.totals,
            &inputs.additions,
            &inputs.heap,
            &inputs.kinetics,
            RunControl {
                resolution,
                stop: &job.stop,
            },
        )
    }

    fn forecast(&mut self, job: &Job) {
        if self.pool.is_none() {
            self.pool = ThreadPoolBuilder::new()
                .num_threads(threads())
                .thread_name(|index| format!("forecast {}", index + 1))
                .build()
                .ok();
        }
        let ensemble = Ensemble {
            count: job.request.stages.members,
            ..self.ensemble
        };
        let told = |forecast: &Forecast| self.tell(job, News::Forecast(Box::new(forecast.clone())));
        let run = || ensemble.run(&job.request.inputs, &job.stop, told);
        // Without a pool of its own it runs on the one that all share.
        let forecast = match &self.pool {
            Some(pool) => pool.install(run),
            None => run(),
        };
        if forecast.is_none() {
            self.tell(job, News::Nothing);
        }
    }

    /// Sends news, unless nobody waits for them any more.
    fn tell(&self, job: &Job, news: News) {
        if job.stop.load(Ordering::Relaxed) {
            return;
        }
        let message = Message {
            revision: job.request.revision,
            news,
        };
        if self.sender.send((job.ticket, message)).is_ok() {
            // The message is there whatever becomes of the bell.
            let _ = catch_unwind(AssertUnwindSafe(&self.wake));
        }
    }
}

/// Threads of the ensemble: all, but one is left to the window where there are more than two.
fn threads() -> usize {
    match available_parallelism().map_or(1, usize::from) {
        few @ 0..=2 => few.max(1),
        many => many - 1,
    }
}

/// What is known of a panic, in a sentence.
fn failure_text(cause: &(dyn std::any::Any + Send)) -> String {
    let known = cause
        .downcast_ref::<&str>()
        .copied()
        .or_else(|| cause.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("no cause was given");
    format!(
        "the projection broke down ({known}); nothing is lost, change the mix or the heap to try again"
    )
}
