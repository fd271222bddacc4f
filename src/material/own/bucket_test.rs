//! A material from a bucket, a scale, an oven and a hand.
//!
//! In: weights and a squeeze, a similar material. Out: the material, with the formulas used.
//!
//! Not here: what only a laboratory knows (`lab_report`).
//!
//! Tested by: `tests/science/own_materials.rs`.

use super::{Made, OwnError, Step, checked, density_about, moisture_about, similar, within};
use crate::material::{Catalogue, Material};
use crate::quantity::number_text;

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

    /// What it is like.
    pub fn label(self) -> &'static str {
        match self {
            Self::Dusty => "dry and dusty, no ball",
            Self::FallsApart => "a ball that falls apart",
            Self::Holds => "a ball that holds, a drop or two",
            Self::Drips => "water drips out",
        }
    }

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
        let (density, mut steps) = self.density()?;
        let (moisture, step) = self.moisture()?;
        steps.push(step);
        material.bulk_density = density_about(density);
        material.moisture = moisture_about(moisture);
        let remarks = self.squeeze.and_then(|squeeze| {
            let (low, high) = squeeze.moisture_band();
            let fits = (low..=high).contains(&moisture);
            (!fits).then(|| {
                format!(
                    "The squeeze (\"{}\") speaks for {:.0} to {:.0} % moisture, the scale for {:.0} %. Fresh leaves and stems give no water though they are wet; otherwise dry the sample longer or weigh again.",
                    squeeze.label(),
                    low * 100.0,
                    high * 100.0,
                    moisture * 100.0
                )
            })
        });
        Ok(Made {
            material: checked(material)?,
            steps,
            remarks: remarks.into_iter().collect(),
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
    fn density(&self) -> Result<(f64, Vec<Step>), OwnError> {
        let bucket_l = within("the bucket", self.bucket_l, [0.1, 1000.0], "L")?;
        let empty_kg = within("the empty bucket", self.empty_kg, [0.0, 1000.0], "kg")?;
        let full_kg = within("the full bucket", self.full_kg, [0.0, 5000.0], "kg")?;
        if full_kg <= empty_kg {
            return Err(OwnError::FullLighter { empty_kg, full_kg });
        }
        let density = (full_kg - empty_kg) / bucket_l * 1000.0;
        within("the bulk density", density, [1.0, 3000.0], "kg/m³")?;
        let text = format!(
            "bulk density = (full - empty) / volume = ({} - {}) kg / {} L = {density:.0} kg/m³",
            number_text(full_kg),
            number_text(empty_kg),
            number_text(bucket_l)
        );
        let source = "Eawag (Zabaleta), after Cooperband, The Art and Science of Composting, 2002";
        Ok((density, vec![Step { text, source }]))
    }

    /// Moisture, wet basis.
    fn moisture(&self) -> Result<(f64, Step), OwnError> {
        let wet_g = within("the fresh sample", self.sample_wet_g, [0.1, 1e5], "g")?;
        let dry_g = within("the dried sample", self.sample_dry_g, [0.0, 1e5], "g")?;
        if dry_g > wet_g {
            return Err(OwnError::DryHeavier { wet_g, dry_g });
        }
        let moisture = (wet_g - dry_g) / wet_g;
        within("moisture", moisture * 100.0, [0.0, 99.0], "%")?;
        let text = format!(
            "moisture = (fresh - dried) / fresh = ({} - {}) g / {} g = {:.0} %",
            number_text(wet_g),
            number_text(dry_g),
            number_text(wet_g),
            moisture * 100.0
        );
        let source = "Richard and Trautmann, Cornell Composting in Schools, moisture page";
        Ok((moisture, Step { text, source }))
    }
}
