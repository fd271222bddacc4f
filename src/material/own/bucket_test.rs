//! A material from a bucket, a scale, an oven and a hand.
//!
//! In: weights and a squeeze, a similar material. Out: the material, with the formulas used.
//!
//! Not here: what only a laboratory knows (`lab_report`).
//!
//! Tested by: `tests/science/own_materials.rs`.

use super::error::{Figure, within};
use super::{
    Doubt, Made, OwnError, Squeeze, Working, checked, density_about, moisture_about, similar,
};
use crate::material::{Catalogue, Material};

/// What a bucket, a scale and a hand measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct BucketTest {
    /// What the bucket holds, L.
    pub bucket_l: f64,
    /// The bucket alone, kg.
    pub empty_kg: f64,
    /// The bucket filled loosely to the brim, kg.
    pub full_kg: f64,
    /// A sample as it is, g.
    pub sample_wet_g: f64,
    /// The same sample dried until it gets no lighter, g.
    pub sample_dry_g: f64,
    /// What a hard squeeze showed; `None` if it was not tried.
    pub squeeze: Option<Squeeze>,
}

impl BucketTest {
    /// The material this test speaks of: moisture and bulk density measured, all else from `like`.
    ///
    /// # Errors
    /// [`OwnError`] for the first weight that cannot be.
    pub fn material(
        &self,
        name: &str,
        like: &Material,
        catalogue: &Catalogue,
    ) -> Result<Made, OwnError> {
        let mut material = similar(like, name, catalogue)?;
        let (density, density_working) = self.density()?;
        let (moisture, moisture_working) = self.moisture()?;
        material.bulk_density = density_about(density);
        material.moisture = moisture_about(moisture);
        let doubt = self.squeeze.and_then(|squeeze| {
            let (low, high) = squeeze.moisture_band();
            let fits = (low..=high).contains(&moisture);
            (!fits).then_some(Doubt::Squeeze { squeeze, moisture })
        });
        Ok(Made {
            material: checked(material)?,
            workings: vec![density_working, moisture_working],
            doubts: doubt.into_iter().collect(),
        })
    }

    /// What is wrong with the weights of the bucket, if anything.
    pub fn bucket_problem(&self) -> Option<OwnError> {
        self.density().err()
    }

    /// What is wrong with the weights of the sample, if anything.
    pub fn sample_problem(&self) -> Option<OwnError> {
        self.moisture().err()
    }

    /// Bulk density, kg/m3.
    fn density(&self) -> Result<(f64, Working), OwnError> {
        let bucket_l = within(Figure::Bucket, self.bucket_l, [0.1, 1000.0], "L")?;
        let empty_kg = within(Figure::EmptyBucket, self.empty_kg, [0.0, 1000.0], "kg")?;
        let full_kg = within(Figure::FullBucket, self.full_kg, [0.0, 5000.0], "kg")?;
        if full_kg <= empty_kg {
            return Err(OwnError::FullLighter { empty_kg, full_kg });
        }
        let density = (full_kg - empty_kg) / bucket_l * 1000.0;
        within(Figure::BulkDensity, density, [1.0, 3000.0], "kg/m³")?;
        let working = Working::Density {
            full_kg,
            empty_kg,
            bucket_l,
            density_kg_per_m3: density,
        };
        Ok((density, working))
    }

    /// Moisture, wet basis.
    fn moisture(&self) -> Result<(f64, Working), OwnError> {
        let wet_g = within(Figure::FreshSample, self.sample_wet_g, [0.1, 1e5], "g")?;
        let dry_g = within(Figure::DriedSample, self.sample_dry_g, [0.0, 1e5], "g")?;
        if dry_g > wet_g {
            return Err(OwnError::DryHeavier { wet_g, dry_g });
        }
        let moisture = (wet_g - dry_g) / wet_g;
        within(Figure::Moisture, moisture * 100.0, [0.0, 99.0], "%")?;
        let working = Working::Moisture {
            wet_g,
            dry_g,
            moisture,
        };
        Ok((moisture, working))
    }
}
