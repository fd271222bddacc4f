//! A page made behind the window: the handout, a picture, the handout's text.
//!
//! In: work that ends with a file written or a text. Out: the answer, once it is there. One at a time.
//!
//! Not here: what is on the page (`export`), what is told of it (`verbs::class`).
//!
//! Tested by: `tests/window/class.rs`.

use std::path::PathBuf;

use crate::text::error::no_thread;

use crate::window::jobs::job::{Job, Told};

/// A page that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MadePage {
    /// It is in this file.
    Written(PathBuf),
    /// It is this text, for the clipboard.
    Text(String),
}

/// What the work on a page ends with: the page, or a sentence.
pub type PageResult = Result<MadePage, String>;

/// The page under way.
#[derive(Debug, Default)]
pub struct PageWriter {
    job: Option<Job<PageResult>>,
}

impl PageWriter {
    /// Starts a page; `wake` is called when it is done.
    ///
    /// # Errors
    /// A sentence where another is under way or the system has no thread to give.
    pub fn start(
        &mut self,
        work: impl FnOnce() -> PageResult + Send + 'static,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Result<(), String> {
        if self.job.is_some() {
            return Err("another page is still being made; try again in a moment".to_owned());
        }
        let job = Job::start("page", wake, move |teller| teller.tell(work()));
        self.job = Some(job.map_err(|problem| no_thread(&problem))?);
        Ok(())
    }

    /// The answer, once there is one. Never waits.
    pub fn poll(&mut self) -> Option<PageResult> {
        let first = self.job.as_mut()?.poll().into_iter().next()?;
        self.job = None;
        match first {
            Told::News(answer) => Some(answer),
            Told::Done => None,
            Told::Broken(cause) => Some(Err(format!("it failed ({cause}); nothing was written"))),
        }
    }
}
