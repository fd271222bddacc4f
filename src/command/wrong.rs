//! What is wrong with a heap.
//!
//! In: a project file, symptoms, readings by hand. Out: causes and cures as text or JSON.
//!
//! Not here: the answer (`assess::remedy`), its words (`export::complaint_text`).
//!
//! Tested by: `tests/document/complaint.rs`.

use std::io::Write;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use jiff::civil::DateTime;

use crate::assess::remedy::Question;
use crate::export::{complaint_json, complaint_text};
use crate::material::Catalogue;
use crate::outcome::complaint::{Readings, Symptom};
use crate::outcome::shared;
use crate::quantity::UnitSystem;
use crate::text::error;

use super::failure::{Failure, bad};
use super::files::open;

/// The symptoms of these names, each once.
pub(super) fn symptoms_of(names: &[String]) -> Result<Vec<Symptom>, Failure> {
    let mut all = Vec::new();
    for name in names {
        let name = name.trim();
        let symptom = Symptom::of_id(name).ok_or_else(|| {
            let known = Symptom::ALL.map(Symptom::id);
            Failure::BadInput(error::no_such_symptom(name, &known))
        })?;
        if !all.contains(&symptom) {
            all.push(symptom);
        }
    }
    Ok(all)
}

/// Says what is wrong with a heap.
pub(super) fn diagnose(
    path: &Path,
    symptoms: Vec<Symptom>,
    (readings, now): (Readings, DateTime),
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let catalogue = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let asked = (symptoms, readings);
    let question = Question::about(&project, Arc::new(catalogue), now, asked).map_err(bad)?;
    let never = AtomicBool::new(false);
    let found = question.answer(&never, |_| {}).map_err(bad)?;
    let Some(found) = found else { return Ok(()) };
    let facts = shared().map_err(bad)?;
    let catalogue = &question.catalogue;
    if as_json {
        let text = complaint_json(&found, catalogue, facts).map_err(bad)?;
        writeln!(out, "{text}")?;
    } else {
        let text = complaint_text(&found, catalogue, facts, UnitSystem::Metric);
        write!(out, "{text}")?;
    }
    Ok(())
}
