//! A balance in plain words: the mix and its gauges before and after, how far it went, ways out.
//!
//! In: a project and its [`Balanced`]. Out: text in metric units.
//!
//! Not here: how the balance is found (`mix::balance`), its sentences (`text::balance`).
//!
//! Tested by: `tests/document/command.rs`.

use std::fmt::{self, Write};

use crate::document::Project;
use crate::material::Catalogue;
use crate::mix::balance::{Balanced, Reached, WayOut};
use crate::mix::{Blend, Gauge, Mix};
use crate::quantity::UnitSystem;
use crate::text::balance::{
    BalanceTold, NO_WAY_OUT, WAYS_OUT, way, way_brings, way_others, with_others,
};
use crate::text::mix::{
    POURED_WATER, gauge_name, gauge_span, gauge_value, name_of, poured, verdict,
};
use crate::text::{amount, garden, page};

/// What stands where there is no value.
const NONE: &str = "-";

/// The balance of a project in words. `catalogue` has the project's own materials laid over it.
pub fn balance_text(project: &Project, catalogue: &Catalogue, balanced: &Balanced) -> String {
    let mut text = String::new();
    let balance = BalancePage {
        project,
        told: BalanceTold {
            mix: &project.mix,
            room_m3: project.heap.shape.room_m3(),
            catalogue,
            balanced,
            units: UnitSystem::Metric,
        },
    };
    // Writing to a String cannot fail.
    let _ = balance.write(&mut text);
    text
}

struct BalancePage<'a> {
    project: &'a Project,
    told: BalanceTold<'a>,
}

impl BalancePage<'_> {
    fn write(&self, out: &mut String) -> fmt::Result {
        writeln!(out, "{}\n", garden::title(self.project).trim())?;
        self.write_mixes(out)?;
        self.write_gauges(out)?;
        self.write_verdict(out)
    }

    /// Rows of the mix, before and after.
    fn write_mixes(&self, out: &mut String) -> fmt::Result {
        let (before, after) = (&self.project.mix, &self.told.balanced.mix);
        if after.ingredients.is_empty() {
            return Ok(());
        }
        let [before_head, after_head] = [page::BEFORE, page::AFTER];
        writeln!(out, "  {:<40} {before_head:<18} {after_head}", page::MIX)?;
        for (row, ingredient) in after.ingredients.iter().enumerate() {
            let had = before.ingredients.get(row);
            let had = had.map_or_else(|| NONE.to_owned(), |row| amount::amount(&row.amount));
            let mark = if ingredient.locked {
                format!(" {}", page::LOCKED)
            } else {
                String::new()
            };
            let name = name_of(&ingredient.material, self.told.catalogue);
            let now = amount::amount(&ingredient.amount);
            writeln!(out, "  {name:<40} {had:<18} {now}{mark}")?;
        }
        let litres = |mix: &Mix| poured(mix.added_water_l, self.told.units);
        let [had, now] = [before, after].map(litres);
        writeln!(out, "  {POURED_WATER:<40} {had:<18} {now}\n")
    }

    /// The gauges, before and after, with the best part of their bands.
    fn write_gauges(&self, out: &mut String) -> fmt::Result {
        writeln!(
            out,
            "  {:<16} {:<12} {:<12} {:<22}",
            page::GAUGES,
            page::BEFORE,
            page::AFTER,
            page::BEST
        )?;
        let units = self.told.units;
        for gauge in Gauge::ALL {
            let Some(band) = self.told.band(gauge) else {
                continue;
            };
            let value = |blend: &Blend| blend.gauges.map(|gauges| gauges.value(gauge));
            let [had, now] = [&self.told.balanced.before, &self.told.balanced.after].map(value);
            let shown = |value: Option<f64>| {
                value.map_or_else(|| NONE.to_owned(), |value| gauge_value(gauge, value, units))
            };
            let best = gauge_span(gauge, band.best, units);
            let word = now.map_or("", |value| verdict(gauge, band.judge(value)));
            writeln!(
                out,
                "  {:<16} {:<12} {:<12} {best:<22} {word}",
                gauge_name(gauge),
                shown(had),
                shown(now)
            )?;
        }
        writeln!(out)
    }

    fn write_verdict(&self, out: &mut String) -> fmt::Result {
        for (index, line) in self.told.verdict().iter().enumerate() {
            let indent = if index > 0 { "  " } else { "" };
            writeln!(out, "{indent}{line}")?;
        }
        match &self.told.balanced.verdict {
            Reached::Nearest { ways_out, .. } => self.write_ways(ways_out, out),
            _ => Ok(()),
        }
    }

    /// The ways out, each with what it brings.
    fn write_ways(&self, ways: &[WayOut], out: &mut String) -> fmt::Result {
        if ways.is_empty() {
            return writeln!(out, "{NO_WAY_OUT}");
        }
        let units = self.told.units;
        writeln!(out, "{WAYS_OUT}")?;
        for one in ways {
            writeln!(out, "  {}: {}", way(one), way_brings(one, units))?;
            let others = way_others(one, units);
            if !others.is_empty() {
                writeln!(out, "    {}", with_others(&others))?;
            }
        }
        Ok(())
    }
}
