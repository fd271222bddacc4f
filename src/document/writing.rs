//! The one way out: a file is written whole or not at all.
//!
//! In: a path, bytes. Out: the file, or a sentence; what of the old file could not be kept.
//!
//! A sibling is made that only its owner may read, given owner, attributes and permissions of the file it will
//! replace, then written, synchronised and renamed over it; then the folder is synchronised. Whatever fails before
//! the renaming leaves the old file as it was. A link is followed and stays a link.
//! Not here: what is written (`file`, `settings`, `recovery`), reading (`reading`).
//!
//! Tested by: `tests/document/round_trip.rs`, `tests/document/writing.rs`, `tests/document/faults.rs`.

use std::ffi::OsStr;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use tempfile::NamedTempFile;

use super::error::{Doing, FileError};

/// Most links followed from one to the next before they count as a ring.
const LINK_LIMIT: usize = 40;
/// How the name of a sibling begins.
const SIBLING_BEGIN: &str = ".heapwright-";
/// How the name of a sibling ends.
const SIBLING_END: &str = ".tmp";
/// No writing takes so long; a sibling older than this that nobody holds was left by a crash.
const STALE_AFTER: Duration = Duration::from_mins(1);

/// What of the file that was replaced is not as it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unkept {
    /// It belonged to someone else, or to another group; that group may not read it any more.
    Owner,
    /// It had attributes that the system does not let this program set.
    Attributes,
    /// It had other names (hard links), under which the earlier content still stands.
    OtherNames,
}

/// Who may read a new file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Readers {
    /// Whoever could read the file that was there; for a new one whoever the person's usual mask lets.
    AsBefore,
    /// The owner alone.
    OwnerAlone,
}

/// Puts `content` in the place of the file at `path`, whole or not at all; a link is followed.
pub(crate) fn replace(path: &Path, content: &[u8]) -> Result<(), FileError> {
    let target = target_of(path)?;
    let put = |file: &mut File| file.write_all(content);
    replace_by(&target, Readers::AsBefore, put).map(drop)
}

/// As [`replace`], for what is nobody else's business.
pub(super) fn replace_own(path: &Path, content: &[u8]) -> Result<(), FileError> {
    let put = |file: &mut File| file.write_all(content);
    replace_by(path, Readers::OwnerAlone, put).map(drop)
}

/// As [`replace`], on a path that is no link, with the putting of bytes handed in.
pub(super) fn replace_by(
    target: &Path,
    readers: Readers,
    put: impl FnOnce(&mut File) -> io::Result<()>,
) -> Result<Vec<Unkept>, FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Writing, &err, target);
    let before = standing(target)?;
    let folder = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let usual = before.is_none() && readers == Readers::AsBefore;
    let mut sibling = new_sibling(folder, usual).map_err(refused)?;
    let file = sibling.as_file_mut();
    // Held while it is written, so that nobody takes it for a stale one; some network disks know no locks.
    let _ = file.try_lock();
    let mut unkept = Vec::new();
    if let (Some(before), Readers::AsBefore) = (&before, readers) {
        dress(file, before, &mut unkept).map_err(refused)?;
    }
    put(file).map_err(refused)?;
    file.flush().map_err(refused)?;
    file.sync_all().map_err(refused)?;
    persist(sibling, target).map_err(refused)?;
    synchronise_folder(folder);
    Ok(unkept)
}

/// Removes the siblings that crashed programs have left in a folder. What cannot be removed stays.
pub fn tidy(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries.filter(|entry| is_sibling(&entry.file_name())) {
        if is_stale(&entry.path()) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

fn is_sibling(name: &OsStr) -> bool {
    name.to_str()
        .is_some_and(|name| name.starts_with(SIBLING_BEGIN) && name.ends_with(SIBLING_END))
}

/// Whether this is an ordinary file that is old and that no program holds.
fn is_stale(path: &Path) -> bool {
    let Ok(metadata) = fs::symlink_metadata(path) else {
        return false;
    };
    let written = metadata.modified().ok();
    let age = written.and_then(|then| SystemTime::now().duration_since(then).ok());
    let old = age.is_some_and(|age| age >= STALE_AFTER);
    let free = || match OpenOptions::new().write(true).open(path) {
        Ok(file) => !matches!(file.try_lock(), Err(fs::TryLockError::WouldBlock)),
        Err(_) => false,
    };
    metadata.is_file() && old && free()
}

/// A temporary file beside the target: as any new file is, or for its owner alone.
fn new_sibling(folder: &Path, usual: bool) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(SIBLING_BEGIN).suffix(SIBLING_END);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The mask of the process takes away what the person does not want.
        let mode = if usual { 0o666 } else { 0o600 };
        builder.permissions(fs::Permissions::from_mode(mode));
    }
    builder.tempfile_in(folder)
}

/// The file that is to be replaced, open, with what the system knows of it.
struct Standing {
    metadata: Metadata,
    #[cfg_attr(
        not(unix),
        expect(dead_code, reason = "attributes are read of it on unix")
    )]
    file: File,
}

/// The file that is to be replaced; `None` if there is none yet.
fn standing(target: &Path) -> Result<Option<Standing>, FileError> {
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
    let file = OpenOptions::new()
        .write(true)
        .open(target)
        .map_err(|err| FileError::system(Doing::Writing, &err, target))?;
    Ok(Some(Standing { metadata, file }))
}

/// Gives the new file owner, permissions and attributes of the old one, while there is nothing in it to read.
#[cfg(unix)]
fn dress(file: &File, before: &Standing, unkept: &mut Vec<Unkept>) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
    let old = &before.metadata;
    let new = file.metadata()?;
    let mut mode = old.mode() & 0o7777;
    if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
        let both = fchown(file, Some(old.uid()), Some(old.gid()));
        let group = both.is_ok() || fchown(file, None, Some(old.gid())).is_ok();
        if both.is_err() && (new.uid() != old.uid() || !group) {
            unkept.push(Unkept::Owner);
        }
        if !group {
            // What the old group was allowed is not for the new one.
            mode &= !0o7070;
        }
    }
    file.set_permissions(fs::Permissions::from_mode(mode))?;
    if !copy_attributes(&before.file, file) {
        unkept.push(Unkept::Attributes);
    }
    if old.nlink() > 1 {
        unkept.push(Unkept::OtherNames);
    }
    Ok(())
}

/// Gives the new file the permissions of the old one, while there is nothing in it to read.
#[cfg(not(unix))]
fn dress(file: &File, before: &Standing, _: &mut Vec<Unkept>) -> io::Result<()> {
    file.set_permissions(before.metadata.permissions())
}

/// Copies extended attributes; whether all of them could be.
#[cfg(any(target_os = "linux", target_os = "macos"))]
fn copy_attributes(from: &File, to: &File) -> bool {
    use rustix::fs::{
        XattrFlags, fgetxattr, fgetxattr_query, flistxattr, flistxattr_query, fsetxattr,
    };
    // A disk without attributes has none to lose.
    let mut names = vec![0_u8; flistxattr_query(from).unwrap_or(0)];
    let Ok(length) = flistxattr(from, &mut names) else {
        return true;
    };
    let mut all = true;
    for name in names[..length].split(|byte| *byte == 0) {
        if name.is_empty() {
            continue;
        }
        let mut value = vec![0_u8; fgetxattr_query(from, name).unwrap_or(0)];
        let copied = fgetxattr(from, name, &mut value)
            .and_then(|length| fsetxattr(to, name, &value[..length], XattrFlags::empty()));
        // The system sets its own ones itself.
        all &= copied.is_ok() || name.starts_with(b"security.");
    }
    all
}

/// Attributes of other systems are not known here.
#[cfg(all(unix, not(any(target_os = "linux", target_os = "macos"))))]
fn copy_attributes(_: &File, _: &File) -> bool {
    true
}

/// Renames the finished sibling over the target; a signal meanwhile only means once more.
fn persist(mut sibling: NamedTempFile, target: &Path) -> io::Result<()> {
    loop {
        match sibling.persist(target) {
            Ok(_) => return Ok(()),
            Err(err) if err.error.kind() == io::ErrorKind::Interrupted => sibling = err.file,
            Err(err) => return Err(err.error),
        }
    }
}

/// Makes the renaming last through a power cut.
fn synchronise_folder(folder: &Path) {
    if cfg!(unix) {
        // The file stands complete under its name; some network disks cannot synchronise a folder,
        // and a failure here must not be told as a failed save.
        let _ = File::open(folder).and_then(|folder| folder.sync_all());
    }
}

/// Where a path leads through links, even if nothing stands there yet.
pub(super) fn target_of(path: &Path) -> Result<PathBuf, FileError> {
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
