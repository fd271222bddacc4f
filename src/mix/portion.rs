//! One portion that goes into a bin, brought into its bands with one material: "this week's caddy needs half a bucket
//! of leaves".
//!
//! In: a portion, the id of what it is balanced with, the catalogue. Out: the portion with the smallest amount of it,
//! in whole measures, that brings every gauge into its band.
//!
//! Not here: the balance itself (`balance`), which materials are offered (`window::heap`).
//!
//! Tested by: `tests/science/portion.rs`.

use crate::material::Catalogue;
use crate::quantity::Amount;

use super::balance::{Goal, Reached, balance};
use super::{Mix, MixError};

/// What a portion needs.
#[derive(Debug, Clone, PartialEq)]
pub enum PortionNeeds {
    /// Nothing: every gauge is in its band.
    Nothing,
    /// So much more of the material; with it every gauge works, and is in its best part where it can be.
    More {
        /// How much more.
        more: Amount,
        /// The portion with it.
        mix: Mix,
    },
    /// No amount of that material alone does it.
    Another,
}

/// The smallest amount of one material that brings a portion into the bands; everything else stays as it is, and no water
/// is poured.
///
/// # Errors
/// [`MixError`] if the portion holds an unknown material or an amount outside its bound.
pub fn portion_needs(
    portion: &Mix,
    material: &str,
    catalogue: &Catalogue,
) -> Result<PortionNeeds, MixError> {
    let mut held = portion.clone();
    for row in &mut held.ingredients {
        row.locked = row.material != material;
    }
    let goal = Goal {
        water: false,
        only_more: true,
        nitrogen_sources: false,
        extra: vec![material.to_owned()],
        ..Goal::of_room(None)
    };
    let balanced = balance(&held, catalogue, &goal)?;
    if matches!(balanced.verdict, Reached::Nearest { .. } | Reached::Nothing) {
        return Ok(PortionNeeds::Another);
    }
    let Some(step) = balanced.steps.first() else {
        return Ok(PortionNeeds::Nothing);
    };
    let more = Amount::new(step.to.value - step.from.value, step.to.measure.clone());
    let mut mix = balanced.mix;
    for (row, before) in mix.ingredients.iter_mut().zip(&portion.ingredients) {
        row.locked = before.locked;
    }
    Ok(PortionNeeds::More { more, mix })
}
