//! How much of one material a heap takes, whatever the gauges would like.
//!
//! In: a material, the size of the heap. Out: the most of it that may be proposed.
//!
//! Not here: how much there is of it (`Ingredient::stock`), cautions (`outcome::cautions`).
//!
//! Tested by: `tests/science/stock.rs`.

use crate::material::{Family, Material, Structure};

/// Coffee grounds by volume of the heap: no more than a fifth. Source: Chalker-Scott, Washington State University
/// Extension FS207E (from memory); heaps of a quarter were tried with success by composters of Oregon State University
/// Extension (2008), so a fifth is the careful figure.
pub const COFFEE_GROUNDS_SHARE: f64 = 0.20;
/// Urine, L per m3 of heap: what one person gives in about a month. Source: WHO guidelines 2006, vol. 4, about 500 L a
/// year and person (from memory); that a household brings no more at one go is common practice.
pub const URINE_L_PER_M3: f64 = 40.0;
/// Nitrogen of a fertiliser, kg per m3 of heap. Source: University of Minnesota Extension, 0.15 lb of nitrogen to 20
/// gallons of leaves, which is 0.9 kg/m3 (from memory).
pub const FERTILISER_NITROGEN_KG_PER_M3: f64 = 0.9;
/// Loose volume of bought meal, lime, ash or sugar by volume of the heap (common practice: dusted on, never a layer).
pub const CONCENTRATE_SHARE: f64 = 0.02;

/// Id of the coffee grounds in the catalogue.
const COFFEE_GROUNDS: &str = "coffee_grounds";

/// Most of a material that a heap of this volume takes, loose m3; `None` where only the gauges set a limit.
pub fn most_m3(material: &Material, heap_m3: f64) -> Option<f64> {
    let nitrogen_kg_per_m3 = material.bulk_density.typical
        * (1.0 - material.moisture.typical)
        * material.nitrogen.typical;
    let share = match (material.family, material.structure) {
        _ if material.id == COFFEE_GROUNDS => COFFEE_GROUNDS_SHARE,
        (Family::Fertiliser, _) if nitrogen_kg_per_m3 > 0.0 => {
            FERTILISER_NITROGEN_KG_PER_M3 / nitrogen_kg_per_m3
        }
        (Family::Fertiliser | Family::Mineral, _) => CONCENTRATE_SHARE,
        (Family::Manure, Structure::Liquid) => URINE_L_PER_M3 / 1000.0,
        (_, Structure::Liquid) => CONCENTRATE_SHARE,
        _ => return None,
    };
    Some(share * heap_m3)
}
