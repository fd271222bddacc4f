//! Why a command did not do what was asked.
//!
//! In: errors. Out: [`Failure`].
//!
//! Not here: the sentences (`text::error`), the exit code (`mod`).
//!
//! Tested by: `tests/document/command.rs`.

use std::io;

/// Why a command did not do what was asked.
pub(super) enum Failure {
    /// The input cannot be used; one sentence.
    BadInput(String),
    /// The output cannot be written.
    Output(io::Error),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

/// An error whose words are meant for the person.
pub(super) fn bad(error: impl std::fmt::Display) -> Failure {
    Failure::BadInput(error.to_string())
}
