//! A balance in words: how far it went, what stands in the way, what would help.
//!
//! In: a project's mix and its [`Balanced`]. Out: sentences.
//!
//! Not here: how the balance is found (`mix::balance`), how the sentences are arranged (`export`).
//!
//! Tested by: `tests/document/command.rs`, `tests/window/balance.rs`.

use crate::material::Catalogue;
use crate::mix::balance::{
    BalanceStep, Balanced, BandEnd, Limit, Reached, Rounding, WayNeed, WayOut,
};
use crate::mix::portion::PortionNeeds;
use crate::mix::{Change, Gauge, Mix, TargetBand, bands};
use crate::quantity::{Amount, Measure, UnitSystem};

use super::mix::{gauge_name, gauge_value, name_of, poured, step_name};
use super::spoken::{alone, of_id};
use super::{amount, list};

/// What a balance is told from.
#[derive(Debug, Clone, Copy)]
pub struct BalanceTold<'a> {
    /// The mix that was balanced.
    pub mix: &'a Mix,
    /// Room of the heap, m3; `None` for an open heap.
    pub room_m3: Option<f64>,
    /// Names, own materials among them.
    pub catalogue: &'a Catalogue,
    /// The answer.
    pub balanced: &'a Balanced,
    /// Units of all numbers.
    pub units: UnitSystem,
}

impl BalanceTold<'_> {
    /// The band a gauge is judged by; the volume has one only where the room is fixed.
    pub fn band(&self, gauge: Gauge) -> Option<TargetBand> {
        bands::of(gauge, self.room_m3)
    }

    /// How far it went, in sentences; the ways out are not among them.
    pub fn verdict(&self) -> Vec<String> {
        let balanced = self.balanced;
        let nothing_to_do = balanced.steps.is_empty();
        let mut lines = match &balanced.verdict {
            Reached::Nothing => {
                vec!["There is nothing to balance: give an ingredient an amount.".to_owned()]
            }
            Reached::Best if nothing_to_do => vec!["The mix is balanced as it is.".to_owned()],
            Reached::Best => vec!["The mix is balanced.".to_owned()],
            Reached::Works { beyond_best } => vec![works(beyond_best, nothing_to_do)],
            Reached::Nearest { fighting, .. } => {
                let first = "It cannot be balanced with these materials; this is the nearest.";
                let limits = fighting.iter().map(|limit| self.limit(*limit));
                std::iter::once(first.to_owned()).chain(limits).collect()
            }
        };
        if balanced.rounding == Rounding::AsCalculated && !nothing_to_do {
            lines.push(
                "Rounder amounts would move a gauge out of place; weigh or measure these out."
                    .to_owned(),
            );
        }
        lines
    }

    /// What keeps the mix from its goal.
    fn limit(&self, limit: Limit) -> String {
        let row_name = |row: usize| {
            let ingredient = self.mix.ingredients.get(row);
            ingredient.map_or("", |row| name_of(&row.material, self.catalogue))
        };
        match limit {
            Limit::Gauge {
                gauge,
                side,
                broken,
            } => {
                let end = self.band(gauge).map_or(0.0, |band| match side {
                    BandEnd::Low => band.works.0,
                    BandEnd::High => band.works.1,
                });
                let (name, end) = (gauge_name(gauge), gauge_value(gauge, end, self.units));
                match (side, broken) {
                    (BandEnd::Low, true) => format!("{name} at least {end} cannot be reached"),
                    (BandEnd::Low, false) => format!("{name} at least {end} stands in the way"),
                    (BandEnd::High, true) => format!("{name} at most {end} cannot be reached"),
                    (BandEnd::High, false) => format!("{name} at most {end} stands in the way"),
                }
            }
            Limit::Stock(row) => format!("there is no more of {}", row_name(row)),
            Limit::Dose(row) => format!("a heap takes no more of {}", row_name(row)),
            Limit::Locked(row) => format!("{} is locked", row_name(row)),
        }
    }
}

/// A mix that works without being at its best in every gauge.
fn works(beyond_best: &[Gauge], nothing_to_do: bool) -> String {
    let names: Vec<&str> = beyond_best.iter().copied().map(gauge_name).collect();
    let names = names.join(", ");
    if nothing_to_do {
        format!("The mix works as it is; not at its best: {names}.")
    } else {
        format!("The mix works; not at its best: {names}.")
    }
}

/// Said where nothing would help.
pub const NO_WAY_OUT: &str =
    "No single material fixes it, nor do any two: start again with other materials.";
/// Heading of the ways out on paper.
pub const WAYS_OUT: &str = "What would help, least effort first:";

/// A way out: "2 buckets of straw and 1 bucket more of Leaves".
pub fn way(way: &WayOut) -> String {
    let needs: Vec<String> = way.needs.iter().map(need).collect();
    list(&needs)
}

/// One thing a way out asks for.
fn need(need: &WayNeed) -> String {
    match need {
        WayNeed::Add { material, amount } => amount::carried_of(amount, alone(material)),
        WayNeed::More { material, more, .. } => {
            format!("{} more of {}", amount::carried(more), alone(material))
        }
        WayNeed::Unlock {
            material, amount, ..
        } if amount.value <= 0.0 => format!("leave out {}", alone(material)),
        WayNeed::Unlock {
            material, amount, ..
        } => {
            let (name, amount) = (alone(material), amount::carried(amount));
            format!("unlock {name} and take {amount}")
        }
    }
}

/// What a way out brings: "C:N 28.1, moisture 55 %".
pub fn way_brings(way: &WayOut, units: UnitSystem) -> String {
    way.after.gauges.map_or_else(String::new, |gauges| {
        let value = |gauge| gauge_value(gauge, gauges.value(gauge), units);
        let [cn, moisture] = [Gauge::CarbonNitrogen, Gauge::Moisture].map(value);
        format!("C:N {cn}, moisture {moisture}")
    })
}

/// Changes of a way out to what is there already: "3 buckets of Grass".
pub fn way_others(way: &WayOut, units: UnitSystem) -> Vec<String> {
    let others = way.steps.iter().filter(|step| changes_what_is_there(step));
    others
        .map(|step| match step.to.measure {
            Measure::Litre => format!("{} of {}", litres(&step.to, units), step_name(step)),
            _ => amount::carried_of(&step.to, step_name(step)),
        })
        .collect()
}

/// What else a way out changes: "with 3 buckets of grass clippings".
pub fn with_others(others: &[String]) -> String {
    format!("with {}", others.join(", "))
}

fn changes_what_is_there(step: &BalanceStep) -> bool {
    match step.change {
        Change::Amount { .. } | Change::Water { .. } => true,
        Change::Add { .. } | Change::Scale { .. } => false,
    }
}

fn litres(amount: &Amount, units: UnitSystem) -> String {
    poured(amount.value, units)
}

/// What a portion needs, once it was looked for: "Each portion needs 0.5 buckets of leaves: added."
pub fn portion(needs: &PortionNeeds, material: &str, catalogue: &Catalogue) -> String {
    let name = of_id(material).unwrap_or_else(|| name_of(material, catalogue));
    match needs {
        PortionNeeds::Nothing => "This portion is in its bands as it is.".to_owned(),
        PortionNeeds::More { more, .. } => format!(
            "Each portion needs {}: added.",
            amount::amount_of(more, name)
        ),
        PortionNeeds::Another => format!(
            "No amount of {name} alone brings this portion into its bands; try another brown."
        ),
    }
}
