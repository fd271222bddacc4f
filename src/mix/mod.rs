//! A mix: what goes into the heap, and how much of it.
//!
//! In: ingredients with amounts, added water. Out: the noun itself, and its ingredients looked up
//! in a catalogue.
//!
//! Not here: chemistry. C:N, moisture and air space are in `blend` and `totals`, their ranges in
//! `spread`, target bands in `target`, what to add in `adjust`, several targets at once in
//! `balance`, one thing done to a mix in `change`, greens for browns in `exchange`, how much of one thing a heap takes in `dose`.
//!
//! Tested by: `tests/science/blend.rs`.

mod adjust;
pub mod balance;
mod blend;
mod change;
pub mod dose;
mod exchange;
mod lot;
pub mod portion;
mod spread;
mod target;
mod totals;

pub use adjust::{
    CarbonNitrogen, carbon_nitrogen_partner, dry_material_to_add_kg, water_to_add_kg,
};
pub use blend::{Blend, PartShare, blend, dry_share};
pub use change::Change;
pub use exchange::{EXCHANGED_AT_ONCE, Newcomers, Sides, exchanged};
pub use spread::Gauges;
pub use target::{Fit, Gauge, TargetBand, bands};
pub use totals::{
    ASH_DENSITY_KG_PER_M3, ORGANIC_DENSITY_KG_PER_M3, Totals, WATER_DENSITY_KG_PER_M3,
    degradable_share, slumped_part,
};

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::material::{Catalogue, Condition, Family, Material, Structure};
use crate::quantity::{Amount, Measure, OutOfRange, bounds};

/// One material in a mix, with its amount.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ingredient {
    /// Id of the material in the catalogue.
    pub material: String,
    /// How much of it.
    pub amount: Amount,
    /// Whether balancing must leave it alone.
    pub locked: bool,
    /// Most there is of it, in the amount's own measure; `None`: as much as is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<f64>,
    /// How its state differs from the catalogue's: wilted, packed, chopped.
    #[serde(default, skip_serializing_if = "Condition::is_as_listed")]
    pub condition: Condition,
}

impl Ingredient {
    /// So much of a material as the catalogue has it, not locked.
    pub fn new(material: impl Into<String>, amount: Amount) -> Self {
        Self {
            material: material.into(),
            amount,
            locked: false,
            stock: None,
            condition: Condition::default(),
        }
    }

    /// A first amount of a material in the measure that a garden has it in (common practice): a barrow of leaves,
    /// manure or chips, a box of grass, a caddy of scraps, a bale of straw, litres of a liquid, grams of a fertiliser.
    pub fn first_of(material: &Material) -> Self {
        let (value, measure) = match (material.family, material.structure) {
            (Family::Fertiliser | Family::Mineral, _) => (200.0, Measure::Gram),
            (_, Structure::Liquid) => (5.0, Measure::Litre),
            (Family::Grass, _) => (1.0, Measure::GrassBox),
            (Family::StrawHay, _) => (1.0, Measure::Bale),
            (Family::Kitchen, _) => (1.0, Measure::Caddy),
            (Family::Leaves | Family::Manure | Family::Wood | Family::GardenBrown, _) => {
                (1.0, Measure::Barrow)
            }
            _ => (1.0, Measure::Bucket),
        };
        Self::new(material.id.as_str(), Amount::new(value, measure))
    }

    /// Says amount and stock in another measure; `density_kg_per_m3` is that of the material as it is.
    pub fn say_in(&mut self, measure: Measure, density_kg_per_m3: f64) {
        let present = self.amount.measure.clone();
        self.stock = self.stock.map(|stock| {
            let stock = Amount::new(stock, present);
            stock.said_in(measure.clone(), density_kg_per_m3).value
        });
        self.amount = self.amount.said_in(measure, density_kg_per_m3);
    }

    /// Its material in the state it is in; `None` if the catalogue does not know it.
    pub fn material_in<'a>(&self, catalogue: &'a Catalogue) -> Option<Cow<'a, Material>> {
        let material = catalogue.find(&self.material)?;
        Some(if self.condition.is_as_listed() {
            Cow::Borrowed(material)
        } else {
            Cow::Owned(self.condition.apply(material))
        })
    }
}

/// Ingredients and added water, before anything rots.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mix {
    /// The ingredients, in the order they were added.
    pub ingredients: Vec<Ingredient>,
    /// Water poured on while mixing, L (1 kg each).
    pub added_water_l: f64,
}

/// An ingredient whose material has been found.
#[derive(Debug, Clone, PartialEq)]
pub struct Part<'a> {
    /// What it is, in the state it is in.
    pub material: Cow<'a, Material>,
    /// How much of it.
    pub amount: &'a Amount,
}

impl<'a> Part<'a> {
    /// So much of a material as it is.
    pub fn new(material: &'a Material, amount: &'a Amount) -> Self {
        Self {
            material: Cow::Borrowed(material),
            amount,
        }
    }
}

/// Why a mix cannot be simulated.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MixError {
    /// A material that is in no catalogue.
    #[error(
        "ingredient {row} is \"{id}\", which is not in the catalogue{}; replace it or add it as an own material",
        .nearest.as_ref().map(|id| format!(" (nearest: \"{id}\")")).unwrap_or_default()
    )]
    UnknownMaterial {
        /// Row of the ingredient, from 1.
        row: usize,
        /// The id that was looked for.
        id: String,
        /// A known id that begins alike.
        nearest: Option<String>,
    },
    /// An amount outside its bound.
    #[error("ingredient {row}: {problem}")]
    Amount {
        /// Row of the ingredient, from 1.
        row: usize,
        /// Which bound is broken.
        problem: OutOfRange,
    },
    /// Water outside its bound.
    #[error("{0}")]
    Water(OutOfRange),
}

impl Mix {
    /// The ingredients with their materials looked up, in the state they are in, and their amounts
    /// checked.
    ///
    /// # Errors
    /// [`MixError`] names the first row that cannot be used.
    pub fn resolve<'a>(&'a self, catalogue: &'a Catalogue) -> Result<Vec<Part<'a>>, MixError> {
        bounds::ADDED_WATER
            .check(self.added_water_l)
            .map_err(MixError::Water)?;
        self.ingredients
            .iter()
            .enumerate()
            .map(|(index, ingredient)| {
                let row = index + 1;
                let id = ingredient.material.as_str();
                let material =
                    ingredient
                        .material_in(catalogue)
                        .ok_or_else(|| MixError::UnknownMaterial {
                            row,
                            id: id.to_owned(),
                            nearest: catalogue.nearest_id(id).map(str::to_owned),
                        })?;
                let amount_problem = |problem| MixError::Amount { row, problem };
                bounds::AMOUNT
                    .check(ingredient.amount.value)
                    .map_err(amount_problem)?;
                if let Some(stock) = ingredient.stock {
                    bounds::STOCK.check(stock).map_err(amount_problem)?;
                }
                if let Measure::Own { litres, .. } = ingredient.amount.measure {
                    bounds::OWN_MEASURE.check(litres).map_err(amount_problem)?;
                }
                ingredient.condition.check().map_err(amount_problem)?;
                Ok(Part {
                    material,
                    amount: &ingredient.amount,
                })
            })
            .collect()
    }
}
