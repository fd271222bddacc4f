//! Household measures: how amounts are said in a garden.
//!
//! In: a number and a measure. Out: litres or kilograms.
//!
//! Not here: their words (`text::amount`).
//!
//! Sizes are means of the ranges given beside each; the sources are the bucket methods of
//! university extension services (5 US gallon pail, 18.9 L) and common practice for the rest.
//!
//! Tested by: `tests/science/quantity.rs`.

use serde::{Deserialize, Serialize};

use super::units::{KG_PER_POUND, LITRE_PER_US_GALLON};

/// How an amount is said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Measure {
    /// 1 L, loose.
    Litre,
    /// 1 kg, as it is.
    Kilogram,
    /// 1 g, as it is.
    Gram,
    /// Garden bucket, 12 L (10-14 L; common practice).
    Bucket,
    /// Wheelbarrow, 100 L (90-120 L; common practice).
    Barrow,
    /// Garden sack or bin bag, 80 L (70-90 L; common practice).
    Sack,
    /// Kitchen caddy, 6 L (5-7 L; common practice).
    Caddy,
    /// Grass box of a mower, 50 L (30-70 L; common practice).
    GrassBox,
    /// Small bale, 150 L (0.9-1.0 x 0.45 x 0.35 m; common practice).
    Bale,
    /// Fork-load, 6 L (5-8 L; common practice).
    Fork,
    /// 5 US gallon pail, 18.9 L.
    Pail,
    /// 1 cubic foot, 28.317 L (exact by definition of the foot).
    CubicFoot,
    /// 1 cubic yard, 764.555 L (exact by definition of the foot).
    CubicYard,
    /// 1 lb, 0.453 592 37 kg (exact).
    Pound,
    /// A measure of the user's own.
    Own {
        /// What it is called, in the singular.
        name: String,
        /// What it holds, L.
        litres: f64,
    },
}

/// A measure of the person's own: "my barrow", 85 L.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnMeasure {
    /// What it is called, in the singular.
    pub name: String,
    /// What it holds, L; see [`super::bounds::OWN_MEASURE`].
    pub litres: f64,
}

impl OwnMeasure {
    /// As a measure of an amount.
    pub fn measure(&self) -> Measure {
        Measure::Own {
            name: self.name.clone(),
            litres: self.litres,
        }
    }
}

/// Size of an amount, as volume or as mass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Extent {
    /// Loose volume, m3.
    VolumeM3(f64),
    /// Mass as it is (wet), kg.
    MassKg(f64),
}

impl Measure {
    /// Every ready measure, in the order a list shows them.
    pub const READY: [Self; 14] = [
        Self::Bucket,
        Self::Barrow,
        Self::Sack,
        Self::GrassBox,
        Self::Caddy,
        Self::Fork,
        Self::Bale,
        Self::Litre,
        Self::Kilogram,
        Self::Gram,
        Self::Pail,
        Self::CubicFoot,
        Self::CubicYard,
        Self::Pound,
    ];

    /// One of it, as volume or mass.
    pub fn one(&self) -> Extent {
        let litres = match self {
            Self::Kilogram => return Extent::MassKg(1.0),
            Self::Gram => return Extent::MassKg(0.001),
            Self::Pound => return Extent::MassKg(KG_PER_POUND),
            Self::Litre => 1.0,
            Self::Bucket => 12.0,
            Self::Barrow => 100.0,
            Self::Sack => 80.0,
            Self::Caddy => 6.0,
            Self::GrassBox => 50.0,
            Self::Bale => 150.0,
            Self::Fork => 6.0,
            Self::Pail => 5.0 * LITRE_PER_US_GALLON,
            Self::CubicFoot => 28.316_846_592,
            Self::CubicYard => 764.554_857_984,
            Self::Own { litres, .. } => *litres,
        };
        Extent::VolumeM3(litres / 1000.0)
    }
}

/// So much of a measure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Amount {
    /// How many; see [`super::bounds::AMOUNT`].
    pub value: f64,
    /// Of what.
    pub measure: Measure,
}

impl Amount {
    /// So much of a measure.
    pub fn new(value: f64, measure: Measure) -> Self {
        Self { value, measure }
    }

    /// Volume or mass of the whole amount.
    pub fn extent(&self) -> Extent {
        match self.measure.one() {
            Extent::VolumeM3(v) => Extent::VolumeM3(v * self.value),
            Extent::MassKg(m) => Extent::MassKg(m * self.value),
        }
    }

    /// Loose volume, m3, of a material of this loose density (kg/m3, above zero).
    pub fn volume_m3(&self, density_kg_per_m3: f64) -> f64 {
        match self.extent() {
            Extent::VolumeM3(v) => v,
            Extent::MassKg(m) => m / density_kg_per_m3,
        }
    }

    /// The same stuff said in another measure, for a material of this loose density (kg/m3, above zero).
    #[must_use]
    pub fn said_in(&self, measure: Measure, density_kg_per_m3: f64) -> Self {
        let volume = self.volume_m3(density_kg_per_m3);
        let value = match measure.one() {
            Extent::VolumeM3(one) => volume / one,
            Extent::MassKg(one) => volume * density_kg_per_m3 / one,
        };
        Self { value, measure }
    }
}
