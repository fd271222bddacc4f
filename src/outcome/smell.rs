//! Smell and trouble: airless, sour, ammonia, too hot, too dry; when, why, and the smallest cure.
//!
//! In: a projection, the sums of the mix, advice on it, `assets/troubles.ron`. Out: a course over time and a
//! list of troubles, the worst first.
//!
//! The model knows oxygen, not smells: airless is the share of the volume below 5 % oxygen, sour the share
//! that is airless while more than half of its fast pool is left and it is above 40 degC (the acid lock of
//! food waste), ammonia what leaves in a day.
//!
//! Not here: how to change the mix (`advice`).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use serde::Deserialize;

use crate::heap::{Field, Projection, SectionGrid};
use crate::mix::{Totals, bands};
use crate::quantity::UnitSystem;

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
/// Ammonia nitrogen in a day, share of all nitrogen, from which it smells (tuned: a per cent a day).
const AMMONIA_PER_DAY: f64 = 0.01;
/// Temperature from which it is too hot, degC (NC DEQ and fire services act from 70-71).
const TOO_HOT_C: f64 = 70.0;
/// A heap that stays below this stays cold, degC (usual lower end of the hot phase).
const HOT_FROM_C: f64 = 40.0;
/// Mean moisture below which it is too dry, wet basis (troubleshooting tables: below 40 %).
const TOO_DRY: f64 = 0.40;

/// Kinds of trouble.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum Kind {
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

impl Kind {
    /// What it comes to, with its greatest value.
    pub fn text(self, worst: f64, units: UnitSystem) -> String {
        let percent = 100.0 * worst;
        match self {
            Self::Airless => format!("Up to {percent:.0} % of it would be short of air"),
            Self::Sour => format!("Up to {percent:.0} % of it could turn sour"),
            Self::Ammonia => {
                format!(
                    "It would smell of ammonia, losing up to {percent:.1} % of its nitrogen a day"
                )
            }
            Self::TooHot => {
                let at = crate::outcome::said::temperature(worst, units);
                format!("It would reach {at}, too hot for what rots it")
            }
            Self::TooDry => format!("It would dry out to {percent:.0} % moisture"),
            Self::Cold => format!(
                "It would not pass {}",
                crate::outcome::said::temperature(worst, units)
            ),
        }
    }
}

/// One row of the table of faults.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fault {
    /// Which trouble of the model it belongs to, if any.
    pub kind: Option<Kind>,
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

/// A trouble with when, why and what to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Trouble {
    /// Which.
    pub kind: Kind,
    /// First and last day of it.
    pub days: (f64, f64),
    /// Its greatest value: a share of the volume, a share of nitrogen a day, degC, or moisture.
    pub worst: f64,
    /// Why, in this heap.
    pub cause: String,
    /// The smallest cure.
    pub cure: String,
    /// What it stands on.
    pub source: String,
}

/// The troubles over time, one point a field.
pub fn course(projection: &Projection) -> Vec<TroublePoint> {
    let mut points: Vec<TroublePoint> = Vec::with_capacity(projection.fields.len());
    let mut before: Option<(f64, f64)> = None;
    for field in &projection.fields {
        let Some(grid) = projection.grids.get(field.grid) else {
            continue;
        };
        let nitrogen = projection.at(field.day).map_or(0.0, |r| r.nitrogen_kg);
        let ammonia = before.map_or(0.0, |(day, had): (f64, f64)| {
            let length = field.day - day;
            // What is added shows as a gain, not as ammonia.
            if length > 0.0 {
                (had - nitrogen).max(0.0) / length
            } else {
                0.0
            }
        });
        before = Some((field.day, nitrogen));
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
pub fn troubles(
    projection: &Projection,
    totals: &Totals,
    advice: &[Advice],
    faults: &[Fault],
) -> Vec<Trouble> {
    troubles_found(projection)
        .into_iter()
        .map(|(kind, days, worst)| {
            let fault = faults.iter().find(|fault| fault.kind == Some(kind));
            Trouble {
                kind,
                days,
                worst,
                cause: cause(kind, totals, fault),
                cure: cure(kind, advice, fault),
                source: fault.map_or_else(String::new, |fault| fault.source.clone()),
            }
        })
        .collect()
}

/// A trouble's kind, its first and last day, its greatest value.
pub type Found = (Kind, (f64, f64), f64);

/// Which troubles there are, without causes.
pub fn troubles_found(projection: &Projection) -> Vec<Found> {
    let points = course(projection);
    let nitrogen = projection.ledger.nitrogen_start_kg.max(1e-12);
    let airless = |p: &TroublePoint| p.airless;
    let sour = |p: &TroublePoint| p.sour;
    let ammonia = |p: &TroublePoint| p.ammonia_kg_per_day / nitrogen;
    let of = |kind, value: &dyn Fn(&TroublePoint) -> f64, from| {
        spell(points.iter().map(|p| (p.day, value(p))), from)
            .map(|(days, worst)| (kind, days, worst))
    };
    let records = || projection.records.iter();
    let found = [
        of(Kind::Sour, &sour, WORTH_A_WORD),
        of(Kind::Airless, &airless, WORTH_A_WORD),
        of(Kind::Ammonia, &ammonia, AMMONIA_PER_DAY),
        spell(records().map(|r| (r.day, r.centre_c)), TOO_HOT_C)
            .map(|(days, worst)| (Kind::TooHot, days, worst)),
        spell(records().map(|r| (r.day, -r.moisture)), -TOO_DRY)
            .map(|(days, worst)| (Kind::TooDry, days, -worst)),
        cold(projection),
    ];
    found.into_iter().flatten().collect()
}

/// A heap that never gets hot.
fn cold(projection: &Projection) -> Option<Found> {
    let (last, peak_c) = (projection.records.last()?, projection.summary.peak_c);
    (peak_c < HOT_FROM_C).then_some((Kind::Cold, (0.0, last.day), peak_c))
}

/// First and last day at or above a value, and the greatest; `None` if never.
fn spell(points: impl Iterator<Item = (f64, f64)>, from: f64) -> Option<((f64, f64), f64)> {
    points
        .filter(|(_, value)| *value >= from)
        .fold(None, |found, (day, value)| match found {
            None => Some(((day, day), value)),
            Some(((first, _), worst)) => Some(((first, day), f64::max(worst, value))),
        })
}

/// What of this mix brings it about; the table's general cause where nothing stands out.
fn cause(kind: Kind, totals: &Totals, fault: Option<&Fault>) -> String {
    let (moisture, air, cn) = (totals.moisture(), totals.free_air_space(), totals.cn());
    let mut causes = Vec::new();
    match kind {
        Kind::Airless | Kind::Sour => {
            if moisture > bands::MOISTURE.best.1 {
                causes.push(format!("it is wet ({:.0} %)", 100.0 * moisture));
            }
            if air < bands::FREE_AIR_SPACE.best.0 {
                causes.push(format!("it holds little air ({:.0} %)", 100.0 * air));
            }
            if cn < bands::CN.best.0 {
                causes.push(format!(
                    "it is rich (C:N {cn:.0}) and rots faster than air comes in"
                ));
            }
        }
        Kind::Ammonia if cn < bands::CN.best.0 => {
            causes.push(format!(
                "it has more nitrogen than it can hold (C:N {cn:.0})"
            ));
        }
        Kind::TooDry if moisture < bands::MOISTURE.best.0 => {
            causes.push(format!(
                "it is dry from the start ({:.0} %)",
                100.0 * moisture
            ));
        }
        _ => {}
    }
    if causes.is_empty() {
        fault.map_or_else(String::new, |fault| fault.cause.clone())
    } else {
        causes.join("; ")
    }
}

/// The first change that is advised for the mix, where the mix is what is wrong; else the table's cure.
fn cure(kind: Kind, advice: &[Advice], fault: Option<&Fault>) -> String {
    let of_mix = matches!(
        kind,
        Kind::Airless | Kind::Sour | Kind::Ammonia | Kind::TooDry
    );
    let change = advice
        .iter()
        .find(|advice| advice.change.is_some())
        .filter(|_| of_mix);
    let general = fault.map_or("", |fault| fault.cure.as_str());
    match change {
        Some(advice) => format!("{} Else: {general}", advice.text),
        None => general.to_owned(),
    }
}
