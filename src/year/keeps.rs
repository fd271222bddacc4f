//! How long a material lasts before it has to be in a heap.
//!
//! In: a material. Out: [`Keeps`].
//!
//! Not here: what a person says of their own (`Arrival::keeps`).
//!
//! Tested by: `tests/science/year.rs`.

use serde::{Deserialize, Serialize};

use crate::material::{Family, Material, Structure};

/// Moisture, wet basis, up to which plant matter keeps under a roof (hay is stored below 18-20 %; from memory;
/// a little more for loose heaps of leaves, common practice).
const DRY_ENOUGH: f64 = 0.25;

/// How long something lasts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Keeps {
    /// So many days, 0-365.
    Days(f64),
    /// So many months, 1-60.
    Months(u8),
}

/// How long a material lasts, by what it is (common practice throughout): dry things for years, leaves
/// from one autumn to the next, manure for a season, greens and scraps for days.
pub fn keeps(material: &Material) -> Keeps {
    let dry = material.moisture.typical <= DRY_ENOUGH;
    match material.family {
        Family::Kitchen if dry => Keeps::Months(3),
        _ if dry => Keeps::Months(24),
        Family::Grass | Family::Aquatic => Keeps::Days(3.0),
        Family::Kitchen | Family::GardenGreen => Keeps::Days(7.0),
        Family::Processing => Keeps::Days(14.0),
        Family::CropRemains if material.structure == Structure::Springy => Keeps::Months(6),
        Family::CropRemains => Keeps::Days(14.0),
        Family::Manure => Keeps::Months(3),
        Family::Leaves | Family::GardenBrown => Keeps::Months(12),
        Family::StrawHay
        | Family::Wood
        | Family::Paper
        | Family::Fibre
        | Family::Plastic
        | Family::Fertiliser
        | Family::Mineral
        | Family::Soil => Keeps::Months(24),
    }
}
