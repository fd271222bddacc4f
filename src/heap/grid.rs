//! The grid: cells of a heap, round (r-z) or flat (x-z over half a width), finer toward the skin.
//!
//! In: outline and number of cells. Out: volumes, face areas, distances, exposed faces.
//!
//! Arrays are flat and padded with one ring of ghost cells, so every kernel is one loop with the
//! offsets 1 (outward) and `stride` (upward). The outward face of cell `c` has index `c`, and so has
//! its upward face. Lengths are those of the heap as built; settling is a factor on heights, applied
//! by the user of the grid. Cells whose centre lies outside the outline are not active; a slope is
//! drawn in steps, and its cells are then stretched alike in both directions until together they hold
//! the volume of the outline.
//!
//! Not here: what fills a cell (`cell`), what crosses a face (`transport`, `airflow`).
//!
//! Tested by: `tests/science/grid.rs`, `tests/science/conduction.rs`.

use std::f64::consts::PI;

/// A centre this close to the slope, as a share of the whole, lies on it and counts as inside; so
/// rounding does not decide over cells of an even grid, whose centres lie on the slope in a row.
const ON_THE_SLOPE: f64 = 1.0e-9;

/// Cells each way of a heap with slopes, over those of an upright one: as about half of them lie outside, it costs
/// the same, and its steps are finer (tuned: the centre of a cone is then as near to a settled run as that of a bin).
const FINER_ON_SLOPES: f64 = 1.35;
/// Least mean width and height of the cells of a run, m.
const FINEST_M: f64 = 0.01;

/// Round about the axis, or flat and mirrored at the middle plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Symmetry {
    /// Turned about the vertical axis.
    Round,
    /// Flat; `extent` is then the half width and everything is per metre of length.
    Flat,
}

/// The outline of a heap as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Round or flat.
    pub symmetry: Symmetry,
    /// Radius or half width at the foot, m.
    pub extent_m: f64,
    /// Height at the middle, m.
    pub height_m: f64,
    /// Whether the sides are upright (bins) or slope from the middle to the foot (heaps, rows).
    pub upright: bool,
}

impl Outline {
    /// Volume, m3 (half the section, m2, if flat).
    pub fn volume_m3(&self) -> f64 {
        let box_m3 = match self.symmetry {
            Symmetry::Round => PI * self.extent_m * self.extent_m * self.height_m,
            Symmetry::Flat => self.extent_m * self.height_m,
        };
        match (self.upright, self.symmetry) {
            (true, _) => box_m3,
            (false, Symmetry::Round) => box_m3 / 3.0,
            (false, Symmetry::Flat) => box_m3 / 2.0,
        }
    }

    /// Surface without the foot, m2 (m per metre of length if flat).
    pub fn mantle_m2(&self) -> f64 {
        let (r, h) = (self.extent_m, self.height_m);
        match (self.upright, self.symmetry) {
            (true, Symmetry::Round) => PI * r * (2.0 * h + r),
            (true, Symmetry::Flat) => h + r,
            (false, Symmetry::Round) => PI * r * r.hypot(h),
            (false, Symmetry::Flat) => r.hypot(h),
        }
    }
}

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
    /// True surface per area of this face: below 1 where a slope is drawn in steps.
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
        Self::holding_volume(outline, columns, rows)
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

    /// A grid whose steps hold the volume of the outline: faces in these proportions.
    pub fn holding_volume(outline: &Outline, columns: Vec<f64>, rows: Vec<f64>) -> Self {
        let grid = Self::from_edges(outline, columns, rows);
        if outline.upright {
            return grid;
        }
        let lack = outline.volume_m3() / grid.total_volume_m3();
        let stretch = match outline.symmetry {
            Symmetry::Round => lack.cbrt(),
            Symmetry::Flat => lack.sqrt(),
        };
        let stretched = Outline {
            extent_m: stretch * outline.extent_m,
            height_m: stretch * outline.height_m,
            ..*outline
        };
        let longer = |edges: &[f64]| edges.iter().map(|x| stretch * x).collect();
        let (columns, rows) = (longer(&grid.edges_across_m), longer(&grid.edges_up_m));
        let mut grid = Self::from_edges(&stretched, columns, rows);
        grid.fill_slope(outline);
        grid
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
        grid.fill_active(outline);
        grid.in_order = (0..len).filter(|&c| grid.active[c]).collect();
        grid.fill_faces();
        grid.fill_slope(outline);
        grid
    }

    /// Index of the cell in this column (0 at the middle) and row (0 at the ground).
    pub fn cell(&self, column: usize, row: usize) -> usize {
        (row + 1) * self.stride + column + 1
    }

    /// Plan area of a column, m2 (m per metre of length if flat).
    fn plan_m2(&self, column: usize) -> f64 {
        let (a, b) = (self.edges_across_m[column], self.edges_across_m[column + 1]);
        match self.symmetry {
            Symmetry::Round => PI * (b * b - a * a),
            Symmetry::Flat => b - a,
        }
    }

    /// Length around at this distance from the middle, m.
    fn around_m(&self, distance: f64) -> f64 {
        match self.symmetry {
            Symmetry::Round => 2.0 * PI * distance,
            Symmetry::Flat => 1.0,
        }
    }

    fn fill_active(&mut self, outline: &Outline) {
        for row in 0..self.up {
            for column in 0..self.across {
                let c = self.cell(column, row);
                let (x0, x1) = (self.edges_across_m[column], self.edges_across_m[column + 1]);
                let (z0, z1) = (self.edges_up_m[row], self.edges_up_m[row + 1]);
                let x = 0.5 * (x0 + x1) / outline.extent_m;
                let z = 0.5 * (z0 + z1) / outline.height_m;
                self.width_m[c] = x1 - x0;
                self.height_m[c] = z1 - z0;
                let inside = x + z < 1.0 + ON_THE_SLOPE;
                self.active[c] = outline.upright || inside || (row == 0 && column == 0);
                if self.active[c] {
                    self.volume_m3[c] = self.plan_m2(column) * (z1 - z0);
                }
            }
        }
    }

    fn fill_faces(&mut self) {
        let mut exposed = Vec::new();
        for row in 0..self.up {
            for column in 0..self.across {
                let c = self.cell(column, row);
                if !self.active[c] {
                    continue;
                }
                let side = self.around_m(self.edges_across_m[column + 1]) * self.height_m[c];
                let plan = self.plan_m2(column);
                let face = |facing, area_m2, depth_m| Exposed {
                    cell: c,
                    facing,
                    area_m2,
                    depth_m,
                    slope_factor: 1.0,
                };
                if self.active[c + 1] {
                    self.outward_area_m2[c] = side;
                } else {
                    exposed.push(face(Facing::Side, side, 0.5 * self.width_m[c]));
                }
                if self.active[c + self.stride] {
                    self.upward_area_m2[c] = plan;
                } else {
                    exposed.push(face(Facing::Top, plan, 0.5 * self.height_m[c]));
                }
                if row == 0 {
                    exposed.push(face(Facing::Base, plan, 0.5 * self.height_m[c]));
                }
            }
        }
        self.exposed = exposed;
    }

    /// Gives the steps of a slope the surface of this outline.
    fn fill_slope(&mut self, outline: &Outline) {
        if outline.upright {
            return;
        }
        let steps: f64 = self
            .exposed
            .iter()
            .filter(|f| f.facing != Facing::Base)
            .map(|f| f.area_m2)
            .sum();
        for face in &mut self.exposed {
            if face.facing != Facing::Base {
                face.slope_factor = outline.mantle_m2() / steps;
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
