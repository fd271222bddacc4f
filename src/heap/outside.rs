//! The outside of a heap over one step: film, walls, cover, sun, ground.
//!
//! In: skin, cover, climate, time. Out: for every exposed face its conductances and what it feels.
//!
//! Film: `h = 2.8 + 3 v + 5.1` W/m2 K, convection (Geothermal Energy 2017, eq. 6) and radiation at 15 degC.
//! Sol-air: felt = air + absorbed sun / h - sky loss / h on what faces up.
//!
//! Not here: the balance of a face (`surface`).
//!
//! Tested by: `tests/science/surface.rs`.

use std::f64::consts::PI;

use super::climate::{Climate, YearlyWave};
use super::design::Heap;
use super::grid::{Facing, Grid};
use super::moist_air as air;
use super::operation::Cover;
use super::shape::{Base, GAP_SPACING_M, Skin, Wall};
use super::surface::Outside;

/// Radiation part of the outside film near 15 degC, W/m2 K (4 eps sigma T^3, eps 0.95).
const RADIATION_W_PER_M2_K: f64 = 5.1;
/// Share of the sun that compost and weathered timber take up (0.6-0.95, from memory).
const ABSORBED_SHARE: f64 = 0.8;
/// Sun on an upright side over sun on level ground, mean over the day and all sides, 0-1 (tuned, reason not recorded).
const SIDE_SUN_SHARE: f64 = 0.4;
/// Sky colder than the air by 12 K when clear, half of it under average cloud, K.
const SKY_COLDER_K: f64 = 6.0;
/// Soil between base and ground node: 0.15 m of 1.2 W/m K, m2 K/W (tuned, reason not recorded).
const SOIL_M2_K_PER_W: f64 = 0.125;
/// The same for slabs: 0.15 m of 1.6 W/m K.
const PAVING_M2_K_PER_W: f64 = 0.094;
/// From ground node to the depth below: 0.6 m of 1.2 W/m K, m2 K/W (tuned, reason not recorded).
const DEEP_M2_K_PER_W: f64 = 0.5;
/// Heat capacity of the ground node: 0.3 m of 2 MJ/m3 K, J/m2 K (tuned, reason not recorded).
const GROUND_J_PER_M2_K: f64 = 0.6e6;
/// Depth whose undisturbed temperature drives the ground node, m.
pub const DEEP_M: f64 = 0.75;

/// Whether the sun reaches a heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sun {
    /// It stands in the sun.
    Shining,
    /// It stands in the shade.
    Shaded,
}

impl Sun {
    /// The sun on this heap.
    pub fn on(heap: &Heap) -> Self {
        if heap.in_sun {
            Self::Shining
        } else {
            Self::Shaded
        }
    }
}

/// Weather over one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    /// Air, degC.
    pub air_c: f64,
    /// Humidity ratio of the air, kg/kg.
    pub humidity: f64,
    /// Density of the air, kg/m3.
    pub density: f64,
    /// What a side feels.
    pub side: Outside,
    /// What the top feels.
    pub top: Outside,
}

/// Film of the outside, W/m2 K, for this wind.
pub fn film_w_per_m2_k(wind_m_per_s: f64) -> f64 {
    2.8 + 3.0 * wind_m_per_s + RADIATION_W_PER_M2_K
}

/// Weather between two moments of the year (days, 0 = 1 January, 0 h).
pub fn weather(climate: &Climate, sun: Sun, from_day: f64, to_day: f64) -> Weather {
    let middle = 0.5 * (from_day + to_day);
    let air_c = climate.mean_air_c(from_day, to_day);
    // Humidity follows the mean of the day: warm afternoons are drier in the relative sense.
    let daily = climate.daily_mean_c(middle);
    let humidity =
        air::humidity_ratio(daily, climate.relative_humidity).min(air::humidity_ratio(air_c, 1.0));
    let film = film_w_per_m2_k(climate.wind_m_per_s);
    let sun = match sun {
        Sun::Shining => ABSORBED_SHARE * climate.sun_w_per_m2(middle),
        Sun::Shaded => 0.0,
    };
    let felt = |felt_c| Outside {
        felt_c,
        air_c,
        humidity,
    };
    Weather {
        air_c,
        humidity,
        density: air::density_kg_per_m3(air_c, humidity),
        side: felt(air_c + SIDE_SUN_SHARE * sun / film),
        top: felt(air_c + sun / film - RADIATION_W_PER_M2_K * SKY_COLDER_K / film),
    }
}

/// One exposed face as the outside sees it: what does not follow the weather.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Skinned {
    /// True area over the area of the grid's face.
    pub area_factor: f64,
    /// Resistance beside the film, m2 K/W.
    pub resistance_m2_k_per_w: f64,
    /// Share open to air and steam.
    pub open_share: f64,
    /// What a cover adds to the way of steam and oxygen by diffusion, s/m.
    pub gas_resistance_s_per_m: f64,
    /// What a cover adds to the way of drawn air, 1/m.
    pub flow_resistance_per_m: f64,
    /// Length of heap that costs air as much as finding its way to the gaps, m; endless without gaps.
    pub constriction_m: f64,
    /// Whether it lies on the ground.
    pub on_ground: bool,
}

/// Length of an even medium that resists as much as the way to slits in its wall.
///
/// `s / pi * ln(1 / sin(pi f / 2))` for slits of share `f` every `s` metres (conformal map of a strip onto its
/// slit; constriction resistance as in texts on contact conductance, from memory). It does not depend on the
/// grid, so a leak lets the same air through on any.
pub fn constriction_m(wall: &Wall) -> f64 {
    let slit = (0.5 * PI * wall.open_share.min(1.0)).sin();
    if slit > 0.0 {
        (-wall.gap_spacing_m / PI * slit.ln()).max(0.0)
    } else {
        f64::INFINITY
    }
}

/// How every exposed face is dressed, in the order of `Grid::exposed`.
pub fn dress(grid: &Grid, skin: &Skin, cover: Cover) -> Vec<Skinned> {
    grid.exposed
        .iter()
        .map(|face| {
            // On a slope every face is both side and top: cover and lid lie over all of it.
            let covered = face.facing == Facing::Top || !skin.outline.upright;
            let wall = match (face.facing, covered) {
                (Facing::Base, _) => Wall {
                    resistance_m2_k_per_w: 0.0,
                    open_share: skin.base_open_share,
                    gap_spacing_m: GAP_SPACING_M,
                },
                (_, true) => Wall {
                    resistance_m2_k_per_w: skin.top.resistance_m2_k_per_w
                        + cover.resistance_m2_k_per_w(),
                    open_share: skin.top.open_share * cover.open_share(),
                    ..skin.top
                },
                (_, false) => skin.side,
            };
            let upright_side = face.facing == Facing::Side && skin.outline.upright;
            Skinned {
                area_factor: if upright_side {
                    skin.side_area_factor
                } else {
                    face.slope_factor
                },
                resistance_m2_k_per_w: wall.resistance_m2_k_per_w,
                open_share: wall.open_share,
                gas_resistance_s_per_m: if covered && face.facing != Facing::Base {
                    cover.gas_resistance_s_per_m()
                } else {
                    0.0
                },
                flow_resistance_per_m: if covered && face.facing != Facing::Base {
                    cover.flow_resistance_per_m()
                } else {
                    0.0
                },
                constriction_m: constriction_m(&wall),
                on_ground: face.facing == Facing::Base && !skin.raised,
            }
        })
        .collect()
}

/// The ground below every column: a node between the base and the depth.
#[derive(Debug, Clone)]
pub struct Ground {
    /// Temperature of the node under each exposed face (used for those on the ground), degC.
    pub node_c: Vec<f64>,
    wave: YearlyWave,
    resistance_m2_k_per_w: f64,
}

impl Ground {
    /// Ground under a heap that is just being built.
    pub fn new(grid: &Grid, base: Base, climate: &Climate, day_of_year: f64) -> Self {
        let resistance_m2_k_per_w = match base {
            Base::Soil => SOIL_M2_K_PER_W,
            Base::Paving => PAVING_M2_K_PER_W,
        };
        let wave = climate.yearly_wave();
        Self {
            node_c: vec![wave.ground_c(day_of_year, 0.3 * DEEP_M); grid.exposed.len()],
            wave,
            resistance_m2_k_per_w,
        }
    }

    /// Resistance between base and node, m2 K/W.
    pub fn resistance_m2_k_per_w(&self) -> f64 {
        self.resistance_m2_k_per_w
    }

    /// Temperature of the depth that drives the nodes, degC.
    pub fn deep_c(&self, day_of_year: f64) -> f64 {
        self.wave.ground_c(day_of_year, DEEP_M)
    }

    /// Brings the node under face `face` up to date: `heat_j` came from the heap over `dt` seconds.
    pub fn warm(&mut self, face: usize, heat_j: f64, area_m2: f64, deep_c: f64, dt: f64) {
        // Implicit in the exchange with the depth, so any step is stable.
        let capacity = GROUND_J_PER_M2_K * area_m2;
        let exchange = dt * area_m2 / DEEP_M2_K_PER_W;
        let t = self.node_c[face];
        self.node_c[face] = (capacity * t + heat_j + exchange * deep_c) / (capacity + exchange);
    }
}
