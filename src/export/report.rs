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

use super::assessment::Assessment;
use crate::forecast::Forecast;
use crate::mix::{Gauge, Gauges};
use crate::outcome::shared;
use crate::quantity::UnitSystem;
use crate::text::forecast::may_not_start;
use crate::text::gauges::{
    LineSubject, NO_NITROGEN, WATER_POURED_ON, drivers, gauge_lines, mix_heading,
};
use crate::text::mix::{GaugeDriver, POURED_WATER, largest_shares, poured};
use crate::text::{amount, garden, heap, page};

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
    let (title, place) = (garden::title(project), garden::season_and_place(project));
    writeln!(out, "{title}\n{place}\n")?;
    write_mix(assessment, out)?;
    if let Some(gauges) = &assessment.blend.gauges {
        write_gauges(assessment, gauges, out)?;
    }
    if let Some(projection) = &assessment.projection {
        let finish = assessment.outcome.as_ref().map(|it| &it.finish);
        writeln!(out, "{}", heap::projection_heading(&project.heap))?;
        let start = assessment.forecast.as_ref().map(Forecast::start);
        if let Some(doubt) = start.and_then(may_not_start) {
            writeln!(out, "  {doubt}.")?;
        }
        for sentence in heap::projection(projection, finish, UnitSystem::Metric) {
            writeln!(out, "  {sentence}")?;
        }
    }
    if let (Some(outcome), Ok(facts)) = (&assessment.outcome, shared()) {
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
    let heading = mix_heading(assessment.blend.totals.wet_kg(), UnitSystem::Metric);
    writeln!(out, "{heading}")?;
    for (ingredient, name) in mix.ingredients.iter().zip(&assessment.names) {
        writeln!(out, "  {:<18} {name}", amount::amount(&ingredient.amount))?;
    }
    if mix.added_water_l > 0.0 {
        let litres = poured(mix.added_water_l, UnitSystem::Metric);
        writeln!(out, "  {litres:<18} {POURED_WATER}")?;
    }
    writeln!(out)
}

/// Every gauge, each followed by what drives it.
fn write_gauges(assessment: &Assessment<'_>, gauges: &Gauges, out: &mut String) -> fmt::Result {
    writeln!(out, "{}", page::GAUGES_WITH_RANGES)?;
    let shape = &assessment.project.heap.shape;
    for line in gauge_lines(gauges, shape.room_m3(), UnitSystem::Metric) {
        let (name, value, spread) = (line.name, &line.value, &line.spread);
        let text = format!(
            "  {name:<15} {value:<12} {spread:<26} {}",
            line.word.unwrap_or("")
        );
        writeln!(out, "{}", text.trim_end())?;
        match line.subject {
            LineSubject::Of(Gauge::CarbonNitrogen) => {
                if !gauges.cn.typical.is_finite() {
                    writeln!(out, "    {NO_NITROGEN}")?;
                }
                write_drivers(out, assessment, GaugeDriver::Carbon)?;
                write_drivers(out, assessment, GaugeDriver::Nitrogen)?;
            }
            LineSubject::Of(Gauge::Moisture) => write_drivers(out, assessment, GaugeDriver::Water)?,
            LineSubject::Of(Gauge::Volume) => {
                if let Some(room_m3) = shape.room_m3() {
                    let room = heap::room(shape, room_m3, UnitSystem::Metric);
                    writeln!(out, "    {room}")?;
                }
                write_drivers(out, assessment, GaugeDriver::Volume)?;
            }
            LineSubject::Of(Gauge::AirSpace | Gauge::Density)
            | LineSubject::AvailableCarbonNitrogen => {}
        }
    }
    writeln!(out)
}

/// The ingredients that bring most of something.
fn write_drivers(out: &mut String, assessment: &Assessment<'_>, what: GaugeDriver) -> fmt::Result {
    let named = assessment.names.iter().zip(&assessment.blend.shares);
    let mut shares: Vec<(f64, &str)> = named
        .map(|(name, part)| (what.share(part), name.as_str()))
        .collect();
    if what == GaugeDriver::Water {
        shares.push((assessment.blend.added_water_share, WATER_POURED_ON));
    }
    let largest = largest_shares(shares, LEAST_SHARE, DRIVERS);
    if largest.is_empty() {
        return Ok(());
    }
    writeln!(out, "    {}", drivers(what, &largest))
}
