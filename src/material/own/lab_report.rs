//! A material from a laboratory's report, on a dry basis or as received.
//!
//! In: the figures of a report, a similar material. Out: the material, with the formulas used.
//!
//! Not here: what is measured at home (`bucket_test`).
//!
//! Tested by: `tests/science/own_materials.rs`.

use super::error::{Figure, within};
use super::{
    Doubt, Made, OwnError, Working, about, checked, density_about, measured, moisture_about,
    similar,
};
use crate::material::{Catalogue, Confidence, Material, Pools, Sourced, Spread};
use crate::quantity::Range;

/// Carbon in organic matter (volatile solids), share: low, typical, high.
///
/// 0.45-0.60 for most biological materials, 0.55 (the divisor 1.8) to calculate with: Adams et al.,
/// New Zealand Engineering, November 1951, as given by Richard, "Estimating Carbon Content",
/// Cornell Waste Management Institute (1996).
pub const CARBON_OF_ORGANIC_MATTER: [f64; 3] = [0.45, 1.0 / 1.8, 0.60];
/// How far the next sample lies from a measured one, factors (`common practice`).
const NITROGEN_SPREAD: f64 = 0.10;
const CARBON_SPREAD: f64 = 0.05;
const ASH_SPREAD: f64 = 0.15;
/// How far organic matter and ash may miss 100 together, points of dry matter.
const MISFIT_PCT: f64 = 5.0;

/// What a report's percentages are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Basis {
    /// Of the dry matter.
    #[default]
    Dry,
    /// Of the sample as it came, water and all.
    AsReceived,
}

/// What a laboratory measured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LabReport {
    /// What the percentages below are of; moisture is always of the sample as it came.
    pub basis: Basis,
    /// Water, % of the sample as it came.
    pub moisture_pct: f64,
    /// Total carbon, %.
    pub carbon_pct: Option<f64>,
    /// Organic matter, or loss on ignition, or volatile solids, %.
    pub organic_matter_pct: Option<f64>,
    /// Ash, %.
    pub ash_pct: Option<f64>,
    /// Total nitrogen, %.
    pub nitrogen_pct: f64,
    /// Bulk density as it came, kg/m3.
    pub bulk_density_kg_per_m3: Option<f64>,
}

/// Puts another ash into a material; its organic matter keeps its make-up.
fn set_ash(material: &mut Material, ash: Sourced) {
    let before = 1.0 - material.ash.typical;
    let kept = if before > 0.0 {
        (1.0 - ash.typical) / before
    } else {
        0.0
    };
    let lignin = &mut material.lignin;
    for value in [&mut lignin.low, &mut lignin.typical, &mut lignin.high] {
        *value = (*value * kept).min(1.0);
    }
    let pools = &mut material.pools;
    let organic_inert = (pools.inert - material.ash.typical).max(0.0);
    let organic = pools.fast + pools.medium + pools.slow + organic_inert;
    let scale = if organic > 0.0 {
        (1.0 - ash.typical) / organic
    } else {
        0.0
    };
    *pools = Pools {
        fast: pools.fast * scale,
        medium: pools.medium * scale,
        slow: pools.slow * scale,
        inert: 1.0 - (pools.fast + pools.medium + pools.slow) * scale,
        ..pools.clone()
    };
    material.ash = ash;
}

impl LabReport {
    /// The material this report speaks of.
    ///
    /// `like`: where lignin, pools, phosphate, potash, pH, structure and settling come from, and the
    /// bulk density if the report has none.
    ///
    /// # Errors
    /// [`OwnError`] for the first figure that cannot be.
    pub fn material(
        &self,
        name: &str,
        like: &Material,
        catalogue: &Catalogue,
    ) -> Result<Made, OwnError> {
        let mut material = similar(like, name, catalogue)?;
        let mut workings = Vec::new();
        let moisture = within(Figure::Moisture, self.moisture_pct, [0.0, 99.0], "%")? / 100.0;
        material.moisture = moisture_about(moisture);
        let dry = |what, pct| self.dry_share(what, pct);
        let nitrogen = dry(Figure::Nitrogen, self.nitrogen_pct)?;
        within(Figure::DryNitrogen, nitrogen * 100.0, [0.0, 50.0], "%")?;
        if self.basis == Basis::AsReceived {
            workings.push(Working::DryBasis {
                nitrogen_pct: self.nitrogen_pct,
                moisture,
                nitrogen,
            });
        }
        let (ash, carbon) = self.ash_and_carbon(like, &mut workings)?;
        set_ash(&mut material, ash);
        set_carbon_and_nitrogen(&mut material, carbon, nitrogen, &mut workings);
        if let Some(density) = self.bulk_density_kg_per_m3 {
            let density = within(Figure::BulkDensity, density, [1.0, 3000.0], "kg/m³")?;
            material.bulk_density = density_about(density);
        }
        let no_moisture = (moisture == 0.0).then_some(Doubt::NoMoisture);
        let no_nitrogen = (nitrogen == 0.0).then_some(Doubt::NoNitrogen);
        Ok(Made {
            material: checked(material)?,
            workings,
            doubts: no_moisture.into_iter().chain(no_nitrogen).collect(),
        })
    }

    /// A percentage of the report as a share of dry matter.
    fn dry_share(&self, what: Figure, pct: f64) -> Result<f64, OwnError> {
        let share = within(what, pct, [0.0, 100.0], "%")? / 100.0;
        Ok(match self.basis {
            Basis::Dry => share,
            Basis::AsReceived => share / (1.0 - self.moisture_pct / 100.0),
        })
    }

    /// Ash and carbon of the dry matter, as far as the report goes.
    fn ash_and_carbon(
        &self,
        like: &Material,
        workings: &mut Vec<Working>,
    ) -> Result<(Sourced, Sourced), OwnError> {
        let dry = |what, pct: Option<f64>| pct.map(|pct| self.dry_share(what, pct)).transpose();
        let carbon = dry(Figure::Carbon, self.carbon_pct)?;
        let organic = dry(Figure::OrganicMatter, self.organic_matter_pct)?;
        let ash = dry(Figure::Ash, self.ash_pct)?;
        let limit = |what, share: f64| {
            if share > 1.0 + 1e-9 {
                let found = share * 100.0;
                return Err(OwnError::TooMuch { what, found });
            }
            Ok(())
        };
        limit(Figure::OrganicMatterAlone, organic.unwrap_or(0.0))?;
        limit(
            Figure::AshAndCarbon,
            ash.unwrap_or(0.0) + carbon.unwrap_or(0.0),
        )?;
        if let (Some(organic), Some(ash)) = (organic, ash) {
            let found = (organic + ash) * 100.0;
            if (found - 100.0).abs() > MISFIT_PCT {
                return Err(OwnError::Misfit { found });
            }
        }
        let measured_ash = match (ash, organic) {
            (Some(ash), _) => Some(ash),
            (None, Some(organic)) => {
                workings.push(Working::Ash { organic });
                Some(1.0 - organic)
            }
            (None, None) => None,
        };
        let ash_value = |ash: f64| about(ash, ASH_SPREAD, 1.0, Confidence::Read);
        match (carbon, measured_ash) {
            (None, None) => Err(OwnError::NoCarbon),
            (Some(carbon), Some(ash)) => {
                limit(Figure::AshAndCarbon, ash + carbon)?;
                Ok((ash_value(ash), carbon_about(carbon, ash)))
            }
            (Some(carbon), None) => {
                // The similar material's ash, as far as the carbon leaves room for it.
                let mut ash = like.ash.clone();
                ash.confidence = Confidence::Recalled;
                for value in [&mut ash.low, &mut ash.typical, &mut ash.high] {
                    *value = value.min(1.0 - carbon);
                }
                let typical = ash.typical;
                Ok((ash, carbon_about(carbon, typical)))
            }
            (None, Some(ash)) => Ok((ash_value(ash), carbon_from_ash(ash, workings))),
        }
    }
}

/// Measured carbon, beside so much ash.
fn carbon_about(carbon: f64, ash: f64) -> Sourced {
    let most = (1.0 - ash).min(0.8);
    about(carbon, CARBON_SPREAD, most, Confidence::Read)
}

/// Carbon calculated from the organic matter.
fn carbon_from_ash(ash: f64, workings: &mut Vec<Working>) -> Sourced {
    let organic = 1.0 - ash;
    let [low, typical, high] = CARBON_OF_ORGANIC_MATTER.map(|share| share * organic);
    workings.push(Working::Carbon {
        organic,
        carbon: Range::new(low, typical, high),
    });
    Sourced {
        spread: Spread::Given,
        ..measured(typical, low, high, Confidence::Derived)
    }
}

/// Carbon, nitrogen, and C:N from the two; no C:N where one of them is missing.
fn set_carbon_and_nitrogen(
    material: &mut Material,
    carbon: Sourced,
    nitrogen: f64,
    workings: &mut Vec<Working>,
) {
    material.nitrogen = about(nitrogen, NITROGEN_SPREAD, 0.5, Confidence::Read);
    material.carbon_to_nitrogen = None;
    if carbon.typical > 0.0 && nitrogen > 0.0 {
        let cn = carbon.typical / nitrogen;
        workings.push(Working::CarbonNitrogen {
            carbon: carbon.typical,
            nitrogen,
        });
        // Both errors together, each side by itself.
        let side = |carbon_share: f64| carbon_share.hypot(NITROGEN_SPREAD);
        let down = side(1.0 - carbon.low / carbon.typical);
        let up = side(carbon.high / carbon.typical - 1.0);
        let (low, high) = (cn * (1.0 - down), cn * (1.0 + up));
        material.carbon_to_nitrogen = Some(measured(cn, low, high, carbon.confidence));
    }
    material.carbon = carbon;
}
