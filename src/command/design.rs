//! Commands about a recipe: its curve, its balance, its handout.
//!
//! In: a project file. Out: text, a table, a page, a balanced project.
//!
//! Not here: a heap that stands (`dates`, `learn`, `wrong`).
//!
//! Tested by: `tests/document/command.rs`, `tests/document/handout.rs`.

use std::fs;
use std::io::Write;
use std::path::Path;

use crate::document::{Folders, Settings, file, replace, shown};
use crate::export::{Assessment, Handout, Paper, balance_text, handout, projection_csv};
use crate::material::Catalogue;
use crate::mix::balance::{Goal, balance_handily};
use crate::quantity::UnitSystem;
use crate::text::error::{self, Joint, WrittenOut};

use super::arguments::UnitsChoice;
use super::failure::{Failure, bad};
use super::files::{open, refuse_project_as_target};

/// Balances the mix of one project; the balanced project goes to `target`, if one is given.
pub(super) fn balanced(
    path: &Path,
    target: Option<&Path>,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let mut project = open(path, catalogue)?;
    let with_own = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let goal = Goal::of_room(project.heap.shape.room_m3());
    let found = balance_handily(&project.mix, &with_own, &goal).map_err(bad)?;
    let text = balance_text(&project, &with_own, &found);
    if let Some(target) = target {
        let target = file::with_extension(target);
        if fs::symlink_metadata(&target).is_ok() {
            return Err(Failure::BadInput(error::already_there(&shown(&target))));
        }
        project.mix = found.mix;
        file::write(&target, &project, None).map_err(bad)?;
    }
    Ok(write!(out, "{text}")?)
}

/// Writes the projection of one project.
pub(super) fn curve(
    path: &Path,
    target: &Path,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::of(&project, catalogue).map_err(bad)?;
    let Some(projection) = &assessment.projection else {
        let remark = assessment.remark().unwrap_or(error::NOT_PROJECTED);
        let sentence = error::about_file(&remark, &shown(path), Joint::Sentence);
        return Err(Failure::BadInput(sentence));
    };
    if target == Path::new("-") {
        return Ok(projection_csv(projection, out)?);
    }
    refuse_project_as_target(path, target, WrittenOut::Table)?;
    let mut table = Vec::new();
    projection_csv(projection, &mut table)?;
    replace(target, &table).map_err(bad)
}

/// Writes the handout of one project, with the band of its forecast.
pub(super) fn print_handout(
    path: &Path,
    target: &Path,
    catalogue: &Catalogue,
    (paper, units): (Paper, UnitSystem),
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::whole(&project, catalogue).map_err(bad)?;
    let cautions = assessment.cautions_in(units);
    let page = handout(&Handout {
        assessment: &assessment,
        forecast: assessment.forecast.as_ref(),
        cautions: &cautions,
        units,
        paper,
    })
    .map_err(bad)?;
    if target == Path::new("-") {
        return Ok(out.write_all(&page)?);
    }
    refuse_project_as_target(path, target, WrittenOut::Handout)?;
    replace(target, &page).map_err(bad)
}

/// The units asked for, else those a person has chosen in the window.
pub(super) fn units_of(choice: Option<UnitsChoice>) -> UnitSystem {
    match choice {
        Some(UnitsChoice::Metric) => UnitSystem::Metric,
        Some(UnitsChoice::Us) => UnitSystem::UsCustomary,
        None => Folders::of_user().map_or(UnitSystem::Metric, |folders| {
            Settings::load(&folders).settings.units
        }),
    }
}
