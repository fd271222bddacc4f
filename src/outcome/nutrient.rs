//! What compost feeds: nitrogen over five years, how thick on which bed, phosphate and salt.
//!
//! In: the product, `assets/use.ron`, beds. Out: series, depths.
//!
//! Rate by nitrogen: depth = wanted nitrogen / (dry matter per volume x nitrogen share x first year's share),
//! never more than the yearly most, because phosphate runs far ahead of nitrogen.
//!
//! Not here: what is in the product (`produce`).
//!
//! Tested by: `tests/science/outcome_produce.rs`.

use serde::Deserialize;

use crate::garden::{Bed, Need};
use crate::material::Family;
use crate::mix::{Part, blend, dry_share};

use super::Trust;
use super::finish::Stage;
use super::produce::{Produce, Published};

/// Share of the nitrogen from manure from which a compost counts as manure-rich (tuned).
const MANURE_RICH: f64 = 0.4;
/// Share of the dry matter from manure below which it does not count as manure-rich, whatever nitrogen that brings (tuned: a
/// tenth; urine on sawdust brings nearly all nitrogen and hardly any matter).
const MANURE_MATTER: f64 = 0.1;
/// Share of the nitrogen from the kitchen from which a compost counts as mixed (tuned).
const KITCHEN_RICH: f64 = 0.2;
/// C:N above which compost ties nitrogen up in its first year (WSU Extension: more than 25).
pub const HUNGRY_CN: f64 = 25.0;

/// Kinds of compost by how fast they feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum CompostKind {
    /// Of plants, mature.
    Plant,
    /// Kitchen and garden.
    Mixed,
    /// Rich in manure.
    Manure,
}

/// A series of yearly shares.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReleaseSeries {
    /// Of which kind.
    pub kind: CompostKind,
    /// Name on screen.
    pub name: String,
    /// Share of all nitrogen freed in years 1 to 5.
    pub shares: [f64; 5],
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// Lists that lines on use belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum UseList {
    /// Phosphate and salt.
    PhosphateAndSalt,
    /// Pots, seedlings, mulch, new beds.
    PotsAndMulch,
    /// Distances to water.
    Water,
}

impl UseList {
    /// All of them, in order.
    pub const ALL: [Self; 3] = [Self::PhosphateAndSalt, Self::PotsAndMulch, Self::Water];
}

/// What the two numbers of a line on use are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum BetweenIs {
    /// Only what its text says.
    InText,
    /// Share of a potting mix, per cent of the volume.
    PercentOfMix,
    /// Depth of a layer, mm.
    LayerMm,
}

/// A way to use compost, or something to keep to, as one line.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UseRule {
    /// Short, stable name.
    pub id: String,
    /// Which list it belongs to.
    pub list: UseList,
    /// What its numbers are.
    pub between_is: BetweenIs,
    /// One sentence.
    pub text: String,
    /// Numbers in it, in the unit that the text names.
    pub between: (f64, f64),
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// What a bed needs, and where that comes from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NeedRow {
    /// Which need.
    pub need: Need,
    /// Nitrogen in a year, g/m2.
    pub nitrogen_g_per_m2: f64,
    /// Crops of that need.
    pub crops: String,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// Facts on use, as in `assets/use.ron`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UseTable {
    /// Nitrogen over five years.
    pub series: Vec<ReleaseSeries>,
    /// What studies found, beside the series.
    pub release_studies: Vec<super::kill::Study>,
    /// Needs of beds.
    pub needs: Vec<NeedRow>,
    /// Most to spread in a year, m.
    pub most_depth_m: f64,
    /// Where that stands.
    pub most_depth_source: String,
    /// Phosphate that crops take up in a year, g P2O5/m2.
    pub phosphate_uptake_g_per_m2: f64,
    /// Where that stands.
    pub phosphate_source: String,
    /// Rules of use.
    pub rules: Vec<UseRule>,
    /// Published ranges to hold a product against.
    pub published: Vec<Published>,
}

/// What a bed gets.
#[derive(Debug, Clone, PartialEq)]
pub struct Dressing {
    /// Which bed, from 0.
    pub bed: usize,
    /// Depth that its need asks for, m, the yearly most kept.
    pub wanted_depth_m: f64,
    /// Depth that there is compost for, m.
    pub depth_m: f64,
    /// Compost, L.
    pub litres: f64,
    /// Compost as it is, kg.
    pub mass_kg: f64,
    /// Nitrogen in each of five years, g/m2.
    pub nitrogen_g_per_m2: [f64; 5],
    /// Phosphate given, g P2O5/m2.
    pub phosphate_g_per_m2: f64,
    /// Years of phosphate that is, at the table's uptake.
    pub phosphate_years: f64,
    /// Whether the yearly most held the depth down.
    pub held_by_most: bool,
}

/// Everything on feeding.
#[derive(Debug, Clone, PartialEq)]
pub struct Feeding {
    /// Which series counts.
    pub kind: CompostKind,
    /// How far the heap is: what is still raw is no compost of any kind.
    pub stage: Stage,
    /// Whether it is of leaves: leafmould, not compost.
    pub leaves: bool,
    /// Nitrogen freed in each of five years, kg.
    pub nitrogen_kg: [f64; 5],
    /// Whether it ties nitrogen up at first.
    pub hungry: bool,
    /// Area that it covers at 1 cm, m2.
    pub covers_at_1_cm_m2: f64,
}

/// Which kind of compost these ingredients make.
pub fn kind_of(parts: &[Part<'_>]) -> CompostKind {
    let shares = blend(parts, 0.0).shares;
    let of = |families: &[Family]| -> f64 {
        parts
            .iter()
            .zip(&shares)
            .filter(|(part, _)| families.contains(&part.material.family))
            .map(|(_, share)| share.nitrogen)
            .sum()
    };
    let matter = dry_share(parts, |family| family == Family::Manure);
    let rich = of(&[Family::Manure]) >= MANURE_RICH;
    if rich && matter < MANURE_MATTER {
        CompostKind::Plant
    } else if rich {
        CompostKind::Manure
    } else if of(&[Family::Manure, Family::Kitchen, Family::Processing]) >= KITCHEN_RICH {
        CompostKind::Mixed
    } else {
        CompostKind::Plant
    }
}

impl UseTable {
    /// The series of a kind of compost; nothing in the first year while C:N is above [`HUNGRY_CN`].
    pub fn shares(&self, kind: CompostKind, cn: f64) -> [f64; 5] {
        let found = self.series.iter().find(|series| series.kind == kind);
        let mut shares = found.map_or([0.0; 5], |series| series.shares);
        if cn > HUNGRY_CN {
            shares[0] = 0.0;
        }
        shares
    }

    /// What a mature product feeds.
    pub fn feeding(&self, produce: &Produce, kind: CompostKind) -> Feeding {
        let cn = produce.cn.typical;
        let all = produce.nitrogen_kg.typical;
        Feeding {
            kind,
            stage: Stage::Mature,
            leaves: false,
            nitrogen_kg: self.shares(kind, cn).map(|share| share * all),
            hungry: cn > HUNGRY_CN,
            covers_at_1_cm_m2: produce.volume_m3.typical / 0.01,
        }
    }

    /// Depth that gives so much nitrogen in the first year, m; `None` where it gives none.
    pub fn depth_for_nitrogen_m(
        &self,
        produce: &Produce,
        kind: CompostKind,
        nitrogen_g_per_m2: f64,
    ) -> Option<f64> {
        let first = self.shares(kind, produce.cn.typical)[0];
        let grams_per_m3 = 1000.0 * produce.dry_kg_per_m3() * produce.nitrogen_share().typical;
        let depth = nitrogen_g_per_m2 / (grams_per_m3 * first);
        depth.is_finite().then_some(depth)
    }

    /// Shares a product out over beds, in their order, until it is gone.
    pub fn dress(&self, produce: &Produce, kind: CompostKind, beds: &[Bed]) -> Vec<Dressing> {
        let shares = self.shares(kind, produce.cn.typical);
        let volume = produce.volume_m3.typical.max(1e-12);
        let per_m3 = |kg: f64| 1000.0 * kg / volume;
        let (nitrogen, phosphate) = (
            per_m3(produce.nitrogen_kg.typical),
            per_m3(produce.phosphate_kg.typical),
        );
        let mut left = produce.volume_m3.typical;
        beds.iter()
            .enumerate()
            .map(|(bed, it)| {
                let need = self.needs.iter().find(|row| row.need == it.need);
                let grams = need.map_or(0.0, |row| row.nitrogen_g_per_m2);
                let asked = self.depth_for_nitrogen_m(produce, kind, grams);
                let wanted = asked.unwrap_or(self.most_depth_m).min(self.most_depth_m);
                let used = (wanted * it.area_m2).min(left).max(0.0);
                left -= used;
                let depth_m = used / it.area_m2.max(1e-12);
                let phosphate_g_per_m2 = phosphate * depth_m;
                Dressing {
                    bed,
                    wanted_depth_m: wanted,
                    depth_m,
                    litres: 1000.0 * used,
                    mass_kg: produce.mass_kg.typical * used / volume,
                    nitrogen_g_per_m2: shares.map(|share| share * nitrogen * depth_m),
                    phosphate_g_per_m2,
                    phosphate_years: phosphate_g_per_m2 / self.phosphate_uptake_g_per_m2,
                    held_by_most: asked.is_none_or(|depth| depth > self.most_depth_m),
                }
            })
            .collect()
    }
}
