//! What changes slowly: settling, conductances of all faces, the factored pressure matrix.
//!
//! In: the run. Out: the same with these brought up to date, twice a day and after every operation.
//!
//! Not here: the laws behind them (`cell`, `surface`, `outside`), what is looked up before every step (`look_up`).
//!
//! Tested by: `tests/science/heap_convergence.rs`.

use crate::heap::grid::Facing;
use crate::heap::moist_air as air;
use crate::heap::outside;
use crate::heap::surface::{self, Face};

use super::parts::Run;

/// Capillary conductivity for water, m2/s (tuned: small beside steam, smooths the drying front over a few cells).
const CAPILLARY_M2_PER_S: f64 = 3.0e-9;
/// Pressure of the wind at the foot of a heap, mean over all sides, as a share of that of wind brought to rest (tuned:
/// between 0 and the top's; walls of a low building by angle +0.60 to -0.68, mean -0.13, Swami and Chandra 1987, read
/// in a public table for air-flow programs).
const WIND_AT_FOOT: f64 = -0.2;
/// The same at its top (tuned: the sheltered end of low flat roofs, -0.6 in the open, -0.4 to -0.5 behind obstructions
/// of their height, same table).
const WIND_AT_TOP: f64 = -0.4;
/// Strongest wind whose pressure and gas film count, m/s (tuned: no garden heap stands in more for long).
const WIND_MOST_M_PER_S: f64 = 6.0;
/// Largest share of a cell's water difference that capillarity may move, per second, on any grid and with any step
/// (tuned: a fifth in the longest step of 6 h keeps the explicit term stable).
const CAPILLARY_MOST_PER_S: f64 = 0.2 / 21_600.0;

impl Run<'_> {
    /// Refreshes everything that changes slowly.
    pub(super) fn refresh(&mut self) {
        let body = &mut self.body;
        let stored = body.oxygen_stored_kg();
        body.properties.refresh(
            &body.grid,
            &body.state,
            &body.matter,
            body.carbon_share,
            body.day - body.packed_since,
        );
        self.refresh_cells();
        self.refresh_faces_between();
        self.refresh_exposed();
        self.scratch.airflow.factorise(&self.body.grid);
        // Settling squeezes air out and turning lets air in; its oxygen counts as taken in.
        let body = &mut self.body;
        body.ledger.oxygen_supplied_kg += body.oxygen_stored_kg() - stored;
        self.next_refresh = body.day + self.resolution.refresh_hours / 24.0;
    }

    /// Air in the pores, and how well gas and air pass a cell.
    fn refresh_cells(&mut self) {
        let (body, scratch) = (&mut self.body, &mut self.scratch);
        let (grid, p) = (&body.grid, &body.properties);
        for c in grid.cells() {
            let t = body.state.temperature[c];
            let dry_density = 1.0 / air::volume_m3_per_kg(t, self.tables.at(t).humidity);
            let diffusivity = p.air_space[c] * p.air_space[c] * air::gas_diffusivity_m2_per_s(t);
            body.pore_air_kg[c] = grid.volume_m3[c] * p.settled[c] * p.air_space[c] * dry_density;
            scratch.gas_conductivity[c] = diffusivity * dry_density;
            scratch.liquid_share[c] = body.wet(c).liquid_share(t);
            scratch.flow_conductivity[c] = p.permeability[c] * dry_density / air::viscosity_pa_s(t);
        }
    }

    fn refresh_faces_between(&mut self) {
        let scratch = &mut self.scratch;
        let (grid, p) = (&self.body.grid, &self.body.properties);
        for c in grid.cells() {
            for (faces, flow, way) in [
                (
                    &mut scratch.transport.outward,
                    &mut scratch.airflow.outward_conductance,
                    Way {
                        to: c + 1,
                        area_m2: grid.outward_area_m2[c] * 0.5 * (p.settled[c] + p.settled[c + 1]),
                        near_m: 0.5 * grid.width_m[c],
                        far_m: 0.5 * grid.width_m[c + 1],
                    },
                ),
                (
                    &mut scratch.transport.upward,
                    &mut scratch.airflow.upward_conductance,
                    Way {
                        to: c + grid.stride,
                        area_m2: grid.upward_area_m2[c],
                        near_m: 0.5 * grid.height_m[c] * p.settled[c],
                        far_m: 0.5 * grid.height_m[c + grid.stride] * p.settled[c + grid.stride],
                    },
                ),
            ] {
                if way.area_m2 <= 0.0 {
                    continue;
                }
                faces.conduction[c] = way.conductance(c, &p.conductivity);
                faces.diffusion[c] = way.conductance(c, &scratch.gas_conductivity);
                flow[c] = way.conductance(c, &scratch.flow_conductivity);
                let smaller = grid.volume_m3[c].min(grid.volume_m3[way.to]);
                let fluid = scratch.liquid_share[c].min(scratch.liquid_share[way.to]);
                faces.capillary[c] = fluid
                    * (CAPILLARY_M2_PER_S * way.area_m2 / (way.near_m + way.far_m))
                        .min(CAPILLARY_MOST_PER_S * smaller);
            }
        }
    }

    fn refresh_exposed(&mut self) {
        let (body, scratch) = (&self.body, &mut self.scratch);
        let p = &body.properties;
        let film = outside::film_w_per_m2_k(body.heap.climate.wind_m_per_s);
        let wind = body.heap.climate.wind_m_per_s.min(WIND_MOST_M_PER_S);
        // Pressure of wind brought to rest.
        let stopped_pa = 0.5 * surface::FILM_AIR_KG_PER_M3 * wind * wind;
        scratch.film_kg_per_s.fill(0.0);
        for (i, face) in body.grid.exposed.iter().enumerate() {
            let c = face.cell;
            let dressed = &scratch.dressed[i];
            let upright = face.facing == Facing::Side;
            let stretch = if upright { p.settled[c] } else { 1.0 };
            let depth = face.depth_m * if upright { 1.0 } else { p.settled[c] };
            let area = face.area_m2 * stretch * dressed.area_factor;
            let beside = if dressed.on_ground {
                body.ground.resistance_m2_k_per_w()
            } else {
                1.0 / film
            };
            let open_area = area * dressed.open_share;
            let film_flow =
                surface::gas_film_kg_per_s(open_area, dressed.gas_resistance_s_per_m, wind);
            scratch.faces[i] = Face {
                inside_w_per_k: p.conductivity[c] * area / depth,
                film_w_per_k: area / (beside + dressed.resistance_m2_k_per_w),
                gas_film_kg_per_s: if dressed.on_ground { 0.0 } else { film_flow },
            };
            scratch.film_kg_per_s[c] += scratch.faces[i].gas_film_kg_per_s;
            // Air has to pass the half cell and then find the gaps; without gaps nothing passes.
            let passage = area / (depth + dressed.constriction_m);
            let inside = scratch.gas_conductivity[c] * passage;
            scratch.exposed_diffusion[i] = if open_area > 0.0 && !dressed.on_ground {
                inside * film_flow / (inside + film_flow)
            } else {
                0.0
            };
            let covered_m = p.permeability[c] * dressed.flow_resistance_per_m;
            scratch.airflow.exposed_conductance[i] =
                scratch.flow_conductivity[c] * area / (depth + dressed.constriction_m + covered_m);
            let up = match face.facing {
                Facing::Top if body.skin.outline.upright => 1.0,
                Facing::Base => 0.0,
                Facing::Top | Facing::Side => body.grid.height_share(c),
            };
            scratch.airflow.exposed_pressure[i] =
                stopped_pa * (WIND_AT_FOOT + up * (WIND_AT_TOP - WIND_AT_FOOT));
            if self.resolution.isolated {
                scratch.faces[i] = Face::default();
                scratch.exposed_diffusion[i] = 0.0;
                scratch.airflow.exposed_conductance[i] = 0.0;
            }
        }
    }
}

/// The way from the middle of a cell to that of its neighbour.
struct Way {
    /// The neighbour.
    to: usize,
    /// Present area of the face between them, m2.
    area_m2: f64,
    /// Way inside the cell, m.
    near_m: f64,
    /// Way inside the neighbour, m.
    far_m: f64,
}

impl Way {
    /// Conductance of both half cells in series.
    fn conductance(&self, from: usize, conductivity: &[f64]) -> f64 {
        self.area_m2 / (self.near_m / conductivity[from] + self.far_m / conductivity[self.to])
    }
}
