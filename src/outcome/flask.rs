//! The flask: how much what is left would heat itself, and how it breathes.
//!
//! In: a record, the kinetics. Out: the highest rise in the self-heating (Dewar) test, breathing, C:N.
//!
//! What is left in the pools is put, in thought, into an self-heating (Dewar) flask at squeeze moisture with ample air,
//! at room temperature, and warms itself by the same kinetics as the heap: `C dT/dt = heat - C (T - room) / t`,
//! t the flask's own time of cooling. Its highest rise stands for the rise on turning and wetting.
//!
//! Not here: what is finished (`finish`).
//!
//! Tested by: `tests/science/outcome_finish.rs`.

use crate::heap::cell::heat_capacity;
use crate::heap::rot::{
    HEAT_PER_CARBON_J_PER_KG, RotPools, air_space_factor, moisture_factor, rates,
    temperature_factor,
};
use crate::heap::{Kinetics, Record};

/// Room that the flask stands in, degC (usual; Brinton et al. 1995 name room temperature).
const ROOM_C: f64 = 20.0;
/// Moisture of the sample, wet basis (`common practice`: squeeze test).
const FLASK_MOISTURE: f64 = 0.55;
/// Time in which a filled flask of 1.5 to 2 L loses 63 % of its warmth, h (tuned, 15-36: 0.04 W/K as good
/// vacuum flasks lose, 2.7-4.5 kJ/K as they hold).
const FLASK_COOLING_H: f64 = 18.0;
/// Length of the test, in steps of two hours (10 d).
const FLASK_STEPS: usize = 120;
/// A flask that has cooled to this share of its rise has had its peak.
const PAST_PEAK: f64 = 0.5;
/// Step of the test, h.
const FLASK_STEP_H: f64 = 2.0;
/// Free air space of the loosely filled sample.
const FLASK_AIR: f64 = 0.3;
/// Mineral nitrogen that cannot be used up, kg per kg dry matter.
const AMPLE: f64 = 1.0e3;
/// Microbes of what eats all it can, over those that eat half as fast (five: 83 % of full speed).
const FED_MICROBES: f64 = 5.0;
/// Temperature at which breathing is measured, degC.
const BREATHING_C: f64 = 37.0;
/// What an self-heating (Dewar) flask would show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flask {
    /// Highest rise above the room, K.
    pub rise_k: f64,
    /// When, d.
    pub after_days: f64,
}

impl Flask {
    /// Class of the self-heating test, 5 the most finished. Lines from memory (10, 20, 30, 40 K).
    pub fn class(&self) -> u8 {
        5 - (self.rise_k / 10.0).floor().clamp(0.0, 4.0) as u8
    }
}

/// The flask filled with what is left at a record.
pub fn flask(record: &Record, kinetics: &Kinetics) -> Flask {
    let dry = record.dry_kg.max(1e-12);
    let mut pools = RotPools {
        carbon: record.left.pools_kg.map(|kg| kg / dry),
        microbes: record.left.microbes_kg / dry,
        microbe_nitrogen: record.left.microbes_kg / dry / kinetics.microbe_cn,
        wood: 0.0,
        mineral_nitrogen: AMPLE,
        nitrogen_per_carbon: [0.0; 3],
    };
    let water = FLASK_MOISTURE / (1.0 - FLASK_MOISTURE);
    let capacity = heat_capacity(1.0, water);
    let wet = moisture_factor(FLASK_MOISTURE) * air_space_factor(FLASK_AIR);
    let step_days = FLASK_STEP_H / 24.0;
    let kept = (-FLASK_STEP_H / FLASK_COOLING_H).exp();
    let mut warm = 0.0f64;
    let mut best = Flask {
        rise_k: 0.0,
        after_days: 0.0,
    };
    for step in 1..=FLASK_STEPS {
        let f_t = temperature_factor(ROOM_C + warm, kinetics.cardinal_c);
        let rate = rates(&pools, f_t * wet, f_t, kinetics).times(step_days);
        for (pool, eaten) in pools.carbon.iter_mut().zip(rate.uptake) {
            *pool = (*pool - eaten).max(0.0);
        }
        pools.microbes = (pools.microbes + rate.growth - rate.death).max(0.0);
        warm = warm * kept + rate.oxidised * HEAT_PER_CARBON_J_PER_KG / capacity;
        if warm > best.rise_k {
            best = Flask {
                rise_k: warm,
                after_days: step as f64 * step_days,
            };
        } else if warm < PAST_PEAK * best.rise_k {
            break;
        }
    }
    best
}

/// Carbon that what is left would breathe out, moist and airy at 37 degC, kg per kg organic matter and day.
pub fn breathing_per_day(record: &Record, kinetics: &Kinetics) -> f64 {
    let organic = record.left.carbon_kg / record.left.carbon_share.max(1e-12);
    // As many microbes as that food feeds, not as few as a cold or young heap has.
    let fed = FED_MICROBES * kinetics.crowding * record.left.pools_kg.iter().sum::<f64>();
    let microbes = record.left.microbes_kg.max(fed);
    let pools = RotPools {
        carbon: record.left.pools_kg,
        microbes,
        microbe_nitrogen: microbes / kinetics.microbe_cn,
        wood: 0.0,
        mineral_nitrogen: AMPLE * organic,
        nitrogen_per_carbon: [0.0; 3],
    };
    let f_t = temperature_factor(BREATHING_C, kinetics.cardinal_c);
    rates(&pools, f_t, f_t, kinetics).oxidised / organic.max(1e-12)
}

/// C:N of a record; infinite without nitrogen.
pub fn carbon_nitrogen(record: &Record) -> f64 {
    if record.nitrogen_kg > 0.0 {
        record.left.carbon_kg / record.nitrogen_kg
    } else {
        f64::INFINITY
    }
}
