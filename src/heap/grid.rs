//! The grid: cells of a heap, round (r-z) or flat (x-z over half a width), finer toward the skin.
//!
//! In: outline and number of cells. Out: volumes, face areas, distances, exposed faces.
//!
//! Arrays are flat and padded with one ring of ghost cells, so every kernel is one loop with the
//! offsets 1 (outward) and `stride` (upward). The outward face of cell `c` has index `c`, and so has
//! its upward face. Lengths are those of the heap as built; settling is a factor on heights, applied
//! by the user of the grid. Cells outside the outline are not active; those that a slope cuts hold what of
//! them lies inside (`slope`), and show the slope as what of it is seen from the side and from above.
//!
//! Not here: what a slope leaves of a cell (`slope`), what fills a cell (`cell`), what crosses a face (`transport`,
//! `airflow`).
//!
//! Tested by: `tests/science/grid.rs`, `tests/science/conduction.rs`.

use super::slope;

pub use super::outline::{Outline, Symmetry};

/// Cells each way of a heap with slopes, over those of an upright one: as about half of them lie outside, it costs
/// the same, and its steps are finer (tuned: the centre of a cone is then as near to a settled run as that of a bin).
const FINER_ON_SLOPES: f64 = 1.35;
/// Faces smaller than this share of the mantle are what rounding leaves where the slope passes a corner of a cell.
const ROUNDING: f64 = 1.0e-12;
/// Least depth of a centre under a slope, as a share of the cell (tuned: where the slope goes through the centre, that has the
/// temperature of the surface, and what passes between them stays a number).
const LEAST_DEPTH: f64 = 1.0e-4;
/// Least mean width and height of the cells of a run, m.
const FINEST_M: f64 = 0.01;

/// Where an exposed face looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    /// Outward.
    Side,
    /// Upward.
    Top,
    /// Down onto the ground.
    Base,
}

/// A face between an active cell and the outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposed {
    /// The active cell behind it.
    pub cell: usize,
    /// Where it looks.
    pub facing: Facing,
    /// Area as built, m2 (per metre of length if flat).
    pub area_m2: f64,
    /// Distance from the cell's centre, m, as built.
    pub depth_m: f64,
    /// True surface per area of this face: below 1 on a slope, which is shown from the side and from above.
    pub slope_factor: f64,
}

/// One number for every face of a grid.
#[derive(Debug, Clone, Copy)]
pub struct OnFaces<'a> {
    /// Outward faces, by the cell they belong to.
    pub outward: &'a [f64],
    /// Upward faces, by the cell they belong to.
    pub upward: &'a [f64],
    /// Faces to the outside, in the order of [`Grid::exposed`].
    pub exposed: &'a [f64],
}

/// Cells of a heap.
#[derive(Debug, Clone)]
pub struct Grid {
    /// Cells outward.
    pub across: usize,
    /// Cells upward.
    pub up: usize,
    /// Offset to the cell above.
    pub stride: usize,
    /// Length of every array over this grid.
    pub len: usize,
    /// Round or flat.
    pub symmetry: Symmetry,
    /// Whether the cell is part of the heap.
    pub active: Vec<bool>,
    /// Volume as built, m3; 0 for cells that are not active.
    pub volume_m3: Vec<f64>,
    /// Width, m.
    pub width_m: Vec<f64>,
    /// Height as built, m.
    pub height_m: Vec<f64>,
    /// Area of the outward face, m2, between two active cells, else 0.
    pub outward_area_m2: Vec<f64>,
    /// Area of the upward face, m2, between two active cells, else 0.
    pub upward_area_m2: Vec<f64>,
    /// Faces to the outside.
    pub exposed: Vec<Exposed>,
    /// Distance of every column's faces from the middle, m (`across + 1` values).
    pub edges_across_m: Vec<f64>,
    /// Height of every row's faces over the ground, m (`up + 1` values).
    pub edges_up_m: Vec<f64>,
    in_order: Vec<usize>,
}

/// Faces of `n` cells from 0 to `length`: widths fall toward both ends as
/// `1 / ((1 + (low - 1) (1 - x)^2) (1 + (high - 1) x^2))`, so cells at the ends are up to `low` and
/// `high` times finer than in between.
fn graded(n: usize, length: f64, low: f64, high: f64) -> Vec<f64> {
    let weights: Vec<f64> = (0..n)
        .map(|i| {
            let x = (i as f64 + 0.5) / n as f64;
            1.0 / ((1.0 + (high - 1.0) * x * x) * (1.0 + (low - 1.0) * (1.0 - x).powi(2)))
        })
        .collect();
    let total: f64 = weights.iter().sum();
    let mut edges = vec![0.0];
    let mut sum = 0.0;
    for weight in &weights {
        sum += weight;
        edges.push(length * sum / total);
    }
    edges
}

impl Grid {
    /// A grid that is finer toward side and top (cells of a third of the width of the middle ones).
    pub fn graded(outline: &Outline, across: usize, up: usize) -> Self {
        let columns = graded(across, outline.extent_m, 1.0, 3.24);
        let rows = graded(up, outline.height_m, 1.15, 2.56);
        Self::from_edges(outline, columns, rows)
    }

    /// The grid of a run: graded, at most this many cells, none finer in the mean than a centimetre, below which
    /// the heap is no even medium.
    pub fn of_heap(outline: &Outline, cells: (usize, usize)) -> Self {
        let finer = |cells: usize| match outline.upright {
            true => cells,
            false => (FINER_ON_SLOPES * cells as f64).round() as usize,
        };
        let (across, up) = (finer(cells.0), finer(cells.1));
        let most = |length: f64, cells: usize| cells.min((length / FINEST_M) as usize).max(1);
        Self::graded(
            outline,
            most(outline.extent_m, across),
            most(outline.height_m, up),
        )
    }

    /// A grid with exactly these faces. `edges_across` and `edges_up` rise from 0.
    pub fn from_edges(outline: &Outline, edges_across: Vec<f64>, edges_up: Vec<f64>) -> Self {
        let (across, up) = (edges_across.len() - 1, edges_up.len() - 1);
        let stride = across + 2;
        let len = stride * (up + 2);
        let mut grid = Self {
            across,
            up,
            stride,
            len,
            symmetry: outline.symmetry,
            active: vec![false; len],
            volume_m3: vec![0.0; len],
            width_m: vec![0.0; len],
            height_m: vec![0.0; len],
            outward_area_m2: vec![0.0; len],
            upward_area_m2: vec![0.0; len],
            exposed: Vec::new(),
            edges_across_m: edges_across,
            edges_up_m: edges_up,
            in_order: Vec::new(),
        };
        if outline.upright {
            grid.fill_upright();
        } else {
            grid.fill_sloping(outline);
        }
        grid.in_order = (0..len).filter(|&c| grid.active[c]).collect();
        grid
    }

    /// Index of the cell in this column (0 at the middle) and row (0 at the ground).
    pub fn cell(&self, column: usize, row: usize) -> usize {
        (row + 1) * self.stride + column + 1
    }

    /// Columns and rows of all cells, row by row from the ground.
    fn places(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let across = self.across;
        (0..self.up).flat_map(move |row| (0..across).map(move |column| (column, row)))
    }

    /// Width and height of a cell, m.
    fn size_m(&self, (column, row): (usize, usize)) -> (f64, f64) {
        (
            self.edges_across_m[column + 1] - self.edges_across_m[column],
            self.edges_up_m[row + 1] - self.edges_up_m[row],
        )
    }

    /// Distance of the centre of a cell from the middle, and its height, m.
    fn centre_m(&self, (column, row): (usize, usize)) -> (f64, f64) {
        (
            0.5 * (self.edges_across_m[column] + self.edges_across_m[column + 1]),
            0.5 * (self.edges_up_m[row] + self.edges_up_m[row + 1]),
        )
    }

    fn fill_upright(&mut self) {
        for (column, row) in self.places() {
            let c = self.cell(column, row);
            let (width, height) = self.size_m((column, row));
            let outer = self.edges_across_m[column + 1];
            let plan = self.symmetry.plan_m2(self.edges_across_m[column], outer);
            let side = self.symmetry.around_m(outer) * height;
            (self.width_m[c], self.height_m[c]) = (width, height);
            self.active[c] = true;
            self.volume_m3[c] = plan * height;
            let mut face = |facing, area_m2, depth_m| {
                self.exposed.push(Exposed {
                    cell: c,
                    facing,
                    area_m2,
                    depth_m,
                    slope_factor: 1.0,
                });
            };
            if column + 1 < self.across {
                self.outward_area_m2[c] = side;
            } else {
                face(Facing::Side, side, 0.5 * width);
            }
            if row + 1 < self.up {
                self.upward_area_m2[c] = plan;
            } else {
                face(Facing::Top, plan, 0.5 * height);
            }
            if row == 0 {
                face(Facing::Base, plan, 0.5 * height);
            }
        }
    }

    fn fill_sloping(&mut self, outline: &Outline) {
        let cuts = slope::cut(outline, &self.edges_across_m, &self.edges_up_m);
        let (r, h) = (outline.extent_m, outline.height_m);
        let slope_factor = r.hypot(h) / (r + h);
        for ((column, row), cut) in self.places().zip(&cuts) {
            let c = self.cell(column, row);
            (self.width_m[c], self.height_m[c]) = self.size_m((column, row));
            let Some(cut) = cut else {
                continue;
            };
            self.active[c] = true;
            self.volume_m3[c] = cut.volume_m3;
            let is_cell = |column: usize, row: usize| {
                column < self.across && row < self.up && cuts[row * self.across + column].is_some()
            };
            if is_cell(column + 1, row) {
                self.outward_area_m2[c] = cut.outward_m2;
            }
            if is_cell(column, row + 1) {
                self.upward_area_m2[c] = cut.upward_m2;
            }
            let (x, z) = self.centre_m((column, row));
            let under_m = (1.0 - x / r - z / h) * r * h / r.hypot(h);
            let depth_m = under_m.max(LEAST_DEPTH * self.width_m[c].min(self.height_m[c]));
            for (facing, area_m2, depth_m, slope_factor) in [
                (Facing::Side, cut.side_m2, depth_m, slope_factor),
                (Facing::Top, cut.top_m2, depth_m, slope_factor),
                (Facing::Base, cut.base_m2, 0.5 * self.height_m[c], 1.0),
            ] {
                if area_m2 > ROUNDING * outline.mantle_m2() {
                    self.exposed.push(Exposed {
                        cell: c,
                        facing,
                        area_m2,
                        depth_m,
                        slope_factor,
                    });
                }
            }
        }
    }

    /// Height of the middle of cell `c` over the ground as a share of the whole height, 0-1.
    pub fn height_share(&self, c: usize) -> f64 {
        let row = c / self.stride - 1;
        0.5 * (self.edges_up_m[row] + self.edges_up_m[row + 1]) / self.edges_up_m[self.up]
    }

    /// Volume of all active cells, m3 (per metre of length if flat).
    pub fn total_volume_m3(&self) -> f64 {
        self.volume_m3.iter().sum()
    }

    /// Active cells, rising index.
    pub fn cells(&self) -> impl Iterator<Item = usize> + '_ {
        self.in_order.iter().copied()
    }
}
