//! Looking through the catalogue: by words, family, green or brown, in the order that is wanted.
//!
//! In: words, a family, a side, an order. Out: the materials that fit.
//!
//! Not here: looking up one by its id (`catalogue`).
//!
//! Tested by: `tests/science/own_materials.rs`.

use super::{Catalogue, Family, Material, Side, Structure};

/// Order of a list of materials.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// By family, within it as in the table; where words are given, what fits them best first.
    #[default]
    Family,
    /// By name.
    Name,
    /// Richest in nitrogen first; what has no nitrogen last.
    CarbonToNitrogen,
    /// Driest first.
    Moisture,
    /// What holds most air first.
    Structure,
}

impl Order {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Family,
        Self::Name,
        Self::CarbonToNitrogen,
        Self::Moisture,
        Self::Structure,
    ];
}

/// What is looked for.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Browse {
    /// What is looked for; empty for all.
    pub words: String,
    /// Only this family.
    pub family: Option<Family>,
    /// Only greens, browns, or what is neither.
    pub side: Option<Side>,
    /// In this order.
    pub order: Order,
}

impl Browse {
    /// The materials that fit, ordered; equals stay as the table has them. `family_name` is what a person
    /// calls a family.
    pub fn find<'a>(
        &self,
        catalogue: &'a Catalogue,
        family_name: fn(Family) -> &'static str,
    ) -> Vec<&'a Material> {
        let mut found = catalogue.search(&self.words, family_name);
        found.retain(|material| {
            self.family.is_none_or(|family| material.family == family)
                && self.side.is_none_or(|side| material.side() == side)
        });
        match self.order {
            Order::Family if !self.words.trim().is_empty() => {}
            Order::Family => found.sort_by_key(|material| material.family),
            Order::Name => found.sort_by_cached_key(|material| material.name.to_lowercase()),
            Order::CarbonToNitrogen => {
                found.sort_by(|a, b| cn_of(a).total_cmp(&cn_of(b)));
            }
            Order::Moisture => {
                found.sort_by(|a, b| a.moisture.typical.total_cmp(&b.moisture.typical));
            }
            Order::Structure => found.sort_by_key(|material| closeness(material.structure)),
        }
        found
    }
}

/// C:N to sort by: nitrogen without carbon (urea apart) comes first, carbon without nitrogen last.
fn cn_of(material: &Material) -> f64 {
    match &material.carbon_to_nitrogen {
        Some(cn) => cn.typical,
        None if material.nitrogen.typical > 0.0 => 0.0,
        None => f64::INFINITY,
    }
}

/// From what holds air open to what has none.
fn closeness(structure: Structure) -> usize {
    use Structure as S;
    [
        S::Coarse,
        S::Springy,
        S::Leafy,
        S::Crumbly,
        S::Soft,
        S::Sheet,
        S::Fine,
        S::Slumping,
        S::Dense,
        S::Liquid,
    ]
    .iter()
    .position(|known| *known == structure)
    .unwrap_or(usize::MAX)
}
