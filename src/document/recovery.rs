//! Unsaved work: kept beside the program while it runs, offered again after a crash.
//!
//! In: the project as it stands, where it came from. Out: what crashed programs have left.
//!
//! Every running program has a lock file and, while there is unsaved work, one file of the same name
//! beside it. The lock is the operating system's, so it is gone when the program is, however it
//! ended. Work whose lock is held belongs to a running program and is left alone.
//! Not here: when to keep (the window decides), saving for good (`file`).
//!
//! Tested by: `tests/document/recovery.rs`.

use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::{Doing, FileError};
use super::{Folders, Project, Stamp, file, parse, reading, writing};
use crate::material::Catalogue;

/// How the name of a lock file ends.
const LOCK: &str = "lock";
/// How the name of kept work ends.
const WORK: &str = "unsaved.ron";
/// How often a new name is tried before giving up.
const TRIES: usize = 20;

/// What stands in a file of unsaved work.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Kept {
    format: u32,
    original: Option<String>,
    stamp: Option<Stamp>,
    project: Project,
}

/// The place where this running program keeps its unsaved work.
///
/// Dropping it leaves the work in place, as a crash does; [`Recovery::finish`] ends it in order.
#[derive(Debug)]
pub struct Recovery {
    lock: File,
    lock_path: PathBuf,
}

impl Recovery {
    /// Takes a place for this program in the data folder, which is made if need be.
    ///
    /// # Errors
    /// [`FileError`] if the folder cannot be made or written.
    pub fn start(folders: &Folders) -> Result<Self, FileError> {
        let refused = |err: &io::Error| FileError::system(Doing::Writing, err, &folders.data);
        fs::create_dir_all(&folders.data).map_err(|err| refused(&err))?;
        for _ in 0..TRIES {
            let (lock, lock_path) = tempfile::Builder::new()
                .prefix("work-")
                .suffix(&format!(".{LOCK}"))
                .tempfile_in(&folders.data)
                .map_err(|err| refused(&err))?
                .keep()
                .map_err(|err| refused(&err.error))?;
            // Another program that tidies up may have taken the lock first, or the file with it.
            if !matches!(lock.try_lock(), Err(TryLockError::WouldBlock)) && lock_path.exists() {
                return Ok(Self { lock, lock_path });
            }
        }
        Err(refused(&io::ErrorKind::ResourceBusy.into()))
    }

    /// Keeps the project as it stands, in the place of what was kept before.
    ///
    /// A path that is not Unicode, or not absolute, cannot be remembered; the work then comes back without a name.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses; what was kept before is still there.
    pub fn keep(
        &self,
        project: &Project,
        original: Option<&Path>,
        stamp: Option<&Stamp>,
    ) -> Result<(), FileError> {
        let work = self.work_path();
        let original = original.and_then(Path::to_str).map(str::to_owned);
        let kept = Kept {
            format: project.format,
            stamp: stamp.filter(|_| original.is_some()).cloned(),
            original,
            project: project.clone(),
        };
        writing::replace_own(&work, file::to_text(&kept, &work)?.as_bytes())
    }

    /// Forgets what was kept: everything is saved, or given up on purpose.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn clear(&self) -> Result<(), FileError> {
        remove(&self.work_path())
    }

    /// Ends in order: forgets what was kept and gives the place up.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn finish(self) -> Result<(), FileError> {
        self.clear()?;
        drop(self.lock);
        remove(&self.lock_path)
    }

    /// Where the lock of this program stands.
    pub(super) fn lock_path(&self) -> PathBuf {
        self.lock_path.clone()
    }

    /// Where the unsaved work of this program stands while there is any.
    pub fn work_path(&self) -> PathBuf {
        self.lock_path.with_extension(WORK)
    }
}

/// Notes in the lock of a running program which file it has open; nothing where the system does not let it.
pub(super) fn note_open(lock_path: &Path, open: Option<&Path>) {
    let real = open.map(|path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned()));
    let noted = real.as_deref().and_then(Path::to_str).unwrap_or_default();
    // Written into the file as it is: another one of this name would not be locked.
    let written = File::options()
        .write(true)
        .open(lock_path)
        .and_then(|mut lock| {
            lock.set_len(0)?;
            lock.write_all(noted.as_bytes())
        });
    // Without it nobody is told of a second window, and nothing else is lost.
    drop(written);
}

/// Whether another running program has this file open.
pub fn is_open_elsewhere(folders: &Folders, path: &Path, own_work: Option<&Path>) -> bool {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    stems(&folders.data, &mut Vec::new()).iter().any(|stem| {
        let own = own_work == Some(with_ending(stem, WORK).as_path());
        let lock_path = with_ending(stem, LOCK);
        let noted = || {
            reading::content_of(&lock_path)
                .is_ok_and(|noted| noted == real.as_os_str().as_encoded_bytes())
        };
        let running = || {
            File::options()
                .write(true)
                .open(&lock_path)
                .is_ok_and(|lock| matches!(lock.try_lock(), Err(TryLockError::WouldBlock)))
        };
        !own && noted() && running()
    })
}

/// Unsaved work of a program that has crashed. While this is held, no other program is offered it.
#[derive(Debug)]
pub struct Leftover {
    /// The project as it was last kept.
    pub project: Project,
    /// The file it came from; `None` if it was never saved.
    pub original: Option<PathBuf>,
    /// What that file held, so that saving notices a change.
    pub stamp: Option<Stamp>,
    lock: Option<File>,
    lock_path: PathBuf,
    work_path: PathBuf,
}

impl Leftover {
    /// Removes it: it has been taken up and kept anew or saved, or is not wanted.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn discard(self) -> Result<(), FileError> {
        remove(&self.work_path)?;
        drop(self.lock);
        remove(&self.lock_path)
    }
}

/// What crashed programs have left.
#[derive(Debug, Default)]
pub struct Pending {
    /// Work that can be taken up again, in a stable order.
    pub leftovers: Vec<Leftover>,
    /// Files that cannot be read. They stay where they are.
    pub problems: Vec<FileError>,
}

/// Looks for what crashed programs have left, and tidies away their locks where nothing was unsaved.
pub fn pending(folders: &Folders, catalogue: &Catalogue) -> Pending {
    let mut pending = Pending::default();
    for stem in stems(&folders.data, &mut pending.problems) {
        let lock_path = with_ending(&stem, LOCK);
        let work_path = with_ending(&stem, WORK);
        let lock = match File::options().read(true).write(true).open(&lock_path) {
            Ok(lock) => match lock.try_lock() {
                Err(TryLockError::WouldBlock) => continue,
                // A disk without locks: the work is offered, which loses nothing.
                Ok(()) | Err(TryLockError::Error(_)) => Some(lock),
            },
            Err(_without_lock) => None,
        };
        match take_up(lock, lock_path, work_path, catalogue) {
            Ok(leftover) => pending.leftovers.extend(leftover),
            Err(problem) => pending.problems.push(problem),
        }
    }
    pending
}

/// Reads one piece of work; `None` where a program left nothing but its lock, which is removed.
fn take_up(
    lock: Option<File>,
    lock_path: PathBuf,
    work_path: PathBuf,
    catalogue: &Catalogue,
) -> Result<Option<Leftover>, FileError> {
    let content = match reading::content_of(&work_path) {
        Ok(content) => content,
        Err(FileError::Missing { .. }) => {
            remove(&lock_path)?;
            return Ok(None);
        }
        Err(other) => return Err(other),
    };
    let text = reading::text_of(&content, &work_path)?;
    parse::check_format(text, &work_path)?;
    let mut kept: Kept = parse::value(text, &work_path)?;
    kept.project = kept.project.raised();
    kept.project
        .check(catalogue)
        .map_err(|problem| FileError::Problem {
            problem,
            path: work_path.clone(),
        })?;
    // Where a path that depends on the folder the program started in would lead today, nobody knows.
    let original = kept
        .original
        .map(PathBuf::from)
        .filter(|path| path.is_absolute());
    Ok(Some(Leftover {
        project: kept.project,
        original,
        stamp: kept.stamp,
        lock,
        lock_path,
        work_path,
    }))
}

/// Every place taken in the data folder, by name, without ending.
fn stems(data: &Path, problems: &mut Vec<FileError>) -> Vec<PathBuf> {
    let entries = match fs::read_dir(data) {
        Ok(entries) => entries,
        Err(err) if err.kind() == io::ErrorKind::NotFound => return Vec::new(),
        Err(err) => {
            problems.push(FileError::system(Doing::Reading, &err, data));
            return Vec::new();
        }
    };
    let mut stems: Vec<PathBuf> = entries
        .flatten()
        .filter_map(|entry| {
            let name = entry.file_name();
            let name = name.to_str()?;
            let stem = [LOCK, WORK].iter().find_map(|ending| {
                name.strip_suffix(ending)
                    .and_then(|rest| rest.strip_suffix('.'))
            })?;
            stem.starts_with("work-").then(|| data.join(stem))
        })
        .collect();
    stems.sort();
    stems.dedup();
    stems
}

/// A stem with an ending.
fn with_ending(stem: &Path, ending: &str) -> PathBuf {
    let mut name = stem.as_os_str().to_owned();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}

/// Removes a file; one that is gone already is as well.
fn remove(path: &Path) -> Result<(), FileError> {
    match fs::remove_file(path) {
        Err(err) if err.kind() != io::ErrorKind::NotFound => {
            Err(FileError::system(Doing::Writing, &err, path))
        }
        _ => Ok(()),
    }
}
