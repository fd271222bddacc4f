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
    // Air that comes from the neighbour outward, inward, above, below, kg/s; and use over its factor.
    from: [Vec<f64>; 4],
    use_rate: Vec<f64>,
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
            from: [zero(), zero(), zero(), zero()],
            use_rate: zero(),
        }
    }

    /// Solves one step: `y` (mole fraction) is brought up to date, `share` filled.
    pub fn solve(&mut self, grid: &Grid, supply: &Supply<'_>, y: &mut [f64], sweeps: usize) {
        let stride = grid.stride;
        let (fo, fu) = supply.flow;
        let (go, gu) = supply.diffusion;
        let per_use = (1.0 + supply.half / OXYGEN_IN_AIR) / (supply.dt * OXYGEN_PER_AIR);
        for c in stride..grid.len - stride {
            let (inner, below) = (c - 1, c - stride);
            let store = supply.store[c] / supply.dt;
            self.leaving[c] = positive(fo[c])
                + positive(-fo[inner])
                + positive(fu[c])
                + positive(-fu[below])
                + (go[c] + go[inner] + gu[c] + gu[below] + store);
            self.entering[c] = y[c] * store;
            self.from[0][c] = positive(-fo[c]) + go[c];
            self.from[1][c] = positive(fo[inner]) + go[inner];
            self.from[2][c] = positive(-fu[c]) + gu[c];
            self.from[3][c] = positive(fu[below]) + gu[below];
            self.use_rate[c] = supply.wanted[c] * per_use;
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
                        let arriving = self.arriving(y, c, stride);
                        y[c] = self.balance(supply.half, c, arriving);
                    }
                }
            }
        }
        self.book(grid, supply, y);
    }

    /// Air times mole fraction that arrives in `c` from neighbours, outside and store, kg/s.
    #[inline]
    fn arriving(&self, y: &[f64], c: usize, stride: usize) -> f64 {
        self.entering[c]
            + self.from[0][c] * y[c + 1]
            + self.from[1][c] * y[c - 1]
            + self.from[2][c] * y[c + stride]
            + self.from[3][c] * y[c - stride]
    }

    /// Mole fraction at which arrival equals leaving and use.
    #[inline]
    fn balance(&self, half: f64, c: usize, arriving: f64) -> f64 {
        let leaving = self.leaving[c].max(f64::MIN_POSITIVE);
        let b = leaving * half + self.use_rate[c] - arriving;
        let root = (b * b + 4.0 * leaving * arriving * half).sqrt();
        let y = if b > 0.0 {
            2.0 * arriving * half / (b + root)
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
            let over =
                (self.arriving(y, c, stride) - self.leaving[c] * y[c]) * OXYGEN_PER_AIR * supply.dt;
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
