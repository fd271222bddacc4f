//! What is done with kept recipes: copied, renamed, put into the bin and brought back. Nothing is ever deleted.
//!
//! In: a recipe's file, the folders. Out: where it is now.
//!
//! The bin is a folder of its own beside the working data, so that whatever lies in it can be brought back from the
//! window, whatever the system.
//! Not here: listing (`library`), what becomes of the open recipe (`window`).
//!
//! Tested by: `tests/document/keeping.rs`.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::error::{Doing, FileError};
use super::library::{free_path, plain_name, suggested_path};
use super::reading::content_of;
use super::writing::replace;
use super::{EXTENSION, Folders, Project, Stamp, file};
use crate::material::Catalogue;

/// A recipe under its new title.
#[derive(Debug, Clone, PartialEq)]
pub struct Renamed {
    /// Where it is now.
    pub path: PathBuf,
    /// As it is now.
    pub project: Project,
    /// What its file held before.
    pub before: Stamp,
    /// What its file holds now.
    pub stamp: Stamp,
}

/// Copies a recipe under another title; the copy's file is named after it.
///
/// # Errors
/// [`FileError`]: it cannot be read, the title cannot be, or the system refused. Nothing is written then.
pub fn duplicate(
    folders: &Folders,
    path: &Path,
    title: &str,
    built_in: &Catalogue,
) -> Result<PathBuf, FileError> {
    let mut project = file::read(path, built_in)?.project;
    title.clone_into(&mut project.title);
    let copy = suggested_path(folders, &project);
    file::write(&copy, &project, None)?;
    Ok(copy)
}

/// Gives a recipe another title, and its file the name that goes with it.
///
/// # Errors
/// [`FileError`]: it cannot be read, the title cannot be, or the system refused; title and file name are then as before.
pub fn rename(path: &Path, title: &str, built_in: &Catalogue) -> Result<Renamed, FileError> {
    let opened = file::read(path, built_in)?;
    let was = opened.project.title.clone();
    let mut project = opened.project;
    title.clone_into(&mut project.title);
    let named_as = |title: &str| is_named_after(path, title);
    let target = match path.parent() {
        Some(folder) if !named_as(title) => free_path(folder, &plain_name(title)),
        _ => path.to_owned(),
    };
    let stamp = file::write(path, &project, Some(&opened.stamp))?;
    if target != path
        && let Err(err) = fs::rename(path, &target)
    {
        project.title = was;
        file::write(path, &project, Some(&stamp))?;
        return Err(FileError::system(Doing::Writing, &err, path));
    }
    Ok(Renamed {
        path: target,
        project,
        before: opened.stamp,
        stamp,
    })
}

/// Puts a recipe into the bin.
///
/// # Errors
/// [`FileError`]: the system refused; the recipe is then where it was.
pub fn put_away(folders: &Folders, path: &Path) -> Result<PathBuf, FileError> {
    move_into(&folders.bin(), path)
}

/// Brings a recipe back from the bin; its name gets a number where another has taken it meanwhile.
///
/// # Errors
/// [`FileError`]: the system refused; the recipe then lies in the bin still.
pub fn bring_back(folders: &Folders, path: &Path) -> Result<PathBuf, FileError> {
    move_into(&folders.recipes, path)
}

/// The name of a file without its ending.
fn stem(path: &Path) -> String {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let kept = name.len().saturating_sub(EXTENSION.len());
    match name.get(kept..) {
        Some(ending) if ending.eq_ignore_ascii_case(EXTENSION) => name[..kept].to_owned(),
        _ => name.into_owned(),
    }
}

/// Whether a file has the name that goes with a title, a number behind it or not.
fn is_named_after(path: &Path, title: &str) -> bool {
    let (stem, name) = (stem(path), plain_name(title));
    let rest = stem.strip_prefix(&name);
    rest.is_some_and(|rest| {
        let number = rest.strip_prefix('-').unwrap_or(rest);
        rest.is_empty() || (!number.is_empty() && number.bytes().all(|it| it.is_ascii_digit()))
    })
}

fn move_into(folder: &Path, path: &Path) -> Result<PathBuf, FileError> {
    let refused = |err: io::Error| FileError::system(Doing::Writing, &err, path);
    fs::symlink_metadata(path).map_err(|err| FileError::system(Doing::Reading, &err, path))?;
    fs::create_dir_all(folder).map_err(|err| FileError::system(Doing::Writing, &err, folder))?;
    let target = free_path(folder, &stem(path));
    match fs::rename(path, &target) {
        Err(err) if err.kind() == io::ErrorKind::CrossesDevices => {
            // Another disk: the copy stands whole before the original goes.
            let content = content_of(path)?;
            replace(&target, &content)?;
            fs::remove_file(path).map_err(refused)?;
        }
        moved => moved.map_err(refused)?,
    }
    Ok(target)
}
