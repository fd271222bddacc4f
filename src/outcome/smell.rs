//! Smell and trouble: airless, sour, ammonia, too hot, too dry; when, why, and the smallest cure.
//!
//! In: a projection, the sums of the mix, advice on it. Out: a course over time and a
//! list of troubles, the worst first.
//!
//! The model knows oxygen and acid, not smells: airless is the share of the volume below 5 % oxygen, sour what `sour`
//! finds, ammonia what leaves in a day.
//!
//! Not here: how to change the mix (`advice`), words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use serde::Deserialize;

use crate::heap::{Field, Projection, SectionGrid};
use crate::mix::{Totals, bands};

use super::Trust;
use super::advice::Advice;
use super::complaint::{Cause as Blame, Symptom};
use super::sour::{AIRLESS, sour_at, souring};

/// Share of the volume from which it is worth a word (tuned).
pub const WORTH_A_WORD: f64 = 0.1;
/// Ammonia nitrogen in a day, share of all nitrogen, from which it smells (tuned: half a per cent a day, which mixes of
/// C:N 20 and less lose and good ones do not).
pub const AMMONIA_PER_DAY: f64 = 0.005;
/// Temperature from which it is too hot, degC (NC DEQ and fire services act from 70-71).
pub const TOO_HOT_C: f64 = 70.0;
/// A heap that stays below this stays cold, degC (usual lower end of the hot phase).
pub const HOT_FROM_C: f64 = 40.0;
/// Mean moisture below which it is too dry, wet basis (troubleshooting tables: below 40 %).
pub const TOO_DRY: f64 = 0.40;

/// Temperature from which heat drives ammonia out, degC (troubleshooting tables name heat beside C:N; at 55 and pH 8 a
/// quarter of the ammonium is free, Emerson et al. 1975, from memory).
pub const DRIVES_AMMONIA_C: f64 = 55.0;
/// Air colder than this slows a start, degC (common practice).
const COLD_AIR_C: f64 = 5.0;
/// Days over which that is taken, d.
const FIRST_DAYS: f64 = 10.0;

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
    /// What a person who comes with it would tick.
    pub symptoms: Vec<Symptom>,
    /// What may be behind it, the likeliest first.
    pub blames: Vec<Blame>,
    /// Materials, by id, that bring it about.
    #[serde(default)]
    pub materials: Vec<String>,
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
    /// What may hurt someone who deals with it.
    #[serde(default)]
    pub beware: Vec<Beware>,
}

/// What may hurt someone who deals with a fault.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Beware {
    /// One line.
    pub text: String,
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
    /// Share of the volume that is sour, 0-1.
    pub sour: f64,
    /// Nitrogen leaving as ammonia, kg/d.
    pub ammonia_kg_per_day: f64,
}

/// What of a mix, or of how it is built, brings a trouble about.
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
    /// It makes acid for want of air.
    Acid {
        /// Lowest pH.
        ph: f64,
    },
    /// It is hot, which drives ammonia out.
    Hot {
        /// Highest temperature of the centre, degC.
        peak_c: f64,
    },
    /// It has too little nitrogen to heat.
    Lean {
        /// C:N.
        cn: f64,
    },
    /// It is too small to keep its heat.
    Small {
        /// Volume as built, m3.
        volume_m3: f64,
    },
    /// It is built in cold weather.
    ColdAir {
        /// Mean of the air in the first days, degC.
        air_c: f64,
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
            sour: sour_at(field, grid).share,
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
            causes: causes(found.kind, totals, projection),
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
    let ammonia = |p: &TroublePoint| p.ammonia_kg_per_day / nitrogen;
    let of = |kind, value: &dyn Fn(&TroublePoint) -> f64, from| {
        spell(kind, points.iter().map(|p| (p.day, value(p))), from)
    };
    let records = || projection.records.iter();
    let hot = records().map(|r| (r.day, r.centre_c));
    let dry = records().map(|r| (r.day, -r.moisture));
    let found = [
        sour(projection),
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

/// A heap that turns sour.
fn sour(projection: &Projection) -> Option<TroubleFound> {
    souring(projection).map(|found| TroubleFound {
        kind: TroubleKind::Sour,
        days: found.days,
        worst: found.share,
    })
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

/// What of this mix and of how it is built brings it about.
pub(super) fn causes(kind: TroubleKind, totals: &Totals, projection: &Projection) -> Vec<Cause> {
    let (moisture, air_space, cn) = (totals.moisture(), totals.settled_air_space(), totals.cn());
    let wet = (moisture > bands::MOISTURE.best.1).then_some(Cause::Wet { moisture });
    let little = air_space < bands::FREE_AIR_SPACE.best.0;
    let little_air = little.then_some(Cause::LittleAir { air_space });
    let rich = cn < bands::CN.best.0;
    let dry = (moisture < bands::MOISTURE.best.0).then_some(Cause::Dry { moisture });
    let acid = || souring(projection).map(|sour| Cause::Acid { ph: sour.ph });
    let peak_c = projection.summary.peak_c;
    let found = match kind {
        TroubleKind::Airless => {
            vec![wet, little_air, rich.then_some(Cause::Rich { cn })]
        }
        TroubleKind::Sour => {
            vec![acid(), wet, little_air, rich.then_some(Cause::Rich { cn })]
        }
        TroubleKind::Ammonia => vec![
            rich.then_some(Cause::MuchNitrogen { cn }),
            (peak_c >= DRIVES_AMMONIA_C).then_some(Cause::Hot { peak_c }),
        ],
        TroubleKind::TooDry => vec![dry],
        TroubleKind::Cold => {
            let acid = acid();
            let volume_m3 = totals.volume_m3();
            let air_c = first_air_c(projection);
            vec![
                acid,
                wet.filter(|_| acid.is_none() && moisture > bands::MOISTURE.works.1),
                dry.filter(|_| moisture < bands::MOISTURE.works.0),
                (cn > bands::CN.works.1).then_some(Cause::Lean { cn }),
                (volume_m3 < bands::KEEPS_HEAT_FROM_M3).then_some(Cause::Small { volume_m3 }),
                (air_c < COLD_AIR_C).then_some(Cause::ColdAir { air_c }),
            ]
        }
        TroubleKind::TooHot => Vec::new(),
    };
    found.into_iter().flatten().collect()
}

/// Mean of the air over the first days, degC.
fn first_air_c(projection: &Projection) -> f64 {
    let first = projection.records.iter();
    let first = first.take_while(|record| record.day <= FIRST_DAYS);
    let (sum, many) = first.fold((0.0, 0.0), |(sum, many), record| {
        (sum + record.ambient_c, many + 1.0)
    });
    sum / f64::max(many, 1.0)
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
