//! What a thing is made of, before any mixing.
//!
//! In: `assets/materials.ron` and the user's own entries. Out: [`Material`] with low, typical and
//! high of every value, where each came from and how far it is to be trusted.
//!
//! Wet basis means per kilogram as it is; dry basis means per kilogram of dry matter.
//! Not here: amounts (`mix`), what it does in a heap (`heap`).
//!
//! Tested by: `tests/science/catalogue.rs`.

mod browse;
mod catalogue;
pub mod condition;
mod keep_out;
pub mod own;
mod question;
mod search;
pub(crate) mod words;

pub use browse::{Browse, Order};
pub use catalogue::{Catalogue, CatalogueError, Source};
pub use condition::Condition;
pub use keep_out::{KeepOut, keep_out};
pub use question::{AnswerStanding, MaterialQuestion, questions};

use serde::{Deserialize, Serialize};

use crate::quantity::Range;

/// How far a value is to be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Confidence {
    /// From memory or judgement; no source was read.
    Recalled,
    /// Derived from tabulated composition, or a mean of related entries.
    Derived,
    /// Printed in a source that was read.
    Read,
}

/// Where the two ends of a range come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Spread {
    /// Low and high are given with the value.
    Given,
    /// Low and high are a usual spread put around the one value that is given.
    Usual,
}

/// A value with its uncertainty and its origin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sourced {
    /// Lower end (one in ten lies below).
    pub low: f64,
    /// Value to calculate with.
    pub typical: f64,
    /// Upper end (one in ten lies above).
    pub high: f64,
    /// Codes of `assets/sources.ron`; `MEM` is "from memory", `OWN` the user's own measurement.
    pub sources: Vec<String>,
    /// How far it is to be trusted.
    pub confidence: Confidence,
    /// Where low and high come from.
    pub spread: Spread,
}

impl Sourced {
    /// The bare numbers.
    pub fn range(&self) -> Range {
        Range::new(self.low, self.typical, self.high)
    }
}

/// How dry matter divides by the speed at which it rots. The four shares add to 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pools {
    /// Sugars, starch, soluble matter, most protein: gone within weeks.
    pub fast: f64,
    /// Hemicellulose, pectin, fat: gone within months.
    pub medium: f64,
    /// Cellulose and what lignin shields: years.
    pub slow: f64,
    /// Ash and lignin: stays.
    pub inert: f64,
    /// Codes of `assets/sources.ron`.
    pub sources: Vec<String>,
    /// How far the split is to be trusted.
    pub confidence: Confidence,
}

/// How a material stands, packs and lets air through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Structure {
    /// Coarse and stiff: chips, twigs, bark. Holds air open.
    Coarse,
    /// Stalky and springy: straw, stems. Holds air while dry.
    Springy,
    /// Leaves: airy when dry, matting when wet.
    Leafy,
    /// Soft greens with some stem: collapse within days.
    Soft,
    /// Wet and slumping: grass, kitchen scraps. Mats and shuts air out.
    Slumping,
    /// Crumbs and pellets: compost, dry manure.
    Crumbly,
    /// Fine grains and powders: sawdust, meal, ash. Fills the gaps.
    Fine,
    /// Sheets: paper, card, film. Flatten and seal when wet.
    Sheet,
    /// Heavy and pasty: fresh manure, soil. Hardly any air.
    Dense,
    /// Liquids and what dissolves: no body of its own.
    Liquid,
}

impl Structure {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::Coarse,
        Self::Springy,
        Self::Leafy,
        Self::Soft,
        Self::Slumping,
        Self::Crumbly,
        Self::Fine,
        Self::Sheet,
        Self::Dense,
        Self::Liquid,
    ];

    /// Effective particle size for the resistance to air flow, m.
    ///
    /// The diameter of the permeability law of `heap::cell`, no length one could measure with a sieve. Tuned so that
    /// chips come to 2-4e-8 m2 (compacted oak chips in the pile 2e-8, fresh sawmill chips 1e-7), straw and hay to
    /// 1-2e-8, garden mixes to 0.4-1.2e-8. Uncertain by a factor of 1.5 either way for a material one has not seen.
    pub fn particle_size_m(self) -> f64 {
        match self {
            Self::Coarse => 1.6e-3,
            Self::Springy => 1.1e-3,
            Self::Soft => 0.9e-3,
            Self::Crumbly => 0.8e-3,
            Self::Leafy => 0.8e-3,
            Self::Fine => 0.65e-3,
            Self::Sheet => 0.6e-3,
            Self::Dense | Self::Liquid => 0.7e-3,
            Self::Slumping => 0.42e-3,
        }
    }

    /// Share of the height as built that a heap of it loses under its own weight within weeks.
    ///
    /// Tuned: 0.12-0.50 gave published settling ("about half after a month" for yard waste,
    /// together with the loss of dry matter); wet soft matter slumps most.
    pub fn slump_share(self) -> f64 {
        match self {
            Self::Slumping => 0.50,
            Self::Soft => 0.40,
            Self::Leafy => 0.30,
            Self::Springy | Self::Sheet => 0.20,
            Self::Crumbly | Self::Fine | Self::Dense => 0.10,
            Self::Coarse => 0.05,
            Self::Liquid => 0.0,
        }
    }

    /// Water that a kilogram of its dry matter holds against gravity, kg.
    ///
    /// 2-4 for leafy and woody matter, more for living tissue, which keeps most of its own water
    /// (from memory).
    pub fn holds_water_kg_per_kg(self) -> f64 {
        match self {
            Self::Slumping | Self::Soft => 4.5,
            Self::Leafy | Self::Sheet | Self::Fine | Self::Dense => 3.0,
            Self::Springy | Self::Crumbly => 2.5,
            Self::Coarse => 2.0,
            Self::Liquid => 0.0,
        }
    }
}

/// What a material belongs to, for browsing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Family {
    /// Fallen leaves and needles.
    Leaves,
    /// Mown grass.
    Grass,
    /// Straw and hay.
    StrawHay,
    /// What crops leave behind.
    CropRemains,
    /// Soft garden waste.
    GardenGreen,
    /// Twiggy garden waste.
    GardenBrown,
    /// Chips, sawdust, bark.
    Wood,
    /// Water plants and seaweed.
    Aquatic,
    /// Kitchen scraps and food.
    Kitchen,
    /// Left over from food processing.
    Processing,
    /// Manures and animal bedding.
    Manure,
    /// Paper and card.
    Paper,
    /// Hair, wool, cloth.
    Fibre,
    /// Films and bags.
    Plastic,
    /// Concentrated nutrients.
    Fertiliser,
    /// Ash, lime, shells.
    Mineral,
    /// Soil and finished compost.
    Soil,
}

impl Family {
    /// All of them, in order.
    pub const ALL: [Self; 17] = [
        Self::Leaves,
        Self::Grass,
        Self::StrawHay,
        Self::CropRemains,
        Self::GardenGreen,
        Self::GardenBrown,
        Self::Wood,
        Self::Aquatic,
        Self::Kitchen,
        Self::Processing,
        Self::Manure,
        Self::Paper,
        Self::Fibre,
        Self::Plastic,
        Self::Fertiliser,
        Self::Mineral,
        Self::Soil,
    ];
}

/// What gardeners call a material; mostly, not always, the side of the balance that it pulls to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Side {
    /// Fresh and soft, or a manure: most are rich in nitrogen.
    Green,
    /// Dry or woody: most are poor in nitrogen.
    Brown,
    /// Mineral, rotted already, or better left out.
    Neither,
}

impl Side {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Green, Self::Brown, Self::Neither];
}

/// What decides how a material rots beside its composition. Most materials have none of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Traits {
    /// Share of its nitrogen that is mineral or becomes so within days (urea, uric acid, ammonium), 0-1.
    pub nitrogen_at_once: f64,
    /// Share of its dry matter that is wood or bark, 0-1: fungi rot it with little nitrogen.
    pub wood: f64,
    /// Acid that it neutralises, mol per kg of dry matter, 0-40.
    pub liming_mol_per_kg: f64,
    /// Codes of `assets/sources.ron`.
    pub sources: Vec<String>,
    /// How far the three are to be trusted.
    pub confidence: Confidence,
}

impl Default for Traits {
    fn default() -> Self {
        Self {
            nitrogen_at_once: 0.0,
            wood: 0.0,
            liming_mol_per_kg: 0.0,
            sources: Vec::new(),
            confidence: Confidence::Recalled,
        }
    }
}

impl Traits {
    /// Whether there is nothing to say, so that it need not stand in a file.
    pub fn is_plain(&self) -> bool {
        [self.nitrogen_at_once, self.wood, self.liming_mol_per_kg]
            .iter()
            .all(|value| *value <= 0.0)
    }
}

/// A material of the catalogue or of the user's own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Short, stable name used in files.
    pub id: String,
    /// Name on screen.
    pub name: String,
    /// What it belongs to.
    pub family: Family,
    /// Green, brown or neither, as gardeners say it (`common practice`); where nothing is said C:N decides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub custom: Option<Side>,
    /// What else people call it, to be found by.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub also_called: Vec<String>,
    /// Water, share of the mass as it is (wet basis), 0-1.
    pub moisture: Sourced,
    /// Nitrogen, share of dry matter, 0-0.5.
    pub nitrogen: Sourced,
    /// Carbon, share of dry matter, 0-0.8.
    pub carbon: Sourced,
    /// Carbon to nitrogen by mass, where both are present.
    pub carbon_to_nitrogen: Option<Sourced>,
    /// Ash, share of dry matter, 0-1.
    pub ash: Sourced,
    /// Lignin, share of dry matter, 0-1.
    pub lignin: Sourced,
    /// Bulk density, loose and as it is (wet), kg/m3.
    pub bulk_density: Sourced,
    /// Phosphate (P2O5), share of dry matter.
    pub phosphate: Sourced,
    /// Potash (K2O), share of dry matter.
    pub potash: Sourced,
    /// pH as it is.
    pub ph: Sourced,
    /// Split of dry matter by speed of rotting.
    pub pools: Pools,
    /// How it stands and packs.
    pub structure: Structure,
    /// Share of the loose volume lost when it is piled a metre high and trodden lightly, 0-0.9.
    pub settles_share: f64,
    /// Particle size against what is usual for its structure, factor: 1, less for what was chopped.
    #[serde(default = "usual_size", skip_serializing_if = "is_usual_size")]
    pub size_factor: f64,
    /// What else decides how it rots: nitrogen free at once, wood, lime.
    #[serde(default, skip_serializing_if = "Traits::is_plain")]
    pub traits: Traits,
    /// The source's own words on structure, shortened.
    pub texture: String,
    /// What a gardener should know: how to use it, what to look out for, that its values are an estimate.
    pub note: String,
}

/// Particle size as is usual for the structure.
fn usual_size() -> f64 {
    1.0
}

/// Whether the particle size is that, and need not stand in a file.
#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands over a reference"
)]
fn is_usual_size(factor: &f64) -> bool {
    factor.to_bits() == usual_size().to_bits()
}

impl Material {
    /// Effective particle size for the resistance to air flow, m.
    pub fn particle_size_m(&self) -> f64 {
        self.structure.particle_size_m() * self.size_factor
    }

    /// Green, brown or neither, as gardeners say it; for an own material that says nothing the line is drawn at
    /// C:N 30 (`common practice`).
    pub fn side(&self) -> Side {
        self.custom.unwrap_or_else(|| self.side_by_ratio())
    }

    fn side_by_ratio(&self) -> Side {
        match (self.family, &self.carbon_to_nitrogen) {
            (Family::Mineral | Family::Soil | Family::Plastic, _) => Side::Neither,
            (_, Some(cn)) if cn.typical < 30.0 => Side::Green,
            (_, None) if self.nitrogen.typical > 0.0 => Side::Green,
            _ => Side::Brown,
        }
    }

    /// Every sourced value with the name of its field, for checks and for the material's page.
    pub fn values(&self) -> Vec<(&'static str, &Sourced)> {
        let mut all = vec![
            ("moisture", &self.moisture),
            ("nitrogen", &self.nitrogen),
            ("carbon", &self.carbon),
            ("ash", &self.ash),
            ("lignin", &self.lignin),
            ("bulk density", &self.bulk_density),
            ("phosphate", &self.phosphate),
            ("potash", &self.potash),
            ("pH", &self.ph),
        ];
        if let Some(cn) = &self.carbon_to_nitrogen {
            all.push(("C:N", cn));
        }
        all
    }
}
