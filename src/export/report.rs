//! The report: a project assessed in plain words.
//!
//! In: an [`Assessment`]. Out: text in metric units: each gauge with its range, its word and what
//! drives it, then what the heap would do and what would come of it.
//!
//! A projection says what would happen, never what will.
//! Not here: the same in figures for another program (`json`).
//!
//! Held against: `tests/document/export.rs`.

use std::fmt::{self, Write};

use super::Assessment;
use crate::heap::{Ended, Heap, Projection, Summary};
use crate::mix::{Gauges, PartShare};
use crate::quantity::{Range, UnitSystem, rounded_text};

/// Most ingredients named as driving a gauge.
const DRIVERS: usize = 3;
/// Share below which an ingredient does not drive a gauge.
const LEAST_SHARE: f64 = 0.05;
/// Months with their days in a common year.
const MONTHS: [(&str, u16); 12] = [
    ("January", 31),
    ("February", 28),
    ("March", 31),
    ("April", 30),
    ("May", 31),
    ("June", 30),
    ("July", 31),
    ("August", 31),
    ("September", 30),
    ("October", 31),
    ("November", 30),
    ("December", 31),
];

/// The whole report.
pub fn report(assessment: &Assessment<'_>) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_report(assessment, &mut text);
    text
}

fn write_report(assessment: &Assessment<'_>, out: &mut String) -> fmt::Result {
    let project = assessment.project;
    let title = if project.title.trim().is_empty() {
        "Untitled"
    } else {
        &project.title
    };
    writeln!(out, "{title}")?;
    let place = project.place.trim();
    let comma = if place.is_empty() { "" } else { ", " };
    writeln!(out, "{}{comma}{place}\n", project.season.label())?;
    write_mix(assessment, out)?;
    if let Some(gauges) = &assessment.blend.gauges {
        write_gauges(assessment, gauges, out)?;
    }
    if let Some(projection) = &assessment.projection {
        write_projection(projection, &project.heap, out)?;
    }
    if let Some(outcome) = &assessment.outcome {
        super::outcome_text::write_outcome(outcome, out)?;
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
    let words = assessment.words(gauges);
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    writeln!(
        out,
        "The gauges, each with the range that eight in ten such mixes would lie in"
    )?;
    let ratio = |value: f64| format!("{value:.1}");
    gauge(out, "C:N", gauges.cn, &ratio, words.cn)?;
    if !gauges.cn.typical.is_finite() {
        writeln!(out, "    there is no nitrogen to hold the carbon against")?;
    }
    driver(out, assessment, "carbon", |share| share.carbon)?;
    driver(out, assessment, "nitrogen", |share| share.nitrogen)?;
    gauge(out, "C:N available", gauges.cn_available, &ratio, None)?;
    gauge(out, "Moisture", gauges.moisture, &percent, words.moisture)?;
    driver(out, assessment, "water", |share| share.water)?;
    let room = assessment.project.heap.shape.room_m3();
    let volume = |m3: f64| UnitSystem::Metric.volume_text(m3);
    gauge(out, "Volume", gauges.volume_m3, &volume, words.volume)?;
    if let Some(room) = room {
        writeln!(
            out,
            "    room in the {}: {}",
            assessment.project.heap.shape.label(),
            volume(room)
        )?;
    }
    driver(out, assessment, "volume", |share| share.volume)?;
    let air = gauges.free_air_space;
    gauge(out, "Free air space", air, &percent, words.free_air_space)?;
    let density = |kg_per_m3: f64| format!("{kg_per_m3:.0} kg/m³");
    let wet = gauges.wet_bulk_density_kg_per_m3;
    gauge(out, "Bulk density", wet, &density, words.wet_bulk_density)?;
    writeln!(out)
}

/// One gauge on one line.
fn gauge(
    out: &mut String,
    name: &str,
    range: Range,
    text: &dyn Fn(f64) -> String,
    word: Option<&str>,
) -> fmt::Result {
    let value = if range.typical.is_finite() {
        text(range.typical)
    } else {
        "none".to_owned()
    };
    let (low, high) = (text(range.low), text(range.high));
    let spread = if range.is_sound() && low != high {
        format!("{low} to {high}")
    } else {
        String::new()
    };
    let line = format!(
        "  {name:<15} {value:<12} {spread:<26} {}",
        word.unwrap_or("")
    );
    writeln!(out, "{}", line.trim_end())
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

/// What the heap would do.
fn write_projection(projection: &Projection, heap: &Heap, out: &mut String) -> fmt::Result {
    let summary = &projection.summary;
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    writeln!(
        out,
        "The heap, {}, built on {}, over {}",
        heap.shape.label(),
        date_text(heap.start_day_of_year),
        days_text(heap.days)
    )?;
    writeln!(
        out,
        "  It would reach {:.0} °C at most, on day {:.0}{}.",
        summary.peak_c,
        summary.peak_day,
        heat_text(summary)
    )?;
    writeln!(
        out,
        "  Want of air would hold back {} of the rot.",
        percent(summary.airless_share)
    )?;
    writeln!(
        out,
        "  It would lose {} of its dry matter, and {} of its nitrogen as ammonia.",
        percent(summary.dry_matter_lost_share),
        percent(summary.nitrogen_lost_share)
    )?;
    match summary.finished_day {
        Some(day) => writeln!(out, "  It would hardly breathe after {}.", days_text(day))?,
        None => writeln!(out, "  It would still be at work at the end.")?,
    }
    if let Ended::Stopped { day } = projection.ended {
        writeln!(
            out,
            "  The projection stops on day {day:.0}, where it no longer means anything."
        )?;
    }
    Ok(())
}

/// How long it would be hot, as the end of a sentence.
fn heat_text(summary: &Summary) -> String {
    let (warm, hot) = (summary.days_above_40, summary.days_above_55);
    if warm <= 0.0 {
        " and so never 40 °C".to_owned()
    } else if hot <= 0.0 {
        format!(
            ", and be at 40 °C or more for {}, but never 55 °C",
            days_text(warm)
        )
    } else {
        format!(
            ", and be at 40 °C or more for {}, at 55 °C or more for {} of them",
            days_text(warm),
            days_text(hot)
        )
    }
}

/// "1 day", "12 days", "0.5 days".
fn days_text(days: f64) -> String {
    let number = rounded_text(if days >= 10.0 {
        days.round()
    } else {
        (days * 10.0).round() / 10.0
    });
    let word = if number == "1" { "day" } else { "days" };
    format!("{number} {word}")
}

/// "15 October" for day 288 of a common year; day 366 counts as the last of December.
fn date_text(day_of_year: f64) -> String {
    let mut day = (day_of_year.floor() as u16).clamp(1, 365);
    for (month, length) in MONTHS {
        if day <= length {
            return format!("{day} {month}");
        }
        day -= length;
    }
    String::new()
}
