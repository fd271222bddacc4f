//! Smell and trouble: airless, sour, ammonia, too hot, too dry; when, why, and the smallest cure.
//!
//! In: a projection, the sums of the mix, advice on it. Out: a course over time and a
//! list of troubles, the worst first.
//!
//! The model knows oxygen, not smells: airless is the share of the volume below 5 % oxygen, sour the share
//! that is airless while more than half of its fast pool is left and it is above 40 degC (the acid lock of
//! food waste), ammonia what leaves in a day.
//!
//! Not here: how to change the mix (`advice`), words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use serde::Deserialize;

use crate::heap::{Field, Projection, SectionGrid};
use crate::mix::{Totals, bands};

use super::Trust;
use super::advice::Advice;

/// Oxygen below which a place counts as airless, mole fraction (troubleshooting tables: less than 5 %).
const AIRLESS: f32 = 0.05;
/// Fast pool left above which an airless place can turn sour, share (tuned).
const FRESH: f32 = 0.5;
/// Temperature above which sourness locks it, degC (Sundberg 2005: pH below 6 above 40 degC stalls rot).
const LOCK_C: f32 = 40.0;
/// Share of the volume from which it is worth a word (tuned).
const WORTH_A_WORD: f64 = 0.1;
/// Ammonia nitrogen in a day, share of all nitrogen, from which it smells (tuned: half a per cent a day, which mixes of
/// C:N 20 and less lose and good ones do not).
const AMMONIA_PER_DAY: f64 = 0.005;
/// Temperature from which it is too hot, degC (NC DEQ and fire services act from 70-71).
const TOO_HOT_C: f64 = 70.0;
/// A heap that stays below this stays cold, degC (usual lower end of the hot phase).
const HOT_FROM_C: f64 = 40.0;
/// Mean moisture below which it is too dry, wet basis (troubleshooting tables: below 40 %).
const TOO_DRY: f64 = 0.40;

/// Kinds of trouble.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum TroubleKind {
    /// No air: rotten eggs, rancid.
    Airless,
    /// Sour and stuck.
    Sour,
    /// Ammonia.
    Ammonia,
    /// Above 70 degC.
    TooHot,
    /// Too dry to rot.
    TooDry,
    /// Does not heat.
    Cold,
}

/// One row of the table of faults.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fault {
    /// Which trouble of the model it belongs to, if any.
    pub kind: Option<TroubleKind>,
    /// What is seen or smelt.
    pub symptom: String,
    /// Likely cause.
    pub cause: String,
    /// How to check.
    pub check: String,
    /// What to do.
    pub cure: String,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// The heap's troubles at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TroublePoint {
    /// Days since the start.
    pub day: f64,
    /// Share of the volume that is airless, 0-1.
    pub airless: f64,
    /// Share of the volume at risk of turning sour, 0-1.
    pub sour: f64,
    /// Nitrogen leaving as ammonia, kg/d.
    pub ammonia_kg_per_day: f64,
}

/// What of a mix brings a trouble about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// It is wet.
    Wet {
        /// Moisture, wet basis.
        moisture: f64,
    },
    /// It holds little air.
    LittleAir {
        /// Free air space, share of the volume.
        air_space: f64,
    },
    /// It is rich and rots faster than air comes in.
    Rich {
        /// C:N.
        cn: f64,
    },
    /// It has more nitrogen than it can hold.
    MuchNitrogen {
        /// C:N.
        cn: f64,
    },
    /// It is dry from the start.
    Dry {
        /// Moisture, wet basis.
        moisture: f64,
    },
}

/// A trouble with when, why and what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Trouble {
    /// Which.
    pub kind: TroubleKind,
    /// First and last day of it.
    pub days: (f64, f64),
    /// Its greatest value: a share of the volume, a share of nitrogen a day, degC, or moisture.
    pub worst: f64,
    /// Why, in this heap; empty where nothing of the mix stands out.
    pub causes: Vec<Cause>,
    /// The first change that is advised for the mix, where the mix is what is wrong.
    pub step: Option<Advice>,
}

/// The troubles over time, one point a field.
pub fn course(projection: &Projection) -> Vec<TroublePoint> {
    let mut points: Vec<TroublePoint> = Vec::with_capacity(projection.fields.len());
    let mut before: Option<(f64, f64)> = None;
    for field in &projection.fields {
        let Some(grid) = projection.grids.get(field.grid) else {
            continue;
        };
        let lost = projection.at(field.day).map_or(0.0, |r| r.ammonia_kg);
        let ammonia = before.map_or(0.0, |(day, had): (f64, f64)| {
            let length = field.day - day;
            if length > 0.0 {
                (lost - had) / length
            } else {
                0.0
            }
        });
        before = Some((field.day, lost));
        let airless = |i: usize| field.oxygen[i] < AIRLESS;
        points.push(TroublePoint {
            day: field.day,
            airless: share_of(field, grid, airless),
            sour: share_of(field, grid, |i| {
                airless(i) && field.left_to_rot[i] > FRESH && field.temperature_c[i] > LOCK_C
            }),
            ammonia_kg_per_day: ammonia,
        });
    }
    points
}

fn share_of(field: &Field, grid: &SectionGrid, holds: impl Fn(usize) -> bool) -> f64 {
    let cells = field.oxygen.len().min(grid.volume_m3.len());
    let (mut yes, mut all) = (0.0, 0.0);
    for cell in 0..cells {
        all += grid.volume_m3[cell];
        if holds(cell) {
            yes += grid.volume_m3[cell];
        }
    }
    if all > 0.0 { yes / all } else { 0.0 }
}

/// What is found in a projection; `advice` is what is advised for its mix.
pub fn troubles(projection: &Projection, totals: &Totals, advice: &[Advice]) -> Vec<Trouble> {
    troubles_found(projection)
        .into_iter()
        .map(|found| Trouble {
            kind: found.kind,
            days: found.days,
            worst: found.worst,
            causes: causes(found.kind, totals),
            step: step(found.kind, advice),
        })
        .collect()
}

/// That there is a trouble, and when.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TroubleFound {
    /// Which.
    pub kind: TroubleKind,
    /// First and last day of it.
    pub days: (f64, f64),
    /// Its greatest value, as in [`Trouble::worst`].
    pub worst: f64,
}

/// Which troubles there are, without causes.
pub fn troubles_found(projection: &Projection) -> Vec<TroubleFound> {
    let points = course(projection);
    let nitrogen = projection.ledger.nitrogen_start_kg.max(1e-12);
    let airless = |p: &TroublePoint| p.airless;
    let sour = |p: &TroublePoint| p.sour;
    let ammonia = |p: &TroublePoint| p.ammonia_kg_per_day / nitrogen;
    let of = |kind, value: &dyn Fn(&TroublePoint) -> f64, from| {
        spell(kind, points.iter().map(|p| (p.day, value(p))), from)
    };
    let records = || projection.records.iter();
    let hot = records().map(|r| (r.day, r.centre_c));
    let dry = records().map(|r| (r.day, -r.moisture));
    let found = [
        of(TroubleKind::Sour, &sour, WORTH_A_WORD),
        of(TroubleKind::Airless, &airless, WORTH_A_WORD),
        of(TroubleKind::Ammonia, &ammonia, AMMONIA_PER_DAY),
        spell(TroubleKind::TooHot, hot, TOO_HOT_C),
        spell(TroubleKind::TooDry, dry, -TOO_DRY).map(|found| TroubleFound {
            worst: -found.worst,
            ..found
        }),
        cold(projection),
    ];
    found.into_iter().flatten().collect()
}

/// A heap that never gets hot.
fn cold(projection: &Projection) -> Option<TroubleFound> {
    let (last, peak_c) = (projection.records.last()?, projection.summary.peak_c);
    (peak_c < HOT_FROM_C).then_some(TroubleFound {
        kind: TroubleKind::Cold,
        days: (0.0, last.day),
        worst: peak_c,
    })
}

/// First and last day at or above a value, and the greatest; `None` if never.
fn spell(
    kind: TroubleKind,
    points: impl Iterator<Item = (f64, f64)>,
    from: f64,
) -> Option<TroubleFound> {
    points.filter(|(_, value)| *value >= from).fold(
        None,
        |found: Option<TroubleFound>, (day, value)| {
            Some(match found {
                None => TroubleFound {
                    kind,
                    days: (day, day),
                    worst: value,
                },
                Some(found) => TroubleFound {
                    days: (found.days.0, day),
                    worst: f64::max(found.worst, value),
                    ..found
                },
            })
        },
    )
}

/// What of this mix brings it about.
fn causes(kind: TroubleKind, totals: &Totals) -> Vec<Cause> {
    let (moisture, air_space, cn) = (totals.moisture(), totals.settled_air_space(), totals.cn());
    let wet = moisture > bands::MOISTURE.best.1;
    let little_air = air_space < bands::FREE_AIR_SPACE.best.0;
    let rich = cn < bands::CN.best.0;
    let dry = moisture < bands::MOISTURE.best.0;
    let found = match kind {
        TroubleKind::Airless | TroubleKind::Sour => [
            wet.then_some(Cause::Wet { moisture }),
            little_air.then_some(Cause::LittleAir { air_space }),
            rich.then_some(Cause::Rich { cn }),
        ],
        TroubleKind::Ammonia => [rich.then_some(Cause::MuchNitrogen { cn }), None, None],
        TroubleKind::TooDry => [dry.then_some(Cause::Dry { moisture }), None, None],
        TroubleKind::TooHot | TroubleKind::Cold => [None; 3],
    };
    found.into_iter().flatten().collect()
}

/// The first change that is advised for the mix, where the mix is what is wrong.
fn step(kind: TroubleKind, advice: &[Advice]) -> Option<Advice> {
    let of_mix = matches!(
        kind,
        TroubleKind::Airless | TroubleKind::Sour | TroubleKind::Ammonia | TroubleKind::TooDry
    );
    let mut steps = advice.iter().filter(|advice| advice.change.is_some());
    steps.next().filter(|_| of_mix).cloned()
}
