//! A person's own materials: copied, from a laboratory's report, from a bucket and a kitchen scale.
//!
//! In: what was measured, and a material of the catalogue that is most like it. Out: a [`Made`]
//! material with the formulas it was calculated by, or one sentence about what cannot be.
//!
//! What was measured is marked `OWN`; what was not is taken from the similar material, with that
//! one's sources and no more trust than `Recalled`, since likeness is a judgement.
//!
//! Here: what both ways have in common, and copies. The report is in `lab_report`, the bucket in
//! `bucket_test`, what cannot be in `error`. Not here: keeping them (`document::library`).
//!
//! Tested by: `tests/science/own_materials.rs`.

mod bucket_test;
mod error;
mod lab_report;

pub use bucket_test::BucketTest;
pub use error::{Figure, OwnError};
pub use lab_report::{Basis, CARBON_OF_ORGANIC_MATTER, LabReport};

use super::catalogue::{Catalogue, check};
use super::{Confidence, Material, Sourced, Spread};
use crate::quantity::Range;

/// How far the next sample lies from a measured one: points of moisture, then factors of the rest
/// (`common practice`: a heap differs more from place to place than a laboratory errs).
const MOISTURE_STEP: f64 = 0.03;
const DENSITY_SPREAD: f64 = 0.15;
/// Source of values that were measured.
const OWN: &str = "OWN";

/// What a handful shows when it is squeezed hard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Squeeze {
    /// Feels dry and dusty, no ball forms.
    Dusty,
    /// A ball forms and falls apart.
    FallsApart,
    /// The ball holds, the hand is damp, a drop or two at most.
    Holds,
    /// Water drips or runs out.
    Drips,
}

impl Squeeze {
    /// All of them, from dry to wet.
    pub const ALL: [Self; 4] = [Self::Dusty, Self::FallsApart, Self::Holds, Self::Drips];

    /// Moisture it speaks for, wet basis, low and high.
    ///
    /// Dry and dusty is below 0.44 (LSU AgCenter, "Compost Moisture Content"); a wrung-out sponge
    /// is 0.50-0.70 (USDA NEH 637 ch. 2, second-hand) and water that runs means more than 0.60
    /// (the upper end of the wrung-out sponge of most handbooks); between dusty and sponge: from
    /// memory.
    pub fn moisture_band(self) -> (f64, f64) {
        match self {
            Self::Dusty => (0.0, 0.44),
            Self::FallsApart => (0.40, 0.52),
            Self::Holds => (0.50, 0.70),
            Self::Drips => (0.60, 1.0),
        }
    }
}

/// A formula that was used, with its numbers, for the person to follow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Working {
    /// Bulk density of a filled bucket. Source: Eawag (Zabaleta), after Cooperband, 2002.
    Density {
        /// Bucket and material, kg.
        full_kg: f64,
        /// The bucket alone, kg.
        empty_kg: f64,
        /// What it holds, L.
        bucket_l: f64,
        /// The result, kg/m3.
        density_kg_per_m3: f64,
    },
    /// Moisture of a dried sample. Source: Richard and Trautmann, Cornell Composting in Schools.
    Moisture {
        /// As it was, g.
        wet_g: f64,
        /// Dried, g.
        dry_g: f64,
        /// The result, wet basis.
        moisture: f64,
    },
    /// Nitrogen of a report as received, on a dry basis. Source: mass balance.
    DryBasis {
        /// As received, %.
        nitrogen_pct: f64,
        /// Moisture, wet basis.
        moisture: f64,
        /// The result, share of dry matter.
        nitrogen: f64,
    },
    /// Ash from organic matter. Source: Richard, Cornell Waste Management Institute 1996.
    Ash {
        /// Organic matter, share of dry matter.
        organic: f64,
    },
    /// Carbon from organic matter. Source: Adams et al. 1951, in Richard 1996.
    Carbon {
        /// Organic matter, share of dry matter.
        organic: f64,
        /// The result, share of dry matter.
        carbon: Range,
    },
    /// C:N of measured carbon and nitrogen, by definition.
    CarbonNitrogen {
        /// Carbon, share of dry matter.
        carbon: f64,
        /// Nitrogen, share of dry matter.
        nitrogen: f64,
    },
}

/// What does not fit in what was measured, to think about; it hinders nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// The squeeze and the scale speak for different moistures.
    Squeeze {
        /// What the squeeze showed.
        squeeze: Squeeze,
        /// Moisture by the scale, wet basis.
        moisture: f64,
    },
    /// The report says there is no water.
    NoMoisture,
    /// The report says there is no nitrogen.
    NoNitrogen,
}

/// A material made of measurements.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The material, checked.
    pub material: Material,
    /// How it was calculated.
    pub workings: Vec<Working>,
    /// What does not fit.
    pub doubts: Vec<Doubt>,
}

/// A measured value with the usual spread about it.
fn measured(typical: f64, low: f64, high: f64, confidence: Confidence) -> Sourced {
    Sourced {
        low,
        typical,
        high,
        sources: vec![OWN.to_owned()],
        confidence,
        spread: Spread::Usual,
    }
}

/// A measured value, give or take a share of it, between 0 and `most`.
fn about(typical: f64, share: f64, most: f64, confidence: Confidence) -> Sourced {
    let high = (typical * (1.0 + share)).min(most).max(typical);
    measured(typical, typical * (1.0 - share), high, confidence)
}

fn moisture_about(moisture: f64) -> Sourced {
    let low = (moisture - MOISTURE_STEP).max(0.0);
    let high = (moisture + MOISTURE_STEP).min(0.99).max(moisture);
    measured(moisture, low, high, Confidence::Read)
}

fn density_about(density_kg_per_m3: f64) -> Sourced {
    about(
        density_kg_per_m3,
        DENSITY_SPREAD,
        f64::INFINITY,
        Confidence::Read,
    )
}

/// An id no material of the catalogue has, from a name.
fn free_id(name: &str, catalogue: &Catalogue) -> String {
    let mut plain = String::from("own_");
    for letter in name.to_lowercase().chars().take(40) {
        if letter.is_ascii_alphanumeric() {
            plain.push(letter);
        } else if !plain.ends_with('_') {
            plain.push('_');
        }
    }
    let plain = plain.trim_end_matches('_').to_owned();
    let numbered = (2..).map(|number: u32| format!("{plain}_{number}"));
    std::iter::once(plain.clone())
        .chain(numbered)
        .find(|id| catalogue.find(id).is_none())
        .unwrap_or(plain)
}

/// A copy under another name, to be changed. Its values keep their sources.
///
/// # Errors
/// [`OwnError::Nameless`] for a blank name.
pub fn copy_of(like: &Material, name: &str, catalogue: &Catalogue) -> Result<Material, OwnError> {
    if name.trim().is_empty() {
        return Err(OwnError::Nameless);
    }
    Ok(Material {
        id: free_id(name, catalogue),
        name: name.trim().to_owned(),
        ..like.clone()
    })
}

/// The material, if it can be.
///
/// # Errors
/// [`OwnError`]: no name, or a value that cannot be.
pub fn checked(material: Material) -> Result<Material, OwnError> {
    if material.name.trim().is_empty() {
        return Err(OwnError::Nameless);
    }
    check(&material).map_err(OwnError::CannotBe)?;
    Ok(material)
}

/// A similar material under another name, its values trusted no more than from memory; it has no note.
fn similar(like: &Material, name: &str, catalogue: &Catalogue) -> Result<Material, OwnError> {
    let mut material = copy_of(like, name, catalogue)?;
    let doubted = [
        &mut material.moisture,
        &mut material.nitrogen,
        &mut material.carbon,
        &mut material.ash,
        &mut material.lignin,
        &mut material.bulk_density,
        &mut material.phosphate,
        &mut material.potash,
        &mut material.ph,
    ];
    for value in doubted.into_iter().chain(&mut material.carbon_to_nitrogen) {
        value.confidence = Confidence::Recalled;
    }
    material.pools.confidence = Confidence::Recalled;
    material.note = String::new();
    Ok(material)
}
