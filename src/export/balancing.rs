//! A balance in plain words: the mix and its gauges before and after, how far it went, ways out.
//!
//! In: a project and its [`Balanced`]. Out: text in metric units.
//!
//! Not here: how the balance is found (`mix::balance`).
//!
//! Tested by: `tests/document/command.rs`.

use std::fmt::{self, Write};

use crate::document::Project;
use crate::material::Catalogue;
use crate::mix::balance::{Balanced, Limit, Reached, Rounding, Side, Step, WayOut};
use crate::mix::{Band, Blend, Change, Gauge, Mix, bands};
use crate::quantity::{Amount, Measure, UnitSystem};

/// The balance of a project in words. `catalogue` has the project's own materials laid over it.
pub fn balance_text(project: &Project, catalogue: &Catalogue, balanced: &Balanced) -> String {
    let mut text = String::new();
    let page = Page {
        project,
        catalogue,
        balanced,
        units: UnitSystem::Metric,
    };
    // Writing to a String cannot fail.
    let _ = page.write(&mut text);
    text
}

/// How far a balance went, in sentences; the ways out are not among them.
pub fn verdict_lines(
    project: &Project,
    catalogue: &Catalogue,
    balanced: &Balanced,
    units: UnitSystem,
) -> Vec<String> {
    let page = Page {
        project,
        catalogue,
        balanced,
        units,
    };
    page.verdict()
}

/// What a way out brings: "C:N 28.1, moisture 55 %".
pub fn way_brings(way: &WayOut) -> String {
    way.after.gauges.map_or_else(String::new, |gauges| {
        let value = |gauge| gauge_text(gauge, gauges.value(gauge), UnitSystem::Metric);
        format!(
            "C:N {}, moisture {}",
            value(Gauge::CarbonNitrogen),
            value(Gauge::Moisture)
        )
    })
}

struct Page<'a> {
    project: &'a Project,
    catalogue: &'a Catalogue,
    balanced: &'a Balanced,
    units: UnitSystem,
}

impl Page<'_> {
    fn write(&self, out: &mut String) -> fmt::Result {
        let title = self.project.title.trim();
        let title = if title.is_empty() { "Untitled" } else { title };
        writeln!(out, "{title}\n")?;
        self.write_mixes(out)?;
        self.write_gauges(out)?;
        self.write_verdict(out)
    }

    /// Rows of the mix, before and after.
    fn write_mixes(&self, out: &mut String) -> fmt::Result {
        let (before, after) = (&self.project.mix, &self.balanced.mix);
        if after.ingredients.is_empty() {
            return Ok(());
        }
        writeln!(out, "  {:<40} {:<18} after", "The mix", "before")?;
        for (row, ingredient) in after.ingredients.iter().enumerate() {
            let had = before.ingredients.get(row);
            let had = had.map_or_else(|| "-".to_owned(), |row| row.amount.text());
            let mark = if ingredient.locked { " (locked)" } else { "" };
            let name = self.name(&ingredient.material);
            let now = ingredient.amount.text();
            writeln!(out, "  {name:<40} {had:<18} {now}{mark}")?;
        }
        let [had, now] = [before, after].map(|mix: &Mix| litres(mix.added_water_l));
        writeln!(out, "  {:<40} {had:<18} {now}\n", "water, poured on")
    }

    fn name(&self, id: &str) -> String {
        let material = self.catalogue.find(id);
        material.map_or_else(|| id.to_owned(), |material| material.name.clone())
    }

    /// The gauges, before and after, with the best part of their bands.
    fn write_gauges(&self, out: &mut String) -> fmt::Result {
        writeln!(
            out,
            "  {:<16} {:<12} {:<12} {:<22}",
            "The gauges", "before", "after", "best"
        )?;
        for gauge in Gauge::ALL {
            let Some(band) = self.band(gauge) else {
                continue;
            };
            let value = |blend: &Blend| blend.gauges.map(|gauges| gauges.value(gauge));
            let [had, now] = [&self.balanced.before, &self.balanced.after].map(value);
            let shown = |value: Option<f64>| {
                value.map_or_else(
                    || "-".to_owned(),
                    |value| gauge_text(gauge, value, self.units),
                )
            };
            let best = format!(
                "{} to {}",
                gauge_text(gauge, band.best.0, self.units),
                gauge_text(gauge, band.best.1, self.units)
            );
            let word = now.map_or("", |value| band.judge(value).word);
            writeln!(
                out,
                "  {:<16} {:<12} {:<12} {best:<22} {word}",
                gauge.label(),
                shown(had),
                shown(now)
            )?;
        }
        writeln!(out)
    }

    fn band(&self, gauge: Gauge) -> Option<Band> {
        Some(match gauge {
            Gauge::CarbonNitrogen => bands::CN,
            Gauge::Moisture => bands::MOISTURE,
            Gauge::AirSpace => bands::FREE_AIR_SPACE,
            Gauge::Density => bands::BULK_DENSITY_KG_PER_M3,
            Gauge::Volume => bands::volume(self.project.heap.shape.room_m3()?),
        })
    }

    fn write_verdict(&self, out: &mut String) -> fmt::Result {
        for (index, line) in self.verdict().iter().enumerate() {
            let indent = if index > 0 { "  " } else { "" };
            writeln!(out, "{indent}{line}")?;
        }
        match &self.balanced.verdict {
            Reached::Nearest { ways_out, .. } => write_ways(ways_out, out),
            _ => Ok(()),
        }
    }

    /// How far it went, in sentences.
    fn verdict(&self) -> Vec<String> {
        let balanced = self.balanced;
        let nothing_to_do = balanced.steps.is_empty();
        let so = if nothing_to_do { " as it is" } else { "" };
        let mut lines = match &balanced.verdict {
            Reached::Nothing => {
                vec!["There is nothing to balance: give an ingredient an amount.".to_owned()]
            }
            Reached::Best => vec![format!("The mix is balanced{so}.")],
            Reached::Works { beyond_best } => {
                let names: Vec<&str> = beyond_best.iter().map(|gauge| gauge.label()).collect();
                let names = names.join(", ");
                vec![format!("The mix works{so}; short of its best: {names}.")]
            }
            Reached::Nearest { fighting, .. } => {
                let first = "It cannot be balanced with these materials; this is the nearest.";
                let limits = fighting.iter().map(|limit| self.limit_text(*limit));
                std::iter::once(first.to_owned()).chain(limits).collect()
            }
        };
        if balanced.rounding == Rounding::AsCalculated && !nothing_to_do {
            lines.push(
                "No rounder amounts keep every gauge where it is; weigh or measure them out."
                    .to_owned(),
            );
        }
        lines
    }

    fn limit_text(&self, limit: Limit) -> String {
        let row_name = |row: usize| {
            let ingredient = self.project.mix.ingredients.get(row);
            ingredient.map_or_else(String::new, |row| self.name(&row.material))
        };
        match limit {
            Limit::Gauge {
                gauge,
                side,
                broken,
            } => {
                let end = self.band(gauge).map_or(0.0, |band| match side {
                    Side::Low => band.works.0,
                    Side::High => band.works.1,
                });
                let at = match side {
                    Side::Low => "at least",
                    Side::High => "at most",
                };
                let way = if broken {
                    "cannot be reached"
                } else {
                    "stands in the way"
                };
                format!(
                    "{} {at} {} {way}",
                    gauge.label(),
                    gauge_text(gauge, end, self.units)
                )
            }
            Limit::Stock(row) => format!("there is no more of {}", row_name(row)),
            Limit::Locked(row) => format!("{} is locked", row_name(row)),
        }
    }
}

/// The ways out, each with what it brings.
fn write_ways(ways: &[WayOut], out: &mut String) -> fmt::Result {
    if ways.is_empty() {
        return writeln!(
            out,
            "No single material mends it, nor any two: begin again with other materials."
        );
    }
    writeln!(out, "What would help, the least effort first:")?;
    for way in ways {
        let text = way.text();
        let brings = way_brings(way);
        writeln!(out, "  {text}: {brings}")?;
        let others: Vec<String> = way.steps.iter().filter_map(other_step).collect();
        if !others.is_empty() {
            writeln!(out, "    with {}", others.join(", "))?;
        }
    }
    Ok(())
}

/// A step on what is there already.
fn other_step(step: &Step) -> Option<String> {
    match step.change {
        Change::Amount { .. } | Change::Water { .. } => {
            Some(format!("{} of {}", amount_text(&step.to), step.name))
        }
        Change::Add { .. } | Change::Scale { .. } => None,
    }
}

fn amount_text(amount: &Amount) -> String {
    match amount.measure {
        Measure::Litre => litres(amount.value),
        _ => amount.text(),
    }
}

fn litres(value: f64) -> String {
    format!("{} L", crate::quantity::rounded_text(value))
}

/// A gauge's value with its unit.
pub fn gauge_text(gauge: Gauge, value: f64, units: UnitSystem) -> String {
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => format!("{:.0} %", 100.0 * value),
        Gauge::CarbonNitrogen if value.is_infinite() => "no nitrogen".to_owned(),
        Gauge::CarbonNitrogen => format!("{value:.1}"),
        Gauge::Volume => units.volume_text(value),
        Gauge::Density => format!("{:.0} {}", units.density(value), units.density_unit()),
    }
}
