//! A step worked out: new temperature, water and oxygen, and whether they make sense.
//!
//! In: the run and a length. Out: an [`Attempt`]; what the step would change lies in the working memory.
//!
//! Nothing of the heap changes before a step is taken, except the oxygen, which can be put back.
//!
//! Not here: the choice of the length (`clock`), what taking it changes (`take`).
//!
//! Tested by: `tests/science/ledgers.rs`, `tests/science/heap_convergence.rs`.

use crate::heap::grid::Facing;
use crate::heap::ice::Wet;
use crate::heap::outside::Weather;
use crate::heap::oxygen::{PoreOxygen, Supply};
use crate::heap::rot::{self, Kinetics, RotPools};
use crate::heap::surface::{self, Behind, Outside};
use crate::heap::transport::{Drive, THETA};

use super::parts::{REDONE_BEYOND, Run, SECONDS_PER_DAY, carriers};

/// Outside these the model means nothing, degC.
const MEANINGFUL_C: (f64, f64) = (-100.0, 98.0);
/// Least share of its heat capacity that a cell keeps when the growth of rot with warmth is made implicit, 0-1
/// (tuned, reason not recorded).
const CAPACITY_LEAST_SHARE: f64 = 0.7;
/// Greatest relative change of the speed of rot per kelvin that is followed, 1/K (tuned: beyond it lie the cold
/// and hot ends where rot starts from nothing).
const ROT_SLOPE_MOST_PER_K: f64 = 2.0;

/// What a step that was worked out looks like.
pub(super) struct Attempt {
    /// Largest change of temperature of a cell, weighted as the resolution says, K.
    pub(super) largest_change_k: f64,
    /// Whether every value means something.
    pub(super) sound: bool,
}

/// Water made per carbon oxidised, kg/kg: what is left of matter and oxygen after carbon dioxide.
pub(super) fn water_per_carbon(carbon_share: f64) -> f64 {
    1.0 / carbon_share + rot::OXYGEN_PER_CARBON - rot::CARBON_DIOXIDE_PER_CARBON
}

/// Heat capacity (J/K) less what the growth of rot with warmth makes implicit: heat of rot over the step, J, and its
/// relative change per kelvin.
fn with_growth(capacity: f64, heat: f64, slope: f64) -> f64 {
    (capacity - THETA * heat * slope).max(CAPACITY_LEAST_SHARE * capacity)
}

/// What microbes become that grow by this share of themselves: the exponential function to second order, at least half.
fn grown(share: f64) -> f64 {
    (1.0 + share + 0.5 * share * share).max(0.5)
}

impl Run<'_> {
    /// Works out a step of `dt` seconds without taking it.
    pub(super) fn attempt(&mut self, dt: f64) -> Attempt {
        let days = dt / SECONDS_PER_DAY;
        let weather = self.weather(days);
        self.scratch.outside = weather.side;
        let coldest_c = self.rot_at_full_oxygen(days);
        self.exchanges(&weather);
        let (body, scratch) = (&self.body, &mut self.scratch);
        let drive = Drive {
            temperature: &body.state.temperature,
            water: &body.state.water,
            source: &scratch.heat_source,
            air: &scratch.pore_air,
            outward_flow: &scratch.airflow.outward,
            upward_flow: &scratch.airflow.upward,
        };
        scratch.transport.advance(&body.grid, dt, &drive);
        // A heap that no step but a brisk one could bring to freezing is left alone.
        if coldest_c < REDONE_BEYOND * self.resolution.change_k {
            let (heat, slope) = (&scratch.heat_source, &scratch.rot_slope);
            let (dry, water) = (&scratch.dry, &body.state.water);
            scratch.freezing.follow(
                &mut scratch.transport,
                &body.grid,
                dt,
                &drive,
                |c| Wet {
                    dry: dry[c],
                    water: water[c],
                },
                |c, plain| with_growth(plain, heat[c], slope[c]),
            );
        }
        self.breathe(dt);
        self.judge(days)
    }

    /// Undoes the only thing that an attempt changes.
    pub(super) fn put_oxygen_back(&mut self) {
        let (body, scratch) = (&mut self.body, &self.scratch);
        body.state.oxygen.copy_from_slice(&scratch.old_oxygen);
        body.carried_oxygen_kg
            .copy_from_slice(&scratch.old_carried_oxygen);
    }

    /// Rates at full oxygen with the pools of mid-step, and the heat the solver calculates with. Gives the coldest
    /// temperature, degC.
    fn rot_at_full_oxygen(&mut self, days: f64) -> f64 {
        let (body, scratch) = (&self.body, &mut self.scratch);
        let kinetics = Kinetics {
            mineral_use_days: body.kinetics.mineral_use_days.max(2.0 * days),
            ..body.kinetics
        };
        let mut coldest_c = f64::INFINITY;
        for c in body.grid.cells() {
            let s = &body.state;
            let t = s.temperature[c];
            coldest_c = coldest_c.min(t);
            let at = self.tables.at(t);
            let last = &scratch.last_rates[c];
            let half = 0.5 * days;
            let pools = RotPools {
                carbon: std::array::from_fn(|i| (s.carbon[i][c] - half * last.uptake[i]).max(0.0)),
                microbes: s.microbes[c] * grown(half * scratch.last_growth[c]),
                microbe_nitrogen: s.microbe_nitrogen[c],
                mineral_nitrogen: s.mineral[c],
                nitrogen_per_carbon: std::array::from_fn(|i| body.matter.nitrogen_per_carbon[i][c]),
                wood: body.properties.wood_share[c],
            };
            let (sour, gate) = (body.properties.sour[c], rot::sour_gate(t));
            let sweet = 1.0 - sour * gate;
            let surroundings = at.rot * body.properties.rot_factor[c] * sweet;
            let rates = rot::rates(&pools, surroundings, at.rot, &kinetics);
            let volume = body.grid.volume_m3[c];
            let heat = rates.oxidised
                * scratch.oxygen.share[c]
                * days
                * volume
                * rot::HEAT_PER_CARBON_J_PER_KG;
            let wet = Wet {
                dry: scratch.dry[c],
                water: s.water[c],
            };
            let slope = if at.rot > 1e-6 {
                let souring = if gate > 0.0 && gate < 1.0 {
                    0.1 * sour / sweet
                } else {
                    0.0
                };
                (at.rot_slope / at.rot - souring).clamp(-ROT_SLOPE_MOST_PER_K, ROT_SLOPE_MOST_PER_K)
            } else {
                0.0
            };
            scratch.rates[c] = rates;
            scratch.microbes[c] = pools.microbes;
            scratch.rot_slope[c] = slope;
            scratch.heat_source[c] = heat;
            scratch.heat_before[c] = volume * wet.enthalpy(t);
            scratch.transport.capacity[c] = with_growth(volume * wet.capacity(t), heat, slope);
        }
        coldest_c
    }

    /// Heat and water through every exposed face.
    fn exchanges(&mut self, weather: &Weather) {
        let (body, scratch) = (&self.body, &mut self.scratch);
        let raised = Outside {
            felt_c: weather.air_c,
            ..weather.side
        };
        for (i, face) in body.grid.exposed.iter().enumerate() {
            let c = face.cell;
            let outside = match (face.facing, scratch.dressed[i].on_ground) {
                (_, true) => Outside {
                    felt_c: body.ground.node_c[i],
                    ..weather.side
                },
                (Facing::Base, false) => raised,
                (Facing::Side, false) => weather.side,
                (Facing::Top, false) => weather.top,
            };
            let behind = Behind {
                temperature_c: body.state.temperature[c],
                activity: scratch.water_activity[c],
                enthalpy_slope: scratch.pore_air.enthalpy_slope[c],
            };
            scratch.transport.exposed[i] = surface::exchange(
                &scratch.faces[i],
                &behind,
                &outside,
                scratch.airflow.exposed[i],
                &self.tables,
            );
        }
    }

    /// Oxygen for rot at the temperature of mid-step; afterwards `rates` hold what really happens.
    fn breathe(&mut self, dt: f64) {
        let (body, scratch) = (&mut self.body, &mut self.scratch);
        let days = dt / SECONDS_PER_DAY;
        for c in body.grid.cells() {
            let warmer =
                (1.0 + 0.5 * scratch.rot_slope[c] * scratch.transport.change[c]).clamp(0.0, 2.0);
            scratch.rates[c] = scratch.rates[c].times(warmer);
            scratch.wanted_oxygen[c] =
                scratch.rates[c].oxidised * days * body.grid.volume_m3[c] * rot::OXYGEN_PER_CARBON;
        }
        scratch.old_oxygen.copy_from_slice(&body.state.oxygen);
        scratch
            .old_carried_oxygen
            .copy_from_slice(&body.carried_oxygen_kg);
        if self.resolution.isolated {
            scratch.oxygen.share.fill(1.0);
            scratch.oxygen.taken_in_kg = scratch.wanted_oxygen.iter().sum();
            return;
        }
        let supply = Supply {
            carriers: carriers(
                &scratch.airflow,
                &scratch.transport,
                &scratch.exposed_diffusion,
            ),
            store: &body.pore_air_kg,
            wanted: &scratch.wanted_oxygen,
            half: body.kinetics.half_oxygen,
            dt,
        };
        let pores = PoreOxygen {
            fraction: &mut body.state.oxygen,
            carried_kg: &mut body.carried_oxygen_kg,
        };
        scratch
            .oxygen
            .solve(&body.grid, &supply, pores, self.resolution.oxygen_passes);
        for c in body.grid.cells() {
            scratch.rates[c] = scratch.rates[c].times(scratch.oxygen.share[c]);
        }
    }

    /// New temperature and water, and whether they make sense.
    fn judge(&mut self, days: f64) -> Attempt {
        let (body, scratch) = (&self.body, &mut self.scratch);
        let made = water_per_carbon(body.carbon_share);
        let mut attempt = Attempt {
            largest_change_k: 0.0,
            sound: true,
        };
        for c in body.grid.cells() {
            let volume = body.grid.volume_m3[c];
            let oxidised = scratch.rates[c].oxidised * days;
            let heat = scratch.heat_before[c] + oxidised * rot::HEAT_PER_CARBON_J_PER_KG * volume
                - scratch.transport.heat_out[c];
            let water =
                body.state.water[c] + oxidised * made - scratch.transport.water_out[c] / volume;
            let dry = scratch.dry[c] - oxidised / body.carbon_share;
            let t = Wet { dry, water }.temperature(heat / volume);
            let change = (t - body.state.temperature[c]).abs();
            // Comparisons with a value that is not a number are false, so it is never sound.
            attempt.sound &= t > MEANINGFUL_C.0 && t < MEANINGFUL_C.1 && water >= 0.0;
            let counted = change * scratch.step_weight[c];
            if counted > attempt.largest_change_k {
                attempt.largest_change_k = counted;
            }
            scratch.new_temperature[c] = t;
            scratch.new_water[c] = water;
        }
        attempt
    }
}
