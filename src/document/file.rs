//! One project in one file: opened whole or not at all, saved so that nothing is ever half-written.
//!
//! In: a path. Out: the project with a [`Stamp`] of the file, or a sentence.
//!
//! Reading: size, text, format, words, then every number, and only then is anything returned.
//! Not here: bytes in and out (`reading`, `writing`), unsaved work (`recovery`), lists of files (`library`).
//!
//! Tested by: `tests/document/bad_input.rs`, `tests/document/round_trip.rs`,
//! `tests/document/formats.rs`.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::hash::{DefaultHasher, Hasher};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::{FileError, SIZE_LIMIT_BYTES};
use super::parse;
use super::reading::{content_of, text_of};
use super::writing::{Readers, Unkept, replace_by, target_of};
use super::{EXTENSION, Project};
use crate::material::Catalogue;

/// What a file held when it was last read or written, short enough to keep.
///
/// Length and a digest of the content, so that copying back or touching a file is no change. The digest
/// may differ between builds of the program; a kept stamp then asks once too often, never too seldom.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp {
    bytes: u64,
    digest: u64,
}

impl Stamp {
    /// The stamp of this content.
    fn of(content: &[u8]) -> Self {
        let mut hasher = DefaultHasher::new();
        hasher.write(content);
        Self {
            bytes: content.len() as u64,
            digest: hasher.finish(),
        }
    }
}

/// A project as it was opened.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// The project, checked.
    pub project: Project,
    /// The file it came from, to be handed to [`write()`].
    pub stamp: Stamp,
}

/// Opens a project.
///
/// # Errors
/// [`FileError`]: the file is missing, no ordinary file, empty, too large, no text, cut off,
/// damaged, of another format, or holds something that cannot be.
pub fn read(path: &Path, catalogue: &Catalogue) -> Result<Opened, FileError> {
    let content = content_of(path)?;
    let stamp = Stamp::of(&content);
    let text = text_of(&content, path)?;
    let project = parse::project(text, path)?;
    project
        .check(catalogue)
        .map_err(|problem| FileError::Problem {
            problem,
            path: path.to_owned(),
        })?;
    Ok(Opened { project, stamp })
}

/// A project as it was saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saved {
    /// The stamp of the new content.
    pub stamp: Stamp,
    /// What of the file before it could not be kept; usually nothing.
    pub unkept: Vec<Unkept>,
}

/// Saves a project; the stamp of the new content comes back.
///
/// As [`save()`], for whom it does not matter what of an old file could not be kept.
///
/// # Errors
/// As [`save()`].
pub fn write(path: &Path, project: &Project, expected: Option<&Stamp>) -> Result<Stamp, FileError> {
    save(path, project, expected).map(|saved| saved.stamp)
}

/// Saves a project.
///
/// With `expected`, a file that no longer holds what it held then is not touched. A link is
/// followed and stays a link.
///
/// # Errors
/// [`FileError`]: the project cannot be, the file was changed by someone else, is read-only, or the
/// system refused. The old file is untouched.
pub fn save(path: &Path, project: &Project, expected: Option<&Stamp>) -> Result<Saved, FileError> {
    write_by(path, project, expected, |file, content| {
        file.write_all(content)
    })
}

/// As [`save()`], with the putting of bytes into the sibling handed in, so that a full disk can be tried.
///
/// # Errors
/// As [`save()`].
pub fn write_by(
    path: &Path,
    project: &Project,
    expected: Option<&Stamp>,
    put: impl FnOnce(&mut fs::File, &[u8]) -> io::Result<()>,
) -> Result<Saved, FileError> {
    project
        .check_alone()
        .map_err(|problem| FileError::Problem {
            problem,
            path: path.to_owned(),
        })?;
    let content = to_text(project, path)?.into_bytes();
    let target = target_of(path)?;
    if let Some(expected) = expected {
        refuse_if_changed(&target, expected, path)?;
    }
    let unkept = replace_by(&target, Readers::AsBefore, |file| put(file, &content))?;
    let stamp = Stamp::of(&content);
    Ok(Saved { stamp, unkept })
}

/// The stamp of what the file holds now; `None` for one that is gone or cannot be read.
pub fn stamp_of(path: &Path) -> Option<Stamp> {
    content_of(path).ok().map(|content| Stamp::of(&content))
}

/// The path with [`EXTENSION`] at its end, added where it is missing.
pub fn with_extension(path: &Path) -> PathBuf {
    ending_with(path, EXTENSION)
}

/// The path with this ending of two parts, added where it is missing.
pub(super) fn ending_with(path: &Path, ending: &str) -> PathBuf {
    let name = path.file_name().unwrap_or_else(|| OsStr::new("heap"));
    let lower = name.to_string_lossy().to_lowercase();
    if lower.ends_with(ending) && lower.len() > ending.len() {
        return path.to_owned();
    }
    let stem = match lower.strip_suffix(".ron").or(lower.strip_suffix('.')) {
        Some(_) => Path::new(name).file_stem().unwrap_or(name),
        None => name,
    };
    let mut full = OsString::from(stem);
    full.push(ending);
    path.with_file_name(full)
}

/// A value as the text that stands in a file.
pub(super) fn to_text(value: &impl Serialize, path: &Path) -> Result<String, FileError> {
    let style = ron::ser::PrettyConfig::default().new_line("\n");
    let text = ron::ser::to_string_pretty(value, style).map_err(|err| FileError::Unwritable {
        said: err.to_string(),
        path: path.to_owned(),
    })?;
    if text.len() as u64 >= SIZE_LIMIT_BYTES {
        return Err(FileError::TooLarge {
            bytes: text.len() as u64,
            path: path.to_owned(),
        });
    }
    Ok(text + "\n")
}

/// Refuses if the file holds something other than `expected`. A file that is gone can be written anew.
fn refuse_if_changed(target: &Path, expected: &Stamp, path: &Path) -> Result<(), FileError> {
    let same = match content_of(target) {
        Ok(content) => Stamp::of(&content) == *expected,
        Err(FileError::Missing { .. }) => true,
        Err(FileError::Empty { .. } | FileError::TooLarge { .. }) => false,
        Err(other) => return Err(other),
    };
    if same {
        Ok(())
    } else {
        Err(FileError::ChangedOnDisk {
            path: path.to_owned(),
        })
    }
}
