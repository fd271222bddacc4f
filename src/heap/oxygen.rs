//! Oxygen: brought by flow and diffusion, used by rot, solved anew at every step.
//!
//! In: air flow, diffusion, potential use of every cell. Out: the share of the potential that the
//! oxygen at hand allows, and the oxygen left in the pores.
//!
//! Per cell: `storage (y - y_old) / dt + sum(out) y - sum(in y_neighbour) + S f(y) = 0`, with the use
//! `f(y) = (y / (K + y)) (1 + K / y_air)`; a quadratic in `y`. Sweeps run with and against the air,
//! warm-started. What a cell uses is what arrived in it; what the sweeps leave over or short is carried
//! to the next step, so intake, use and store balance to rounding however far the sweeps have come.
//!
//! Held against: `tests/science/ledgers.rs`.

use super::grid::Grid;
use super::rot::OXYGEN_IN_AIR;

/// Oxygen in a kilogram of dry air per unit of mole fraction, kg (32 / 28.97).
pub const OXYGEN_PER_AIR: f64 = 32.0 / 28.97;

/// Everything the solve reads, kg/s of dry air unless said otherwise.
#[derive(Debug, Clone, Copy)]
pub struct Supply<'a> {
    /// Flow through outward and upward faces.
    pub flow: (&'a [f64], &'a [f64]),
    /// Diffusion through outward and upward faces.
    pub diffusion: (&'a [f64], &'a [f64]),
    /// Flow out of exposed faces (negative: in).
    pub exposed_flow: &'a [f64],
    /// Diffusion through exposed faces.
    pub exposed_diffusion: &'a [f64],
    /// Dry air in the pores of each cell, kg.
    pub store: &'a [f64],
    /// Use of each cell in open air over the step, kg oxygen.
    pub wanted: &'a [f64],
    /// Oxygen at which use is half, mole fraction.
    pub half: f64,
    /// Length of the step, s.
    pub dt: f64,
}

/// Solver with its scratch.
#[derive(Debug, Clone)]
pub struct Oxygen {
    /// Share of the wanted use that took place, per cell, 0-1.
    pub share: Vec<f64>,
    /// Oxygen that came in through exposed faces over the step, kg, net.
    pub taken_in_kg: f64,
    /// Oxygen that arrived and is neither used nor in the store, per cell, kg; carried over.
    pub carried_kg: Vec<f64>,
    leaving: Vec<f64>,
    entering: Vec<f64>,
}

impl Oxygen {
    /// A solver over this grid.
    pub fn new(grid: &Grid) -> Self {
        let zero = || vec![0.0; grid.len];
        Self {
            share: vec![1.0; grid.len],
            taken_in_kg: 0.0,
            carried_kg: zero(),
            leaving: zero(),
            entering: zero(),
        }
    }

    /// Solves one step: `y` (mole fraction) is brought up to date, `share` filled.
    pub fn solve(&mut self, grid: &Grid, supply: &Supply<'_>, y: &mut [f64], sweeps: usize) {
        let stride = grid.stride;
        let (fo, fu) = supply.flow;
        let (go, gu) = supply.diffusion;
        for c in stride..grid.len - stride {
            self.leaving[c] = positive(fo[c])
                + positive(-fo[c - 1])
                + positive(fu[c])
                + positive(-fu[c - stride])
                + go[c]
                + go[c - 1]
                + gu[c]
                + gu[c - stride]
                + supply.store[c] / supply.dt;
            self.entering[c] = y[c] * supply.store[c] / supply.dt;
        }
        for ((face, flow), diffusion) in grid
            .exposed
            .iter()
            .zip(supply.exposed_flow)
            .zip(supply.exposed_diffusion)
        {
            self.leaving[face.cell] += positive(*flow) + diffusion;
            self.entering[face.cell] += (positive(-*flow) + diffusion) * OXYGEN_IN_AIR;
        }
        for sweep in 0..sweeps {
            for row in 0..grid.up {
                for column in 0..grid.across {
                    // With the air first: from the outside in and upward; then back.
                    let c = if sweep % 2 == 0 {
                        grid.cell(grid.across - 1 - column, row)
                    } else {
                        grid.cell(column, grid.up - 1 - row)
                    };
                    if grid.active[c] {
                        let arriving = self.arriving(supply, y, c, stride);
                        y[c] = self.balance(supply, c, arriving);
                    }
                }
            }
        }
        self.book(grid, supply, y);
    }

    /// Air times mole fraction that arrives in `c` from neighbours, outside and store, kg/s.
    fn arriving(&self, supply: &Supply<'_>, y: &[f64], c: usize, stride: usize) -> f64 {
        let (fo, fu) = supply.flow;
        let (go, gu) = supply.diffusion;
        self.entering[c]
            + (positive(-fo[c]) + go[c]) * y[c + 1]
            + (positive(fo[c - 1]) + go[c - 1]) * y[c - 1]
            + (positive(-fu[c]) + gu[c]) * y[c + stride]
            + (positive(fu[c - stride]) + gu[c - stride]) * y[c - stride]
    }

    /// Mole fraction at which arrival equals leaving and use.
    fn balance(&self, supply: &Supply<'_>, c: usize, arriving: f64) -> f64 {
        let leaving = self.leaving[c].max(f64::MIN_POSITIVE);
        let k = supply.half;
        let use_rate = supply.wanted[c] / (supply.dt * OXYGEN_PER_AIR) * (1.0 + k / OXYGEN_IN_AIR);
        let b = leaving * k + use_rate - arriving;
        let root = (b * b + 4.0 * leaving * arriving * k).sqrt();
        let y = if b > 0.0 {
            2.0 * arriving * k / (b + root)
        } else {
            0.5 * (root - b) / leaving
        };
        if y > 0.0 { y } else { 0.0 }
    }

    /// Books as used what arrived, within what was wanted; carries what is over or short.
    fn book(&mut self, grid: &Grid, supply: &Supply<'_>, y: &[f64]) {
        let stride = grid.stride;
        for c in grid.stride..grid.len - stride {
            if !grid.active[c] {
                continue;
            }
            let over = (self.arriving(supply, y, c, stride) - self.leaving[c] * y[c])
                * OXYGEN_PER_AIR
                * supply.dt;
            let wanted = supply.wanted[c];
            let at_hand = over + self.carried_kg[c];
            let used = at_hand.clamp(0.0, wanted);
            self.share[c] = if wanted > 0.0 { used / wanted } else { 1.0 };
            self.carried_kg[c] = at_hand - used;
        }
        let outside = grid
            .exposed
            .iter()
            .zip(supply.exposed_flow)
            .zip(supply.exposed_diffusion);
        self.taken_in_kg = outside
            .map(|((face, flow), diffusion)| {
                let inward = (positive(-*flow) + diffusion) * OXYGEN_IN_AIR
                    - (positive(*flow) + diffusion) * y[face.cell];
                inward * OXYGEN_PER_AIR * supply.dt
            })
            .sum();
    }
}

fn positive(x: f64) -> f64 {
    if x > 0.0 { x } else { 0.0 }
}
