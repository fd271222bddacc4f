//! The skin: energy balance of every exposed face.
//!
//! In: the cell behind the face, film, wall, cover, weather, air flow. Out: heat and water through the
//! face, linear in the cell's temperature.
//!
//! The surface takes the temperature `Ts` at which what the half cell brings equals what the outside
//! takes: `g_i (Tc - Ts) = g_f (Ts - Tb) + h_v g_v (w_s(Ts) - w_b)`, with `g_i = (k A / depth) B(Pe)`,
//! `B(x) = x / (1 - exp(-x))` for the air that flows through. Evaporation is then not throttled by the
//! size of the half cell, which is what makes days above a temperature converge with the grid.
//!
//! Not here: what the outside is like (`climate`), what flows inside (`transport`).
//!
//! Tested by: `tests/science/surface.rs`, `tests/science/heap_convergence.rs`.

use super::moist_air as air;
use super::tables::Tables;
use super::transport::{Exchange, VAPOUR_HEAT_J_PER_KG};

/// Gas film over an open surface in still air, m/s: 2.8 W/m2 K of convection over the heat capacity of air (Lewis).
const GAS_FILM_CALM_M_PER_S: f64 = 0.0023;
/// Its gain with the wind: 3 W/m2 K per m/s, likewise.
const GAS_FILM_PER_WIND: f64 = 0.0025;
/// Density of outside air for the gas film, kg/m3.
pub const FILM_AIR_KG_PER_M3: f64 = 1.2;

/// The outside of one face at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outside {
    /// Temperature that film and sun add up to (sol-air), degC.
    pub felt_c: f64,
    /// Temperature of the air, degC.
    pub air_c: f64,
    /// Humidity ratio of the air, kg/kg.
    pub humidity: f64,
}

/// What does not change within half a day at one face.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Face {
    /// Conduction from the cell's centre to the surface, W/K.
    pub inside_w_per_k: f64,
    /// Film, wall and cover in series, W/K.
    pub film_w_per_k: f64,
    /// Gas film over the open share, kg dry air per second.
    pub gas_film_kg_per_s: f64,
}

/// Gas film of an open area with a cover of this resistance (s/m) in series, kg dry air per second.
pub fn gas_film_kg_per_s(open_area_m2: f64, cover_s_per_m: f64, wind_m_per_s: f64) -> f64 {
    let film = GAS_FILM_CALM_M_PER_S + GAS_FILM_PER_WIND * wind_m_per_s;
    FILM_AIR_KG_PER_M3 * open_area_m2 / (1.0 / film + cover_s_per_m)
}

/// `x / (1 - exp(-x))`: how much advection steepens (or flattens) the conduction to the surface.
fn bernoulli(x: f64) -> f64 {
    if x.abs() < 1e-3 {
        1.0 + 0.5 * x
    } else {
        x / (1.0 - (-x.clamp(-40.0, 40.0)).exp())
    }
}

/// The cell behind a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Behind {
    /// Temperature, degC.
    pub temperature_c: f64,
    /// Relative humidity its matter keeps, 0-1.
    pub activity: f64,
    /// Slope of its enthalpy, J/kg K.
    pub enthalpy_slope: f64,
}

/// Exchange through one face; `flow` is the air that leaves through it, kg/s (negative: enters).
pub fn exchange(
    face: &Face,
    behind: &Behind,
    outside: &Outside,
    flow: f64,
    tables: &Tables,
) -> Exchange {
    let t = behind.temperature_c;
    let (out, into) = if flow > 0.0 { (flow, 0.0) } else { (0.0, flow) };
    let g_i = face.inside_w_per_k
        * bernoulli(flow * behind.enthalpy_slope / face.inside_w_per_k.max(1e-12));
    let g_f = face.film_w_per_k;
    let g_v = VAPOUR_HEAT_J_PER_KG * face.gas_film_kg_per_s;
    let total = (g_i + g_f).max(1e-12);
    let mut surface = (g_i * t + g_f * outside.felt_c) / total;
    let mut humidity = 0.0;
    let mut slope = 0.0;
    for _ in 0..3 {
        let at = tables.at(surface);
        (humidity, slope) = (
            behind.activity * at.humidity,
            behind.activity * at.humidity_slope,
        );
        let miss = g_i * (t - surface)
            - g_f * (surface - outside.felt_c)
            - g_v * (humidity - outside.humidity);
        let correction = miss / (total + g_v * slope);
        surface += correction;
        humidity += slope * correction;
    }
    let follows = g_i / (total + g_v * slope);
    let enthalpy_slope = air::DRY_AIR_HEAT_CAPACITY_J_PER_KG_K
        + humidity * air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K
        + slope
            * (air::VAPORISATION_AT_0C_J_PER_KG + air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K * surface);
    let vapour = face.gas_film_kg_per_s * (humidity - outside.humidity);
    Exchange {
        heat_w: g_f * (surface - outside.felt_c)
            + VAPOUR_HEAT_J_PER_KG * vapour
            + out * air::enthalpy_j_per_kg(surface, humidity)
            + into * air::enthalpy_j_per_kg(outside.air_c, outside.humidity),
        heat_slope: (g_f + g_v * slope + out * enthalpy_slope) * follows,
        water: vapour + out * humidity + into * outside.humidity,
        water_slope: (face.gas_film_kg_per_s + out) * slope * follows,
    }
}
