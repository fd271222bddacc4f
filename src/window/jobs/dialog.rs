//! The desktop's file dialog, asked in a thread of its own so that the window never waits for it.
//!
//! In: a request. Out: a path, "cancelled", or "nothing was shown" (an answer that came too soon for
//! anyone to have seen a dialog).
//!
//! The only file that names `rfd`. What to do with a path is in `files`.
//!
//! Tested by: `tests/window/files.rs`.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

use crate::text::error::no_dialog;

/// An empty answer sooner than this was given by no person.
const NOTHING_SHOWN: Duration = Duration::from_millis(250);
/// After so long without an answer another way is offered, s.
const OFFER_AFTER_S: f64 = 3.0;

/// What a path is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PathUse {
    /// A file to open.
    Open,
    /// A file to save to.
    Save,
    /// A file for the handout.
    Handout,
    /// A file for a picture of the curve.
    CurvePicture,
    /// A file for a picture of the inside.
    InsidePicture,
}

impl PathUse {
    /// How the name of what is written ends, where it is not a recipe.
    pub fn ending(self) -> Option<&'static str> {
        match self {
            Self::Open | Self::Save => None,
            Self::Handout => Some("pdf"),
            Self::CurvePicture | Self::InsidePicture => Some("png"),
        }
    }
}

/// What to ask for.
#[derive(Debug, Clone, PartialEq)]
pub struct Request {
    /// To open or to save.
    pub purpose: PathUse,
    /// Where to begin.
    pub folder: Option<PathBuf>,
    /// Name to suggest.
    pub name: String,
}

/// A way to ask for a path; blocks until there is an answer.
pub type Ask = Arc<dyn Fn(&Request) -> Option<PathBuf> + Send + Sync>;

/// How a request ended.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// A path was chosen.
    Chosen(PathUse, PathBuf),
    /// The person changed their mind.
    Cancelled(PathUse),
    /// No dialog could be shown.
    NothingShown(PathUse),
}

struct Waiting {
    purpose: PathUse,
    since_s: f64,
    receiver: Receiver<(Option<PathBuf>, Duration)>,
}

/// At most one open dialog.
pub struct FileDialog {
    ask: Ask,
    waiting: Option<Waiting>,
}

impl FileDialog {
    /// A dialog that asks in this way.
    pub fn new(ask: Ask) -> Self {
        Self { ask, waiting: None }
    }

    /// Opens it, unless one is open; `wake` is called once there is an answer.
    ///
    /// # Errors
    /// A sentence if the system grants no thread.
    pub fn open(
        &mut self,
        request: Request,
        now_s: f64,
        wake: impl FnOnce() + Send + 'static,
    ) -> Result<(), String> {
        if self.waiting.is_some() {
            return Ok(());
        }
        let (sender, receiver) = channel();
        let ask = Arc::clone(&self.ask);
        let purpose = request.purpose;
        std::thread::Builder::new()
            .name("file dialog".to_owned())
            .spawn(move || {
                let begun = Instant::now();
                let path = ask(&request);
                // Nobody listens any more if the person typed the path meanwhile.
                let _ = sender.send((path, begun.elapsed()));
                wake();
            })
            .map_err(|err| no_dialog(&err))?;
        self.waiting = Some(Waiting {
            purpose,
            since_s: now_s,
            receiver,
        });
        Ok(())
    }

    /// Whether one is open.
    pub fn is_open(&self) -> bool {
        self.waiting.is_some()
    }

    /// Whether it has been open so long that another way should be offered.
    pub fn is_slow(&self, now_s: f64) -> bool {
        self.waiting
            .as_ref()
            .is_some_and(|waiting| now_s - waiting.since_s >= OFFER_AFTER_S)
    }

    /// Stops listening; what it was for.
    pub fn abandon(&mut self) -> Option<PathUse> {
        self.waiting.take().map(|waiting| waiting.purpose)
    }

    /// The answer, once there is one.
    pub fn poll(&mut self) -> Option<Answer> {
        let waiting = self.waiting.as_ref()?;
        let purpose = waiting.purpose;
        let answer = match waiting.receiver.try_recv() {
            Ok((Some(path), _)) => Answer::Chosen(purpose, path),
            Ok((None, took)) if took < NOTHING_SHOWN => Answer::NothingShown(purpose),
            Ok((None, _)) => Answer::Cancelled(purpose),
            Err(TryRecvError::Empty) => return None,
            // The thread is gone without a word: it could not show anything.
            Err(TryRecvError::Disconnected) => Answer::NothingShown(purpose),
        };
        self.waiting = None;
        Some(answer)
    }
}

/// The desktop's own dialog.
pub fn desktop() -> Ask {
    Arc::new(|request: &Request| {
        let mut dialog = rfd::FileDialog::new().add_filter("Heapwright recipe", &["ron"]);
        if let Some(folder) = &request.folder {
            dialog = dialog.set_directory(folder);
        }
        if let Some(ending) = request.purpose.ending() {
            return rfd::FileDialog::new()
                .add_filter(ending.to_uppercase(), &[ending])
                .set_title("Write it to a file")
                .set_file_name(&request.name)
                .save_file();
        }
        match request.purpose {
            PathUse::Open => dialog.set_title("Open a recipe").pick_file(),
            _ => dialog
                .set_title("Save the recipe")
                .set_file_name(&request.name)
                .save_file(),
        }
    })
}
