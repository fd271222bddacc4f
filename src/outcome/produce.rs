//! What comes out of a heap: mass, volume, moisture, C:N, N-P-K with ranges; what was lost on the way.
//!
//! In: a projection, the ingredients with their values. Out: [`Produce`].
//!
//! Phosphate and potash come from the ingredients (the catalogue carries both, mostly from memory) and
//! stay in the heap; what rain washes out of it is not calculated. Ranges of N, P and K are those of the
//! ingredients, independent of each other; the rest is exact here and gets its range from an ensemble.
//!
//! Not here: what it feeds (`nutrient`).
//!
//! Tested by: `tests/science/outcome_produce.rs`.

use serde::Deserialize;

use crate::heap::Projection;
use crate::material::{Material, Sourced};
use crate::mix::{Part, blend};
use crate::quantity::Range;

use super::Trust;
use super::flask::carbon_nitrogen;

/// What is published of composts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Property {
    /// Nitrogen, share of dry matter.
    Nitrogen,
    /// Phosphate (P2O5), share of dry matter.
    Phosphate,
    /// Potash (K2O), share of dry matter.
    Potash,
    /// C:N by mass.
    CarbonNitrogen,
    /// Moisture, wet basis.
    Moisture,
    /// Dry matter lost, share of all put in.
    DryMatterLost,
    /// Volume lost, share of all put in.
    VolumeLost,
    /// pH; not calculated for a product.
    Acidity,
}

/// A published range to hold a product against, as in `assets/use.ron`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Published {
    /// What it is on.
    pub of: Property,
    /// Lower and upper end.
    pub between: (f64, f64),
    /// Of what compost.
    pub compost: String,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// What comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct Produce {
    /// Day it is taken.
    pub day: f64,
    /// Mass as it is, kg.
    pub mass_kg: Range,
    /// Dry matter, kg.
    pub dry_kg: Range,
    /// Volume, m3.
    pub volume_m3: Range,
    /// Moisture, wet basis.
    pub moisture: Range,
    /// C:N by mass.
    pub cn: Range,
    /// Nitrogen, kg.
    pub nitrogen_kg: Range,
    /// Phosphate (P2O5), kg.
    pub phosphate_kg: Range,
    /// Potash (K2O), kg.
    pub potash_kg: Range,
    /// Nitrogen lost as ammonia, kg.
    pub ammonia_kg: Range,
    /// Nitrogen lost as dinitrogen, kg.
    pub nitrogen_gas_kg: Range,
    /// Nitrogen washed out with drained water, kg.
    pub nitrogen_drained_kg: Range,
    /// Carbon breathed out, kg.
    pub carbon_lost_kg: Range,
    /// Heat made, J.
    pub heat_made_j: Range,
    /// Dry matter lost, share of all put in, 0-1.
    pub dry_lost_share: f64,
    /// Mass lost, water counted, share of all put in, 0-1.
    pub mass_lost_share: f64,
    /// Volume lost, share of all put in, 0-1.
    pub volume_lost_share: f64,
}

/// Nutrients that a mix brings, kg, with ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brought {
    /// Nitrogen, kg.
    pub nitrogen_kg: Range,
    /// Phosphate (P2O5), kg.
    pub phosphate_kg: Range,
    /// Potash (K2O), kg.
    pub potash_kg: Range,
    /// Volume as built, m3.
    pub volume_m3: f64,
}

impl Brought {
    /// By all these ingredients, those of later additions counted.
    pub fn by(parts: &[Part<'_>]) -> Self {
        let blend = blend(parts, 0.0);
        let dry: Vec<f64> = blend
            .shares
            .iter()
            .map(|share| share.dry_mass * blend.totals.dry_kg)
            .collect();
        let sum = |of: fn(&Material) -> &Sourced| {
            let (mut low, mut typical, mut high) = (0.0, 0.0, 0.0);
            for (part, dry) in parts.iter().zip(&dry) {
                let value = of(&part.material).range();
                typical += dry * value.typical;
                // Errors of different ingredients are independent: squares add.
                low += (dry * (value.typical - value.low)).powi(2);
                high += (dry * (value.high - value.typical)).powi(2);
            }
            Range::new(
                (typical - low.sqrt()).max(0.0),
                typical,
                typical + high.sqrt(),
            )
        };
        Self {
            nitrogen_kg: sum(|material| &material.nitrogen),
            phosphate_kg: sum(|material| &material.phosphate),
            potash_kg: sum(|material| &material.potash),
            volume_m3: blend.totals.volume_m3(),
        }
    }
}

impl Produce {
    /// What is there at the end of a run.
    pub fn of(projection: &Projection, brought: &Brought) -> Option<Self> {
        let last = projection.records.last()?;
        let ledger = &projection.ledger;
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        // The range of the nitrogen put in, with what was lost taken off in proportion.
        let kept = share(last.nitrogen_kg, brought.nitrogen_kg.typical);
        let put_in_kg = ledger.dry_start_kg + ledger.water_start_kg;
        let mass = last.dry_kg + last.water_kg;
        Some(Self {
            day: last.day,
            mass_kg: Range::exact(mass),
            dry_kg: Range::exact(last.dry_kg),
            volume_m3: Range::exact(last.volume_m3),
            moisture: Range::exact(last.moisture),
            cn: Range::exact(carbon_nitrogen(last)),
            nitrogen_kg: brought.nitrogen_kg.map(|kg| kg * kept),
            phosphate_kg: brought.phosphate_kg,
            potash_kg: brought.potash_kg,
            ammonia_kg: Range::exact(ledger.nitrogen_ammonia_kg),
            nitrogen_gas_kg: Range::exact(ledger.nitrogen_gas_kg),
            nitrogen_drained_kg: Range::exact(ledger.nitrogen_drained_kg),
            carbon_lost_kg: Range::exact(ledger.carbon_oxidised_kg),
            heat_made_j: Range::exact(ledger.heat_made_j),
            dry_lost_share: share(ledger.dry_start_kg - ledger.dry_end_kg, ledger.dry_start_kg),
            mass_lost_share: share(put_in_kg - mass, put_in_kg),
            volume_lost_share: share(brought.volume_m3 - last.volume_m3, brought.volume_m3),
        })
    }

    /// Share of the dry matter, 0-1.
    fn of_dry(&self, kg: Range) -> Range {
        kg.map(|kg| kg / self.dry_kg.typical.max(1e-12))
    }

    /// Nitrogen, share of dry matter.
    pub fn nitrogen_share(&self) -> Range {
        self.of_dry(self.nitrogen_kg)
    }

    /// Phosphate (P2O5), share of dry matter.
    pub fn phosphate_share(&self) -> Range {
        self.of_dry(self.phosphate_kg)
    }

    /// Potash (K2O), share of dry matter.
    pub fn potash_share(&self) -> Range {
        self.of_dry(self.potash_kg)
    }

    /// Dry matter in a cubic metre of it, kg/m3.
    pub fn dry_kg_per_m3(&self) -> f64 {
        self.dry_kg.typical / self.volume_m3.typical.max(1e-12)
    }

    /// Its own value of something that is published; `None` where that is not calculated.
    pub fn value_of(&self, property: Property) -> Option<f64> {
        Some(match property {
            Property::Nitrogen => self.nitrogen_share().typical,
            Property::Phosphate => self.phosphate_share().typical,
            Property::Potash => self.potash_share().typical,
            Property::CarbonNitrogen => self.cn.typical,
            Property::Moisture => self.moisture.typical,
            Property::DryMatterLost => self.dry_lost_share,
            Property::VolumeLost => self.volume_lost_share,
            Property::Acidity => return None,
        })
    }
}
