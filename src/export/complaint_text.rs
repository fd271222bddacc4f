//! What is wrong with a heap, as plain text.
//!
//! In: a [`Diagnosis`]. Out: causes with their evidence, then cures.
//!
//! Not here: the sentences (`text::complaint`), figures for another program (`complaint_json`).
//!
//! Tested by: `tests/document/complaint.rs`.

use std::fmt::{self, Write};

use crate::assess::remedy::Diagnosis;
use crate::material::Catalogue;
use crate::outcome::Facts;
use crate::quantity::UnitSystem;
use crate::text::complaint as words;

/// The whole diagnosis.
pub fn complaint_text(
    found: &Diagnosis,
    catalogue: &Catalogue,
    facts: &Facts,
    units: UnitSystem,
) -> String {
    let mut out = String::new();
    // Writing to a String cannot fail.
    let _ = write_all(found, (catalogue, facts), units, &mut out);
    out
}

fn write_all(
    found: &Diagnosis,
    (catalogue, facts): (&Catalogue, &Facts),
    units: UnitSystem,
    out: &mut String,
) -> fmt::Result {
    writeln!(out, "{}", words::HEADING)?;
    for symptom in &found.symptoms {
        writeln!(out, "  {}", words::symptom(*symptom))?;
    }
    for said in words::readings_taken(found, units) {
        writeln!(out, "{said}")?;
    }
    if !found.not_shown.is_empty() {
        writeln!(out, "\n{}", words::not_as_written(found))?;
    }
    writeln!(out, "\n{}", words::CAUSES)?;
    if found.told().next().is_none() {
        writeln!(out, "  {}", words::NONE_HOLDS)?;
        for fault in found.rows(facts) {
            writeln!(out, "    {}", words::row_said(fault))?;
            writeln!(out, "    {}", words::row_source(fault))?;
        }
    }
    for ranked in found.told() {
        writeln!(
            out,
            "  {} ({})",
            words::cause(ranked.cause),
            words::grade(ranked)
        )?;
        if found.symptoms.len() > 1 {
            writeln!(out, "    {}", words::explains(ranked))?;
        }
        let why = words::why(ranked, units);
        if !why.is_empty() {
            writeln!(out, "    {why}.")?;
        }
        if let Some(known) = words::how_known(ranked, units) {
            writeln!(out, "    {known}")?;
        }
        if let Some(fault) = found.fault(ranked, facts) {
            writeln!(out, "    {}", words::row_said(fault))?;
            writeln!(out, "    {}", words::row_source(fault))?;
        }
    }
    writeln!(out, "\n{}", words::CURES)?;
    if found.cures.is_empty() {
        writeln!(out, "  {}", words::NO_CURE)?;
    }
    let best = found.best_cure();
    let others = found.cures.iter().filter(|cure| Some(*cure) != best);
    for cure in best.into_iter().chain(others) {
        writeln!(out, "  {}", words::cure(cure, catalogue, units))?;
        writeln!(out, "    {}", words::for_what(cure))?;
        for line in words::expected_lines(cure, units) {
            writeln!(out, "    {line}")?;
        }
    }
    if !found.cures.is_empty() {
        writeln!(out, "  {}", words::simulated_as(found))?;
    }
    for beware in found.beware(facts) {
        writeln!(
            out,
            "\n{} {}",
            words::beware(beware),
            words::beware_source(beware)
        )?;
    }
    Ok(())
}
