//! One project in one file: opened whole or not at all, saved so that nothing is ever half-written.
//!
//! In: a path. Out: the project with a [`Stamp`] of the file, or a sentence.
//!
//! Reading: size, text, format, words, then every number, and only then is anything returned.
//! Writing: a sibling is written, flushed, synchronised and renamed over the target, then the folder
//! is synchronised; whatever fails before the renaming leaves the old file as it was.
//! Not here: unsaved work (`recovery`), lists of files (`library`).
//!
//! Tested by: `tests/document/bad_input.rs`, `tests/document/round_trip.rs`,
//! `tests/document/formats.rs`.

use std::ffi::{OsStr, OsString};
use std::fs;
use std::hash::{DefaultHasher, Hasher};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::{Doing, FileError, LOGGER_LIMIT_BYTES, SIZE_LIMIT_BYTES};
use super::parse;
use super::{EXTENSION, Project};
use crate::material::Catalogue;

/// Most links followed from one to the next before they count as a ring.
const LINK_LIMIT: usize = 40;

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

/// Saves a project; the stamp of the new content comes back.
///
/// With `expected`, a file that no longer holds what it held then is not touched. A link is
/// followed and stays a link.
///
/// # Errors
/// [`FileError`]: the project cannot be, the file was changed by someone else, is read-only, or the
/// system refused. The old file is untouched.
pub fn write(path: &Path, project: &Project, expected: Option<&Stamp>) -> Result<Stamp, FileError> {
    write_by(path, project, expected, |file, content| {
        file.write_all(content)
    })
}

/// As [`write()`], with the putting of bytes into the sibling handed in, so that a full disk can be tried.
///
/// # Errors
/// As [`write()`].
pub fn write_by(
    path: &Path,
    project: &Project,
    expected: Option<&Stamp>,
    put: impl FnOnce(&mut fs::File, &[u8]) -> io::Result<()>,
) -> Result<Stamp, FileError> {
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
    replace_by(&target, &content, put)?;
    Ok(Stamp::of(&content))
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

/// The bytes of an ordinary file that is neither empty nor too large.
pub(crate) fn content_of(path: &Path) -> Result<Vec<u8>, FileError> {
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

/// The bytes of an ordinary file that is neither empty nor larger than `limit`.
fn content_within(path: &Path, limit: u64) -> Result<Vec<u8>, FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Reading, &err, path);
    let path_again = || path.to_owned();
    let metadata = fs::metadata(path).map_err(refused)?;
    if metadata.is_dir() {
        return Err(FileError::Folder { path: path_again() });
    }
    if !metadata.is_file() {
        return Err(FileError::NotAFile { path: path_again() });
    }
    let too_large = |bytes| FileError::TooLarge {
        bytes,
        path: path_again(),
    };
    if metadata.len() > limit {
        return Err(too_large(metadata.len()));
    }
    let mut content = Vec::new();
    // One byte more than allowed, in case the file grows meanwhile.
    fs::File::open(path)
        .and_then(|file| file.take(limit + 1).read_to_end(&mut content))
        .map_err(refused)?;
    if content.len() as u64 > limit {
        return Err(too_large(content.len() as u64));
    }
    if content.trim_ascii().is_empty() {
        return Err(FileError::Empty { path: path_again() });
    }
    Ok(content)
}

/// The text of a file, without a byte-order mark.
pub(crate) fn text_of<'a>(content: &'a [u8], path: &Path) -> Result<&'a str, FileError> {
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

/// Puts `content` in the place of the file at `path`, whole or not at all; a link is followed.
pub(crate) fn replace(path: &Path, content: &[u8]) -> Result<(), FileError> {
    let target = target_of(path)?;
    replace_by(&target, content, |file, content| file.write_all(content))
}

/// As [`replace`], on a path that is no link, with the putting of bytes handed in.
fn replace_by(
    target: &Path,
    content: &[u8],
    put: impl FnOnce(&mut fs::File, &[u8]) -> io::Result<()>,
) -> Result<(), FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Writing, &err, target);
    let permissions = permissions_of(target)?;
    let folder = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut sibling = new_sibling(folder).map_err(refused)?;
    put(sibling.as_file_mut(), content).map_err(refused)?;
    let file = sibling.as_file_mut();
    file.flush().map_err(refused)?;
    if let Some(permissions) = permissions {
        file.set_permissions(permissions).map_err(refused)?;
    }
    file.sync_all().map_err(refused)?;
    sibling.persist(target).map_err(|err| refused(err.error))?;
    synchronise_folder(folder);
    Ok(())
}

/// A temporary file beside the target, as readable as any new file.
fn new_sibling(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".heapwright-").suffix(".tmp");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The mask of the process takes away what the person does not want.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

/// The permissions of the file that is to be replaced; `None` if there is none yet.
fn permissions_of(target: &Path) -> Result<Option<fs::Permissions>, FileError> {
    let path = || target.to_owned();
    let metadata = match fs::metadata(target) {
        Ok(metadata) => metadata,
        Err(err) if err.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(err) => return Err(FileError::system(Doing::Writing, &err, target)),
    };
    if metadata.is_dir() {
        return Err(FileError::Folder { path: path() });
    }
    if !metadata.is_file() {
        return Err(FileError::NotAFile { path: path() });
    }
    if metadata.permissions().readonly() {
        return Err(FileError::ReadOnly { path: path() });
    }
    // Renaming would go over a file one may not write; asking first keeps such a file.
    fs::OpenOptions::new()
        .write(true)
        .open(target)
        .map_err(|err| FileError::system(Doing::Writing, &err, target))?;
    Ok(Some(metadata.permissions()))
}

/// Makes the renaming last through a power cut.
fn synchronise_folder(folder: &Path) {
    if cfg!(unix) {
        // The file stands complete under its name; some network disks cannot synchronise a folder,
        // and a failure here must not be told as a failed save.
        let _ = fs::File::open(folder).and_then(|folder| folder.sync_all());
    }
}

/// Where a path leads through links, even if nothing stands there yet.
fn target_of(path: &Path) -> Result<PathBuf, FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Writing, &err, path);
    let mut target = path.to_owned();
    for _ in 0..LINK_LIMIT {
        match fs::symlink_metadata(&target) {
            Ok(metadata) if metadata.is_symlink() => {
                let next = fs::read_link(&target).map_err(refused)?;
                target = match target.parent() {
                    Some(folder) => folder.join(next),
                    None => next,
                };
            }
            Ok(_) => return Ok(target),
            Err(err) if err.kind() == io::ErrorKind::NotFound => return Ok(target),
            Err(err) => return Err(refused(err)),
        }
    }
    Err(FileError::NotAFile {
        path: path.to_owned(),
    })
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
