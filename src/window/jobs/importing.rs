//! A logger's file read and understood behind the window, anew for every choice.
//!
//! In: a path, the newest choices. Out: what was found. The bytes are read once and kept while the file is looked at.
//!
//! Not here: understanding (`diary::import`), how it looks (`import_sheet`).
//!
//! Tested by: `tests/window/import.rs`.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::diary::import::{Choices, Import, import};
use crate::document::logger_bytes;
use crate::text::error::no_thread;

use crate::window::jobs::job::{Job, Told};

/// What was found, or a sentence.
pub type ImportFound = Result<Arc<Import>, String>;

/// The bytes that were read, and what was found in them.
type News = (Option<Arc<Vec<u8>>>, ImportFound);

/// The file looked at.
#[derive(Debug, Default)]
pub struct Importing {
    asked: Option<(PathBuf, Choices)>,
    bytes: Option<Arc<Vec<u8>>>,
    job: Option<Job<News>>,
}

impl Importing {
    /// Once a frame while a file is looked at: takes what was found, starts anew when something was chosen.
    pub fn tend(
        &mut self,
        path: &Path,
        choices: &Choices,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Option<ImportFound> {
        let same = |(asked, of): &(PathBuf, Choices)| asked == path && of == choices;
        if !self.asked.as_ref().is_some_and(same) {
            if self.asked.as_ref().is_none_or(|(asked, _)| asked != path) {
                self.bytes = None;
            }
            self.asked = Some((path.to_owned(), choices.clone()));
            let (path, choices, bytes) = (path.to_owned(), choices.clone(), self.bytes.clone());
            let job = Job::start("logger file", wake, move |teller| {
                teller.tell(look_at(&path, &choices, bytes));
            });
            match job {
                Ok(job) => self.job = Some(job),
                Err(problem) => return Some(Err(no_thread(&problem))),
            }
        }
        let mut newest = None;
        for told in self.job.as_mut()?.poll() {
            match told {
                Told::News((bytes, found)) => {
                    self.bytes = bytes;
                    newest = Some(found);
                }
                Told::Broken(cause) => newest = Some(Err(cause)),
                Told::Done => {}
            }
        }
        newest
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.as_ref().is_some_and(Job::is_running)
    }
}

fn look_at(path: &Path, choices: &Choices, bytes: Option<Arc<Vec<u8>>>) -> News {
    let bytes = match bytes {
        Some(bytes) => bytes,
        None => match logger_bytes(path) {
            Ok(bytes) => Arc::new(bytes),
            Err(problem) => return (None, Err(problem.to_string())),
        },
    };
    let found = import(&bytes, choices)
        .map(Arc::new)
        .map_err(|problem| problem.to_string());
    (Some(bytes), found)
}
