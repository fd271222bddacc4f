//! What stands on a handout, in words.
//!
//! In: a [`Handout`]. Out: its lines by section, and all of them as plain text.
//!
//! Not here: what fits on the page (`page`).
//!
//! Tested by: `tests/document/handout.rs`.

use std::fmt::{self, Write};

use super::given::Handout;
use crate::export::assessment::{Assessment, PrintedCaution};
use crate::quantity::UnitSystem;
use crate::text::forecast::may_not_start;
use crate::text::gauges::{GaugeLine, gauge_lines, whole_line};
use crate::text::household::{self, Household};
use crate::text::mix::POURED_WATER;
use crate::text::plan::{DatedStep, dated_steps};
use crate::text::{garden, heap as heap_text, page};

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
    /// Every date with what is done.
    pub dates: Vec<DatedStep>,
    pub cautions: &'a [PrintedCaution],
    pub units: UnitSystem,
}

impl<'a> Content<'a> {
    pub(super) fn of(handout: &Handout<'a>) -> Self {
        let (assessment, units) = (handout.assessment, handout.units);
        let blend = &assessment.blend;
        let gauges = blend.gauges.as_ref();
        let heap = &assessment.project.heap;
        let projection = assessment.projection.as_ref().map(|projection| {
            let finish = assessment.outcome.as_ref().map(|it| &it.finish);
            let mut sentences = heap_text::projection(projection, finish, units);
            let peak = handout.forecast.and_then(|f| f.range(|run| run.peak_c));
            if let Some(peak) = peak {
                sentences.insert(1, heap_text::peak_range(peak, units));
            }
            if let Some(doubt) = handout.forecast.and_then(|f| may_not_start(f.start())) {
                sentences.insert(0, format!("{doubt}."));
            }
            (heap_text::projection_heading(heap), sentences)
        });
        Self {
            title: garden::title(assessment.project).to_owned(),
            place: garden::season_and_place(assessment.project),
            mix: mix_lines(assessment, units),
            mix_notes: mix_notes(assessment, units),
            gauges: gauges.map_or_else(Vec::new, |gauges| {
                gauge_lines(gauges, heap.shape.room_m3(), units)
            }),
            remark: assessment.remark(),
            projection,
            dates: dated_steps(heap, &assessment.catalogue, units),
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
        writeln!(out, "{}\n{}\n\n{}", self.title, self.place, page::MIX)?;
        for (amount, name) in &self.mix {
            writeln!(out, "  {amount}: {name}")?;
        }
        for note in &self.mix_notes {
            writeln!(out, "  {note}")?;
        }
        if !self.gauges.is_empty() {
            writeln!(out, "\n{}", page::GAUGES)?;
        }
        for line in &self.gauges {
            writeln!(out, "  {}", whole_line(line))?;
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
        writeln!(out, "\n{}", page::DATES)?;
        for step in &self.dates {
            writeln!(out, "  {}: {}", step.when, step.what)?;
        }
        if !self.cautions.is_empty() {
            writeln!(out, "\n{}", page::SAFETY_NOTES)?;
        }
        for caution in self.cautions {
            writeln!(out, "  {}", caution_text(caution))?;
        }
        Ok(())
    }
}

/// The caution with its source in brackets.
pub(super) fn caution_text(caution: &PrintedCaution) -> String {
    match caution.source.trim() {
        "" => caution.line.clone(),
        source => format!("{} ({source})", caution.line),
    }
}

/// Amount and name of everything that goes in.
fn mix_lines(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<(String, String)> {
    let mix = &assessment.project.mix;
    let amounts = household_amounts(assessment, units);
    let texts = amounts.into_iter().map(|amount| amount.text);
    let mut lines: Vec<(String, String)> = texts.zip(assessment.names.iter().cloned()).collect();
    if mix.added_water_l > 0.0 {
        let amount = household::poured(mix.added_water_l, units);
        lines.push((amount, POURED_WATER.to_owned()));
    }
    lines
}

fn household_amounts(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<Household> {
    let rows = assessment.project.mix.ingredients.iter();
    rows.zip(&assessment.densities_kg_per_m3)
        .map(|(row, density)| household::household(&row.amount, *density, units))
        .collect()
}

/// What it makes, and what the measures hold.
fn mix_notes(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<String> {
    let totals = &assessment.blend.totals;
    if totals.wet_kg() <= 0.0 {
        return Vec::new();
    }
    let makes = household::makes(totals.volume_m3(), totals.wet_kg(), units);
    let amounts = household_amounts(assessment, units);
    std::iter::once(makes)
        .chain(household::measures_hold(&amounts, units))
        .collect()
}
