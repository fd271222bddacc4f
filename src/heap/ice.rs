//! Ice: pore water that freezes and thaws, by the enthalpy it holds.
//!
//! In: solids and water of a cell, its temperature or its enthalpy. Out: the other of the two, the heat capacity, the share
//! of the water that is ice; steps of the solver that cross freezing.
//!
//! Enthalpy is a polygon in the temperature, so either follows from the other exactly:
//! (1) `H = C t` from 0 degC up, `C` of solids and liquid water;
//! (2) `H = (Cm + l F / s) t` over the span `-s..0`, in which the water `F` that can freeze does so evenly, `l` its heat of
//! melting and `Cm` the mean of `C` and `Cf`;
//! (3) `H = H(-s) + Cf (t + s)` below, `Cf` of solids, ice, and the water that matter binds and that stays liquid.
//! The heat balance is one of `H`, so it closes to rounding; the solver finds the temperatures of a step by a few passes of
//! Newton's method. Nothing of this runs in a heap whose cells are all far from freezing.
//!
//! Not here: what ice does to rain, drainage and capillary water (`run`), vapour over ice (`moist_air`).
//!
//! Tested by: `tests/science/ice.rs`, `tests/science/ledgers.rs`.

use super::cell::heat_capacity;
use super::grid::Grid;
use super::transport::{Drive, Transport, WATER_HEAT_CAPACITY_J_PER_KG_K};

/// Heat of melting at 0 degC, J/kg (IAPWS-95 and IAPWS 2006 for ice Ih: 333.42 kJ/kg).
pub const MELTING_J_PER_KG: f64 = 333.4e3;
/// Heat capacity of ice, J/kg K (IAPWS 2006: 2097 at 0, 2023 at -10, 1950 at -20 degC).
pub const ICE_HEAT_CAPACITY_J_PER_KG_K: f64 = 2050.0;
/// Span below 0 degC over which the water freezes, K (tuned: what is dissolved in it makes leaves and fruit freeze between
/// -0.3 and -2 degC, from memory; wide enough for the solver to follow).
pub const FREEZING_SPAN_K: f64 = 1.0;
/// Water that matter binds too firmly to freeze, kg per kg of dry matter (0.2-0.3 in wood and cellulose, from memory).
pub const BOUND_WATER: f64 = 0.25;
/// Most passes over a step (tuned: a front in cells of 1 cm and steps of 1 h is then followed within 5 %).
const PASSES: usize = 8;
/// Difference of the temperatures by enthalpy and by the solver at which no more passes are made, K (tuned).
const CLOSE_K: f64 = 0.02;

/// Heat that a kilogram of ice holds beside liquid water at 0 degC, J/kg (negative).
pub fn ice_enthalpy_j_per_kg(temperature_c: f64) -> f64 {
    ICE_HEAT_CAPACITY_J_PER_KG_K * temperature_c - MELTING_J_PER_KG
}

/// Solids and water of a cell, kg/m3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wet {
    /// Dry matter.
    pub dry: f64,
    /// Water and ice.
    pub water: f64,
}

/// Slopes of the three pieces of the polygon, J/m3 K, and where the lowest begins, J/m3.
struct Pieces {
    freezing: f64,
    frozen: f64,
    all_frozen: f64,
}

impl Wet {
    /// Water that can freeze, kg/m3.
    fn freezable(&self) -> f64 {
        (self.water - BOUND_WATER * self.dry).max(0.0)
    }

    fn pieces(&self) -> Pieces {
        let freezable = self.freezable();
        let lighter = (WATER_HEAT_CAPACITY_J_PER_KG_K - ICE_HEAT_CAPACITY_J_PER_KG_K) * freezable;
        let liquid = heat_capacity(self.dry, self.water);
        let freezing = liquid - 0.5 * lighter + MELTING_J_PER_KG * freezable / FREEZING_SPAN_K;
        Pieces {
            freezing,
            frozen: liquid - lighter,
            all_frozen: -freezing * FREEZING_SPAN_K,
        }
    }

    /// Enthalpy beside dry matter and liquid water at 0 degC, J/m3.
    pub fn enthalpy(&self, temperature_c: f64) -> f64 {
        if temperature_c >= 0.0 {
            return heat_capacity(self.dry, self.water) * temperature_c;
        }
        let pieces = self.pieces();
        if temperature_c >= -FREEZING_SPAN_K {
            pieces.freezing * temperature_c
        } else {
            pieces.all_frozen + pieces.frozen * (temperature_c + FREEZING_SPAN_K)
        }
    }

    /// Temperature at this enthalpy (J/m3), degC; the inverse of [`Wet::enthalpy`].
    pub fn temperature(&self, enthalpy: f64) -> f64 {
        if enthalpy >= 0.0 {
            return enthalpy / heat_capacity(self.dry, self.water);
        }
        let pieces = self.pieces();
        if enthalpy >= pieces.all_frozen {
            enthalpy / pieces.freezing
        } else {
            (enthalpy - pieces.all_frozen) / pieces.frozen - FREEZING_SPAN_K
        }
    }

    /// Heat that a kelvin takes at this temperature, J/m3 K, the heat of melting included.
    pub fn capacity(&self, temperature_c: f64) -> f64 {
        if temperature_c >= 0.0 {
            return heat_capacity(self.dry, self.water);
        }
        let pieces = self.pieces();
        if temperature_c >= -FREEZING_SPAN_K {
            pieces.freezing
        } else {
            pieces.frozen
        }
    }

    /// Share of its water that is not ice, 0-1.
    pub fn liquid_share(&self, temperature_c: f64) -> f64 {
        if temperature_c >= 0.0 || self.water <= 0.0 {
            return 1.0;
        }
        let frozen = (-temperature_c / FREEZING_SPAN_K).min(1.0);
        1.0 - frozen * self.freezable() / self.water
    }
}

/// The solver's way through freezing, with its scratch.
#[derive(Debug, Clone)]
pub struct Freezing {
    /// Temperature about which a pass is linear, degC.
    about_c: Vec<f64>,
    /// Source of a pass, J.
    source: Vec<f64>,
}

impl Freezing {
    /// Scratch for so many cells.
    pub fn new(len: usize) -> Self {
        Self {
            about_c: vec![0.0; len],
            source: vec![0.0; len],
        }
    }

    /// Goes over a step that [`Transport::advance`] has solved until its temperatures hold the heat of melting.
    ///
    /// Newton's method for the enthalpy: every pass is linear about the temperature at which a cell would hold what the last
    /// one left it. `wet` is what fills a cell at the start of the step, `capacity` makes of a heat capacity (J/K) the one
    /// to solve with. Cells that stay above 0 degC are left alone, and so is the step if all do.
    pub fn follow(
        &mut self,
        transport: &mut Transport,
        grid: &Grid,
        dt: f64,
        drive: &Drive<'_>,
        wet: impl Fn(usize) -> Wet,
        capacity: impl Fn(usize, f64) -> f64,
    ) {
        for pass in 0..PASSES {
            let mut off = false;
            for c in grid.cells() {
                let (from_c, volume) = (drive.temperature[c], grid.volume_m3[c]);
                let of = wet(c);
                let before = of.enthalpy(from_c);
                let after = before + (drive.source[c] - transport.heat_out[c]) / volume;
                let frost = from_c < 0.0 || after < 0.0;
                if !frost && (pass == 0 || self.about_c[c] >= 0.0) {
                    self.source[c] = drive.source[c];
                    self.about_c[c] = from_c;
                    continue;
                }
                let about_c = of.temperature(after);
                off |= (about_c - from_c - transport.change[c]).abs() > CLOSE_K;
                let plain = of.capacity(about_c);
                let known = plain * (about_c - from_c) - (after - before);
                self.about_c[c] = about_c;
                self.source[c] = drive.source[c] + volume * known;
                transport.capacity[c] = capacity(c, volume * plain);
            }
            if !off {
                return;
            }
            let pass = Drive {
                source: &self.source,
                ..*drive
            };
            transport.advance(grid, dt, &pass);
        }
    }
}
