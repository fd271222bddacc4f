//! From text to values, with a place for everything that is wrong.
//!
//! In: the text of a file. Out: the project in it, or line, column, reason and the line's words.
//!
//! A small head with the format is read before the rest, so that a newer file is told by its format
//! and not by the first word it has more.
//! Not here: bytes and sizes (`file`), whether the numbers can be (`check`).
//!
//! Tested by: `tests/document/bad_input.rs`.

use std::path::Path;

use ron::error::{Error as Code, SpannedError};
use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::error::{FileError, one_line};
use super::{NEWEST_FORMAT, Project};

/// Longest quote of a line, characters.
const QUOTE_LIMIT: usize = 60;
/// Longest reason, characters.
const REASON_LIMIT: usize = 160;

/// The first field of every format.
#[derive(Deserialize)]
struct Head {
    format: u64,
}

/// The project a text holds, of any format ever written. Its numbers are not checked here.
pub(super) fn project(text: &str, path: &Path) -> Result<Project, FileError> {
    check_format(text, path)?;
    value(text, path).map(Project::raised)
}

/// Refuses a text of a format this program does not read. A damaged head passes: reading the whole
/// says better what is wrong.
pub(super) fn check_format(text: &str, path: &Path) -> Result<(), FileError> {
    let Ok(Head { format: found }) = ron::from_str(text) else {
        return Ok(());
    };
    let path = path.to_owned();
    if found > u64::from(NEWEST_FORMAT) {
        Err(FileError::Newer { found, path })
    } else if found == 0 {
        Err(FileError::UnknownFormat { found, path })
    } else {
        Ok(())
    }
}

/// The value a text holds.
pub(super) fn value<T: DeserializeOwned>(text: &str, path: &Path) -> Result<T, FileError> {
    ron::from_str(text).map_err(|err| explain(text, &err, path))
}

/// A reading error in the person's words.
fn explain(text: &str, err: &SpannedError, path: &Path) -> FileError {
    let path = path.to_owned();
    if let Some((line, quote)) = foreign(text) {
        return FileError::NotAProject { line, quote, path };
    }
    if is_cut_off(text, err) {
        let (index, last) = text
            .lines()
            .enumerate()
            .filter(|(_, line)| !line.trim().is_empty())
            .last()
            .unwrap_or((0, ""));
        return FileError::CutOff {
            line: index + 1,
            quote: tail(last),
            path,
        };
    }
    let start = err.span.start;
    FileError::NotReadable {
        line: start.line,
        column: start.col,
        what: one_line(&reason(&err.code), REASON_LIMIT),
        quote: quote(text, start.line, start.col),
        path,
    }
}

/// The first line with words on it, if it cannot begin a project.
fn foreign(text: &str) -> Option<(usize, String)> {
    let (index, first) = text
        .lines()
        .enumerate()
        .find(|(_, line)| !line.trim().is_empty())?;
    let begins_well = ["(", "//", "/*", "#![", "Project"]
        .iter()
        .any(|begin| first.trim_start().starts_with(begin));
    (!begins_well).then(|| (index + 1, one_line(first, QUOTE_LIMIT)))
}

/// Whether the text stops where more is needed: something is open at its end, and that is where
/// reading failed.
fn is_cut_off(text: &str, err: &SpannedError) -> bool {
    let nothing_after = text
        .lines()
        .skip(err.span.start.line)
        .all(|line| line.trim().is_empty());
    // A missing field is told at the end of its bracket, which is there.
    let failed_at_end = nothing_after && !matches!(err.code, Code::MissingStructField { .. });
    match open_at_end(text) {
        AtEnd::Closed => false,
        AtEnd::InBracket => failed_at_end,
        AtEnd::InText => failed_at_end || matches!(err.code, Code::ExpectedStringEnd),
        AtEnd::InComment => true,
    }
}

/// What is open at the end of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum AtEnd {
    Closed,
    InBracket,
    InText,
    InComment,
}

/// Walks over brackets, quoted texts and comments. Raw strings, which this program never writes,
/// count as plain ones; that changes only which words a refusal uses.
fn open_at_end(text: &str) -> AtEnd {
    let mut depth = 0_i64;
    let mut rest = text.chars().peekable();
    while let Some(letter) = rest.next() {
        let next = rest.peek().copied();
        if letter == '"' && !skip_quoted(&mut rest) {
            return AtEnd::InText;
        }
        if letter == '/' && next == Some('*') && !skip_comment(&mut rest) {
            return AtEnd::InComment;
        }
        if letter == '/' && next == Some('/') {
            rest.by_ref().find(|letter| *letter == '\n');
        }
        match letter {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
    }
    if depth > 0 {
        AtEnd::InBracket
    } else {
        AtEnd::Closed
    }
}

/// Moves past the closing quote; false if there is none.
fn skip_quoted(rest: &mut impl Iterator<Item = char>) -> bool {
    while let Some(letter) = rest.next() {
        match letter {
            '"' => return true,
            '\\' => {
                rest.next();
            }
            _ => {}
        }
    }
    false
}

/// Moves past the end of a comment that may hold others; false if there is none.
fn skip_comment(rest: &mut std::iter::Peekable<std::str::Chars<'_>>) -> bool {
    let mut depth = 1;
    rest.next();
    while let Some(letter) = rest.next() {
        match (letter, rest.peek()) {
            ('/', Some('*')) => {
                rest.next();
                depth += 1;
            }
            ('*', Some('/')) => {
                rest.next();
                depth -= 1;
                if depth == 0 {
                    return true;
                }
            }
            _ => {}
        }
    }
    false
}

/// What is wrong, without the format's own jargon where it is easily put.
fn reason(code: &Code) -> String {
    match code {
        Code::NoSuchStructField { found, .. } => format!("there is no field called \"{found}\""),
        Code::MissingStructField { field, .. } => format!("the field \"{field}\" is missing"),
        Code::DuplicateStructField { field, .. } => format!("the field \"{field}\" stands twice"),
        Code::NoSuchEnumVariant {
            expected, found, ..
        } => format!("\"{found}\" is none of {}", expected.join(", ")),
        Code::InvalidIdentifier(found) | Code::SuggestRawIdentifier(found) => {
            format!("\"{found}\" does not belong here")
        }
        Code::TrailingCharacters => "the project is over, but more follows".to_owned(),
        Code::ExceededRecursionLimit => "the brackets are nested too deeply".to_owned(),
        other => {
            let words = other.to_string();
            let mut letters = words.chars();
            letters
                .next()
                .map(|first| first.to_lowercase().chain(letters).collect())
                .unwrap_or(words)
        }
    }
}

/// The words of a line around a column, both from 1.
fn quote(text: &str, line: usize, column: usize) -> String {
    let words = text.lines().nth(line.saturating_sub(1)).unwrap_or("");
    let skipped = column.saturating_sub(QUOTE_LIMIT / 2);
    let from_there: String = words.chars().skip(skipped).collect();
    let cut = one_line(&from_there, QUOTE_LIMIT);
    if skipped > 0 {
        format!("…{cut}")
    } else {
        cut
    }
}

/// The last words of a line.
fn tail(line: &str) -> String {
    let length = line.chars().count();
    quote(line, 1, length.saturating_sub(QUOTE_LIMIT / 2))
}
