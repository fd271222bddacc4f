//! A person's own materials: copied, from a laboratory's report, from a bucket and a kitchen scale.
//!
//! In: what was measured, and a material of the catalogue that is most like it. Out: a [`Made`]
//! material with the steps it was reckoned by, or one sentence about what cannot be.
//!
//! What was measured is marked `OWN`; what was not is taken from the similar material, with that
//! one's sources and no more trust than `Recalled`, since likeness is a judgement.
//!
//! Not here: keeping them (`document::library`).
//!
//! Held against: `tests/science/own_materials.rs`.

use thiserror::Error;

use super::catalogue::{Catalogue, CatalogueError, check};
use super::{Confidence, Material, Pools, Sourced, Spread};
use crate::quantity::number_text;

/// Carbon in organic matter (volatile solids), share: low, typical, high.
///
/// 0.45-0.60 for most biological materials, 0.55 (the divisor 1.8) to reckon with: Adams et al.,
/// New Zealand Engineering, November 1951, as given by Richard, "Estimating Carbon Content",
/// Cornell Waste Management Institute (1996).
pub const CARBON_OF_ORGANIC_MATTER: [f64; 3] = [0.45, 1.0 / 1.8, 0.60];
/// How far the next sample lies from a measured one: points of moisture, then factors of the rest
/// (`common practice`: a heap differs more from place to place than a laboratory errs).
const MOISTURE_STEP: f64 = 0.03;
const NITROGEN_SPREAD: f64 = 0.10;
const CARBON_SPREAD: f64 = 0.05;
const ASH_SPREAD: f64 = 0.15;
const DENSITY_SPREAD: f64 = 0.15;
/// How far organic matter and ash may miss 100 together, points of dry matter.
const MISFIT_PCT: f64 = 5.0;
/// Source of values that were measured.
const OWN: &str = "OWN";

/// Why measurements make no material.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum OwnError {
    /// No name.
    #[error("the material has no name yet; give it one")]
    Nameless,
    /// A number that cannot be.
    #[error("{what} must lie between {low} and {high} {unit}, but {} was given; check the figure and its unit", number_text(*.found))]
    OutOfRange {
        /// Which number.
        what: &'static str,
        /// Least.
        low: f64,
        /// Most.
        high: f64,
        /// Of both.
        unit: &'static str,
        /// What was given.
        found: f64,
    },
    /// A sample that gained weight.
    #[error("the dried sample ({} g) weighs more than the fresh one ({} g); swap the two or weigh again", number_text(*.dry_g), number_text(*.wet_g))]
    DryHeavier {
        /// As it was, g.
        wet_g: f64,
        /// Dried, g.
        dry_g: f64,
    },
    /// A bucket that got lighter.
    #[error("the full bucket ({} kg) weighs no more than the empty one ({} kg); swap the two or weigh again", number_text(*.full_kg), number_text(*.empty_kg))]
    FullLighter {
        /// Empty, kg.
        empty_kg: f64,
        /// Full, kg.
        full_kg: f64,
    },
    /// More than all of it.
    #[error(
        "{what} make {found:.1} % of the dry matter, which is more than all of it; check them, and whether the report is on a dry basis or as received"
    )]
    TooMuch {
        /// Which values together.
        what: &'static str,
        /// Their sum, %.
        found: f64,
    },
    /// Organic matter and ash that do not fit.
    #[error(
        "organic matter and ash make {found:.1} % of the dry matter together and should make 100; leave one of them out, or check the basis"
    )]
    Misfit {
        /// Their sum, %.
        found: f64,
    },
    /// Nothing to reckon carbon from.
    #[error("there is neither carbon nor organic matter nor ash; give one of them")]
    NoCarbon,
    /// The result cannot be, for another reason.
    #[error("{0}")]
    CannotBe(CatalogueError),
}

/// What a report's percentages are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Basis {
    /// Of the dry matter.
    #[default]
    Dry,
    /// Of the sample as it came, water and all.
    AsReceived,
}

impl Basis {
    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Dry => "of dry matter",
            Self::AsReceived => "as received (wet)",
        }
    }
}

/// A step of the reckoning, for the person to follow.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The formula with its numbers.
    pub text: String,
    /// Where the formula is from.
    pub source: &'static str,
}

/// A material made of measurements.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The material, checked.
    pub material: Material,
    /// How it was reckoned.
    pub steps: Vec<Step>,
    /// What does not fit, to think about; it hinders nothing.
    pub remarks: Vec<String>,
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

/// A number between its ends, or a refusal.
fn within(
    what: &'static str,
    found: f64,
    [low, high]: [f64; 2],
    unit: &'static str,
) -> Result<f64, OwnError> {
    if found >= low && found <= high {
        Ok(found)
    } else {
        Err(OwnError::OutOfRange {
            what,
            low,
            high,
            unit,
            found,
        })
    }
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

/// A similar material under another name, its values trusted no more than from memory.
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
    material.note = format!("What was not measured is taken from \"{}\".", like.name);
    Ok(material)
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
        let mut steps = Vec::new();
        let moisture = within("moisture", self.moisture_pct, [0.0, 99.0], "%")? / 100.0;
        material.moisture = moisture_about(moisture);
        let dry = |what, pct| self.dry_share(what, pct);
        let nitrogen = dry("nitrogen", self.nitrogen_pct)?;
        within("nitrogen in dry matter", nitrogen * 100.0, [0.0, 50.0], "%")?;
        if self.basis == Basis::AsReceived {
            steps.push(Step {
                text: format!(
                    "dry basis = as received / (1 - moisture): nitrogen {} % / (1 - {:.3}) = {:.2} %",
                    number_text(self.nitrogen_pct),
                    moisture,
                    nitrogen * 100.0
                ),
                source: "mass balance; the same in every handbook",
            });
        }
        let (ash, carbon) = self.ash_and_carbon(like, &mut steps)?;
        set_ash(&mut material, ash);
        set_carbon_and_nitrogen(&mut material, carbon, nitrogen, &mut steps);
        if let Some(density) = self.bulk_density_kg_per_m3 {
            let density = within("the bulk density", density, [1.0, 3000.0], "kg/m³")?;
            material.bulk_density = density_about(density);
        }
        let mut remarks = Vec::new();
        for (what, zero) in [
            ("moisture", moisture == 0.0),
            ("total nitrogen", nitrogen == 0.0),
        ] {
            if zero {
                remarks.push(format!(
                    "The {what} stands at 0 %; is that what the report says?"
                ));
            }
        }
        Ok(Made {
            material: checked(material)?,
            steps,
            remarks,
        })
    }

    /// A percentage of the report as a share of dry matter.
    fn dry_share(&self, what: &'static str, pct: f64) -> Result<f64, OwnError> {
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
        steps: &mut Vec<Step>,
    ) -> Result<(Sourced, Sourced), OwnError> {
        let dry = |what, pct: Option<f64>| pct.map(|pct| self.dry_share(what, pct)).transpose();
        let carbon = dry("carbon", self.carbon_pct)?;
        let organic = dry("organic matter", self.organic_matter_pct)?;
        let ash = dry("ash", self.ash_pct)?;
        let limit = |what, share: f64| {
            if share > 1.0 + 1e-9 {
                let found = share * 100.0;
                return Err(OwnError::TooMuch { what, found });
            }
            Ok(())
        };
        limit("organic matter alone", organic.unwrap_or(0.0))?;
        limit("ash and carbon", ash.unwrap_or(0.0) + carbon.unwrap_or(0.0))?;
        if let (Some(organic), Some(ash)) = (organic, ash) {
            let found = (organic + ash) * 100.0;
            if (found - 100.0).abs() > MISFIT_PCT {
                return Err(OwnError::Misfit { found });
            }
        }
        let measured_ash = match (ash, organic) {
            (Some(ash), _) => Some(ash),
            (None, Some(organic)) => {
                steps.push(Step {
                    text: format!(
                        "ash = 100 - organic matter = 100 - {:.1} = {:.1} %",
                        organic * 100.0,
                        (1.0 - organic) * 100.0
                    ),
                    source: "Richard, Estimating Carbon Content, Cornell Waste Management Institute 1996",
                });
                Some(1.0 - organic)
            }
            (None, None) => None,
        };
        let ash_value = |ash: f64| about(ash, ASH_SPREAD, 1.0, Confidence::Read);
        match (carbon, measured_ash) {
            (None, None) => Err(OwnError::NoCarbon),
            (Some(carbon), Some(ash)) => {
                limit("ash and carbon", ash + carbon)?;
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
            (None, Some(ash)) => Ok((ash_value(ash), carbon_from_ash(ash, steps))),
        }
    }
}

/// Measured carbon, beside so much ash.
fn carbon_about(carbon: f64, ash: f64) -> Sourced {
    let most = (1.0 - ash).min(0.8);
    about(carbon, CARBON_SPREAD, most, Confidence::Read)
}

/// Carbon reckoned from the organic matter.
fn carbon_from_ash(ash: f64, steps: &mut Vec<Step>) -> Sourced {
    let organic = 1.0 - ash;
    let [low, typical, high] = CARBON_OF_ORGANIC_MATTER.map(|share| share * organic);
    steps.push(Step {
        text: format!(
            "carbon = (100 - ash) / 1.8 = {:.1} / 1.8 = {:.1} % (from {:.1} to {:.1})",
            organic * 100.0,
            typical * 100.0,
            low * 100.0,
            high * 100.0
        ),
        source: "Adams et al. 1951, in Richard, Estimating Carbon Content, Cornell Waste Management Institute 1996",
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
    steps: &mut Vec<Step>,
) {
    material.nitrogen = about(nitrogen, NITROGEN_SPREAD, 0.5, Confidence::Read);
    material.carbon_to_nitrogen = None;
    if carbon.typical > 0.0 && nitrogen > 0.0 {
        let cn = carbon.typical / nitrogen;
        steps.push(Step {
            text: format!(
                "C:N = carbon / nitrogen = {:.1} / {:.2} = {cn:.1}",
                carbon.typical * 100.0,
                nitrogen * 100.0
            ),
            source: "definition",
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
