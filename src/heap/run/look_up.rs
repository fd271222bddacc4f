//! Before a step: properties of the pore air at the present temperatures, and the air flow they drive.
//!
//! In: the run. Out: the same with pore air, volatility and air flow brought up to date; the longest step that
//! the air flow bears.
//!
//! Not here: what changes slowly (`refresh`), the flow itself (`airflow`).
//!
//! Tested by: `tests/science/heap_convergence.rs`, `tests/science/ledgers.rs`.

use crate::heap::cell::heat_capacity;
use crate::heap::moist_air as air;

use super::parts::{Run, SECONDS_PER_DAY};

/// Air changes of a cell's heat per step beyond which the buoyancy feedback needs shorter steps (tuned against the
/// limits of carrying in `transport`: 6 where conduction still smooths).
const ADVECTION_LIMIT: f64 = 6.0;

impl Run<'_> {
    /// Brings the pore air and the air flow up to date.
    pub(super) fn look_up(&mut self) {
        // Of the whole step, as far as its length is known: day and night would leave a step at noon a draught of noon.
        let expected_days = self.step_s.min(self.longest_step_s()) / SECONDS_PER_DAY;
        let outside_density = self.weather(expected_days).density;
        // Lime shifts every cell alike.
        let sourer = 10f64.powf(-self.body.kinetics.ph_raise);
        for c in self.body.grid.cells() {
            let (body, tables) = (&self.body, &self.tables);
            let t = body.state.temperature[c];
            let at = tables.at(t);
            let dry = body.dry(c);
            let left = self.left_after_drying(c, at.humidity);
            let activity = air::water_activity(left / dry.max(1e-9));
            let (w, slope) = (activity * at.humidity, activity * at.humidity_slope);
            let scratch = &mut self.scratch;
            scratch.dry[c] = dry;
            scratch.water_activity[c] = activity;
            scratch.air_density[c] = at.density;
            let pore = &mut scratch.pore_air;
            pore.humidity[c] = w;
            pore.humidity_slope[c] = slope;
            pore.enthalpy[c] = air::enthalpy_j_per_kg(t, w);
            pore.enthalpy_slope[c] = air::DRY_AIR_HEAT_CAPACITY_J_PER_KG_K
                + w * air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K
                + slope
                    * (air::VAPORISATION_AT_0C_J_PER_KG + air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K * t);
            let free = 1.0 / (1.0 + at.ammonium * body.properties.acidity[c] * sourer);
            scratch.volatility[c] =
                body.kinetics.ammonia_free_share * 1000.0 * free * at.volatility
                    / at.density
                    / body.state.water[c].max(1.0);
        }
        self.scratch.airflow.solve(
            &self.body.grid,
            &self.scratch.air_density,
            outside_density,
            &self.body.properties.settled,
        );
    }

    /// Water that this cell will about still hold after a step of the usual length, kg/m3: the activity is
    /// taken there, so that a drying cell closes before it is empty.
    fn left_after_drying(&self, c: usize, saturated: f64) -> f64 {
        let (grid, scratch) = (&self.body.grid, &self.scratch);
        let water = self.body.state.water[c];
        let stride = grid.stride;
        let (fo, fu) = (&scratch.airflow.outward, &scratch.airflow.upward);
        let (go, gu) = (
            &scratch.transport.outward.diffusion,
            &scratch.transport.upward.diffusion,
        );
        let leaving = fo[c].max(0.0)
            + (-fo[c - 1]).max(0.0)
            + fu[c].max(0.0)
            + (-fu[c - stride]).max(0.0)
            + go[c]
            + go[c - 1]
            + gu[c]
            + gu[c - stride]
            + scratch.film_kg_per_s[c];
        let may_leave =
            self.step_s.min(self.longest_step_s()) * leaving * saturated / grid.volume_m3[c];
        // While little of it leaves nothing is taken off: half of what leaves in a step shifts the activity by less than
        // taking all of it would.
        let share = may_leave / water.max(1e-12);
        water * (1.0 + share) / (1.0 + share + share * share)
    }

    /// The longest step that the resolution allows, s.
    pub(super) fn longest_step_s(&self) -> f64 {
        self.resolution.step_hours * 3600.0
    }

    /// The longest step that the air flow bears, s.
    pub(super) fn advection_limit_s(&self) -> f64 {
        let (body, scratch) = (&self.body, &self.scratch);
        let (grid, air) = (&body.grid, &scratch.airflow);
        let mut fastest = 0.0f64;
        for c in grid.cells() {
            let out = air.outward[c].max(0.0)
                + (-air.outward[c - 1]).max(0.0)
                + air.upward[c].max(0.0)
                + (-air.upward[c - grid.stride]).max(0.0);
            let dry = body.matter.dry_as_built[c];
            let capacity = heat_capacity(dry, body.state.water[c]) * grid.volume_m3[c];
            fastest = fastest.max(out * scratch.pore_air.enthalpy_slope[c] / capacity);
        }
        if fastest > 0.0 {
            ADVECTION_LIMIT / fastest
        } else {
            f64::INFINITY
        }
    }
}
