//! Draws: what is not well known, and how far, and evenly spread samples of it.
//!
//! In: number of a member, seed. Out: the mix, heap and kinetics of that member.
//!
//! Points come from the additive recurrence with the square roots of primes (Richtmyer 1951; Niederreiter
//! 1978), each coordinate shifted by the seed. Widths are the 10 and 90 %
//! points of each distribution.
//!
//! Not here: running the members (`forecast`).
//!
//! Held against: `tests/science/forecast.rs` (scipy.stats points, stratification).

use crate::heap::{Heap, Kinetics};
use crate::mix::Totals;
use crate::quantity::bounds;

/// Numbers drawn for a member.
const DIMENSIONS: usize = 12;
/// One prime a coordinate.
const PRIMES: [f64; DIMENSIONS] = [
    2.0, 3.0, 5.0, 7.0, 11.0, 13.0, 17.0, 19.0, 23.0, 29.0, 31.0, 37.0,
];
/// Standard normal deviate of the 90 % point (scipy.stats.norm.ppf(0.9)).
const Z90: f64 = 1.281_551_565_544_600_4;
/// Members stay within this many deviates, so that no far tail leaves what the model covers.
const Z_MOST: f64 = 2.5;

/// How far each input is uncertain: factors are the ratio of the 90 % point to the middle, steps the
/// difference.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Widths {
    /// Effective particle size, factor. 1.5: the strongest unknown (tuned).
    pub particle_size_factor: f64,
    /// Bulk density as built, factor. 1.15 (`common practice`: how hard it is trodden).
    pub density_factor: f64,
    /// Moisture, step. 0.04 (`common practice`: a squeeze test tells no more).
    pub moisture_step: f64,
    /// Fast share of the carbon, step. 0.07 (pool splits are judgement).
    pub fast_share_step: f64,
    /// Rate of the fast pool, factor. 1.3 (lit. 0.10-0.40 per day).
    pub fast_rate_factor: f64,
    /// Crowding constant, factor. 2 (tuned, 0.01-0.05).
    pub crowding_factor: f64,
    /// Wind, factor. 1.5 (shelter of a garden; `common practice`).
    pub wind_factor: f64,
    /// Air temperature, step, K. 2 (one season against its mean; `common practice`).
    pub air_step_k: f64,
    /// Rain, factor. 1.6 (a month against its mean; `common practice`).
    pub rain_factor: f64,
    /// Slump, factor. 1.5 (tuned).
    pub slump_factor: f64,
    /// C:N of microbes, factor. 1.15 (lit. 5-12).
    pub microbe_cn_factor: f64,
    /// Free share of ammonia, factor downward only. 1.4 (tuned, 0.6-1).
    pub ammonia_factor: f64,
}

/// The widths in use.
pub const WIDTHS: Widths = Widths {
    particle_size_factor: 1.5,
    density_factor: 1.15,
    moisture_step: 0.04,
    fast_share_step: 0.07,
    fast_rate_factor: 1.3,
    crowding_factor: 2.0,
    wind_factor: 1.5,
    air_step_k: 2.0,
    rain_factor: 1.6,
    slump_factor: 1.5,
    microbe_cn_factor: 1.15,
    ammonia_factor: 1.4,
};

/// One member of an ensemble.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Sums of its mix.
    pub totals: Totals,
    /// Its heap.
    pub heap: Heap,
    /// Its kinetics.
    pub kinetics: Kinetics,
}

/// Point `number` of the sequence, each coordinate in 0-1 (ends left out).
pub fn point(number: usize, seed: u64) -> [f64; DIMENSIONS] {
    let mut state = seed ^ 0x9E37_79B9_7F4A_7C15;
    std::array::from_fn(|dimension| {
        // splitmix64 (Steele, Lea and Flood 2014) shifts each coordinate by its own amount.
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let shift = ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64;
        let step = PRIMES[dimension].sqrt().fract();
        (shift + number as f64 * step)
            .fract()
            .clamp(1e-9, 1.0 - 1e-9)
    })
}

/// Standard normal deviate of a share, kept within 2.5 either way.
///
/// Rational approximation of Acklam (2003), relative error below 1.2e-9.
pub fn deviate(share: f64) -> f64 {
    const A: [f64; 6] = [
        -3.969_683_028_665_376e1,
        2.209_460_984_245_205e2,
        -2.759_285_104_469_687e2,
        1.383_577_518_672_69e2,
        -3.066_479_806_614_716e1,
        2.506_628_277_459_239,
    ];
    const B: [f64; 5] = [
        -5.447_609_879_822_406e1,
        1.615_858_368_580_409e2,
        -1.556_989_798_598_866e2,
        6.680_131_188_771_972e1,
        -1.328_068_155_288_572e1,
    ];
    const C: [f64; 6] = [
        -7.784_894_002_430_293e-3,
        -3.223_964_580_411_365e-1,
        -2.400_758_277_161_838,
        -2.549_732_539_343_734,
        4.374_664_141_464_968,
        2.938_163_982_698_783,
    ];
    const D: [f64; 4] = [
        7.784_695_709_041_462e-3,
        3.224_671_290_700_398e-1,
        2.445_134_137_142_996,
        3.754_408_661_907_416,
    ];
    let poly = |coefficients: &[f64], x: f64| coefficients.iter().fold(0.0, |sum, c| sum * x + c);
    let tail = |p: f64| {
        let q = (-2.0 * p.ln()).sqrt();
        poly(&C, q) / (poly(&D, q) * q + 1.0)
    };
    let z = if share < 0.024_25 {
        tail(share)
    } else if share > 1.0 - 0.024_25 {
        -tail(1.0 - share)
    } else {
        let q = share - 0.5;
        let r = q * q;
        poly(&A, r) * q / (poly(&B, r) * r + 1.0)
    };
    z.clamp(-Z_MOST, Z_MOST)
}

/// Member `number`; 0 holds the typical values.
pub fn member(totals: &Totals, heap: &Heap, number: usize, seed: u64) -> Member {
    let typical = Member {
        totals: *totals,
        heap: heap.clone(),
        kinetics: Kinetics::default(),
    };
    if number == 0 {
        return typical;
    }
    let z = point(number, seed).map(deviate);
    let factor = |z: f64, width: f64| (z / Z90 * width.ln()).exp();
    let step = |z: f64, width: f64| z / Z90 * width;
    let w = &WIDTHS;
    let Member {
        mut totals,
        mut heap,
        mut kinetics,
    } = typical;
    totals.volume_by_particle_size_m2 /= factor(z[0], w.particle_size_factor);
    pack(&mut totals, factor(z[1], w.density_factor));
    wet(&mut totals, step(z[2], w.moisture_step));
    shift_fast(&mut totals, step(z[3], w.fast_share_step));
    kinetics.fast_per_day *= factor(z[4], w.fast_rate_factor);
    kinetics.crowding *= factor(z[5], w.crowding_factor);
    heap.climate.wind_m_per_s =
        (heap.climate.wind_m_per_s * factor(z[6], w.wind_factor)).min(bounds::WIND.high);
    for mean in &mut heap.climate.monthly_mean_c {
        *mean = (*mean + step(z[7], w.air_step_k))
            .clamp(bounds::AIR_TEMPERATURE.low, bounds::AIR_TEMPERATURE.high);
    }
    for rain in &mut heap.climate.monthly_rain_mm {
        *rain = (*rain * factor(z[8], w.rain_factor)).min(bounds::RAIN.high);
    }
    let slump = (totals.slump_share() * factor(z[9], w.slump_factor)).min(0.6);
    totals.volume_that_slumps_m3 = slump * totals.piled_volume_m3;
    kinetics.microbe_cn *= factor(z[10], w.microbe_cn_factor);
    kinetics.ammonia_free_share /= factor(z[11].abs(), w.ammonia_factor);
    Member {
        totals,
        heap,
        kinetics,
    }
}

/// The same matter in less (or more) room.
fn pack(totals: &mut Totals, density_factor: f64) {
    totals.piled_volume_m3 /= density_factor;
    totals.volume_by_particle_size_m2 /= density_factor;
    totals.volume_that_slumps_m3 /= density_factor;
}

/// Wetter or drier by a step of moisture, dry matter kept.
fn wet(totals: &mut Totals, moisture_step: f64) {
    if totals.dry_kg > 0.0 {
        let moisture = (totals.moisture() + moisture_step).clamp(0.02, 0.95);
        totals.water_kg = totals.dry_kg * moisture / (1.0 - moisture);
    }
}

/// More or less of the carbon in the fast pool, at the cost of the medium and slow ones.
fn shift_fast(totals: &mut Totals, share_step: f64) {
    let others = totals.carbon_medium_kg + totals.carbon_slow_kg;
    let food = totals.carbon_fast_kg + others;
    if others <= 0.0 || totals.carbon_fast_kg <= 0.0 {
        return;
    }
    let fast = (totals.carbon_fast_kg + share_step * totals.carbon_kg)
        .clamp(0.1 * totals.carbon_fast_kg, 0.9 * food);
    let kept = (food - fast) / others;
    totals.carbon_fast_kg = fast;
    totals.carbon_medium_kg *= kept;
    totals.carbon_slow_kg *= kept;
}
