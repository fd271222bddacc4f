//! Why a file was not opened or not written, in the words the person reads.
//!
//! In: what went wrong. Out: one sentence that says what, where and what to do, the path last.
//!
//! Not here: finding out (`file`), the project's own sense (`check`).
//!
//! Tested by: `tests/document/bad_input.rs`.

use std::io;
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::check::CheckError;
use super::{EXTENSION, NEWEST_FORMAT};

/// Largest file that is read, bytes.
pub const SIZE_LIMIT_BYTES: u64 = 16 * 1024 * 1024;

/// Largest file of a logger that is read, bytes: two million rows of sixty letters.
pub const LOGGER_LIMIT_BYTES: u64 = 128 * 1024 * 1024;

/// Largest file of trials or of a lesson that is read, bytes.
pub const CLASS_LIMIT_BYTES: u64 = 200_000;

/// What was being done when the system refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doing {
    /// Reading.
    Reading,
    /// Writing.
    Writing,
}

/// Why a file was not opened or not written. Nothing has changed when one of these is returned.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FileError {
    /// No such file.
    #[error("there is no file of this name; check the name or choose another: {}", shown(.path))]
    Missing {
        /// What was asked for.
        path: PathBuf,
    },
    /// A folder.
    #[error("this is a folder; choose a file inside it: {}", shown(.path))]
    Folder {
        /// What was asked for.
        path: PathBuf,
    },
    /// A device, a pipe or the like.
    #[error("this is not an ordinary file; choose a {EXTENSION} file: {}", shown(.path))]
    NotAFile {
        /// What was asked for.
        path: PathBuf,
    },
    /// No content.
    #[error("this file is empty, so there is no project in it; choose another or a backup of it: {}", shown(.path))]
    Empty {
        /// Which file.
        path: PathBuf,
    },
    /// More than any project needs.
    #[error("this has {} MiB and a project never more than {}; choose a smaller {EXTENSION} file: {}", .bytes.div_ceil(1024 * 1024), SIZE_LIMIT_BYTES / (1024 * 1024), shown(.path))]
    TooLarge {
        /// Its size.
        bytes: u64,
        /// Which file.
        path: PathBuf,
    },
    /// A device, a pipe or the like in the place of a logger's file.
    #[error("this is not an ordinary file; choose the CSV file that the logger's program wrote: {}", shown(.path))]
    NoLoggerFile {
        /// What was asked for.
        path: PathBuf,
    },
    /// A logger's file without content.
    #[error("this file is empty, so there are no readings in it; export it again from the logger's program: {}", shown(.path))]
    NoReadings {
        /// Which file.
        path: PathBuf,
    },
    /// More than is read of a logger.
    #[error("this has {} MiB and at most {} are read; export a shorter time from the logger's program: {}", .bytes.div_ceil(1024 * 1024), LOGGER_LIMIT_BYTES / (1024 * 1024), shown(.path))]
    LoggerTooLarge {
        /// Its size.
        bytes: u64,
        /// Which file.
        path: PathBuf,
    },
    /// A file of trials or of a lesson.
    #[error("{}", of_class(.0))]
    Class(Box<FileError>),
    /// Bytes that are no UTF-8.
    #[error("byte {at} is not text, so this is no project; choose a {EXTENSION} file: {}", shown(.path))]
    NotText {
        /// Place of the first such byte, from 1.
        at: u64,
        /// Which file.
        path: PathBuf,
    },
    /// Text of another kind.
    #[error("line {line} should begin a project with \"(format: {NEWEST_FORMAT},\" but reads `{quote}`; choose a {EXTENSION} file: {}", shown(.path))]
    NotAProject {
        /// First line with anything on it, from 1.
        line: usize,
        /// What it says.
        quote: String,
        /// Which file.
        path: PathBuf,
    },
    /// The end is missing.
    #[error("the file ends too early, in line {line} after `{quote}`, so part of it is lost; open a backup of it: {}", shown(.path))]
    CutOff {
        /// Last line, from 1.
        line: usize,
        /// What it says.
        quote: String,
        /// Which file.
        path: PathBuf,
    },
    /// A damaged place.
    #[error("line {line}, column {column}: {what}, at `{quote}`; correct that line or open a backup: {}", shown(.path))]
    NotReadable {
        /// Line, from 1.
        line: usize,
        /// Column, in characters from 1.
        column: usize,
        /// What is wrong.
        what: String,
        /// What the line says.
        quote: String,
        /// Which file.
        path: PathBuf,
    },
    /// Made by a later program.
    #[error("this project was made by a newer version (format {found}, this one reads up to {NEWEST_FORMAT}); update the program to open it: {}", shown(.path))]
    Newer {
        /// Its format.
        found: u64,
        /// Which file.
        path: PathBuf,
    },
    /// A format that never was.
    #[error("there is no format {found}; write \"format: {NEWEST_FORMAT}\" in its first line or open a backup: {}", shown(.path))]
    UnknownFormat {
        /// Its format.
        found: u64,
        /// Which file.
        path: PathBuf,
    },
    /// A project that cannot be.
    #[error("{problem}: {}", shown(.path))]
    Problem {
        /// What of it.
        problem: CheckError,
        /// Which file.
        path: PathBuf,
    },
    /// Someone else wrote it since it was read.
    #[error("another program changed this file since it was opened; save under another name, or overwrite it: {}", shown(.path))]
    ChangedOnDisk {
        /// Which file.
        path: PathBuf,
    },
    /// Marked read-only.
    #[error("this file is marked read-only; save under another name or lift the mark: {}", shown(.path))]
    ReadOnly {
        /// Which file.
        path: PathBuf,
    },
    /// A value that cannot be put into words.
    #[error("the project could not be written down ({said}), and the file is as it was: {}", shown(.path))]
    Unwritable {
        /// What the writer said.
        said: String,
        /// Which file.
        path: PathBuf,
    },
    /// The system refused.
    #[error("{}: {}", refusal(*.doing, *.kind, .said), shown(.path))]
    System {
        /// What was being done.
        doing: Doing,
        /// How it refused.
        kind: io::ErrorKind,
        /// Its own words.
        said: String,
        /// Which file.
        path: PathBuf,
    },
}

impl FileError {
    /// What the system said, with the file it said it of.
    pub fn system(doing: Doing, error: &io::Error, path: &Path) -> Self {
        let path = path.to_owned();
        match (doing, error.kind()) {
            (Doing::Reading, io::ErrorKind::NotFound) => Self::Missing { path },
            (_, io::ErrorKind::IsADirectory) => Self::Folder { path },
            (_, kind) => Self::System {
                doing,
                kind,
                said: one_line(&error.to_string(), 120),
                path,
            },
        }
    }
}

/// What is said of a file, in the words of trials and lessons.
fn of_class(error: &FileError) -> String {
    let (words, path) = match error {
        FileError::NotAFile { path } => (
            "this is not an ordinary file; put the trials or the lesson into a plain .ron file"
                .to_owned(),
            path,
        ),
        FileError::Empty { path } => (
            "this file is empty, so there is no trial and no lesson in it; remove it or write one"
                .to_owned(),
            path,
        ),
        FileError::TooLarge { bytes, path } => (
            format!(
                "this has {} kB and at most {} are read; make several files of it",
                bytes.div_ceil(1000),
                CLASS_LIMIT_BYTES / 1000
            ),
            path,
        ),
        FileError::NotText { at, path } => (
            format!("byte {at} is not text; save it as UTF-8 text or remove it"),
            path,
        ),
        other => return other.to_string(),
    };
    format!("{words}: {}", shown(path))
}

/// The system's refusal in plain words, with what to do.
fn refusal(doing: Doing, kind: io::ErrorKind, said: &str) -> String {
    use io::ErrorKind as Kind;
    let words = match (doing, kind) {
        (Doing::Reading, Kind::PermissionDenied) => {
            "you may not read this file; change its permissions or choose another"
        }
        (Doing::Writing, Kind::PermissionDenied) => {
            "nothing may be written here; save in another folder"
        }
        (Doing::Writing, Kind::ReadOnlyFilesystem) => {
            "this disk can only be read; save on another one"
        }
        (Doing::Writing, Kind::StorageFull | Kind::QuotaExceeded | Kind::FileTooLarge) => {
            "the disk is full and the file is as it was; free some space or save elsewhere"
        }
        (Doing::Writing, Kind::NotFound | Kind::NotADirectory) => {
            "the folder does not exist; save in another one"
        }
        (_, Kind::InvalidFilename) => {
            "this name is too long or not allowed; choose a shorter, plainer one"
        }
        (Doing::Reading, _) => {
            return format!("this could not be read ({said}); try again or choose another file");
        }
        (Doing::Writing, _) => {
            return format!("this could not be written ({said}); try again or save elsewhere");
        }
    };
    words.to_owned()
}

/// Whether a character steers a terminal or the direction of writing instead of being seen: C0 and C1 controls
/// (ECMA-48), and the marks, embeddings, overrides and isolates of UAX #9.
pub(crate) fn is_steering(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
        )
}

/// A text without the characters that steer instead of being seen.
pub(crate) fn plain(text: &str) -> String {
    text.chars()
        .filter(|letter| !is_steering(*letter))
        .collect()
}

/// A path on one line: characters that steer instead of being seen are shown as `\n` and the like.
pub(crate) fn shown(path: &Path) -> String {
    path.display()
        .to_string()
        .chars()
        .flat_map(|letter| {
            let plain = (!is_steering(letter)).then_some(letter);
            let escaped = is_steering(letter).then(|| letter.escape_default());
            plain.into_iter().chain(escaped.into_iter().flatten())
        })
        .collect()
}

/// A text on one line, runs of blanks made one, cut to `limit` characters.
pub(crate) fn one_line(text: &str, limit: usize) -> String {
    let is_gap = |letter: char| is_steering(letter) || letter.is_whitespace();
    let words: Vec<&str> = text.split(is_gap).filter(|word| !word.is_empty()).collect();
    let line = words.join(" ");
    let mut letters = line.chars();
    let cut: String = letters.by_ref().take(limit).collect();
    if letters.next().is_some() {
        format!("{cut}…")
    } else {
        cut
    }
}
