//! Oxygen: brought by flow and diffusion, used by rot, solved anew at every step.
//!
//! In: air flow, diffusion, use of every cell at full oxygen. Out: the share of that use that the
//! oxygen at hand allows, and the oxygen left in the pores.
//!
//! Per cell: `storage (y - y_old) / dt + sum(out) y - sum(in y_neighbour) + S f(y) = 0`, with the use
//! `f(y) = (y / (K + y)) (1 + K / y_air)`. Whole columns and then whole rows are solved at once, with a tangent
//! for the use, warm-started, and then levelled against each other; a last sweep from cell to cell solves the
//! quadratic in `y`. What a cell uses is what arrived in it; what the sweeps leave over or short is carried to the
//! next step, so intake, use and store balance to rounding however far the sweeps have come.
//!
//! Not here: how much oxygen rot asks for (`rot`).
//!
//! Tested by: `tests/science/oxygen.rs`, `tests/science/ledgers.rs`.

use super::grid::Grid;
use super::rot::OXYGEN_IN_AIR;
use super::transport::Carriers;

/// Oxygen in a kilogram of dry air per unit of mole fraction, kg (32 / 28.97).
pub const OXYGEN_PER_AIR: f64 = 32.0 / 28.97;

/// Everything the solve reads, kg/s of dry air unless said otherwise.
#[derive(Debug, Clone, Copy)]
pub struct Supply<'a> {
    /// Flow and diffusion through all faces.
    pub carriers: Carriers<'a>,
    /// Dry air in the pores of each cell, kg.
    pub store: &'a [f64],
    /// Use of each cell in open air over the step, kg oxygen.
    pub wanted: &'a [f64],
    /// Oxygen at which use is half, mole fraction.
    pub half: f64,
    /// Length of the step, s.
    pub dt: f64,
}

/// The oxygen of every cell, which a step brings up to date.
#[derive(Debug)]
pub struct PoreOxygen<'a> {
    /// Mole fraction of dry air in the pores.
    pub fraction: &'a mut [f64],
    /// Oxygen that arrived and is neither used nor in the store, kg; carried over.
    pub carried_kg: &'a mut [f64],
}

/// Solver with its scratch.
#[derive(Debug, Clone)]
pub struct Oxygen {
    /// Share of the wanted use that took place, per cell, 0-1.
    pub share: Vec<f64>,
    /// Oxygen that came in through exposed faces over the step, kg, net.
    pub taken_in_kg: f64,
    leaving: Vec<f64>,
    entering: Vec<f64>,
    // Air that comes from the neighbour outward, inward, above, below, kg/s; and use over its factor.
    from: [Vec<f64>; 4],
    use_rate: Vec<f64>,
    gain: Vec<f64>,
    level: Vec<f64>,
    stride: usize,
}

impl Oxygen {
    /// A solver over this grid.
    pub fn new(grid: &Grid) -> Self {
        let zero = || vec![0.0; grid.len];
        Self {
            share: vec![1.0; grid.len],
            taken_in_kg: 0.0,
            leaving: zero(),
            entering: zero(),
            from: [zero(), zero(), zero(), zero()],
            use_rate: zero(),
            gain: zero(),
            level: zero(),
            stride: grid.stride,
        }
    }

    /// Solves one step: the oxygen in the pores is brought up to date, `share` filled.
    pub fn solve(
        &mut self,
        grid: &Grid,
        supply: &Supply<'_>,
        pores: PoreOxygen<'_>,
        sweeps: usize,
    ) {
        let PoreOxygen {
            fraction: y,
            carried_kg,
        } = pores;
        let stride = grid.stride;
        let Carriers { flow, diffusion } = supply.carriers;
        let (fo, fu) = (flow.outward, flow.upward);
        let (go, gu) = (diffusion.outward, diffusion.upward);
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
            .zip(supply.carriers.flow.exposed)
            .zip(supply.carriers.diffusion.exposed)
        {
            self.leaving[face.cell] += positive(*flow) + diffusion;
            self.entering[face.cell] += (positive(-*flow) + diffusion) * OXYGEN_IN_AIR;
        }
        let (across, up) = (grid.across, grid.up);
        for _ in 0..sweeps {
            // Columns from the outside in, the way the air comes; then rows upward.
            for column in (0..across).rev() {
                self.line(supply.half, y, grid.cell(column, 0), (up, stride));
            }
            for row in 0..up {
                self.line(supply.half, y, grid.cell(0, row), (across, 1));
            }
            self.level(supply.half, y, (up, stride), (across, 1));
            self.level(supply.half, y, (across, 1), (up, stride));
        }
        for row in 0..up {
            for column in (0..across).rev() {
                let c = grid.cell(column, row);
                if grid.active[c] {
                    let arriving = self.arriving(y, c, stride);
                    y[c] = self.balance(supply.half, c, arriving);
                }
            }
        }
        self.book(grid, supply, y, carried_kg);
    }

    /// Solves a line of `count` cells from `first` at once, its neighbours given and the use a tangent at the
    /// present `y`. A tangent may ask for more than there is; then nothing is left.
    fn line(&mut self, half: f64, y: &mut [f64], first: usize, (count, offset): (usize, usize)) {
        let stride = if offset == 1 { self.stride } else { 1 };
        let (next, previous, left, right) = if offset == 1 {
            (0, 1, 3, 2)
        } else {
            (2, 3, 1, 0)
        };
        let (mut gain, mut carried) = (0.0, 0.0);
        for i in 0..count {
            let c = first + i * offset;
            let share = 1.0 / (half + y[c]);
            let tangent = self.use_rate[c] * half * share * share;
            let rest = self.use_rate[c] * y[c] * share - tangent * y[c];
            let given = self.entering[c] - rest
                + self.from[left][c] * y[c - stride]
                + self.from[right][c] * y[c + stride];
            let back = self.from[previous][c];
            let pivot = 1.0 / (self.leaving[c] + tangent - back * gain + f64::MIN_POSITIVE);
            gain = self.from[next][c] * pivot;
            carried = (given + back * carried) * pivot;
            self.gain[c] = gain;
            y[c] = carried;
        }
        let mut ahead = 0.0;
        for i in (0..count).rev() {
            let c = first + i * offset;
            ahead = y[c] + self.gain[c] * ahead;
            y[c] = positive(ahead);
        }
    }

    /// Multiplies whole rows (or columns) so that each as a whole is in balance with its neighbours: lines
    /// alone are slow to move a level that reaches across them. `lines` counts them and gives the offset from one
    /// to the next, `cells` the same within a line.
    fn level(&mut self, half: f64, y: &mut [f64], lines: (usize, usize), cells: (usize, usize)) {
        let first = self.stride + 1;
        let (next, previous, right, left) = if lines.1 == 1 {
            (0, 1, 2, 3)
        } else {
            (2, 3, 0, 1)
        };
        let (mut gain, mut carried) = (0.0, 0.0);
        for i in 0..lines.0 {
            let (mut own, mut above, mut below, mut over) = (1e-30, 0.0, 0.0, 0.0);
            for j in 0..cells.0 {
                let c = first + i * lines.1 + j * cells.1;
                let share = 1.0 / (half + y[c]);
                let beside =
                    self.from[right][c] * y[c + cells.1] + self.from[left][c] * y[c - cells.1];
                let (up, down) = (
                    self.from[next][c] * y[c + lines.1],
                    self.from[previous][c] * y[c - lines.1],
                );
                let leaving = self.leaving[c] * y[c];
                over += self.entering[c] + beside + up + down
                    - leaving
                    - self.use_rate[c] * y[c] * share;
                own += leaving - beside + self.use_rate[c] * half * share * share * y[c];
                above += up;
                below += down;
            }
            let pivot = 1.0 / (own - below * gain);
            gain = above * pivot;
            carried = (over + below * carried) * pivot;
            (self.gain[i], self.level[i]) = (gain, carried);
        }
        let mut change = 0.0;
        for i in (0..lines.0).rev() {
            change = self.level[i] + self.gain[i] * change;
            let factor = (1.0 + change).clamp(0.25, 4.0);
            for j in 0..cells.0 {
                let c = first + i * lines.1 + j * cells.1;
                y[c] = (y[c] * factor).min(OXYGEN_IN_AIR);
            }
        }
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
    fn book(&mut self, grid: &Grid, supply: &Supply<'_>, y: &[f64], carried_kg: &mut [f64]) {
        let stride = grid.stride;
        for c in grid.stride..grid.len - stride {
            if !grid.active[c] {
                continue;
            }
            let over =
                (self.arriving(y, c, stride) - self.leaving[c] * y[c]) * OXYGEN_PER_AIR * supply.dt;
            let wanted = supply.wanted[c];
            let at_hand = over + carried_kg[c];
            let used = at_hand.clamp(0.0, wanted);
            self.share[c] = if wanted > 0.0 { used / wanted } else { 1.0 };
            carried_kg[c] = at_hand - used;
        }
        let outside = grid
            .exposed
            .iter()
            .zip(supply.carriers.flow.exposed)
            .zip(supply.carriers.diffusion.exposed);
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
