//! The project a command is about, and the files it may write.
//!
//! In: paths. Out: a project; a refusal to write over one.
//!
//! Not here: reading and writing themselves (`document::file`).
//!
//! Tested by: `tests/document/command.rs`, `tests/document/bad_input.rs`.

use std::fs;
use std::path::Path;

use crate::document::file::{self, Opened};
use crate::document::{EXTENSION, Project, shown};
use crate::material::Catalogue;
use crate::text::error::{self, WrittenOut};

use super::failure::{Failure, bad};

/// Opens a project.
pub(super) fn open(path: &Path, catalogue: &Catalogue) -> Result<Project, Failure> {
    let Opened { project, .. } = file::read(path, catalogue).map_err(bad)?;
    Ok(project)
}

/// Refuses to write what is not a project over one.
pub(super) fn refuse_project_as_target(
    source: &Path,
    target: &Path,
    what: WrittenOut,
) -> Result<(), Failure> {
    let same = match (fs::canonicalize(source), fs::canonicalize(target)) {
        (Ok(source), Ok(target)) => source == target,
        // A target that does not exist yet is not the source.
        _ => false,
    };
    if same || target.to_string_lossy().to_lowercase().ends_with(EXTENSION) {
        return Err(Failure::BadInput(error::over_a_project(
            what,
            &shown(target),
        )));
    }
    Ok(())
}
