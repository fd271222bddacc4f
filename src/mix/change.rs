//! One thing a person can do to a mix.
//!
//! In: a [`Change`]. Out: the mix with it done.
//!
//! Not here: which change is worth making (`balance`, `outcome::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::quantity::Amount;

use super::{Ingredient, Mix};

/// One thing a person can do to a mix.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Another amount of the ingredient in this row, from 0.
    Amount {
        /// Which row.
        row: usize,
        /// How much there is then.
        amount: Amount,
    },
    /// Another amount of added water.
    Water {
        /// How much there is then, L.
        litres: f64,
    },
    /// A material that is not in the mix yet.
    Add {
        /// Its id in the catalogue.
        material: String,
        /// How much of it.
        amount: Amount,
    },
    /// So many times as much of everything, water included.
    Scale {
        /// The factor.
        by: f64,
    },
}

impl Change {
    /// Does it to a mix. A row that is not there is left alone.
    pub fn apply(&self, mix: &mut Mix) {
        match self {
            Self::Amount { row, amount } => {
                if let Some(ingredient) = mix.ingredients.get_mut(*row) {
                    ingredient.amount = amount.clone();
                }
            }
            Self::Water { litres } => mix.added_water_l = *litres,
            Self::Add { material, amount } => {
                let row = Ingredient::new(material.as_str(), amount.clone());
                mix.ingredients.push(row);
            }
            Self::Scale { by } => {
                for ingredient in &mut mix.ingredients {
                    ingredient.amount.value *= by;
                }
                mix.added_water_l *= by;
            }
        }
    }
}
