//! A page made behind the window: the handout, a picture, the handout's text.
//!
//! In: work that ends with a file written or a text. Out: the answer, once it is there. One at a time.
//!
//! Not here: what is on the page (`export`), what is told of it (`class_perform`).
//!
//! Tested by: `tests/window/class.rs`.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What has come of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Page {
    /// It is in this file.
    Written(PathBuf),
    /// It is this text, for the clipboard.
    Text(String),
}

/// What a page ends with: itself, or a sentence.
pub type Answer = Result<Page, String>;

/// The page under way.
#[derive(Debug, Default)]
pub struct PageWriter {
    answer: Option<Receiver<Answer>>,
}

impl PageWriter {
    /// Starts a page; `wake` is called when it is done.
    ///
    /// # Errors
    /// A sentence where another is under way or the system has no thread to give.
    pub fn start(
        &mut self,
        work: impl FnOnce() -> Answer + Send + 'static,
        wake: impl FnOnce() + Send + 'static,
    ) -> Result<(), String> {
        if self.answer.is_some() {
            return Err("another page is still being made; try again in a moment".to_owned());
        }
        let (sender, receiver) = channel();
        std::thread::Builder::new()
            .name("page".to_owned())
            .spawn(move || {
                // Nobody listens any more once the window is closed.
                let _ = sender.send(work());
                wake();
            })
            .map_err(|problem| format!("the system could not start a thread: {problem}"))?;
        self.answer = Some(receiver);
        Ok(())
    }

    /// The answer, once there is one. Never waits.
    pub fn poll(&mut self) -> Option<Answer> {
        let answer = match self.answer.as_ref()?.try_recv() {
            Ok(answer) => answer,
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => {
                Err("the work broke down; nothing was written".to_owned())
            }
        };
        self.answer = None;
        Some(answer)
    }
}
