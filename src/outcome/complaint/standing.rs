//! What this heap's own numbers say of a cause, before anything is tried.
//!
//! In: a cause, the [`Numbers`] of the heap. Out: [`Standing`]: how much speaks for it, and the
//! [`Evidence`] it rests on.
//!
//! A weight runs from 0 (nothing speaks for it) to 1 (as far off as heaps are found to be); between the band that is
//! best and that end it grows in a straight line. Bands are those of the gauges; the far ends are tuned to what is
//! seen in gardens (C:N 60 of leaves, 30 % water of straw, 75 % of kitchen scraps, a barrow's worth of heap).
//! Not here: the numbers themselves (`numbers`), mending one thing in the simulation, which overrides all this where it
//! can (`ranking`).
//!
//! Tested by: `tests/science/complaint.rs`.

use crate::mix::{TargetBand, bands};
use crate::outcome::smell::DRIVES_AMMONIA_C;

use super::cause::Cause;
use super::numbers::{MoistureBy, Numbers};

/// Volume above which a heap can be too big, m3 (tuned: what a garden has two bays for).
pub const BIG_FROM_M3: f64 = 1.5;
/// Air below which a heap lights late, degC (leaflet Troubleshooting Compost Piles: cool weather; the number is tuned).
const COOL_C: f64 = 10.0;
/// Peak from which tables of faults name heat as a cause of ammonia, degC (Cornell, NC State, BioCycle and EPA
/// troubleshooting tables: above 65).
const DRIVES_MUCH_AMMONIA_C: f64 = 65.0;
/// Additions from which, and days over which, a heap is one built bit by bit (common practice).
const BIT_BY_BIT: (usize, f64) = (2, 14.0);
/// Share of the volume from which something is worth a word (tuned).
const WORTH_A_WORD: f64 = 0.1;
/// Share of food, or mol of lime per kg, below which there is none (tuned: a handful in a barrow).
const TRACE: f64 = 0.01;
/// Temperature from which a heap is still at work, degC (common practice: it cures below).
const STILL_HOT_C: f64 = 45.0;
/// Age from which a heap that was hot may be done, d (common practice: two to four months when turned).
const MAY_BE_DONE_DAYS: f64 = 90.0;

/// A number of this heap that speaks for a cause.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Evidence {
    /// C:N.
    CarbonNitrogen(f64),
    /// Moisture by the recipe.
    Moisture(f64),
    /// Moisture by a squeeze in the hand.
    Squeezed(f64),
    /// Moisture by a squeeze that stands in the diary, so many days ago.
    SqueezedThen {
        /// Wet basis.
        moisture: f64,
        /// Days since then.
        days_ago: f64,
    },
    /// Moisture as a diary taught it.
    LearntMoisture(f64),
    /// Temperature of the middle as last measured, degC.
    Now(f64),
    /// Free air space once settled.
    AirSpace(f64),
    /// Share of the volume that mats or slumps.
    Matting(f64),
    /// Rot held back for lack of air.
    Airless(f64),
    /// Volume, m3.
    Volume(f64),
    /// Share of the volume that is food.
    Food(f64),
    /// Share of the volume that is what a row of the table names.
    Named(f64),
    /// Lime or ash, mol of acid per kg of dry matter.
    Lime(f64),
    /// Mean air temperature while it lights, degC, from this day of the year.
    Air {
        /// Mean, degC.
        mean_c: f64,
        /// Day of the year it is built.
        start_day: f64,
    },
    /// Rain while it lights, mm a month.
    Rain(f64),
    /// Nothing lies over it.
    Bare,
    /// Share of the volume that is coarse or woody.
    Coarse(f64),
    /// So many additions over so many days.
    Added {
        /// How many.
        times: usize,
        /// Until which day.
        days: f64,
    },
    /// So many turnings.
    Turnings(usize),
    /// Nobody said whether it is turned.
    TurningUnknown,
    /// It is this old, d.
    Age(f64),
    /// Its peak in the projection, degC.
    Peak(f64),
    /// It never got hot in the projection, degC.
    NeverHot(f64),
    /// Grass, straw, hay or manure, share of the volume.
    Sprayable(f64),
}

/// How much speaks for a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// 0 (nothing) to 1; `None` where nothing of this heap tells.
    pub weight: Option<f64>,
    /// The numbers.
    pub evidence: Vec<Evidence>,
}

impl Standing {
    fn of(weight: f64, evidence: Vec<Evidence>) -> Self {
        Self {
            weight: Some(weight.clamp(0.0, 1.0)),
            evidence,
        }
    }

    /// Whether what it would take is plainly not there: no food, no lime, a heap that is large enough.
    pub fn is_ruled_out(&self) -> bool {
        let absent = |evidence: &Evidence| match *evidence {
            Evidence::Food(share) => share < TRACE,
            Evidence::Lime(mol_per_kg) => mol_per_kg < TRACE,
            Evidence::Volume(_) => true,
            _ => false,
        };
        self.weight == Some(0.0) && self.evidence.iter().any(absent)
    }

    fn open() -> Self {
        Self {
            weight: None,
            evidence: Vec::new(),
        }
    }
}

/// 0 up to `from`, 1 at `to` and beyond.
fn off(value: f64, from: f64, to: f64) -> f64 {
    ((value - from) / (to - from)).clamp(0.0, 1.0)
}

impl Numbers {
    fn turned(&self) -> Evidence {
        self.turnings
            .map_or(Evidence::TurningUnknown, Evidence::Turnings)
    }

    fn water(&self) -> Evidence {
        let moisture = self.moisture;
        match self.moisture_by {
            MoistureBy::Recipe => Evidence::Moisture(moisture),
            MoistureBy::Squeeze => Evidence::Squeezed(moisture),
            MoistureBy::Diary(days_ago) => Evidence::SqueezedThen { moisture, days_ago },
            MoistureBy::Learnt => Evidence::LearntMoisture(moisture),
        }
    }
}

/// What the numbers say of a cause; `named` is the share of the volume that is a material which the cause's row of the
/// table of faults names.
pub fn standing(cause: Cause, of: &Numbers, named: f64) -> Standing {
    let best = |band: &TargetBand| band.best;
    let (cn_low, cn_high) = best(&bands::CN);
    let (dry, wet) = best(&bands::MOISTURE);
    match cause {
        Cause::ShortOfNitrogen => Standing::of(
            off(of.cn, cn_high, 60.0),
            vec![Evidence::CarbonNitrogen(of.cn)],
        ),
        Cause::MuchNitrogen => Standing::of(
            off(cn_low - of.cn, 0.0, 13.0),
            vec![Evidence::CarbonNitrogen(of.cn)],
        ),
        Cause::TooDry => Standing::of(off(dry - of.moisture, 0.0, 0.2), vec![of.water()]),
        Cause::TooWet => Standing::of(off(of.moisture - wet, 0.0, 0.15), vec![of.water()]),
        Cause::LittleAir => little_air(of),
        Cause::MuchFood => Standing::of(off(of.food, 0.3, 0.8), vec![Evidence::Food(of.food)]),
        Cause::LimeOrAsh => Standing::of(
            off(of.lime_mol_per_kg, 0.02, 0.3),
            vec![Evidence::Lime(of.lime_mol_per_kg)],
        ),
        Cause::Heat => heat(of),
        Cause::TooSmall => Standing::of(
            off(bands::KEEPS_HEAT_FROM_M3 - of.volume_m3, 0.0, 0.7),
            vec![Evidence::Volume(of.volume_m3)],
        ),
        Cause::TooBig => Standing::of(
            off(of.volume_m3, BIG_FROM_M3, 5.0),
            vec![Evidence::Volume(of.volume_m3)],
        ),
        Cause::CoarsePieces => {
            Standing::of(off(of.coarse, 0.2, 0.7), vec![Evidence::Coarse(of.coarse)])
        }
        Cause::OpenFood => Standing::of(off(of.food, 0.0, 0.3), vec![Evidence::Food(of.food)]),
        Cause::RatFood => Standing::of(off(named, 0.0, 0.02), vec![Evidence::Named(named)]),
        Cause::Nest => Standing::of(
            0.4 * off(0.5 - of.moisture, 0.0, 0.15)
                + if of.turnings == Some(0) { 0.4 } else { 0.0 },
            vec![of.water(), of.turned()],
        ),
        Cause::Weedkiller => Standing::of(
            off(of.sprayable, 0.0, 0.2),
            vec![Evidence::Sprayable(of.sprayable)],
        ),
        Cause::Fungi => Standing::of(1.0, vec![of.water()]),
        Cause::Normal => Standing::of(1.0, Vec::new()),
        Cause::Young => young(of),
        Cause::LateSeeds => Standing::open(),
        Cause::ColdSeason
        | Cause::ColdSkin
        | Cause::Rain
        | Cause::BitByBit
        | Cause::NotTurned
        | Cause::Finished => of_place_and_time(cause, of),
    }
}

fn little_air(of: &Numbers) -> Standing {
    let (least, _) = bands::FREE_AIR_SPACE.best;
    let airless = of.airless.unwrap_or(0.0);
    let weight = off(least - of.air_space, -0.1, 0.25)
        .max(off(airless, 0.03, 0.3))
        .max(off(of.matting, 0.5, 1.0));
    let mut evidence = vec![Evidence::AirSpace(of.air_space)];
    if of.matting > WORTH_A_WORD {
        evidence.push(Evidence::Matting(of.matting));
    }
    evidence.extend(of.airless.map(Evidence::Airless));
    Standing::of(weight, evidence)
}

/// Every good heap gets hot: heat alone is never more than possible. What was measured now counts before the projection.
fn heat(of: &Numbers) -> Standing {
    let now = of.now_c.map(|now_c| (now_c, Evidence::Now(now_c)));
    let peak = of.peak_c.map(|peak_c| (peak_c, Evidence::Peak(peak_c)));
    match now.or(peak) {
        Some((celsius, evidence)) => Standing::of(
            0.4 * off(celsius, DRIVES_AMMONIA_C, DRIVES_MUCH_AMMONIA_C),
            vec![evidence],
        ),
        None => Standing::open(),
    }
}

fn young(of: &Numbers) -> Standing {
    match of.age_days {
        Some(age) => Standing::of(
            off(2.0 * MAY_BE_DONE_DAYS - age, 0.0, 90.0),
            vec![Evidence::Age(age)],
        ),
        None => Standing::open(),
    }
}

fn of_place_and_time(cause: Cause, of: &Numbers) -> Standing {
    match cause {
        Cause::ColdSeason => {
            let (mean_c, start_day) = (of.air_c, of.start_day);
            let air = Evidence::Air { mean_c, start_day };
            Standing::of(off(COOL_C - mean_c, 0.0, COOL_C), vec![air])
        }
        // Most heaps lie bare.
        Cause::ColdSkin if of.bare => Standing::of(0.25, vec![Evidence::Bare]),
        Cause::ColdSkin => Standing::of(0.0, Vec::new()),
        Cause::Rain if of.roofed => Standing::of(0.0, Vec::new()),
        Cause::Rain => Standing::of(
            off(of.rain_mm, 30.0, 120.0),
            vec![Evidence::Rain(of.rain_mm)],
        ),
        Cause::BitByBit => {
            let (times, days) = of.additions;
            if times >= BIT_BY_BIT.0 && days >= BIT_BY_BIT.1 {
                Standing::of(1.0, vec![Evidence::Added { times, days }])
            } else {
                Standing::open()
            }
        }
        Cause::NotTurned => Standing {
            weight: of.turnings.map(|times| if times == 0 { 0.8 } else { 0.2 }),
            evidence: vec![of.turned()],
        },
        _ => finished(of),
    }
}

/// A heap that never got hot in the projection is not taken to have had its heat, however old, nor is one that is hot now.
fn finished(of: &Numbers) -> Standing {
    if let Some(now_c) = of.now_c.filter(|now_c| *now_c >= STILL_HOT_C) {
        return Standing::of(0.0, vec![Evidence::Now(now_c)]);
    }
    match (of.age_days, of.peak_c) {
        (_, Some(peak_c)) if peak_c < 45.0 => Standing::of(0.0, vec![Evidence::NeverHot(peak_c)]),
        (Some(age), _) => Standing::of(
            off(age, MAY_BE_DONE_DAYS / 2.0, 1.5 * MAY_BE_DONE_DAYS),
            vec![Evidence::Age(age)],
        ),
        (None, _) => Standing::open(),
    }
}
