//! What the readings of a diary, and those of a logger's file beside it, teach.
//!
//! In: a project, a logger's file. Out: what was learnt as text or JSON.
//!
//! Not here: learning (`forecast::learn`), how a logger's file is understood (`diary::import`).
//!
//! Tested by: `tests/document/learn.rs`.

use std::io::Write;
use std::path::Path;

use jiff::civil::DateTime;

use crate::assess::Assessed;
use crate::diary::Diary;
use crate::diary::import::{Choices, import, merge};
use crate::document::{Project, logger_bytes, shown};
use crate::export::{learnt_json, learnt_text};
use crate::material::Catalogue;
use crate::quantity::UnitSystem;
use crate::text::{error, logger};

use super::failure::{Failure, bad};

/// Adds what a logger's file holds to a diary; what was left out or looks odd is told on standard error.
pub(super) fn add_logged(
    path: &Path,
    diary: &mut Diary,
    complaints: &mut impl Write,
) -> Result<(), Failure> {
    let bytes = logger_bytes(path).map_err(bad)?;
    let choices = Choices {
        built: diary.built,
        ..Choices::default()
    };
    let read = import(&bytes, &choices)
        .map_err(|problem| Failure::BadInput(error::of_file(&shown(path), &problem.to_string())))?;
    let Some(imported) = &read.imported else {
        let problem = read.understood.lack.map_or("", logger::lack);
        return Err(Failure::BadInput(error::of_file(&shown(path), problem)));
    };
    for said in logger::told(imported, UnitSystem::Metric) {
        // With nowhere to say it, it stays unsaid.
        let _ = writeln!(complaints, "{said}");
    }
    merge(imported, diary).map_err(bad)?;
    Ok(())
}

/// Learns from a diary of a project's heap, at a moment.
pub(super) fn learn(
    project: &Project,
    (diary, now): (&Diary, DateTime),
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let mut assessed = Assessed::of(project, catalogue).map_err(bad)?;
    let today = diary.day_of(now).unwrap_or(0.0);
    assessed
        .learn(project, catalogue, diary, today)
        .map_err(bad)?;
    let Some(learning) = &assessed.learnt else {
        return Ok(());
    };
    if as_json {
        writeln!(out, "{}", learnt_json(learning).map_err(bad)?)?;
    } else {
        write!(out, "{}", learnt_text(learning, UnitSystem::Metric))?;
    }
    Ok(())
}
