//! What stands on a handout, in words.
//!
//! In: a [`Handout`]. Out: its lines by section, and all of them as plain text.
//!
//! Not here: what fits on the page (`page`).
//!
//! Tested by: `tests/document/handout.rs`.

use std::fmt::{self, Write};

use crate::export::words::{GaugeLine, dates, gauge_lines, projection_text, title};
use crate::export::{Assessment, Caution, Handout};
use crate::forecast::Forecast;
use crate::quantity::{Amount, Extent, Measure, UnitSystem, rounded_text};

/// Buckets (or pails) up to which something is said in them, then in barrows.
const MOST_BUCKETS: f64 = 16.0;

/// The lines of a handout.
pub(super) struct Content<'a> {
    pub title: String,
    pub place: String,
    /// Amount and name of each ingredient, poured water last.
    pub mix: Vec<(String, String)>,
    /// What it makes, and what the measures hold.
    pub mix_notes: Vec<String>,
    pub gauges: Vec<GaugeLine>,
    /// Why something is missing.
    pub remark: Option<&'static str>,
    /// Heading and sentences on what the heap would do.
    pub projection: Option<(String, Vec<String>)>,
    /// Date and operation.
    pub dates: Vec<(String, String)>,
    pub cautions: &'a [Caution],
    pub units: UnitSystem,
}

impl<'a> Content<'a> {
    pub(super) fn of(handout: &Handout<'a>) -> Self {
        let (assessment, units) = (handout.assessment, handout.units);
        let (title, place) = title(assessment.project);
        let blend = &assessment.blend;
        let gauges = blend.gauges.as_ref();
        let heap = &assessment.project.heap;
        let projection = assessment.projection.as_ref().map(|projection| {
            let outcome = assessment.outcome.as_ref();
            let (head, mut sentences) = projection_text(projection, outcome, heap, units);
            if let Some(spread) = handout.forecast.and_then(|f| peak_text(f, units)) {
                sentences.insert(1, spread);
            }
            (head, sentences)
        });
        Self {
            title,
            place,
            mix: mix_lines(assessment, units),
            mix_notes: mix_notes(assessment, units),
            gauges: gauges.map_or_else(Vec::new, |gauges| gauge_lines(assessment, gauges, units)),
            remark: assessment.remark(),
            projection,
            dates: dates(assessment, units),
            cautions: handout.cautions,
            units,
        }
    }

    /// Everything as plain text.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        // Writing to a String cannot fail.
        let _ = self.write(&mut text);
        text
    }

    fn write(&self, out: &mut String) -> fmt::Result {
        writeln!(out, "{}\n{}\n\nThe mix", self.title, self.place)?;
        for (amount, name) in &self.mix {
            writeln!(out, "  {amount}: {name}")?;
        }
        for note in &self.mix_notes {
            writeln!(out, "  {note}")?;
        }
        if !self.gauges.is_empty() {
            writeln!(out, "\nThe gauges")?;
        }
        for line in &self.gauges {
            write!(out, "  {}: {}", line.name, value_text(line))?;
            match line.spread.as_str() {
                "" => writeln!(out)?,
                spread => writeln!(out, " ({spread})")?,
            }
        }
        if let Some(remark) = self.remark {
            writeln!(out, "\n{remark}")?;
        }
        if let Some((head, sentences)) = &self.projection {
            writeln!(out, "\n{head}")?;
            for sentence in sentences {
                writeln!(out, "  {sentence}")?;
            }
        }
        writeln!(out, "\nDates")?;
        for (date, operation) in &self.dates {
            writeln!(out, "  {date}: {operation}")?;
        }
        if !self.cautions.is_empty() {
            writeln!(
                out,
                "
Safety notes"
            )?;
        }
        for caution in self.cautions {
            writeln!(out, "  {}", caution_text(caution))?;
        }
        Ok(())
    }
}

/// "28.3, balanced".
pub(super) fn value_text(line: &GaugeLine) -> String {
    match line.word {
        Some(word) => format!("{}, {word}", line.value),
        None => line.value.clone(),
    }
}

/// The caution with its source in brackets.
pub(super) fn caution_text(caution: &Caution) -> String {
    match caution.source.trim() {
        "" => caution.line.clone(),
        source => format!("{} ({source})", caution.line),
    }
}

/// Between what the peak lies in four of five such heaps.
fn peak_text(forecast: &Forecast, units: UnitSystem) -> Option<String> {
    let peak = forecast.range(|summary| summary.peak_c)?;
    Some(format!(
        "Four in five such heaps would peak between {} and {}.",
        units.temperature_text(peak.low),
        units.temperature_text(peak.high)
    ))
}

/// Amount and name of everything that goes in.
fn mix_lines(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<(String, String)> {
    let mix = &assessment.project.mix;
    let named = assessment.names.iter().zip(&assessment.densities_kg_per_m3);
    let mut lines: Vec<(String, String)> = mix
        .ingredients
        .iter()
        .zip(named)
        .map(|(ingredient, (name, density))| {
            let amount = household_text(&ingredient.amount, *density, units);
            (amount, name.clone())
        })
        .collect();
    if mix.added_water_l > 0.0 {
        let amount = water_text(mix.added_water_l, units);
        lines.push((amount, "water, poured on".to_owned()));
    }
    lines
}

fn water_text(litres: f64, units: UnitSystem) -> String {
    units.volume_text(litres / 1000.0)
}

/// The amount as entered; what was weighed, or measured in what nobody lifts, in buckets or barrows too.
fn household_text(amount: &Amount, density_kg_per_m3: f64, units: UnitSystem) -> String {
    let said = match (&amount.measure, units) {
        (Measure::Kilogram, UnitSystem::UsCustomary) => {
            amount.said_in(Measure::Pound, density_kg_per_m3)
        }
        _ => amount.clone(),
    };
    let own = match (&said.measure, units) {
        (Measure::Litre, UnitSystem::UsCustomary) => water_text(said.value, units),
        _ => said.text(),
    };
    let weighed = matches!(amount.extent(), Extent::MassKg(_));
    let unwieldy = matches!(
        amount.measure,
        Measure::Litre | Measure::CubicFoot | Measure::CubicYard
    );
    if !(weighed || unwieldy) {
        return own;
    }
    let bucket = match units {
        UnitSystem::Metric => Measure::Bucket,
        UnitSystem::UsCustomary => Measure::Pail,
    };
    let mut handy = amount.said_in(bucket, density_kg_per_m3);
    if handy.value > MOST_BUCKETS {
        handy = amount.said_in(Measure::Barrow, density_kg_per_m3);
    }
    // Nobody fills a bucket closer than to half.
    handy.value = (2.0 * handy.value).round() / 2.0;
    if handy.value <= 0.0 {
        return own;
    }
    format!("{own}, about {}", handy.text())
}

/// "Makes 1.1 m3 and 430 kg", and what the measures hold.
fn mix_notes(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<String> {
    let totals = &assessment.blend.totals;
    if totals.wet_kg() <= 0.0 {
        return Vec::new();
    }
    let makes = format!(
        "Makes {} and {}.",
        units.volume_text(totals.volume_m3()),
        units.mass_text(totals.wet_kg())
    );
    let mut notes = vec![makes];
    let mix = mix_lines(assessment, units);
    for (measure, one) in [(Measure::Bucket, "bucket"), (Measure::Barrow, "barrow")] {
        let used = mix.iter().any(|(amount, _)| amount.contains(one));
        if let (true, Extent::VolumeM3(m3)) = (used, measure.one()) {
            notes.push(format!("A {one} holds {}.", units.volume_text(m3)));
        }
    }
    notes
}

/// "and 12 more", with what of.
pub(super) fn more_text(count: usize, what: &str) -> String {
    format!("and {} more {what}", rounded_text(count as f64))
}
