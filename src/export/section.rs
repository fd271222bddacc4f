//! The inside of a heap as a picture: values on an even raster, lines of equal temperature.
//!
//! In: a field of a projection with its cells. Out: numbers between -1 and 1 across and 0 and 1 up that
//! any painter can colour, and how wide and high the heap stands; nothing here knows a screen.
//!
//! Between cell centres values run bilinearly; outside the heap there is no value. The left half mirrors
//! the right. A slope, which the cells follow in steps, is drawn straight from the foot to the top.
//!
//! Not here: colours and painting (`cross_section`), words (`text::page`).
//!
//! Tested by: `tests/window/heap_section.rs`.

use crate::heap::{Projection, SectionGrid, SectionValue};

/// Lower and upper end of the colours of a value, in the unit of the field.
pub fn span(of: SectionValue) -> (f64, f64) {
    match of {
        SectionValue::Temperature => (0.0, 75.0),
        SectionValue::Moisture => (0.2, 0.8),
        SectionValue::Oxygen => (0.0, 0.21),
        SectionValue::LeftToRot => (0.0, 1.0),
    }
}

/// Where the legend of a value has numbers, in the unit of the field.
pub fn ticks(of: SectionValue) -> &'static [f64] {
    match of {
        SectionValue::Temperature => &[0.0, 20.0, 40.0, 55.0, 65.0, 75.0],
        SectionValue::Moisture => &[0.2, 0.35, 0.5, 0.65, 0.8],
        SectionValue::Oxygen => &[0.0, 0.05, 0.1, 0.15, 0.21],
        SectionValue::LeftToRot => &[0.0, 0.25, 0.5, 0.75, 1.0],
    }
}

/// Values on an even raster over the whole section, row by row from the top; not a number outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Raster {
    /// Points across.
    pub width: usize,
    /// Points up.
    pub height: usize,
    /// The values.
    pub values: Vec<f32>,
}

/// How wide and how high a heap stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extent {
    /// Width from side to side at its foot, m.
    pub width_m: f64,
    /// Height at the middle, m.
    pub height_m: f64,
}

impl Extent {
    /// Width over height.
    pub fn aspect(self) -> f64 {
        self.width_m / self.height_m.max(1e-9)
    }

    /// As built, without what has settled.
    fn built(grid: &SectionGrid) -> Self {
        Self {
            width_m: 2.0 * last(&grid.edges_across_m),
            height_m: last(&grid.edges_up_m),
        }
    }

    /// As it stands on a day: it sinks as its volume does, and keeps its width; `None` without a picture of that day.
    ///
    /// It never stands higher than built: the simulation holds a fresh heap's loose skin a little higher than the
    /// buckets it came in.
    pub fn on_day(projection: &Projection, day: f64) -> Option<Self> {
        let grid = projection.grids.get(projection.field_at(day)?.grid)?;
        let (built, volume_m3) = (Self::built(grid), projection.at(day)?.volume_m3);
        let loose_m3: f64 = grid.volume_m3.iter().sum();
        let left = (volume_m3 / loose_m3.max(1e-12)).min(1.0);
        Some(Self {
            height_m: left * built.height_m,
            ..built
        })
    }

    /// The widest and highest that the heap ever is: the frame in which all its days can be drawn to one scale.
    pub fn largest(projection: &Projection) -> Option<Self> {
        let all = projection.grids.iter().map(Self::built);
        all.reduce(|most, it| Self {
            width_m: most.width_m.max(it.width_m),
            height_m: most.height_m.max(it.height_m),
        })
    }
}

fn last(edges: &[f64]) -> f64 {
    edges.last().copied().unwrap_or(1.0)
}

impl Raster {
    /// The picture of some values of a field on its grid.
    pub fn of(grid: &SectionGrid, values: &[f32], width: usize, height: usize) -> Self {
        let (columns, rows) = (grid.edges_across_m.len() - 1, grid.edges_up_m.len() - 1);
        let mut table = vec![f32::NAN; columns * rows];
        for (&(column, row), value) in grid.places.iter().zip(values) {
            table[row * columns + column] = *value;
        }
        fill_outward(&mut table, columns);
        let across = centres(&grid.edges_across_m);
        let up = centres(&grid.edges_up_m);
        let (extent, top) = (last(&grid.edges_across_m), last(&grid.edges_up_m));
        let sloping = slopes(grid);
        let out: Vec<f64> = (0..width)
            .map(|x| extent * (2.0 * (x as f64 + 0.5) / width as f64 - 1.0).abs())
            .collect();
        let places: Vec<Between> = out.iter().map(|&r| about(&across, r)).collect();
        let mut raster = Vec::with_capacity(width * height);
        for y in 0..height {
            let z = top * (1.0 - (y as f64 + 0.5) / height as f64);
            let reach = if sloping {
                extent * (1.0 - z / top)
            } else {
                extent
            };
            let row = about(&up, z);
            for (&r, &place) in out.iter().zip(&places) {
                raster.push(if r > reach {
                    f32::NAN
                } else {
                    between(&table, columns, place, row)
                });
            }
        }
        Self {
            width,
            height,
            values: raster,
        }
    }

    /// The value at a place given as shares of width (from the left) and height (from the top).
    pub fn at(&self, across: f64, down: f64) -> Option<f64> {
        let x = ((across * self.width as f64) as usize).min(self.width.saturating_sub(1));
        let y = ((down * self.height as f64) as usize).min(self.height.saturating_sub(1));
        let value = *self.values.get(y * self.width + x)?;
        (!value.is_nan()).then_some(f64::from(value))
    }

    /// How far out the heap reaches at a height, as a share of half its width; `None` where it is not that high.
    pub fn reach(&self, down: f64) -> Option<f64> {
        let row = ((down * self.height as f64) as usize).min(self.height.checked_sub(1)?);
        let values = self.values.get(row * self.width..(row + 1) * self.width)?;
        let first = values.iter().position(|value| !value.is_nan())?;
        Some(1.0 - 2.0 * first as f64 / self.width as f64)
    }

    /// Value in the middle and at the side, a third up: where every shape is still wide.
    pub fn centre_and_edge(&self) -> Option<(f64, f64)> {
        let down = 2.0 / 3.0;
        let row = ((down * self.height as f64) as usize).min(self.height.checked_sub(1)?);
        let values = self.values.get(row * self.width..(row + 1) * self.width)?;
        let edge = values.iter().find(|value| !value.is_nan())?;
        Some((self.at(0.5, down)?, f64::from(*edge)))
    }

    /// Pieces of the line on which the value is `level`: pairs of points as shares of width and height.
    pub fn isoline(&self, level: f32) -> Vec<[(f32, f32); 2]> {
        let mut pieces = Vec::new();
        for y in 0..self.height.saturating_sub(1) {
            for x in 0..self.width.saturating_sub(1) {
                let corner = |dx: usize, dy: usize| self.values[(y + dy) * self.width + x + dx];
                let above = |dx, dy| corner(dx, dy) >= level;
                let first = above(0, 0);
                if above(1, 0) == first && above(0, 1) == first && above(1, 1) == first {
                    continue;
                }
                // Round the square: top left, top right, bottom right, bottom left.
                let corners = [(0, 0), (1, 0), (1, 1), (0, 1)];
                let mut cuts: [Option<(f32, f32)>; 4] = [None; 4];
                for side in 0..4 {
                    let (a, b) = (corners[side], corners[(side + 1) % 4]);
                    let (va, vb) = (corner(a.0, a.1) - level, corner(b.0, b.1) - level);
                    if (va < 0.0) != (vb < 0.0) && va.is_finite() && vb.is_finite() {
                        let share = va / (va - vb);
                        let along = |from: usize, to: usize| {
                            from as f32 + share * (to as f32 - from as f32)
                        };
                        cuts[side] = Some((
                            x as f32 + along(a.0, b.0) + 0.5,
                            y as f32 + along(a.1, b.1) + 0.5,
                        ));
                    }
                }
                let found: Vec<(f32, f32)> = cuts.into_iter().flatten().collect();
                for pair in found.chunks_exact(2) {
                    let shares =
                        |p: (f32, f32)| (p.0 / self.width as f32, p.1 / self.height as f32);
                    pieces.push([shares(pair[0]), shares(pair[1])]);
                }
            }
        }
        pieces
    }
}

fn centres(edges: &[f64]) -> Vec<f64> {
    edges
        .windows(2)
        .map(|pair| 0.5 * (pair[0] + pair[1]))
        .collect()
}

/// Whether the sides slope: the top row then reaches less far out than the lowest.
fn slopes(grid: &SectionGrid) -> bool {
    let reach = |row: usize| {
        let columns = grid.places.iter().filter(|place| place.1 == row);
        columns.map(|place| place.0).max()
    };
    reach(0) > reach(grid.edges_up_m.len().saturating_sub(2))
}

/// Gives cells outside the heap the value of their neighbour inward, else of the one below, so that the
/// picture can be drawn up to a slope.
fn fill_outward(table: &mut [f32], columns: usize) {
    for index in 0..table.len() {
        if table[index].is_nan() && index % columns > 0 {
            table[index] = table[index - 1];
        }
        if table[index].is_nan() && index >= columns {
            table[index] = table[index - columns];
        }
    }
}

/// Two neighbouring centres and the share of the second.
type Between = (usize, usize, f64);

/// The two centres about `x` and the share of the second; at the ends both are the last centre.
fn about(centres: &[f64], x: f64) -> Between {
    let after = centres.iter().position(|&centre| centre >= x);
    match after {
        None => (centres.len() - 1, centres.len() - 1, 0.0),
        Some(0) => (0, 0, 0.0),
        Some(i) => (
            i - 1,
            i,
            (x - centres[i - 1]) / (centres[i] - centres[i - 1]),
        ),
    }
}

/// Bilinear value.
fn between(table: &[f32], columns: usize, across: Between, up: Between) -> f32 {
    let ((i0, i1, fx), (j0, j1, fy)) = (across, up);
    let along = |j: usize| {
        let (a, b) = (table[j * columns + i0], table[j * columns + i1]);
        f64::from(a) * (1.0 - fx) + f64::from(b) * fx
    };
    (along(j0) * (1.0 - fy) + along(j1) * fy) as f32
}
