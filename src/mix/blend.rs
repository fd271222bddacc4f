//! The chemistry of a mix in closed form: C:N, moisture, densities, air space.
//!
//! In: ingredients with materials and amounts, added water. Out: [`Blend`].
//!
//! Masses add; so do water, carbon and nitrogen. C:N is the ratio of the sums,
//! `sum(Q (1 - M) C) / sum(Q (1 - M) N)`, never a mean of ratios (Cornell Composting, C/N page;
//! USDA NEH 637 ch. 2). Loose volumes add, each less what it settles by when piled.
//!
//! Not here: ranges (`spread`), what the numbers should be (`target`), what to add (`adjust`).
//!
//! Tested by: `tests/science/blend.rs` (handbook worked examples, properties).

use crate::material::Family;

use super::Part;
use super::lot::{Values, contribution};
use super::spread::{Gauges, gauges};
use super::totals::Totals;

/// What share of the whole one ingredient brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartShare {
    /// Of the carbon.
    pub carbon: f64,
    /// Of the nitrogen.
    pub nitrogen: f64,
    /// Of the water, added water counted in the whole.
    pub water: f64,
    /// Of the dry matter.
    pub dry_mass: f64,
    /// Of the volume as built.
    pub volume: f64,
}

/// A mix, blended.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    /// Gauges with ranges; `None` for an empty mix or one without dry matter.
    pub gauges: Option<Gauges>,
    /// One per ingredient, in order. Shares of a quantity nobody brings are 0.
    pub shares: Vec<PartShare>,
    /// Share of the water that was added while mixing.
    pub added_water_share: f64,
    /// The sums behind the gauges, from typical values.
    pub totals: Totals,
}

/// Blends a mix. `added_water_l` is the water poured on, L (1 kg each).
///
/// Costs a few microseconds for 20 ingredients, so it can run on every frame.
pub fn blend(parts: &[Part<'_>], added_water_l: f64) -> Blend {
    let own: Vec<Totals> = parts
        .iter()
        .map(|part| {
            let values = Values::typical(&part.material);
            contribution(&part.material, part.amount.extent(), &values)
        })
        .collect();
    let water = Totals {
        water_kg: added_water_l,
        ..Totals::default()
    };
    let totals = own.iter().fold(water, |sum, part| sum.plus(part));
    let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
    let shares = own
        .iter()
        .map(|part| PartShare {
            carbon: share(part.carbon_kg, totals.carbon_kg),
            nitrogen: share(part.nitrogen_kg, totals.nitrogen_kg),
            water: share(part.water_kg, totals.water_kg),
            dry_mass: share(part.dry_kg, totals.dry_kg),
            volume: share(part.piled_volume_m3, totals.piled_volume_m3),
        })
        .collect();
    Blend {
        gauges: gauges(parts, water, &totals),
        shares,
        added_water_share: share(added_water_l, totals.water_kg),
        totals,
    }
}

/// Share of the dry matter of these ingredients that is of the wanted families, 0-1; 0 where there is none.
pub fn dry_share(parts: &[Part<'_>], wanted: impl Fn(Family) -> bool) -> f64 {
    let shares = blend(parts, 0.0).shares;
    let of_parts = parts.iter().zip(&shares);
    of_parts
        .filter(|(part, _)| wanted(part.material.family))
        .map(|(_, share)| share.dry_mass)
        .sum()
}
