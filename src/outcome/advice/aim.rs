//! What is wanted of a heap against what it would do: reached, or out of reach and why.
//!
//! In: an aim, the mix against its bands, a projection and what was judged of it. Out: one [`Says::Aim`].
//!
//! Not here: steps of the mix (`steps`), which plan serves an aim (`forecast::plan_search`), sentences (`text::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::garden::Aim;
use crate::heap::Summary;
use crate::mix::{Gauge, Totals, bands};

use super::said::{Advice, AimAhead, Lack, Says};
use super::standing::Standing;

/// A heap that reaches this shows its heat, degC (usual lower end of the hot phase).
const WARM_C: f64 = 40.0;
/// A heap that reaches this is hot, degC (lower end of what rules on heat ask for).
const HOT_C: f64 = 55.0;
/// A smaller share of the heap than this is none of it.
const LEAST_SHARE: f64 = 0.005;
/// Days of a year.
const YEAR: f64 = 365.0;

/// What an aim is held against.
#[derive(Debug, Clone, Copy)]
pub struct AimCase<'a> {
    /// What is wanted.
    pub aim: Aim,
    /// Sums of the mix.
    pub totals: &'a Totals,
    /// Room of the heap, m3; `None` for an open heap.
    pub room_m3: Option<f64>,
    /// What the heap would do.
    pub summary: Summary,
    /// Day of the year it is built.
    pub start_day_of_year: f64,
    /// Days projected.
    pub days: f64,
    /// Day finished; `None` if not within the days projected.
    pub finished_day: Option<f64>,
    /// Share of the heap that would be hot long enough for ordinary weed seeds, 0-1.
    pub seeds_share: f64,
    /// Turnings planned.
    pub turnings: usize,
}

/// One piece of advice on an aim; `None` where there is no dry matter.
pub fn aim_ahead(case: &AimCase<'_>) -> Option<Advice> {
    let standing = Standing::of(case.totals, case.room_m3)?;
    let peak_c = case.summary.peak_c;
    let why = || lack(&standing, case);
    let ahead = match case.aim {
        Aim::Hot if peak_c >= HOT_C => AimAhead::Hot {
            peak_c,
            days: case.summary.days_above_55,
        },
        Aim::Hot => AimAhead::NotHot { peak_c, why: why() },
        Aim::SeedsKilled if case.seeds_share >= LEAST_SHARE => AimAhead::Seeds {
            share: case.seeds_share,
        },
        Aim::SeedsKilled if peak_c >= HOT_C => AimAhead::SeedsTooShort {
            days: case.summary.days_above_55,
        },
        Aim::SeedsKilled => AimAhead::NoSeeds { peak_c, why: why() },
        Aim::FinishedBy { day_of_year } => {
            let within = (f64::from(day_of_year) - case.start_day_of_year).rem_euclid(YEAR);
            match case.finished_day {
                Some(day) if day <= within => AimAhead::InTime {
                    day,
                    spare_days: within - day,
                },
                day if day.is_none() && case.days < within => {
                    AimAhead::NotToldYet { days: case.days }
                }
                day => AimAhead::TooLate {
                    day,
                    days: case.days,
                    within,
                    why: (peak_c < WARM_C).then(why),
                },
            }
        }
        Aim::LeastWork => AimAhead::Work {
            turnings: case.turnings,
            finished_day: case.finished_day,
            days: case.days,
        },
        Aim::Teach if peak_c >= WARM_C => AimAhead::Show {
            peak_c,
            peak_day: case.summary.peak_day,
        },
        Aim::Teach => AimAhead::LittleToShow { peak_c, why: why() },
    };
    Some(Advice::tells(Says::Aim(ahead)))
}

/// What holds a heap back most: a gauge that fails, then its size, then a gauge that is off, then the season.
fn lack(standing: &Standing, case: &AimCase<'_>) -> Lack {
    let of_mix = |gauge: Gauge| !matches!(gauge, Gauge::Volume | Gauge::Density);
    let worst = standing
        .readings()
        .filter(|reading| of_mix(reading.gauge) && reading.weighed() > 0.0)
        .max_by(|a, b| a.weighed().total_cmp(&b.weighed()));
    let volume_m3 = case.totals.volume_m3();
    let small = volume_m3 < bands::KEEPS_HEAT_FROM_M3;
    match worst {
        Some(reading) if reading.fails() || !small => Lack::Gauge {
            gauge: reading.gauge,
            value: reading.value,
            fit: reading.fit,
            small_m3: small.then_some(volume_m3),
        },
        _ if small => Lack::Small {
            volume_m3,
            make_m3: bands::GOOD_VOLUME_M3,
        },
        _ => Lack::Season,
    }
}
