//! Air that its own warmth draws through the pores: buoyant Darcy flow.
//!
//! In: conductances of faces, density of the pore air. Out: mass flow through every face.
//!
//! Unknown is the pressure `p` above the outside air column; the mass flow of dry air from `a` to
//! `b` is `F = g (p_a - p_b) + g * 9.81 [(rho_out - rho_a) dz_a/2 + (rho_out - rho_b) dz_b/2]` (second
//! term upward only), with `div F = 0`. At an open face `p = 0` outside. The matrix is symmetric and
//! positive definite; it is factored (banded Cholesky, band = cells across + 1) when conductances
//! change and solved twice-triangular at every step. In a part without any opening the pressure of the
//! last cell is taken as 0.
//!
//! Not here: permeability (`cell`), what the air carries (`transport`).
//!
//! Tested by: `tests/science/airflow.rs` (hydrostatics, balance of every cell),
//! `tests/science/convection.rs` (Nusselt numbers and onset of convection).

use super::grid::{Facing, Grid};

/// Standard gravity rounded, m/s2.
pub const GRAVITY_M_PER_S2: f64 = 9.81;
/// A pivot below this share of its diagonal is nothing but rounding: the cells joined to it so far have
/// no opening, and their pressure no level. Permeabilities of a heap span seven decades, so a pivot
/// that means something lies well above.
const SEALED: f64 = 1.0e-11;

/// Flow solver with its scratch; one per run.
#[derive(Debug, Clone)]
pub struct Airflow {
    /// Conductance of outward faces, kg/s Pa.
    pub outward_conductance: Vec<f64>,
    /// Conductance of upward faces, kg/s Pa.
    pub upward_conductance: Vec<f64>,
    /// Conductance of exposed faces to the outside, kg/s Pa, in the order of `Grid::exposed`.
    pub exposed_conductance: Vec<f64>,
    /// Pressure of the wind on exposed faces, Pa.
    pub exposed_pressure: Vec<f64>,
    /// Mass flow through outward faces, kg/s, outward positive.
    pub outward: Vec<f64>,
    /// Mass flow through upward faces, kg/s, upward positive.
    pub upward: Vec<f64>,
    /// Mass flow through exposed faces, kg/s, out of the heap positive.
    pub exposed: Vec<f64>,
    // Row of each cell in the matrix, its lower band (row major, band + 1 wide), right-hand side.
    order: Vec<usize>,
    cells: Vec<usize>,
    band: usize,
    factor: Vec<f64>,
    pressure: Vec<f64>,
}

impl Airflow {
    /// A solver for this grid, with every conductance 0.
    pub fn new(grid: &Grid) -> Self {
        let cells: Vec<usize> = grid.cells().collect();
        let mut order = vec![usize::MAX; grid.len];
        for (row, &c) in cells.iter().enumerate() {
            order[c] = row;
        }
        let band = cells
            .iter()
            .filter(|&&c| grid.active[c + grid.stride])
            .map(|&c| order[c + grid.stride] - order[c])
            .max()
            .unwrap_or(1)
            .max(1);
        Self {
            outward_conductance: vec![0.0; grid.len],
            upward_conductance: vec![0.0; grid.len],
            exposed_conductance: vec![0.0; grid.exposed.len()],
            exposed_pressure: vec![0.0; grid.exposed.len()],
            outward: vec![0.0; grid.len],
            upward: vec![0.0; grid.len],
            exposed: vec![0.0; grid.exposed.len()],
            factor: vec![0.0; cells.len() * (band + 1)],
            pressure: vec![0.0; cells.len()],
            order,
            cells,
            band,
        }
    }

    /// Factors the matrix of the present conductances.
    pub fn factorise(&mut self, grid: &Grid) {
        let (band, width) = (self.band, self.band + 1);
        let a = &mut self.factor;
        a.fill(0.0);
        // Entry (row, row - k) stands at row * width + band - k.
        for (row, &c) in self.cells.iter().enumerate() {
            for (other, g) in [
                (c + 1, self.outward_conductance[c]),
                (c + grid.stride, self.upward_conductance[c]),
            ] {
                if g > 0.0 {
                    let next = self.order[other];
                    a[row * width + band] += g;
                    a[next * width + band] += g;
                    a[next * width + band - (next - row)] -= g;
                }
            }
        }
        for (face, g) in grid.exposed.iter().zip(&self.exposed_conductance) {
            a[self.order[face.cell] * width + band] += g;
        }
        for row in 0..self.cells.len() {
            let diagonal = a[row * width + band];
            let first = row.saturating_sub(band);
            for column in first..=row {
                let start = first.max(column.saturating_sub(band));
                let (own, other) = (row * width + band - row, column * width + band - column);
                let known = a[own + start..own + column]
                    .iter()
                    .zip(&a[other + start..other + column]);
                let sum = known.fold(a[own + column], |sum, (l, m)| sum - l * m);
                a[row * width + band - (row - column)] = if column == row {
                    let pivot = if sum > SEALED * diagonal {
                        sum
                    } else {
                        diagonal
                    };
                    pivot.max(f64::MIN_POSITIVE).sqrt()
                } else {
                    sum / a[column * width + band]
                };
            }
        }
    }

    /// Solves for the flow that `density` (kg/m3, per cell) drives against the outside air.
    ///
    /// `settled` is the present height of each cell as a share of its height as built.
    pub fn solve(&mut self, grid: &Grid, density: &[f64], outside_density: f64, settled: &[f64]) {
        let lift = |c: usize| {
            (outside_density - density[c]) * 0.5 * grid.height_m[c] * settled[c] * GRAVITY_M_PER_S2
        };
        self.pressure.fill(0.0);
        for (row, &c) in self.cells.iter().enumerate() {
            let g = self.upward_conductance[c];
            if g > 0.0 {
                let above = c + grid.stride;
                let drive = g * (lift(c) + lift(above));
                self.pressure[row] -= drive;
                self.pressure[self.order[above]] += drive;
            }
        }
        for ((face, g), wind) in grid
            .exposed
            .iter()
            .zip(&self.exposed_conductance)
            .zip(&self.exposed_pressure)
        {
            let sign = match face.facing {
                Facing::Side => 0.0,
                Facing::Top => 1.0,
                Facing::Base => -1.0,
            };
            self.pressure[self.order[face.cell]] += g * (wind - sign * lift(face.cell));
        }
        self.back_substitute();
        for &c in &self.cells {
            let p = self.pressure[self.order[c]];
            let g = self.outward_conductance[c];
            self.outward[c] = if g > 0.0 {
                g * (p - self.pressure[self.order[c + 1]])
            } else {
                0.0
            };
            let g = self.upward_conductance[c];
            self.upward[c] = if g > 0.0 {
                let above = c + grid.stride;
                g * (p - self.pressure[self.order[above]] + lift(c) + lift(above))
            } else {
                0.0
            };
        }
        for (((face, g), wind), flow) in grid
            .exposed
            .iter()
            .zip(&self.exposed_conductance)
            .zip(&self.exposed_pressure)
            .zip(&mut self.exposed)
        {
            let p = self.pressure[self.order[face.cell]] - wind;
            *flow = match face.facing {
                Facing::Side => g * p,
                Facing::Top => g * (p + lift(face.cell)),
                Facing::Base => g * (p - lift(face.cell)),
            };
        }
    }

    fn back_substitute(&mut self) {
        let (band, width, n) = (self.band, self.band + 1, self.cells.len());
        let (a, x) = (&self.factor, &mut self.pressure);
        for row in 0..n {
            let first = row.saturating_sub(band);
            let line = &a[row * width + band - (row - first)..row * width + band];
            let sum: f64 = line.iter().zip(&x[first..row]).map(|(l, v)| l * v).sum();
            x[row] = (x[row] - sum) / a[row * width + band];
        }
        for row in (0..n).rev() {
            let value = x[row] / a[row * width + band];
            x[row] = value;
            let first = row.saturating_sub(band);
            let line = &a[row * width + band - (row - first)..row * width + band];
            for (l, v) in line.iter().zip(&mut x[first..row]) {
                *v -= l * value;
            }
        }
    }
}
