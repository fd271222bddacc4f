//! One step of a run: tried, judged, taken.
//!
//! In: the run and a length. Out: whether the step is sound; when taken, the new state and the books.
//!
//! Nothing of the state changes before a step is taken, except the oxygen field, which is put back.
//!
//! Not here: the choice of the length (`run`).
//!
//! Tested by: `tests/science/ledgers.rs`, `tests/science/heap_convergence.rs`.

use crate::heap::ammonia::Carriers;
use crate::heap::cell::heat_capacity;
use crate::heap::grid::Facing;
use crate::heap::moist_air as air;
use crate::heap::outside::{self, Weather};
use crate::heap::oxygen::Supply;
use crate::heap::rot::{self, Kinetics, Pools};
use crate::heap::surface::{self, Behind, Outside};
use crate::heap::transport::{THETA, VAPOUR_HEAT_J_PER_KG, WATER_HEAT_CAPACITY_J_PER_KG_K};

use super::{DRAIN_M_PER_S, MEANINGFUL_C, Run, SECONDS_PER_DAY, Trial};

/// Water made per carbon oxidised, kg/kg: what is left of matter and oxygen after carbon dioxide.
fn water_per_carbon(carbon_share: f64) -> f64 {
    1.0 / carbon_share + rot::OXYGEN_PER_CARBON - rot::CARBON_DIOXIDE_PER_CARBON
}

impl Run<'_> {
    /// Works out a step of `dt` seconds without taking it.
    pub(super) fn try_step(&mut self, dt: f64) -> Trial {
        let day_of_year = self.day_of_year();
        let days = dt / SECONDS_PER_DAY;
        let weather = outside::weather(
            &self.heap.climate,
            self.heap.in_sun,
            day_of_year,
            day_of_year + days,
        );
        self.potentials(days);
        self.exchanges(&weather);
        let state = (
            &self.state.temperature[..],
            &self.state.water[..],
            &self.source[..],
        );
        let flows = (&self.airflow.outward[..], &self.airflow.upward[..]);
        self.transport
            .advance(&self.grid, dt, state, &self.pore, flows);
        self.breathe(dt);
        let trial = self.judge(days);
        if self.refuses(&trial, dt) {
            self.state.oxygen.copy_from_slice(&self.old_oxygen);
            self.oxygen.carried_kg.copy_from_slice(&self.old_carried);
        }
        trial
    }

    /// Rates at full oxygen with the pools of mid-step, and the heat the solver calculates with.
    fn potentials(&mut self, days: f64) {
        let kinetics = Kinetics {
            mineral_use_days: self.kinetics.mineral_use_days.max(2.0 * days),
            ..self.kinetics
        };
        for c in self.grid.cells() {
            let at = self.tables.at(self.state.temperature[c]);
            let s = &self.state;
            let last = &self.last[c];
            let half = 0.5 * days;
            let pools = Pools {
                carbon: std::array::from_fn(|i| (s.carbon[i][c] - half * last.uptake[i]).max(0.0)),
                microbes: (s.microbes[c] + half * (last.growth - last.death)).max(0.0),
                mineral_nitrogen: s.mineral[c],
                nitrogen_per_carbon: std::array::from_fn(|i| self.matter.nitrogen_per_carbon[i][c]),
            };
            self.rates[c] = rot::rates(
                &pools,
                at.rot * self.properties.rot_factor[c],
                at.rot,
                &kinetics,
            );
            let volume = self.grid.volume_m3[c];
            let heat = self.rates[c].oxidised
                * self.oxygen.share[c]
                * days
                * volume
                * rot::HEAT_PER_CARBON_J_PER_KG;
            let capacity =
                volume * heat_capacity(self.matter.dry(s, c, self.carbon_share), s.water[c]);
            let slope = if at.rot > 1e-6 {
                (at.rot_slope / at.rot).clamp(-2.0, 2.0)
            } else {
                0.0
            };
            self.slope_share[c] = slope;
            self.source[c] = heat;
            self.potential[c] = capacity;
            self.transport.capacity[c] = (capacity - THETA * heat * slope).max(0.7 * capacity);
        }
    }

    /// Heat and water through every exposed face.
    fn exchanges(&mut self, weather: &Weather) {
        let raised = Outside {
            felt_c: weather.air_c,
            ..weather.side
        };
        for (i, face) in self.grid.exposed.iter().enumerate() {
            let c = face.cell;
            let outside = match (face.facing, self.dressed[i].on_ground) {
                (_, true) => Outside {
                    felt_c: self.ground.node_c[i],
                    ..weather.side
                },
                (Facing::Base, false) => raised,
                (Facing::Side, false) => weather.side,
                (Facing::Top, false) => weather.top,
            };
            let behind = Behind {
                temperature_c: self.state.temperature[c],
                activity: self.activity[c],
                enthalpy_slope: self.pore.enthalpy_slope[c],
            };
            self.transport.exposed[i] = surface::exchange(
                &self.faces[i],
                &behind,
                &outside,
                self.airflow.exposed[i],
                &self.tables,
            );
        }
    }

    /// Oxygen for rot at the temperature of mid-step; afterwards `rates` hold what really happens.
    fn breathe(&mut self, dt: f64) {
        let days = dt / SECONDS_PER_DAY;
        for c in self.grid.cells() {
            let warmer =
                (1.0 + 0.5 * self.slope_share[c] * self.transport.change[c]).clamp(0.0, 2.0);
            self.rates[c] = self.rates[c].times(warmer);
            self.wanted[c] =
                self.rates[c].oxidised * days * self.grid.volume_m3[c] * rot::OXYGEN_PER_CARBON;
        }
        self.old_oxygen.copy_from_slice(&self.state.oxygen);
        self.old_carried.copy_from_slice(&self.oxygen.carried_kg);
        if self.settings.isolated {
            self.oxygen.share.fill(1.0);
            self.oxygen.taken_in_kg = self.wanted.iter().sum();
            return;
        }
        let supply = Supply {
            flow: (&self.airflow.outward, &self.airflow.upward),
            diffusion: (
                &self.transport.outward.diffusion,
                &self.transport.upward.diffusion,
            ),
            exposed_flow: &self.airflow.exposed,
            exposed_diffusion: &self.exposed_diffusion,
            store: &self.store,
            wanted: &self.wanted,
            half: self.kinetics.half_oxygen,
            dt,
        };
        self.oxygen.solve(
            &self.grid,
            &supply,
            &mut self.state.oxygen,
            self.settings.oxygen_sweeps,
        );
        for c in self.grid.cells() {
            self.rates[c] = self.rates[c].times(self.oxygen.share[c]);
        }
    }

    /// New temperature and water, and whether they make sense.
    fn judge(&mut self, days: f64) -> Trial {
        let made = water_per_carbon(self.carbon_share);
        let mut trial = Trial {
            largest_change: 0.0,
            sound: true,
        };
        for c in self.grid.cells() {
            let volume = self.grid.volume_m3[c];
            let oxidised = self.rates[c].oxidised * days;
            let heat = self.potential[c] * self.state.temperature[c]
                + oxidised * rot::HEAT_PER_CARBON_J_PER_KG * volume
                - self.transport.heat_out[c];
            let water =
                self.state.water[c] + oxidised * made - self.transport.water_out[c] / volume;
            let dry =
                self.matter.dry(&self.state, c, self.carbon_share) - oxidised / self.carbon_share;
            let t = heat / (volume * heat_capacity(dry, water));
            let change = (t - self.state.temperature[c]).abs();
            // Comparisons with a value that is not a number are false, so it is never sound.
            trial.sound &= t > MEANINGFUL_C.0 && t < MEANINGFUL_C.1 && water >= 0.0;
            if change > trial.largest_change {
                trial.largest_change = change;
            }
            self.new_temperature[c] = t;
            self.new_water[c] = water;
        }
        trial
    }

    /// Takes the step just tried.
    pub(super) fn accept(&mut self, dt: f64) {
        let days = dt / SECONDS_PER_DAY;
        let multiple = self.skin.multiple;
        let (mut oxidised, mut wanted) = (0.0, 0.0);
        for c in self.grid.cells() {
            let r = self.rates[c];
            let s = &mut self.state;
            for pool in 0..3 {
                s.carbon[pool][c] -= r.uptake[pool] * days;
            }
            s.microbes[c] += (r.growth - r.death) * days;
            s.humus[c] += r.humus * days;
            s.mineral[c] += r.nitrogen_freed * days;
            s.temperature[c] = self.new_temperature[c];
            s.water[c] = self.new_water[c];
            self.last[c] = r;
            oxidised += r.oxidised * days * self.grid.volume_m3[c];
            wanted += self.wanted[c] / rot::OXYGEN_PER_CARBON;
        }
        let ledger = &mut self.ledger;
        ledger.carbon_oxidised_kg += oxidised * multiple;
        ledger.heat_made_j += oxidised * multiple * rot::HEAT_PER_CARBON_J_PER_KG;
        ledger.water_made_kg += oxidised * multiple * water_per_carbon(self.carbon_share);
        ledger.oxygen_used_kg += oxidised * multiple * rot::OXYGEN_PER_CARBON;
        ledger.oxygen_supplied_kg += self.oxygen.taken_in_kg * multiple;
        self.wanted_carbon += wanted * multiple;
        self.book_skin(dt);
        self.let_ammonia_go(dt);
        self.rain_and_drain(dt);
    }

    /// Books what crossed the skin and warms the ground.
    fn book_skin(&mut self, dt: f64) {
        let multiple = self.skin.multiple;
        let (from, days) = (self.day_of_year(), dt / SECONDS_PER_DAY);
        let deep_c = self.heap.climate.ground_c(from, outside::DEEP_M);
        let weather = outside::weather(&self.heap.climate, self.heap.in_sun, from, from + days);
        let fresh = air::enthalpy_j_per_kg(weather.air_c, weather.humidity);
        for (i, (heat, water)) in self.transport.exposed_out.iter().enumerate() {
            let steam = water * VAPOUR_HEAT_J_PER_KG;
            self.ledger.water_vapour_kg += water * multiple;
            self.ledger.heat_vapour_j += steam * multiple;
            let conducted = if self.dressed[i].on_ground {
                // What air brings or takes through gaps at the foot is not the ground's.
                let (face, flow) = (&self.grid.exposed[i], self.airflow.exposed[i]);
                let carried = flow.max(0.0) * self.pore.enthalpy[face.cell] + flow.min(0.0) * fresh;
                let conducted = heat - dt * carried;
                self.ground.warm(i, conducted, face.area_m2, deep_c, dt);
                conducted
            } else {
                0.0
            };
            self.ledger.heat_ground_j += conducted * multiple;
            self.ledger.heat_surface_j += (heat - steam - conducted) * multiple;
        }
    }

    fn let_ammonia_go(&mut self, dt: f64) {
        let carriers = Carriers {
            flow: (&self.airflow.outward, &self.airflow.upward),
            diffusion: (
                &self.transport.outward.diffusion,
                &self.transport.upward.diffusion,
            ),
            exposed_flow: &self.airflow.exposed,
            exposed_diffusion: &self.exposed_diffusion,
        };
        let lost = self.ammonia.step(
            &self.grid,
            dt,
            &carriers,
            &self.volatility,
            &self.state.mineral,
        );
        for c in self.grid.cells() {
            self.state.mineral[c] -= self.ammonia.out_kg[c] / self.grid.volume_m3[c];
        }
        self.ledger.nitrogen_ammonia_kg += lost * self.skin.multiple;
    }

    /// Rain onto the top, then surplus water down, row by row, and out at the base.
    fn rain_and_drain(&mut self, dt: f64) {
        let day_of_year = self.day_of_year();
        let open = if self.settings.isolated { 0.0 } else { 1.0 };
        let share = open * self.skin.rain_share * self.cover.rain_share();
        let rain = dt * share * self.heap.climate.rain_mm_per_day(day_of_year) / SECONDS_PER_DAY;
        let rain_c = self.heap.climate.daily_mean_c(day_of_year).max(0.0);
        if rain > 0.0 {
            for i in 0..self.grid.exposed.len() {
                let face = self.grid.exposed[i];
                if face.facing == Facing::Top {
                    let kg = rain * face.area_m2;
                    self.pour(face.cell, kg, rain_c);
                    self.ledger.water_rain_kg += kg * self.skin.multiple;
                    self.ledger.heat_drained_j -=
                        kg * self.skin.multiple * WATER_HEAT_CAPACITY_J_PER_KG_K * rain_c;
                }
            }
        }
        for row in (0..self.grid.up).rev() {
            for column in 0..self.grid.across {
                let c = self.grid.cell(column, row);
                if self.grid.active[c] {
                    self.drain(c, row, dt);
                }
            }
        }
    }

    /// Surplus water sinks at its speed: implicit, from the top down, so any step is stable.
    fn drain(&mut self, c: usize, row: usize, dt: f64) {
        let dry = self.matter.dry(&self.state, c, self.carbon_share);
        let held = self.matter.water_held[c] * dry / self.matter.dry_as_built[c];
        let surplus = self.state.water[c] - held;
        if surplus <= 0.0 {
            return;
        }
        let cells = dt * DRAIN_M_PER_S / (self.grid.height_m[c] * self.properties.settled[c]);
        let kg = cells / (1.0 + cells) * surplus * self.grid.volume_m3[c];
        let t = self.state.temperature[c];
        // The cell keeps its temperature; the water takes its heat along.
        self.state.water[c] -= kg / self.grid.volume_m3[c];
        if row > 0 {
            self.pour(c - self.grid.stride, kg, t);
        } else {
            self.ledger.water_drained_kg += kg * self.skin.multiple;
            self.ledger.heat_drained_j +=
                kg * self.skin.multiple * WATER_HEAT_CAPACITY_J_PER_KG_K * t;
        }
    }

    /// Water of a temperature into a cell.
    pub(in crate::heap) fn pour(&mut self, c: usize, kg: f64, water_c: f64) {
        let volume = self.grid.volume_m3[c];
        let dry = self.matter.dry(&self.state, c, self.carbon_share);
        let before = volume * heat_capacity(dry, self.state.water[c]);
        let added = kg * WATER_HEAT_CAPACITY_J_PER_KG_K;
        self.state.temperature[c] =
            (before * self.state.temperature[c] + added * water_c) / (before + added);
        self.state.water[c] += kg / volume;
    }
}
