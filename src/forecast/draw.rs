//! Draws: what is not well known, how far, and the members made of it.
//!
//! In: typical inputs, widths, seed, number of a member. Out: the inputs of that member.
//!
//! A width states the 10 and the 90 % point of an input beside its typical value, which is the median.
//! Factors are log-normal, steps normal, each side by its own width. Tails beyond one in a hundred
//! count as one in a hundred. Everything in one heap moves together: what is added later is as wet, fine and packed,
//! relatively, as what was there. Density is drawn once, from the range of the mix; the air space follows from it, and the
//! permeability from both, so that particle size is what is left to know once the density is. Rain and humidity of a season
//! are one draw. The rest is drawn independently.
//!
//! What is kept: dry matter, ash and carbon. More water or less is water alone; denser packing is less
//! room for the same matter; more fast carbon is less of the rest. No member leaves a bound of
//! `quantity::bounds` that its typical inputs keep.
//!
//! Not here: running the members (`ensemble`).
//!
//! Tested by: `tests/science/forecast.rs` (scipy.stats).

use crate::heap::{Addition, Climate, Kinetics};
use crate::mix::{Gauges, Totals};
use crate::quantity::bounds;

use super::Inputs;
use super::sequence::{DIMENSIONS, Sequence, deviate};

/// Standard normal deviate of the 90 % point (scipy.stats.norm.ppf(0.9)).
const DEVIATE_90: f64 = 1.281_551_565_544_600_4;
/// That of the 99 % point, where tails are cut (scipy.stats.norm.ppf(0.99)).
const DEVIATE_MOST: f64 = 2.326_347_874_040_840_8;
/// Moisture that members keep between, unless the typical one lies beyond.
const MOISTURE: (f64, f64) = (0.02, 0.92);
/// Widest the range of a mix counts for its moisture, step: a squeeze in the hand tells some five points at worst.
const MOISTURE_WIDEST: f64 = 0.04;
/// Least and most that the range of a mix counts for its density, factor (`common practice`: how hard it is trodden, at
/// least; tuned at most: the catalogue's ranges are those of all materials of a name, a heap's are the one at hand).
const PACKING: (f64, f64) = (1.1, 1.2);
/// Widest the range of a mix counts for its C:N, factor (tuned: one recipe, other hands).
const CN_WIDEST: f64 = 1.2;
/// Relative humidity that members keep between, unless the typical one lies beyond.
const HUMIDITY: (f64, f64) = (0.2, 0.98);
/// Least of its fast carbon that a member keeps, share.
const FAST_LEAST: f64 = 0.25;
/// Most of its carbon that a member has in the fast pool, unless the typical share is greater.
const FAST_MOST: f64 = 0.9;
/// Most of its height that a member loses by slumping, unless the typical share is greater.
const SLUMP_MOST: f64 = 0.8;
/// Most of its carbon that a member starts with as microbes.
const MICROBES_MOST: f64 = 0.2;

/// How an input lies about its typical value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Law {
    /// Log-normal: the 10 % point is the typical value divided by `down`, the 90 % point the typical
    /// value times `up`.
    Times {
        /// Factor downward, at least 1.
        down: f64,
        /// Factor upward, at least 1.
        up: f64,
    },
    /// Normal: the 10 % point is the typical value less `down`, the 90 % point the typical value
    /// plus `up`.
    Plus {
        /// Step downward, at least 0.
        down: f64,
        /// Step upward, at least 0.
        up: f64,
    },
}

impl Law {
    /// Known exactly.
    pub const EXACT: Self = Self::plus(0.0);

    /// The same factor on both sides.
    pub const fn times(factor: f64) -> Self {
        Self::Times {
            down: factor,
            up: factor,
        }
    }

    /// The same step on both sides.
    pub const fn plus(step: f64) -> Self {
        Self::Plus {
            down: step,
            up: step,
        }
    }

    /// The value that lies `deviate` standard normal deviates from the typical one.
    pub fn at(self, typical: f64, deviate: f64) -> f64 {
        let way = deviate.clamp(-DEVIATE_MOST, DEVIATE_MOST) / DEVIATE_90;
        match self {
            Self::Times { down, up } => typical * if way < 0.0 { down } else { up }.powf(way),
            Self::Plus { down, up } => typical + way * if way < 0.0 { down } else { up },
        }
    }

    /// How far from an input of 0 (a step), or from 1 (a factor).
    fn shift(self, deviate: f64) -> f64 {
        match self {
            Self::Times { .. } => self.at(1.0, deviate),
            Self::Plus { .. } => self.at(0.0, deviate),
        }
    }
}

/// How uncertain each input is, in order of what it moves (peak and days hot of a cubic metre, one at
/// a time). Marks: "lit." = span of published values; "tuned" = span tried while tuning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Widths {
    /// Effective particle size once the density is drawn, factor. 1.2 (tuned; shredding and sticking together decide it):
    /// the permeability goes with its square, so 1.4 at a given air space.
    pub particle_size: Law,
    /// Bulk density as built, factor. 1.1 (`common practice`: how hard it is trodden); where the ranges of the materials are
    /// known, the range of the mix counts, within bounds.
    pub packing: Law,
    /// Moisture, step of the wet basis. 0.03 (`common practice`: a squeeze tells no more); where the
    /// ranges of the materials are known, the range of the mix counts.
    pub moisture: Law,
    /// Fast pool, step of its share of all carbon. 0.05 (tuned, 0.15-0.35 for one mix).
    pub fast_share: Law,
    /// Rate of the fast pool, factor. 1.2 (lit. 0.10-0.40 per day, from memory).
    pub fast_rate: Law,
    /// Crowding constant, factor. 1.5 (tuned, 0.01-0.05).
    pub crowding: Law,
    /// Mean air temperature, step, K. 2 (`common practice`: one season against its mean).
    pub air: Law,
    /// First microbes, factor. 1.5 (tuned, 0.003-0.05 as the far ends).
    pub first_microbes: Law,
    /// Rate of the medium pool, factor. 1.4 (tuned, 0.025-0.06 per day).
    pub medium_rate: Law,
    /// Wind at the heap, and with it the film on walls and skin, factor. 1.5 (`common practice`:
    /// shelter of a garden).
    pub wind: Law,
    /// Slump, factor. 1.3 (tuned, 0-0.25 for one mix).
    pub slump: Law,
    /// C:N of the mix, factor. Exact unless the ranges of the materials are known; then the range of
    /// the mix counts.
    pub carbon_to_nitrogen: Law,
    /// Share of the mineral nitrogen that is free to leave, factor. 1.4 downward, none upward
    /// (tuned, 0.6-1).
    pub ammonia_free_share: Law,
    /// C:N of microbes, factor. 1.25 (lit. 5-12 about 8).
    pub microbe_cn: Law,
    /// Cells that die of heat, factor. 3 (tuned: the published peaks of big heaps, 62 to 70 degC; moves the peak of a heap
    /// that is stopped by its own heat by some 3 K, and no other).
    pub die_off: Law,
    /// Relative humidity of the air, step. 0.08 (from memory). A damp season is a rainy one: one draw with the rain.
    pub humidity: Law,
    /// Rain, factor. 1.4 (from memory: one season against its mean).
    pub rain: Law,
}

/// The widths in use.
pub const WIDTHS: Widths = Widths {
    particle_size: Law::times(1.2),
    packing: Law::times(1.1),
    moisture: Law::plus(0.03),
    fast_share: Law::plus(0.05),
    fast_rate: Law::times(1.2),
    crowding: Law::times(1.5),
    air: Law::plus(2.0),
    first_microbes: Law::times(1.5),
    medium_rate: Law::times(1.4),
    wind: Law::times(1.5),
    slump: Law::times(1.3),
    carbon_to_nitrogen: Law::EXACT,
    ammonia_free_share: Law::Times { down: 1.4, up: 1.0 },
    microbe_cn: Law::times(1.25),
    die_off: Law::times(3.0),
    humidity: Law::plus(0.08),
    rain: Law::times(1.4),
};

impl Widths {
    /// Everything known exactly.
    pub const NONE: Self = Self {
        particle_size: Law::EXACT,
        packing: Law::EXACT,
        moisture: Law::EXACT,
        fast_share: Law::EXACT,
        fast_rate: Law::EXACT,
        crowding: Law::EXACT,
        air: Law::EXACT,
        first_microbes: Law::EXACT,
        medium_rate: Law::EXACT,
        wind: Law::EXACT,
        slump: Law::EXACT,
        carbon_to_nitrogen: Law::EXACT,
        ammonia_free_share: Law::EXACT,
        microbe_cn: Law::EXACT,
        die_off: Law::EXACT,
        humidity: Law::EXACT,
        rain: Law::EXACT,
    };

    /// With the ranges of a mix in place of what is usual.
    #[must_use]
    pub fn informed_by(self, gauges: &Gauges) -> Self {
        let (moisture, cn) = (gauges.moisture, gauges.cn);
        let mut widths = self;
        if moisture.is_sound() {
            widths.moisture = Law::Plus {
                down: (moisture.typical - moisture.low).min(MOISTURE_WIDEST),
                up: (moisture.high - moisture.typical).min(MOISTURE_WIDEST),
            };
        }
        if cn.is_sound() && cn.low > 0.0 {
            widths.carbon_to_nitrogen = Law::Times {
                down: (cn.typical / cn.low).min(CN_WIDEST),
                up: (cn.high / cn.typical).min(CN_WIDEST),
            };
        }
        let density = gauges.dry_bulk_density_kg_per_m3;
        if density.is_sound() && density.low > 0.0 {
            let counts = |factor: f64| factor.clamp(PACKING.0, PACKING.1);
            widths.packing = Law::Times {
                down: counts(density.typical / density.low),
                up: counts(density.high / density.typical),
            };
        }
        widths
    }
}

/// What is not well known, in the order of the deviates of a draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unknown {
    /// Particle size once the density is known.
    ParticleSize,
    /// Density as built.
    Packing,
    /// Moisture as built.
    Moisture,
    /// Share of the carbon that rots fast.
    FastShare,
    /// Rate of the fast pool.
    FastRate,
    /// How much room microbes need.
    Crowding,
    /// Temperature of the air.
    Air,
    /// First microbes.
    FirstMicrobes,
    /// Rate of the medium pool.
    MediumRate,
    /// Wind at the heap.
    Wind,
    /// Slump.
    Slump,
    /// C:N of the mix.
    CarbonToNitrogen,
    /// Share of the mineral nitrogen that is free to leave.
    AmmoniaFreeShare,
    /// C:N of microbes.
    MicrobeCn,
    /// How many cells die of heat.
    DieOff,
    /// How damp and rainy the season is.
    Season,
}

impl Unknown {
    /// All of them.
    pub const ALL: [Self; DIMENSIONS] = [
        Self::ParticleSize,
        Self::Packing,
        Self::Moisture,
        Self::FastShare,
        Self::FastRate,
        Self::Crowding,
        Self::Air,
        Self::FirstMicrobes,
        Self::MediumRate,
        Self::Wind,
        Self::Slump,
        Self::CarbonToNitrogen,
        Self::AmmoniaFreeShare,
        Self::MicrobeCn,
        Self::DieOff,
        Self::Season,
    ];
}

/// The members of one ensemble.
#[derive(Debug, Clone)]
pub struct Draws<'a> {
    inputs: &'a Inputs,
    widths: Widths,
    sequence: Sequence,
}

/// What a mix is changed by in a member.
#[derive(Clone, Copy)]
struct Change {
    size: f64,
    packing: f64,
    moisture: f64,
    fast_share: f64,
    slump: f64,
    cn: f64,
}

impl<'a> Draws<'a> {
    /// Members about these inputs; ranges of the mix in `inputs` count before `widths`.
    pub fn new(inputs: &'a Inputs, widths: &Widths, seed: u64) -> Self {
        Self {
            inputs,
            widths: match &inputs.gauges {
                Some(gauges) => widths.informed_by(gauges),
                None => *widths,
            },
            sequence: Sequence::shifted(seed),
        }
    }

    /// Member `number`; 0 holds the typical values.
    pub fn member(&self, number: u32) -> Inputs {
        match number.checked_sub(1) {
            None => self.inputs.clone(),
            Some(point) => self.at(&self.sequence.point(point).map(deviate)),
        }
    }

    /// Where member `number` lies: a standard normal deviate for each [`Unknown`]; all 0 for member 0.
    pub fn deviates(&self, number: u32) -> [f64; DIMENSIONS] {
        match number.checked_sub(1) {
            None => [0.0; DIMENSIONS],
            Some(point) => self.sequence.point(point).map(deviate),
        }
    }

    /// The member that lies there, a standard normal deviate for each [`Unknown`].
    pub fn at(&self, deviates: &[f64; DIMENSIONS]) -> Inputs {
        let &[
            size,
            packing,
            moisture,
            fast_share,
            fast_rate,
            crowding,
            air,
            first_microbes,
            medium_rate,
            wind,
            slump,
            cn,
            ammonia_free,
            microbe_cn,
            die_off,
            season,
        ] = deviates;
        let w = &self.widths;
        let (totals, additions) = self.mixed(&Change {
            size,
            packing,
            moisture,
            fast_share,
            slump,
            cn,
        });
        let usual = &self.inputs.kinetics;
        let kinetics = Kinetics {
            fast_per_day: w.fast_rate.at(usual.fast_per_day, fast_rate),
            medium_per_day: w.medium_rate.at(usual.medium_per_day, medium_rate),
            crowding: w.crowding.at(usual.crowding, crowding),
            microbes_at_start: w
                .first_microbes
                .at(usual.microbes_at_start, first_microbes)
                .min(MICROBES_MOST.max(usual.microbes_at_start)),
            ammonia_free_share: w
                .ammonia_free_share
                .at(usual.ammonia_free_share, ammonia_free)
                .min(1.0),
            microbe_cn: w.microbe_cn.at(usual.microbe_cn, microbe_cn),
            die_off_at_65_c_per_day: w.die_off.at(usual.die_off_at_65_c_per_day, die_off),
            ..*usual
        };
        let mut heap = self.inputs.heap.clone();
        weathered(&mut heap.climate, w, [air, wind, season]);
        Inputs {
            totals,
            additions,
            heap,
            kinetics,
            gauges: self.inputs.gauges,
        }
    }

    /// The mix and what is added, changed; packing and moisture are held back by half, then wholly,
    /// where they would take the heap out of the bound of its volume.
    fn mixed(&self, change: &Change) -> (Totals, Vec<Addition>) {
        let inputs = self.inputs;
        let held_back = |share: f64| {
            let change = Change {
                packing: share * change.packing,
                moisture: share * change.moisture,
                ..*change
            };
            let totals = self.changed(&inputs.totals, &change);
            let additions: Vec<Addition> = inputs
                .additions
                .iter()
                .map(|(place, totals)| (*place, self.changed(totals, &change)))
                .collect();
            (totals, additions)
        };
        let fits = |(totals, additions): &(Totals, Vec<Addition>)| {
            let all = inputs.heap.plan.whole(totals, additions);
            bounds::HEAP_VOLUME.check(totals.volume_m3()).is_ok()
                && bounds::HEAP_VOLUME.check(all.volume_m3()).is_ok()
        };
        let whole = held_back(1.0);
        if fits(&whole) {
            return whole;
        }
        let half = held_back(0.5);
        if fits(&half) { half } else { held_back(0.0) }
    }

    fn changed(&self, totals: &Totals, change: &Change) -> Totals {
        let w = &self.widths;
        let mut totals = *totals;
        let size = w.particle_size.at(1.0, change.size);
        totals.volume_log_size_m3 += totals.piled_volume_m3 * size.ln();
        pack(&mut totals, w.packing.at(1.0, change.packing));
        wet(&mut totals, w.moisture.shift(change.moisture));
        shift_fast(&mut totals, w.fast_share.shift(change.fast_share));
        let usual = totals.slump_share();
        let slump = w.slump.at(usual, change.slump);
        totals.volume_that_slumps_m3 =
            slump.clamp(0.0, SLUMP_MOST.max(usual)) * totals.piled_volume_m3;
        let leaner = w.carbon_to_nitrogen.at(1.0, change.cn);
        totals.nitrogen_kg /= leaner;
        totals.nitrogen_at_once_kg /= leaner;
        totals
    }
}

/// Warmer or colder, windier, wetter: the weather of one year instead of its mean.
fn weathered(climate: &mut Climate, w: &Widths, [air, wind, season]: [f64; 3]) {
    for mean in &mut climate.monthly_mean_c {
        let bound = bounds::AIR_TEMPERATURE;
        *mean = w.air.at(*mean, air).clamp(bound.low, bound.high);
    }
    for month in &mut climate.monthly_rain_mm {
        *month = w
            .rain
            .at(*month, season)
            .clamp(bounds::RAIN.low, bounds::RAIN.high);
    }
    climate.wind_m_per_s = w
        .wind
        .at(climate.wind_m_per_s, wind)
        .clamp(bounds::WIND.low, bounds::WIND.high);
    let usual = climate.relative_humidity;
    climate.relative_humidity = w
        .humidity
        .at(usual, season)
        .clamp(HUMIDITY.0.min(usual), HUMIDITY.1.max(usual));
}

/// The same matter in less (or more) room; its particle size and share of slumping stay.
fn pack(totals: &mut Totals, density_factor: f64) {
    totals.piled_volume_m3 /= density_factor;
    totals.volume_log_size_m3 /= density_factor;
    totals.volume_that_slumps_m3 /= density_factor;
}

/// Wetter or drier by a step of moisture, dry matter kept.
fn wet(totals: &mut Totals, step: f64) {
    if totals.dry_kg <= 0.0 || step == 0.0 {
        return;
    }
    let usual = totals.moisture();
    let moisture = (usual + step).clamp(MOISTURE.0.min(usual), MOISTURE.1.max(usual));
    if moisture != usual {
        totals.water_kg = totals.dry_kg * moisture / (1.0 - moisture);
    }
}

/// More or less of the carbon in the fast pool, at the cost of all other carbon.
fn shift_fast(totals: &mut Totals, share_step: f64) {
    let usual = totals.carbon_fast_kg;
    let others = totals.carbon_kg - usual;
    if others <= 0.0 || usual <= 0.0 {
        return;
    }
    let fast = (usual + share_step * totals.carbon_kg)
        .clamp(FAST_LEAST * usual, usual.max(FAST_MOST * totals.carbon_kg));
    let kept = (totals.carbon_kg - fast) / others;
    totals.carbon_fast_kg = fast;
    totals.carbon_medium_kg *= kept;
    totals.carbon_slow_kg *= kept;
}
