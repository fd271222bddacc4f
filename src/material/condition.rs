//! The state an ingredient is in, against how the catalogue has it: wilted, packed, chopped.
//!
//! In: a material and a [`Condition`]. Out: the material as it lies there.
//!
//! What is kept: the make-up of the dry matter. Wilting takes water only, and a litre holds as much
//! dry matter as before, so it weighs less. Packing and chopping put more or less into a litre. An
//! amount said by volume keeps its volume, one said in kilograms keeps its kilograms; whatever else
//! follows is seen in the blend. How a heap stands changes less than a bucket does: what was trodden
//! before settles less when it is piled.
//!
//! Not here: how fast small pieces rot; the heap's kinetics know air and water, not cut faces.
//!
//! Tested by: `tests/science/condition.rs`.

use serde::{Deserialize, Serialize};

use super::{Family, Material, Sourced, Structure};
use crate::quantity::{Bound, OutOfRange};

/// Days of drying.
pub const WILTED: Bound = Bound {
    name: "the days of wilting",
    low: 0.0,
    high: 3.0,
    unit: "d",
};
/// Packing, from as loose as it comes to as tight.
pub const PACKED: Bound = Bound {
    name: "the packing",
    low: -1.0,
    high: 1.0,
    unit: "",
};
/// Chopping, from whole to all of it.
pub const CHOPPED: Bound = Bound {
    name: "the chopping",
    low: 0.0,
    high: 1.0,
    unit: "",
};

/// Water left in hay, kg per kg of dry matter: 14 % moisture.
///
/// 14-18 % for hay in store: Undersander, "Drying forage for hay and haylage".
const HAY_WATER_KG_PER_KG: f64 = 0.14 / 0.86;
/// Rate at which the water above that leaves mown grass, per day: low, typical, high.
///
/// From 75-80 % when cut to 60-65 % within 24-36 hours of drying weather (Undersander; Mickan, "Speed
/// up wilting") makes 0.5-0.8; a thin layer in sun and wind is faster, a damp day slower.
const DRYING_PER_DAY: [f64; 3] = [0.5, 0.75, 1.2];
/// How far off a density still is once the packing is known, factor (`common practice`).
const PACKED_SPREAD: f64 = 1.15;
/// Particle size of what is chopped throughout, as a share of the whole. Tuned: it stays within the
/// table of [`Structure::particle_size_m`].
const CHOPPED_SIZE: f64 = 0.6;
/// Least gain of density for which chopping is worth a slider, factor.
const LEAST_GAIN: f64 = 1.1;

/// How an ingredient differs from its entry in the catalogue. The default differs in nothing.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Condition {
    /// Days of drying in the open after it was cut or raked, 0-3.
    pub wilted_days: f64,
    /// From -1 (the loosest that sources print for it) through 0 (as listed) to 1 (the densest).
    pub packed: f64,
    /// Share of it that was chopped, mown over or shredded, 0-1.
    pub chopped: f64,
}

/// What chopping throughout does to a structure; factors.
#[derive(Clone, Copy)]
struct Chop {
    /// Of the loose density.
    loose: f64,
    /// Of the density as piled.
    piled: f64,
    /// Loose density that chopping does not pass, kg/m3.
    ceiling_kg_per_m3: f64,
}

/// Leaves from whole to shredded and twigs from whole to chipped: ratios of the rows
/// `leaves_mixed`/`leaves_shredded` and `prunings_whole`/`prunings_fruit` of the catalogue. Straw and
/// soft stems: tuned between these.
fn chop_of(structure: Structure) -> Option<Chop> {
    let chop = |loose, piled, ceiling_kg_per_m3| {
        Some(Chop {
            loose,
            piled,
            ceiling_kg_per_m3,
        })
    };
    match structure {
        Structure::Leafy => chop(1.5, 1.07, 180.0),
        Structure::Coarse => chop(2.8, 2.5, 250.0),
        Structure::Springy => chop(1.5, 1.2, 200.0),
        Structure::Soft => chop(1.3, 1.1, 300.0),
        _ => None,
    }
}

impl Condition {
    /// Whether it differs in nothing from the entry of the catalogue.
    pub fn is_as_listed(&self) -> bool {
        *self == Self::default()
    }

    /// Itself, if each of its numbers lies within its bound.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first that does not.
    pub fn check(self) -> Result<Self, OutOfRange> {
        WILTED.check(self.wilted_days)?;
        PACKED.check(self.packed)?;
        CHOPPED.check(self.chopped)?;
        Ok(self)
    }

    /// Whether drying it in the open is known: plants that are wetter than hay.
    pub fn can_wilt(material: &Material) -> bool {
        let plant = matches!(
            material.family,
            Family::Leaves
                | Family::Grass
                | Family::StrawHay
                | Family::CropRemains
                | Family::GardenGreen
                | Family::GardenBrown
                | Family::Aquatic
        );
        plant
            && material.structure != Structure::Liquid
            && water_kg_per_kg(material.moisture.typical) > HAY_WATER_KG_PER_KG
    }

    /// Whether it can be packed tighter or shaken looser: sources print densities that differ.
    pub fn can_pack(material: &Material) -> bool {
        let density = &material.bulk_density;
        material.structure != Structure::Liquid && density.high > density.low
    }

    /// Whether chopping changes it.
    pub fn can_chop(material: &Material) -> bool {
        chop_of(material.structure)
            .is_some_and(|chop| gain(&chop, material.bulk_density.typical) >= LEAST_GAIN)
    }

    /// The material in this state. What does not apply to it is left out.
    pub fn apply(&self, material: &Material) -> Material {
        let mut worn = material.clone();
        if self.wilts(material) {
            wilt(&mut worn, self.wilted_days);
        }
        if self.is_chopped(material) {
            chop(&mut worn, material, self.chopped);
        }
        if self.is_packed(material) {
            pack(&mut worn, self.packed);
        }
        worn
    }

    /// Whether it says that this material has wilted.
    pub fn wilts(&self, material: &Material) -> bool {
        self.wilted_days > 0.0 && Self::can_wilt(material)
    }

    /// Whether it says that this material is chopped.
    pub fn is_chopped(&self, material: &Material) -> bool {
        self.chopped > 0.0 && Self::can_chop(material)
    }

    /// Whether it says that this material is packed or shaken loose.
    pub fn is_packed(&self, material: &Material) -> bool {
        self.packed != 0.0 && Self::can_pack(material)
    }
}

/// Water by dry matter, kg/kg, from moisture (wet basis).
fn water_kg_per_kg(moisture: f64) -> f64 {
    moisture / (1.0 - moisture)
}

/// Moisture after drying: water above that of hay falls off exponentially.
fn dried_moisture(moisture: f64, days: f64, rate_per_day: f64) -> f64 {
    let water = water_kg_per_kg(moisture);
    if water <= HAY_WATER_KG_PER_KG {
        return moisture;
    }
    let left = HAY_WATER_KG_PER_KG + (water - HAY_WATER_KG_PER_KG) * (-rate_per_day * days).exp();
    left / (1.0 + left)
}

/// Takes water away; dry matter by volume stays.
fn wilt(worn: &mut Material, days: f64) {
    let [slow, usual, fast] = DRYING_PER_DAY;
    let before = worn.moisture.typical;
    let moisture = &mut worn.moisture;
    moisture.low = dried_moisture(moisture.low, days, fast);
    moisture.typical = dried_moisture(before, days, usual);
    moisture.high = dried_moisture(moisture.high, days, slow);
    let after = moisture.typical;
    scale(&mut worn.bulk_density, (1.0 - before) / (1.0 - after));
    worn.structure = drier(worn.structure, after);
}

/// How a structure stands once it is so dry. The limits are those of the rows of fresh, wilted and dry
/// grass and of green and dry haulm in the catalogue.
fn drier(structure: Structure, moisture: f64) -> Structure {
    match structure {
        Structure::Slumping if moisture <= 0.25 => Structure::Leafy,
        Structure::Slumping if moisture <= 0.65 => Structure::Soft,
        Structure::Soft if moisture <= 0.25 => Structure::Springy,
        other => other,
    }
}

/// Factor by which chopping throughout raises the loose density.
fn gain(chop: &Chop, density_kg_per_m3: f64) -> f64 {
    chop.loose
        .min(chop.ceiling_kg_per_m3 / density_kg_per_m3)
        .max(1.0)
}

/// Smaller pieces: denser in the bucket, less of it lost to settling. How far is set by what it was
/// before anything was done to it.
fn chop(worn: &mut Material, listed: &Material, share: f64) {
    let Some(chop) = chop_of(listed.structure) else {
        return;
    };
    let loose = gain(&chop, listed.bulk_density.typical);
    let piled = loose.min(chop.piled);
    scale(&mut worn.bulk_density, loose.powf(share));
    settle(worn, (loose / piled).powf(share));
    worn.size_factor *= CHOPPED_SIZE.powf(share);
}

/// Tighter or looser within what sources print, equal steps of the slider being equal factors.
fn pack(worn: &mut Material, packed: f64) {
    let density = &mut worn.bulk_density;
    let end = if packed > 0.0 {
        density.high
    } else {
        density.low
    };
    let how_far = packed.abs();
    let between = |from: f64, to: f64| from * (to / from).powf(how_far);
    let factor = (end / density.typical).powf(how_far);
    density.typical *= factor;
    // The better the packing is known, the less of the printed spread remains.
    density.low = between(density.low, density.typical / PACKED_SPREAD).min(density.typical);
    density.high = between(density.high, density.typical * PACKED_SPREAD).max(density.typical);
    settle(worn, factor);
}

/// What is so many times denser before it is piled loses that much less, down to nothing.
fn settle(worn: &mut Material, denser: f64) {
    worn.settles_share = (1.0 - (1.0 - worn.settles_share) * denser).clamp(0.0, 0.9);
}

fn scale(value: &mut Sourced, factor: f64) {
    value.low *= factor;
    value.typical *= factor;
    value.high *= factor;
}
