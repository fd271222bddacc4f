//! What a command writes can be read and does nothing else: no escape sequence of a file reaches a terminal.
//!
//! In: text, in pieces. Out: the same text, characters that steer a terminal or the direction of writing written as
//! `\u001b` and the like, which in JSON means the same character.
//!
//! Not here: which characters those are (`document`), the one line on standard error, which is cleaned where it is made.
//!
//! Tested by: `tests/document/command.rs`.

use std::io::{self, Write};

use crate::document::is_steering;

/// A place to write text to.
pub(super) struct Plain<'a, W: Write> {
    out: &'a mut W,
    /// The first bytes of a character of which more is to come.
    begun: Vec<u8>,
}

impl<'a, W: Write> Plain<'a, W> {
    pub(super) fn over(out: &'a mut W) -> Self {
        Self {
            out,
            begun: Vec::new(),
        }
    }
}

impl<W: Write> Write for Plain<'_, W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = std::mem::take(&mut self.begun);
        all.extend_from_slice(bytes);
        let mut rest = all.as_slice();
        while !rest.is_empty() {
            let (text, unread) = match std::str::from_utf8(rest) {
                Ok(text) => (text, &rest[rest.len()..]),
                Err(err) => {
                    let (text, unread) = rest.split_at(err.valid_up_to());
                    // A byte that begins no character is passed over; one whose rest is to come waits for it.
                    let skipped = err.error_len().unwrap_or(0);
                    if skipped == 0 {
                        self.begun = unread.to_vec();
                    }
                    let unread = if skipped == 0 {
                        &[][..]
                    } else {
                        &unread[skipped..]
                    };
                    (std::str::from_utf8(text).unwrap_or_default(), unread)
                }
            };
            self.out.write_all(escaped(text).as_bytes())?;
            rest = unread;
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}

/// The text with what steers written out; line ends and tabs stay.
fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        if is_steering(letter) && !matches!(letter, '\n' | '\r' | '\t') {
            plain.push_str(&format!("\\u{:04x}", u32::from(letter)));
        } else {
            plain.push(letter);
        }
    }
    plain
}
