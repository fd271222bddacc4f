//! The expensive functions of temperature, tabulated once per run.
//!
//! In: temperature. Out: value and slope of humidity ratio (over ice in frost), temperature factor, ammonia volatility,
//! and density of saturated air, by straight lines between entries half a degree apart.
//!
//! One entry is eight numbers, so one look-up touches one cache line; slopes come with the values, so
//! the implicit Jacobian is that of the function used. Error of the humidity ratio: 2e-4 of it from 0 to 60 degC.
//! The two functions of ammonia are steps, each entry with the value of its middle: up to 3 % off, but not in the mean.
//!
//! Not here: the functions themselves (`moist_air`, `rot`).
//!
//! Tested by: `tests/science/tables.rs`.

use super::moist_air as air;
use super::rot;

const LOWEST_C: f64 = -60.0;
const HIGHEST_C: f64 = 99.0;
const PER_DEGREE: f64 = 2.0;
const ENTRIES: usize = ((HIGHEST_C - LOWEST_C) * PER_DEGREE) as usize + 1;

/// Functions of temperature at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtTemperature {
    /// Humidity ratio of saturated air, kg/kg.
    pub humidity: f64,
    /// Its slope, 1/K.
    pub humidity_slope: f64,
    /// Temperature factor of rot, 0-1.
    pub rot: f64,
    /// Its slope, 1/K.
    pub rot_slope: f64,
    /// `10^(pKa - 8)` of ammonium.
    pub ammonium: f64,
    /// Gas to liquid partition of ammonia, m3 water per m3 gas.
    pub volatility: f64,
    /// Density of saturated air, kg/m3.
    pub density: f64,
}

/// The table.
#[derive(Debug, Clone)]
pub struct Tables {
    // humidity, slope, rot, slope, ammonium, volatility, density, density slope
    entries: Vec<[f64; 8]>,
}

impl Tables {
    /// The table for these cardinal temperatures.
    pub fn new(cardinal_c: [f64; 3]) -> Self {
        let at = |i: usize| {
            let t = LOWEST_C + i as f64 / PER_DEGREE;
            let w = air::humidity_over_matter(t);
            // Without a slope of their own, so the value of the middle stands for the whole entry.
            let middle = t + 0.5 / PER_DEGREE;
            [
                w,
                rot::temperature_factor(t, cardinal_c),
                10f64.powf(rot::ammonia_pka(middle) - 8.0),
                rot::ammonia_partition(middle),
                air::density_kg_per_m3(t, w),
            ]
        };
        let values: Vec<[f64; 5]> = (0..=ENTRIES).map(at).collect();
        let entries = values
            .iter()
            .zip(&values[1..])
            .map(|(a, b)| {
                let slope = |k: usize| (b[k] - a[k]) * PER_DEGREE;
                [a[0], slope(0), a[1], slope(1), a[2], a[3], a[4], slope(4)]
            })
            .collect();
        Self { entries }
    }

    /// All functions at a temperature; beyond the table its end counts.
    pub fn at(&self, temperature_c: f64) -> AtTemperature {
        let place = (temperature_c - LOWEST_C) * PER_DEGREE;
        // A temperature that is not a number takes the first entry; the run notices it elsewhere.
        let index = (place as usize).min(ENTRIES - 1);
        let e = &self.entries[index];
        let x = (place - index as f64) / PER_DEGREE;
        let x = if x > 0.0 {
            if x < 1.0 { x } else { 1.0 }
        } else {
            0.0
        };
        AtTemperature {
            humidity: e[0] + e[1] * x,
            humidity_slope: e[1],
            rot: e[2] + e[3] * x,
            rot_slope: e[3],
            ammonium: e[4],
            volatility: e[5],
            density: e[6] + e[7] * x,
        }
    }
}
