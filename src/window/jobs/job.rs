//! One piece of work on a thread of its own: named, stoppable, and never gone without a word.
//!
//! In: a name, the work, a way to wake the window. Out: what the work tells, taken once a frame, and how it ended.
//!
//! A panic in the work is caught and told as [`Told::Broken`]. Dropping a [`Job`] asks the work to stop; whatever it
//! still says is heard by nobody.
//!
//! Not here: what is worked on (the other files of this folder), a thread that serves many requests
//! (`forecast::Worker`).
//!
//! Tested by: `tests/window/jobs.rs`.

use std::any::Any;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread::Builder;

/// What has come from a job.
#[derive(Debug, Clone, PartialEq)]
pub enum Told<T> {
    /// Something was found.
    News(T),
    /// The work is done; nothing more comes.
    Done,
    /// The work broke down; what is known of it. Nothing more comes.
    Broken(String),
}

/// Work under way.
#[derive(Debug)]
pub struct Job<T> {
    stop: Arc<AtomicBool>,
    told: Receiver<Told<T>>,
    running: bool,
}

/// The work's side: tells news, and knows whether anyone still wants them.
pub struct Teller<T> {
    stop: Arc<AtomicBool>,
    sender: Sender<Told<T>>,
    wake: Box<dyn Fn() + Send + Sync>,
}

impl<T> Teller<T> {
    /// Tells something, unless the job has been dropped.
    pub fn tell(&self, news: T) {
        self.send(Told::News(news));
    }

    /// Set once the work is no longer wanted.
    pub fn stop(&self) -> &AtomicBool {
        &self.stop
    }

    fn send(&self, told: Told<T>) {
        if !self.stop.load(Ordering::Relaxed) && self.sender.send(told).is_ok() {
            (self.wake)();
        }
    }
}

impl<T: Send + 'static> Job<T> {
    /// Starts work on a thread of this name; `wake` is called whenever something was told.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(
        name: &str,
        wake: impl Fn() + Send + Sync + 'static,
        work: impl FnOnce(&Teller<T>) + Send + 'static,
    ) -> std::io::Result<Self> {
        let (sender, told) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let teller = Teller {
            stop: Arc::clone(&stop),
            sender,
            wake: Box::new(wake),
        };
        Builder::new().name(name.to_owned()).spawn(move || {
            // What broken work leaves behind is dropped with it.
            let ended = catch_unwind(AssertUnwindSafe(|| work(&teller)));
            teller.send(match ended {
                Ok(()) => Told::Done,
                Err(cause) => Told::Broken(cause_text(&*cause)),
            });
        })?;
        Ok(Self {
            stop,
            told,
            running: true,
        })
    }

    /// What was told since the last call; the last of it is [`Told::Done`] or [`Told::Broken`], once. Never waits.
    pub fn poll(&mut self) -> Vec<Told<T>> {
        let mut all = Vec::new();
        while self.running {
            match self.told.try_recv() {
                Ok(told) => {
                    self.running = matches!(told, Told::News(_));
                    all.push(told);
                }
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) => {
                    self.running = false;
                    all.push(Told::Broken(NO_CAUSE.to_owned()));
                }
            }
        }
        all
    }

    /// Whether its end has not been heard yet.
    pub fn is_running(&self) -> bool {
        self.running
    }
}

impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

const NO_CAUSE: &str = "no cause was given";

/// What is known of a panic.
fn cause_text(cause: &(dyn Any + Send)) -> String {
    let known = cause.downcast_ref::<&str>().copied();
    let known = known.or_else(|| cause.downcast_ref::<String>().map(String::as_str));
    known.unwrap_or(NO_CAUSE).to_owned()
}
