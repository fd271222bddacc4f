//! A step taken: the heap's new state and the books.
//!
//! In: the run with a step worked out, and its length. Out: the heap after it, ammonia gone, rain fallen, surplus
//! water drained, the ledger kept.
//!
//! Not here: how the step was worked out (`attempt`), rain and drainage (`rain`).
//!
//! Tested by: `tests/science/ledgers.rs`, `tests/science/heap_cases.rs`.

use crate::heap::cell::{Matter, State};
use crate::heap::moist_air as air;
use crate::heap::rot;
use crate::heap::transport::VAPOUR_HEAT_J_PER_KG;

use super::attempt::water_per_carbon;
use super::parts::{Run, SECONDS_PER_DAY, carriers};
use super::rain::{drain, rain};

impl Run<'_> {
    /// Takes the step just worked out.
    pub(super) fn take(&mut self, dt: f64) {
        self.take_rot(dt / SECONDS_PER_DAY);
        self.book_skin(dt);
        self.let_ammonia_go(dt);
        self.let_nitrogen_gas_go(dt / SECONDS_PER_DAY);
        if !self.resolution.isolated {
            rain(&mut self.body, dt);
        }
        drain(&mut self.body, dt);
    }

    /// New temperature, water and pools, and what rot adds to the books.
    fn take_rot(&mut self, days: f64) {
        let (body, scratch) = (&mut self.body, &mut self.scratch);
        let multiple = body.skin.multiple;
        let (mut oxidised, mut wanted) = (0.0, 0.0);
        for c in body.grid.cells() {
            let r = scratch.rates[c];
            let s = &mut body.state;
            for pool in 0..3 {
                s.carbon[pool][c] -= r.uptake[pool] * days;
            }
            s.microbes[c] += (r.growth - r.death) * days;
            s.microbe_nitrogen[c] += (r.nitrogen_taken - r.nitrogen_of_dead) * days;
            body.matter.fixed_nitrogen[c] += r.nitrogen_buried * days;
            s.humus[c] += r.humus * days;
            s.mineral[c] += r.nitrogen_freed * days;
            let middle_c = 0.5 * (s.temperature[c] + scratch.new_temperature[c]);
            s.temperature[c] = scratch.new_temperature[c];
            s.water[c] = scratch.new_water[c];
            s.airless[c] += (1.0 - scratch.oxygen.share[c] - s.airless[c]) * (days / (days + 1.0));
            scratch.last_rates[c] = r;
            let dead = rot::die_off_per_day(middle_c, &body.kinetics) * days;
            let killed = if dead > 0.0 {
                die_off(s, &mut body.matter, c, -(-dead).exp_m1()) / days
            } else {
                0.0
            };
            scratch.last_growth[c] = (r.growth - r.death - killed) / scratch.microbes[c].max(1e-12);
            oxidised += r.oxidised * days * body.grid.volume_m3[c];
            wanted += scratch.wanted_oxygen[c] / rot::OXYGEN_PER_CARBON;
        }
        let ledger = &mut body.ledger;
        ledger.carbon_oxidised_kg += oxidised * multiple;
        ledger.heat_made_j += oxidised * multiple * rot::HEAT_PER_CARBON_J_PER_KG;
        ledger.water_made_kg += oxidised * multiple * water_per_carbon(body.carbon_share);
        ledger.oxygen_used_kg += oxidised * multiple * rot::OXYGEN_PER_CARBON;
        ledger.oxygen_supplied_kg += scratch.oxygen.taken_in_kg * multiple;
        body.wanted_carbon_kg += wanted * multiple;
    }

    /// Books what crossed the skin and warms the ground.
    fn book_skin(&mut self, dt: f64) {
        let outside = &self.scratch.outside;
        let fresh = air::enthalpy_j_per_kg(outside.air_c, outside.humidity);
        let (body, scratch) = (&mut self.body, &self.scratch);
        let multiple = body.skin.multiple;
        let deep_c = body.ground.deep_c(body.day_of_year());
        for (i, crossed) in scratch.transport.exposed_out.iter().enumerate() {
            let steam_j = crossed.water_kg * VAPOUR_HEAT_J_PER_KG;
            body.ledger.water_vapour_kg += crossed.water_kg * multiple;
            body.ledger.heat_vapour_j += steam_j * multiple;
            let conducted = if scratch.dressed[i].on_ground {
                // What air brings or takes through gaps at the foot is not the ground's.
                let (face, flow) = (&body.grid.exposed[i], scratch.airflow.exposed[i]);
                let carried =
                    flow.max(0.0) * scratch.pore_air.enthalpy[face.cell] + flow.min(0.0) * fresh;
                let conducted = crossed.heat_j - dt * carried;
                body.ground.warm(i, conducted, face.area_m2, deep_c, dt);
                conducted
            } else {
                0.0
            };
            body.ledger.heat_ground_j += conducted * multiple;
            body.ledger.heat_surface_j += (crossed.heat_j - steam_j - conducted) * multiple;
        }
    }

    fn let_ammonia_go(&mut self, dt: f64) {
        let (body, scratch) = (&mut self.body, &mut self.scratch);
        let carriers = carriers(
            &scratch.airflow,
            &scratch.transport,
            &scratch.exposed_diffusion,
        );
        let lost = scratch.ammonia.step(
            &body.grid,
            dt,
            &carriers,
            &scratch.volatility,
            &body.state.mineral,
        );
        for c in body.grid.cells() {
            body.state.mineral[c] -= scratch.ammonia.out_kg[c] / body.grid.volume_m3[c];
        }
        body.ledger.nitrogen_ammonia_kg += lost * body.skin.multiple;
    }

    /// Mineral nitrogen that is nitrified and lost as dinitrogen.
    fn let_nitrogen_gas_go(&mut self, days: f64) {
        let body = &mut self.body;
        let most = body.kinetics.nitrified_and_lost_per_day * days;
        let mut lost = 0.0;
        for c in body.grid.cells() {
            let s = &mut body.state;
            let share = most
                * body.properties.rot_factor[c]
                * rot::nitrogen_gas_factor(s.temperature[c], s.oxygen[c]);
            let gone = s.mineral[c] * share / (1.0 + share);
            s.mineral[c] -= gone;
            lost += gone * body.grid.volume_m3[c];
        }
        body.ledger.nitrogen_gas_kg += lost * body.skin.multiple;
    }
}

/// A share of the microbes of a cell dies of heat and is food again: their carbon joins the medium pool, and their
/// nitrogen with it. Gives the carbon, kg/m3.
fn die_off(state: &mut State, matter: &mut Matter, c: usize, share: f64) -> f64 {
    let carbon = share * state.microbes[c];
    let nitrogen = share * state.microbe_nitrogen[c];
    let (before, per_carbon) = (state.carbon[1][c], matter.nitrogen_per_carbon[1][c]);
    let after = before + carbon;
    if after > 0.0 {
        state.microbes[c] -= carbon;
        state.microbe_nitrogen[c] -= nitrogen;
        state.carbon[1][c] = after;
        matter.nitrogen_per_carbon[1][c] = (per_carbon * before + nitrogen) / after;
    }
    carbon
}
