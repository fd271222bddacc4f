//! The one guarded way in: the bytes and the text of every file a person can hand over.
//!
//! In: a path. Out: its content, or a sentence. Only ordinary files are opened, so a pipe, a device or a link to
//! one neither holds the program up nor fills its memory; no more than a limit is ever read.
//!
//! Not here: what the content means (`parse`, `assess::trial`, `diary::import`), writing (`writing`).
//!
//! Tested by: `tests/document/bad_input.rs`, `tests/document/logger_bad.rs`.

use std::fs::{File, Metadata, OpenOptions, metadata};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::error::{CLASS_LIMIT_BYTES, Doing, FileError, LOGGER_LIMIT_BYTES, SIZE_LIMIT_BYTES};

/// The path from the root of the disk, so that it means the same file wherever the program starts next.
///
/// Nothing is looked up: links stay, and nothing needs to exist.
pub fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

/// The bytes of an ordinary file that is neither empty nor too large.
pub(super) fn content_of(path: &Path) -> Result<Vec<u8>, FileError> {
    content_within(path, SIZE_LIMIT_BYTES)
}

/// The bytes of a logger's file. A device or a pipe is not opened, and no more than
/// [`LOGGER_LIMIT_BYTES`] is ever read.
///
/// # Errors
/// [`FileError`]: the file is missing, no ordinary file, empty, too large, or the system refused.
pub fn logger_bytes(path: &Path) -> Result<Vec<u8>, FileError> {
    content_within(path, LOGGER_LIMIT_BYTES).map_err(|problem| match problem {
        FileError::NotAFile { path } => FileError::NoLoggerFile { path },
        FileError::Empty { path } => FileError::NoReadings { path },
        FileError::TooLarge { bytes, path } => FileError::LoggerTooLarge { bytes, path },
        other => other,
    })
}

/// The text of a file of trials or of a lesson. A device or a pipe is not opened, and no more than
/// [`CLASS_LIMIT_BYTES`] is ever read.
///
/// # Errors
/// [`FileError`]: the file is missing, no ordinary file, empty, too large, no text, or the system refused.
pub fn class_text(path: &Path) -> Result<String, FileError> {
    let content = content_within(path, CLASS_LIMIT_BYTES);
    let text = content.and_then(|content| text_of(&content, path).map(str::to_owned));
    text.map_err(|problem| FileError::Class(Box::new(problem)))
}

/// The bytes of an ordinary file that is neither empty nor larger than `limit`.
fn content_within(path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Reading, &err, path);
    // Asked before, for opening a device can do something already; and after, in case it is another file by then.
    refuse_special(&metadata(path).map_err(refused)?, path)?;
    let file = open(path).map_err(refused)?;
    let found = file.metadata().map_err(refused)?;
    refuse_special(&found, path)?;
    let too_large = |bytes| FileError::TooLarge {
        bytes,
        path: path.to_owned(),
    };
    if found.len() > limit {
        return Err(too_large(found.len()));
    }
    let mut content = Vec::new();
    // One byte more than allowed, in case the file grows meanwhile.
    file.take(limit + 1)
        .read_to_end(&mut content)
        .map_err(refused)?;
    if content.len() as u64 > limit {
        return Err(too_large(content.len() as u64));
    }
    if content.trim_ascii().is_empty() {
        return Err(FileError::Empty {
            path: path.to_owned(),
        });
    }
    Ok(content)
}

/// Refuses what is no ordinary file.
fn refuse_special(metadata: &Metadata, path: &Path) -> Result<(), FileError> {
    let path = path.to_owned();
    if metadata.is_dir() {
        Err(FileError::Folder { path })
    } else if metadata.is_file() {
        Ok(())
    } else {
        Err(FileError::NotAFile { path })
    }
}

/// Opens for reading without waiting, so that a pipe put there meanwhile is found out instead of waited for.
fn open(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use rustix::fs::OFlags;
        use std::os::unix::fs::OpenOptionsExt;
        let flags = OFlags::NONBLOCK | OFlags::NOCTTY;
        options.custom_flags(flags.bits().cast_signed());
    }
    options.open(path)
}

/// The text of a file, without a byte-order mark.
pub(super) fn text_of<'a>(content: &'a [u8], path: &Path) -> Result<&'a str, FileError> {
    let not_text = |at: usize| FileError::NotText {
        at: at as u64 + 1,
        path: path.to_owned(),
    };
    let text = std::str::from_utf8(content).map_err(|err| not_text(err.valid_up_to()))?;
    if let Some(at) = text.find('\0') {
        return Err(not_text(at));
    }
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}
