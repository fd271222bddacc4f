//! Oxygen: brought by flow and diffusion, used by rot, solved anew at every step.
//!
//! In: air flow, diffusion, use of every cell at full oxygen. Out: the share of that use that the
//! oxygen at hand allows, and the oxygen left in the pores.
//!
//! Per cell: `storage (y - y_old) / dt + sum(out) y - sum(in y_neighbour) + S f(y) = 0`, with the use
//! `f(y) = (y / (K + y)) (1 + K / y_air)`. A face passes on `max(F, g + F/2, 0)` of what is behind it, flow `F` and
//! diffusion `g`: central where diffusion allows. All cells are solved at once by Newton's method, warm-started; as `f` is
//! concave, the passes come nearer from below. A last sweep from cell to cell solves the quadratic in `y`. What a cell
//! uses is what arrived in it; what the passes leave over or short is carried to the next step, so intake, use and store
//! balance to rounding however far they have come.
//!
//! Not here: how much oxygen rot asks for (`rot`).
//!
//! Tested by: `tests/science/oxygen.rs`, `tests/science/ledgers.rs`.

use super::banded::{Rows, in_fours, padded, take_off, take_off_known};
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
    // Row of each cell, the cells in order, half the band, the matrix (row major, so wide), right-hand side.
    order: Vec<usize>,
    cells: Vec<usize>,
    band: usize,
    width: usize,
    matrix: Vec<f64>,
    side: Vec<f64>,
}

impl Oxygen {
    /// A solver over this grid.
    pub fn new(grid: &Grid) -> Self {
        let zero = || vec![0.0; grid.len];
        let Rows { order, cells, band } = Rows::of(grid);
        let width = band + 1 + padded(band);
        Self {
            share: vec![1.0; grid.len],
            taken_in_kg: 0.0,
            leaving: zero(),
            entering: zero(),
            from: [zero(), zero(), zero(), zero()],
            use_rate: zero(),
            matrix: vec![0.0; cells.len() * width + band],
            width,
            side: vec![0.0; cells.len()],
            order,
            cells,
            band,
        }
    }

    /// Solves one step: the oxygen in the pores is brought up to date, `share` filled.
    pub fn solve(
        &mut self,
        grid: &Grid,
        supply: &Supply<'_>,
        pores: PoreOxygen<'_>,
        passes: usize,
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
            let (outer, above) = (passing(-fo[c], go[c]), passing(-fu[c], gu[c]));
            let (inward, down) = (passing(fo[inner], go[inner]), passing(fu[below], gu[below]));
            // What leaves through a face less what comes back is its flow.
            self.leaving[c] = (outer + fo[c])
                + (inward - fo[inner])
                + (above + fu[c])
                + (down - fu[below])
                + store;
            self.entering[c] = y[c] * store;
            self.from[0][c] = outer;
            self.from[1][c] = inward;
            self.from[2][c] = above;
            self.from[3][c] = down;
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
        for _ in 0..passes {
            self.newton(supply.half, y, stride);
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

    /// One pass of Newton's method over all cells: the use is a tangent at the present `y`. A tangent may ask for more
    /// than there is; then nothing is left.
    fn newton(&mut self, half: f64, y: &mut [f64], stride: usize) {
        let (band, width) = (self.band, self.width);
        self.matrix.fill(0.0);
        for (row, &c) in self.cells.iter().enumerate() {
            let share = 1.0 / (half + y[c]);
            let tangent = self.use_rate[c] * half * share * share;
            self.side[row] = self.entering[c] - (self.use_rate[c] * share - tangent) * y[c];
            let line = &mut self.matrix[row * width..(row + 1) * width];
            line[band] = self.leaving[c] + tangent + f64::MIN_POSITIVE;
            for (other, from) in [
                (c + 1, self.from[0][c]),
                (c - 1, self.from[1][c]),
                (c + stride, self.from[2][c]),
                (c - stride, self.from[3][c]),
            ] {
                if from > 0.0 {
                    line[band + self.order[other] - row] = -from;
                }
            }
        }
        self.eliminate();
        for (&c, x) in self.cells.iter().zip(&self.side) {
            y[c] = positive(*x);
        }
    }

    /// Solves the system; the matrix leaves more than it passes on in every row, so no row need change its place.
    fn eliminate(&mut self) {
        // Where the band is known beforehand, a pivot's line stays in registers.
        match padded(self.band) {
            4 => self.eliminate_in::<1>(),
            8 => self.eliminate_in::<2>(),
            12 => self.eliminate_in::<3>(),
            16 => self.eliminate_in::<4>(),
            _ => self.eliminate_in::<0>(),
        }
    }

    /// The same for a band of so many fours; 0 stands for any.
    fn eliminate_in<const FOURS: usize>(&mut self) {
        let (band, width, n) = (self.band, self.width, self.cells.len());
        let count = padded(band);
        let (a, x) = (&mut self.matrix, &mut self.side);
        for row in 0..n {
            // From the pivot on; each further line begins at the entry below it.
            let mut lines = a[row * width + band..].chunks_exact_mut(width - 1);
            let Some(pivot) = lines.next() else {
                break;
            };
            let inverse = 1.0 / pivot[0];
            pivot[0] = inverse;
            let pivot = &pivot[1..=count];
            let known = in_fours::<FOURS>(pivot);
            let (own, below) = x[row..].split_at_mut(1);
            for (line, x) in lines.take(band).zip(below) {
                let share = line[0] * inverse;
                if share == 0.0 {
                    continue;
                }
                match FOURS {
                    0 => take_off(&mut line[1..=count], share, pivot),
                    _ => take_off_known(&mut line[1..], share, &known),
                }
                *x -= share * own[0];
            }
        }
        for row in (0..n).rev() {
            let (own, below) = x[row..].split_at_mut(1);
            let line = &a[row * width + band..=row * width + 2 * band];
            let known: f64 = line[1..].iter().zip(&*below).map(|(u, x)| u * x).sum();
            own[0] = (own[0] - known) * line[0];
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

/// Share of the air with which a face passes on the oxygen of the cell behind it, kg/s: flow `f` out of that cell
/// and diffusion `g`. Central where diffusion outweighs half the flow, upwind beyond, never negative.
fn passing(f: f64, g: f64) -> f64 {
    let central = g + 0.5 * f;
    let most = if f > central { f } else { central };
    if most > 0.0 { most } else { 0.0 }
}

fn positive(x: f64) -> f64 {
    if x > 0.0 { x } else { 0.0 }
}
