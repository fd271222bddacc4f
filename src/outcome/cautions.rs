//! Cautions: one mechanism that turns conditions on materials, mix, heap and use into one line each.
//!
//! In: `assets/cautions.ron`, the ingredients, the heap, a projection, the intended uses. Out: the
//! cautions that apply, in the order of the table, each with its source.
//!
//! Not here: where they are shown (faces choose by [`CautionPlace`]).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use serde::Deserialize;

use crate::garden::Use;
use crate::heap::{Heap, Operation, Projection, Shape};
use crate::material::Family;
use crate::mix::{Part, Totals};

use super::Trust;

/// Where a caution matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum CautionPlace {
    /// Beside a material.
    Material,
    /// Beside the mix.
    Mix,
    /// Beside the heap and its plan.
    Heap,
    /// Beside what the compost is used for.
    Use,
}

/// When a caution applies.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub enum When {
    /// Always.
    Always,
    /// Any of these materials is in the mix.
    Materials(Vec<String>),
    /// Any material of these families is.
    Families(Vec<Family>),
    /// The mix is drier than this, wet basis.
    DrierThan(f64),
    /// The centre gets hotter than this, degC.
    HotterThan(f64),
    /// The heap is larger than this, m3.
    LargerThan(f64),
    /// The plan turns it.
    Turned,
    /// It is in a bin with solid walls.
    InBin,
    /// The coolest tenth of the heap never gets this warm, degC.
    CoolestTenthBelow(f64),
    /// The mean of the warmest month is above this, degC.
    SummerAbove(f64),
    /// Any of these uses.
    Uses(Vec<Use>),
    /// All of them.
    All(Vec<When>),
    /// Any of them.
    Any(Vec<When>),
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Short, stable name.
    pub id: String,
    /// Where it matters.
    pub place: CautionPlace,
    /// When it applies.
    pub when: When,
    /// One line.
    pub text: String,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// What cautions are tested against.
#[derive(Debug, Clone, Copy)]
pub struct Situation<'a> {
    /// All ingredients, those of later additions counted.
    pub parts: &'a [Part<'a>],
    /// Sums of the mix.
    pub totals: &'a Totals,
    /// The heap.
    pub heap: &'a Heap,
    /// What would become of it.
    pub projection: Option<&'a Projection>,
    /// What it is for.
    pub uses: &'a [Use],
}

impl When {
    /// Whether it applies.
    pub fn holds(&self, now: &Situation<'_>) -> bool {
        match self {
            Self::Always => true,
            Self::Materials(ids) => now
                .parts
                .iter()
                .any(|part| part.amount.value > 0.0 && ids.contains(&part.material.id)),
            Self::Families(families) => now
                .parts
                .iter()
                .any(|part| part.amount.value > 0.0 && families.contains(&part.material.family)),
            Self::DrierThan(limit) => now.totals.dry_kg > 0.0 && now.totals.moisture() < *limit,
            Self::HotterThan(limit) => now.projection.is_some_and(|p| p.summary.peak_c > *limit),
            Self::LargerThan(limit) => now.totals.volume_m3() > *limit,
            Self::Turned => now
                .heap
                .plan
                .events
                .iter()
                .any(|event| matches!(event.operation, Operation::Turn { .. })),
            Self::InBin => matches!(now.heap.shape, Shape::SolidBin { .. }),
            Self::CoolestTenthBelow(limit) => now
                .projection
                .is_some_and(|p| !p.parcels.is_empty() && reached_by_nine_in_ten(p) < *limit),
            Self::SummerAbove(limit) => {
                let months = now.heap.climate.monthly_mean_c.iter();
                months.copied().fold(f64::NEG_INFINITY, f64::max) > *limit
            }
            Self::Uses(uses) => now.uses.iter().any(|it| uses.contains(it)),
            Self::All(all) => all.iter().all(|when| when.holds(now)),
            Self::Any(any) => any.iter().any(|when| when.holds(now)),
        }
    }
}

/// Highest temperature that all but the coolest tenth of the parcels reach, degC.
fn reached_by_nine_in_ten(projection: &Projection) -> f64 {
    let mut peaks: Vec<f64> = projection
        .parcels
        .iter()
        .map(|parcel| {
            let course = projection.parcel_course(parcel);
            let warmest = course.iter().map(|moment| moment.temperature_c);
            warmest.fold(f64::NEG_INFINITY, f64::max)
        })
        .collect();
    peaks.sort_by(f64::total_cmp);
    peaks
        .get(peaks.len() / 10)
        .copied()
        .unwrap_or(f64::NEG_INFINITY)
}

/// The cautions that apply.
pub fn that_apply<'a>(table: &'a [Caution], now: &Situation<'_>) -> Vec<&'a Caution> {
    table
        .iter()
        .filter(|caution| caution.when.holds(now))
        .collect()
}

/// The cautions on one material, whatever it is mixed with.
pub fn on_material<'a>(table: &'a [Caution], part: Part<'_>) -> Vec<&'a Caution> {
    fn names(when: &When, part: &Part<'_>) -> bool {
        match when {
            When::Materials(ids) => ids.contains(&part.material.id),
            When::Families(families) => families.contains(&part.material.family),
            When::All(all) | When::Any(all) => all.iter().any(|when| names(when, part)),
            _ => false,
        }
    }
    table
        .iter()
        .filter(|caution| names(&caution.when, &part))
        .collect()
}
