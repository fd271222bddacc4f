//! What changes slowly: settling, conductances of all faces, the factored pressure matrix.
//!
//! In: the run. Out: the same with these brought up to date, twice a day and after every operation.
//!
//! Not here: the laws behind them (`cell`, `surface`, `outside`), the look-ups of every step (`run`).
//!
//! Tested by: `tests/science/heap_convergence.rs`.

use crate::heap::grid::Facing;
use crate::heap::moist_air as air;
use crate::heap::outside;
use crate::heap::surface::{self, Face};

use super::Run;

/// Capillary conductivity for water, m2/s (tuned; smooths the drying front).
const CAPILLARY_M2_PER_S: f64 = 3.0e-9;
/// Pressure of the wind at the foot of a heap, mean over all sides, as a share of that of wind brought to rest (walls
/// of a low building by angle +0.60 to -0.68, mean -0.13: Swami and Chandra 1987, read in a public table for air-flow
/// programs; tuned beside it).
const WIND_AT_FOOT: f64 = -0.2;
/// The same at its top (low flat roofs -0.6 in the open, -0.4 to -0.5 behind obstructions of their height, same table;
/// the sheltered end, tuned).
const WIND_AT_TOP: f64 = -0.4;
/// Strongest wind whose pressure and gas film count, m/s: no garden heap stands in more for long (tuned).
const WIND_MOST_M_PER_S: f64 = 6.0;
/// Largest share of a cell's water difference that capillarity may move in one step.
const CAPILLARY_SHARE: f64 = 0.2;

impl Run<'_> {
    /// Refreshes everything that changes slowly.
    pub(super) fn refresh(&mut self) {
        let packed_days = self.day - self.packed_since;
        let stored = self.oxygen_stored_kg();
        self.properties.refresh(
            &self.grid,
            &self.state,
            &self.matter,
            self.carbon_share,
            packed_days,
        );
        self.dressed = outside::dress(&self.grid, &self.skin, self.cover);
        self.refresh_faces_between();
        self.refresh_exposed();
        self.airflow.factorise(&self.grid);
        // Settling squeezes air out and turning lets air in; its oxygen counts as taken in.
        self.ledger.oxygen_supplied_kg += self.oxygen_stored_kg() - stored;
        self.next_refresh = self.day + self.settings.refresh_hours / 24.0;
    }

    fn refresh_faces_between(&mut self) {
        let (grid, p) = (&self.grid, &self.properties);
        let cap = CAPILLARY_SHARE / (self.settings.step_hours * 3600.0);
        for c in grid.cells() {
            let t = self.state.temperature[c];
            let dry_density = 1.0 / air::volume_m3_per_kg(t, self.tables.at(t).humidity);
            let diffusivity = p.air_space[c] * p.air_space[c] * air::gas_diffusivity_m2_per_s(t);
            self.store[c] = grid.volume_m3[c] * p.settled[c] * p.air_space[c] * dry_density;
            // Per-cell conductivities, parked in scratch: heat, gas, flow.
            self.density[c] = diffusivity * dry_density;
            self.activity[c] = p.permeability[c] * dry_density / air::viscosity_pa_s(t);
        }
        for c in grid.cells() {
            for (faces, flow, other, area, half_a, half_b) in [
                (
                    &mut self.transport.outward,
                    &mut self.airflow.outward_conductance,
                    c + 1,
                    grid.outward_area_m2[c] * 0.5 * (p.settled[c] + p.settled[c + 1]),
                    0.5 * grid.width_m[c],
                    0.5 * grid.width_m[c + 1],
                ),
                (
                    &mut self.transport.upward,
                    &mut self.airflow.upward_conductance,
                    c + grid.stride,
                    grid.upward_area_m2[c],
                    0.5 * grid.height_m[c] * p.settled[c],
                    0.5 * grid.height_m[c + grid.stride] * p.settled[c + grid.stride],
                ),
            ] {
                if area <= 0.0 {
                    continue;
                }
                let series = |x: &[f64]| area / (half_a / x[c] + half_b / x[other]);
                faces.conduction[c] = series(&p.conductivity);
                faces.diffusion[c] = series(&self.density);
                flow[c] = series(&self.activity);
                let smaller = grid.volume_m3[c].min(grid.volume_m3[other]);
                faces.capillary[c] =
                    (CAPILLARY_M2_PER_S * area / (half_a + half_b)).min(cap * smaller);
            }
        }
    }

    fn refresh_exposed(&mut self) {
        let p = &self.properties;
        let film = outside::film_w_per_m2_k(self.heap.climate.wind_m_per_s);
        let wind = self.heap.climate.wind_m_per_s.min(WIND_MOST_M_PER_S);
        // Pressure of wind brought to rest.
        let stopped_pa = 0.5 * surface::FILM_AIR_KG_PER_M3 * wind * wind;
        self.film_leaving.fill(0.0);
        for (i, face) in self.grid.exposed.iter().enumerate() {
            let c = face.cell;
            let dressed = &self.dressed[i];
            let upright = face.facing == Facing::Side;
            let stretch = if upright { p.settled[c] } else { 1.0 };
            let depth = face.depth_m * if upright { 1.0 } else { p.settled[c] };
            let area = face.area_m2 * stretch * dressed.area_factor;
            let beside = if dressed.on_ground {
                self.ground.resistance_m2_k_per_w()
            } else {
                1.0 / film
            };
            let open_area = area * dressed.open_share;
            self.faces[i] = Face {
                inside_w_per_k: p.conductivity[c] * area / depth,
                film_w_per_k: area / (beside + dressed.resistance_m2_k_per_w),
                gas_film_kg_per_s: if dressed.on_ground {
                    0.0
                } else {
                    surface::gas_film_kg_per_s(open_area, dressed.gas_resistance_s_per_m, wind)
                },
            };
            self.film_leaving[c] += self.faces[i].gas_film_kg_per_s;
            // Air has to pass the half cell and then find the gaps; without gaps nothing passes.
            let passage = area / (depth + dressed.constriction_m);
            let inside = self.density[c] * passage;
            let film_flow =
                surface::gas_film_kg_per_s(open_area, dressed.gas_resistance_s_per_m, wind);
            self.exposed_diffusion[i] = if open_area > 0.0 && !dressed.on_ground {
                inside * film_flow / (inside + film_flow)
            } else {
                0.0
            };
            self.airflow.exposed_conductance[i] = self.activity[c] * area
                / (depth
                    + dressed.constriction_m
                    + p.permeability[c] * dressed.flow_resistance_per_m);
            let up = match face.facing {
                Facing::Top if self.skin.outline.upright => 1.0,
                Facing::Base => 0.0,
                Facing::Top | Facing::Side => self.grid.height_share(c),
            };
            self.airflow.exposed_pressure[i] =
                stopped_pa * (WIND_AT_FOOT + up * (WIND_AT_TOP - WIND_AT_FOOT));
            if self.settings.isolated {
                self.faces[i] = Face::default();
                self.exposed_diffusion[i] = 0.0;
                self.airflow.exposed_conductance[i] = 0.0;
            }
        }
    }
}
