//! How far a long command is: one line on standard error that replaces itself; nothing where that is no terminal.
//!
//! In: a sentence. Out: the same on standard error, until it is cleared.
//!
//! Not here: the sentences (`text`), what a command gives (standard output).
//!
//! Tested by: `tests/document/command.rs` (nothing is said where no terminal is).

use std::io::{self, IsTerminal, Write};

use crate::document::one_line;

/// Longest line, characters: one that wraps could not be cleared.
const LINE_LIMIT: usize = 78;
/// To the beginning of the line, and clears it (ECMA-48).
const CLEARED: &str = "\r\x1b[K";

/// The line.
pub(super) struct Progress {
    has_terminal: bool,
}

impl Progress {
    /// On standard error.
    pub(super) fn new() -> Self {
        Self {
            has_terminal: io::stderr().is_terminal(),
        }
    }

    /// Says this in place of what was said before.
    pub(super) fn tell(&self, sentence: &str) {
        self.write(&one_line(sentence, LINE_LIMIT));
    }

    /// Takes back what was said.
    pub(super) fn clear(&self) {
        self.write("");
    }

    fn write(&self, line: &str) {
        if self.has_terminal {
            let mut terminal = io::stderr().lock();
            // With nowhere to say it, it stays unsaid.
            let _ = write!(terminal, "{CLEARED}{line}").and_then(|()| terminal.flush());
        }
    }
}
