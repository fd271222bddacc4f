//! The report: a project assessed in plain words.
//!
//! In: an [`Assessment`]. Out: text in metric units: each gauge with its range, its word and what
//! drives it, then what the heap would do and what would come of it.
//!
//! A projection says what would happen, never what will.
//! Not here: the same in figures for another program (`json`).
//!
//! Tested by: `tests/document/export.rs`.

use std::fmt::{self, Write};

use super::Assessment;
use super::words::{Gauge, gauge_lines, projection_text, title};
use crate::mix::{Gauges, PartShare};
use crate::outcome::shared;
use crate::quantity::{UnitSystem, rounded_text};

/// Most ingredients named as driving a gauge.
const DRIVERS: usize = 3;
/// Share below which an ingredient does not drive a gauge.
const LEAST_SHARE: f64 = 0.05;

/// The whole report.
pub fn report(assessment: &Assessment<'_>) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_report(assessment, &mut text);
    text
}

fn write_report(assessment: &Assessment<'_>, out: &mut String) -> fmt::Result {
    let project = assessment.project;
    let (title, place) = title(project);
    writeln!(out, "{title}\n{place}\n")?;
    write_mix(assessment, out)?;
    if let Some(gauges) = &assessment.blend.gauges {
        write_gauges(assessment, gauges, out)?;
    }
    if let Some(projection) = &assessment.projection {
        let outcome = assessment.outcome.as_ref();
        let (head, sentences) =
            projection_text(projection, outcome, &project.heap, UnitSystem::Metric);
        writeln!(out, "{head}")?;
        for sentence in sentences {
            writeln!(out, "  {sentence}")?;
        }
    }
    if let (Some(outcome), Some(facts)) = (&assessment.outcome, shared()) {
        super::outcome_text::write_outcome(outcome, facts, out)?;
    }
    if let Some(remark) = assessment.remark() {
        writeln!(out, "{remark}")?;
    }
    Ok(())
}

/// The ingredients with their amounts.
fn write_mix(assessment: &Assessment<'_>, out: &mut String) -> fmt::Result {
    let mix = &assessment.project.mix;
    if mix.ingredients.is_empty() && mix.added_water_l <= 0.0 {
        return Ok(());
    }
    writeln!(
        out,
        "The mix, {}",
        UnitSystem::Metric.mass_text(assessment.blend.totals.wet_kg())
    )?;
    for (ingredient, name) in mix.ingredients.iter().zip(&assessment.names) {
        writeln!(out, "  {:<18} {name}", ingredient.amount.text())?;
    }
    if mix.added_water_l > 0.0 {
        let litres = format!("{} L", rounded_text(mix.added_water_l));
        writeln!(out, "  {litres:<18} water, poured on")?;
    }
    writeln!(out)
}

/// Every gauge, each followed by what drives it.
fn write_gauges(assessment: &Assessment<'_>, gauges: &Gauges, out: &mut String) -> fmt::Result {
    writeln!(
        out,
        "The gauges, each with the range that eight in ten such mixes would lie in"
    )?;
    for line in gauge_lines(assessment, gauges, UnitSystem::Metric) {
        let (name, value, spread) = (line.name, &line.value, &line.spread);
        let text = format!(
            "  {name:<15} {value:<12} {spread:<26} {}",
            line.word.unwrap_or("")
        );
        writeln!(out, "{}", text.trim_end())?;
        match line.gauge {
            Gauge::CarbonNitrogen => {
                if !gauges.cn.typical.is_finite() {
                    writeln!(out, "    there is no nitrogen to hold the carbon against")?;
                }
                driver(out, assessment, "carbon", |share| share.carbon)?;
                driver(out, assessment, "nitrogen", |share| share.nitrogen)?;
            }
            Gauge::Moisture => driver(out, assessment, "water", |share| share.water)?,
            Gauge::Volume => {
                let shape = &assessment.project.heap.shape;
                if let Some(room) = shape.room_m3() {
                    let room = UnitSystem::Metric.volume_text(room);
                    writeln!(out, "    room in the {}: {room}", shape.label())?;
                }
                driver(out, assessment, "volume", |share| share.volume)?;
            }
            Gauge::Available | Gauge::FreeAirSpace | Gauge::BulkDensity => {}
        }
    }
    writeln!(out)
}

/// The ingredients that bring most of something.
fn driver(
    out: &mut String,
    assessment: &Assessment<'_>,
    what: &str,
    share: impl Fn(&PartShare) -> f64,
) -> fmt::Result {
    let named = assessment.names.iter().zip(&assessment.blend.shares);
    let mut shares: Vec<(f64, &str)> = named
        .map(|(name, part)| (share(part), name.as_str()))
        .collect();
    if what == "water" {
        shares.push((assessment.blend.added_water_share, "water poured on"));
    }
    shares.sort_by(|a, b| b.0.total_cmp(&a.0));
    let largest: Vec<String> = shares
        .iter()
        .filter(|(share, _)| *share >= LEAST_SHARE)
        .take(DRIVERS)
        .map(|(share, name)| format!("{name} {:.0} %", 100.0 * share))
        .collect();
    if largest.is_empty() {
        return Ok(());
    }
    writeln!(out, "    {what}: {}", largest.join("; "))
}
