//! A year planned from its file.
//!
//! In: a year's file. Out: the plan as text or JSON, and how long it took.
//!
//! Not here: planning (`year`), the file (`document::year`).
//!
//! Tested by: `tests/document/year.rs`.

use std::io::Write;
use std::path::Path;
use std::time::Instant;

use crate::document::shown;
use crate::document::year::read_year;
use crate::export::{year_json, year_text};
use crate::material::Catalogue;
use crate::quantity::UnitSystem;
use crate::text::error::{self, Joint};
use crate::text::year::{self as words, YearTold};
use crate::year::plan;

use super::failure::{Failure, bad};

/// Plans a year and writes the plan; the seconds that the planning took come back.
pub(super) fn plan_year(
    path: &Path,
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<f64, Failure> {
    let (file, catalogue) = read_year(path, catalogue).map_err(bad)?;
    let since = Instant::now();
    let plan = plan(&file.year, &catalogue).map_err(|problem| {
        let sentence = words::unplanned(&file.year, &problem, &catalogue);
        Failure::BadInput(error::about_file(&sentence, &shown(path), Joint::Clause))
    })?;
    let took = since.elapsed().as_secs_f64();
    let told = YearTold {
        year: &file.year,
        plan: &plan,
        catalogue: &catalogue,
        units: UnitSystem::Metric,
    };
    if as_json {
        writeln!(out, "{}", year_json(&file, &told).map_err(bad)?)?;
    } else {
        write!(out, "{}", year_text(&file, &told))?;
    }
    Ok(took)
}
