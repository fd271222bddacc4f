//! Cells that a slope cuts: what of a cell lies inside, how large its faces are there, and what of the slope it shows.
//!
//! In: an outline that slopes, the faces of columns and rows. Out: a [`Cut`] of every cell.
//!
//! All integrals are exact: the slope is a straight line, so volumes and areas of a cell are polynomials of the height, of
//! second degree at most, and two points of Gauss's rule (Abramowitz and Stegun, table 25.4; exact to the third
//! degree) on either side of the kink suffice. A cell whose centre lies outside is no cell of its own: what of it lies inside
//! goes to a neighbour, what it shows of the slope to those it lies against. So the temperature of a cell is everywhere
//! that at its centre, and conduction stays of second order up to the slope.
//!
//! Not here: upright heaps, distances between cells (`grid`).
//!
//! Tested by: `tests/science/grid.rs`, `tests/science/conduction.rs`.

use super::outline::Outline;

/// Places of Gauss's rule with two points of equal weight on 0-1: `0.5 -+ 0.5 / sqrt(3)`.
const GAUSS: [f64; 2] = [0.211_324_865_405_187_1, 0.788_675_134_594_812_9];
/// A centre this close to the slope, as a share of the whole, lies on it and counts as inside; so rounding does not decide
/// over cells of an even grid, whose centres lie on the slope in a row.
const ON_THE_SLOPE: f64 = 1.0e-9;

/// What of a cell lies inside a sloping outline.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Cut {
    /// Volume inside, m3 (per metre of length if flat), with that of neighbours too small to be cells.
    pub(super) volume_m3: f64,
    /// Part of the outward and the upward face that lies inside, m2.
    pub(super) outward_m2: f64,
    pub(super) upward_m2: f64,
    /// Slope that it shows, seen from the side and from above, m2, and its foot, m2.
    pub(super) side_m2: f64,
    pub(super) top_m2: f64,
    pub(super) base_m2: f64,
}

/// Every cell of a sloping heap, row by row from the ground, each from the middle outward; `None` where its centre
/// lies outside.
pub(super) fn cut(outline: &Outline, across: &[f64], up: &[f64]) -> Vec<Option<Cut>> {
    let (columns, rows) = (across.len() - 1, up.len() - 1);
    let mut cuts: Vec<Cut> = (0..columns * rows)
        .map(|i| {
            let (column, row) = (i % columns, i / columns);
            inside(
                outline,
                [across[column], across[column + 1]],
                [up[row], up[row + 1]],
                row == 0,
            )
        })
        .collect();
    let is_own = |column: usize, row: usize| {
        let x = 0.5 * (across[column] + across[column + 1]) / outline.extent_m;
        let z = 0.5 * (up[row] + up[row + 1]) / outline.height_m;
        (column == 0 && row == 0) || x + z < 1.0 + ON_THE_SLOPE
    };
    // From the top down and from the outside in, so that what is passed on comes to cells not yet judged.
    for row in (0..rows).rev() {
        for column in (0..columns).rev() {
            let i = row * columns + column;
            if is_own(column, row) {
                continue;
            }
            let small = std::mem::take(&mut cuts[i]);
            let inner = (column > 0).then(|| i - 1);
            let below = (row > 0).then(|| i - columns);
            let (Some(beside), Some(under)) = (inner.or(below), below.or(inner)) else {
                continue;
            };
            // To the one it shares the larger face with.
            let inner_m2 = outline.symmetry.around_m(across[column])
                * inner_height_m(outline, across[column], [up[row], up[row + 1]]);
            let under_m2 = small.top_m2 + small.upward_m2;
            let takes = if under_m2 > inner_m2 { under } else { beside };
            cuts[takes].volume_m3 += small.volume_m3;
            cuts[beside].side_m2 += small.side_m2;
            cuts[under].top_m2 += small.top_m2;
            cuts[beside].base_m2 += small.base_m2;
        }
    }
    let own = |i: usize| is_own(i % columns, i / columns);
    let cuts = cuts.into_iter().enumerate();
    cuts.map(|(i, cut)| own(i).then_some(cut)).collect()
}

/// How much of a height between two lies inside at this distance from the middle, m.
fn inner_height_m(outline: &Outline, x: f64, [low, high]: [f64; 2]) -> f64 {
    (outline.height_m * (1.0 - x / outline.extent_m)).clamp(low, high) - low
}

/// A cell between two distances from the middle and two heights, by itself.
fn inside(outline: &Outline, x: [f64; 2], z: [f64; 2], on_ground: bool) -> Cut {
    let symmetry = outline.symmetry;
    let reach = |z: f64| (outline.extent_m * (1.0 - z / outline.height_m)).clamp(x[0], x[1]);
    // Below the first height the cell is whole, above the second none of it lies inside.
    let whole_to = z[0] + inner_height_m(outline, x[1], z);
    let cut_to = z[0] + inner_height_m(outline, x[0], z);
    let mut cut = Cut {
        outward_m2: symmetry.around_m(x[1]) * (whole_to - z[0]),
        upward_m2: symmetry.plan_m2(x[0], reach(z[1])),
        top_m2: symmetry.plan_m2(reach(z[1]), reach(z[0])),
        base_m2: if on_ground {
            symmetry.plan_m2(x[0], reach(z[0]))
        } else {
            0.0
        },
        ..Cut::default()
    };
    for [from, to] in [[z[0], whole_to], [whole_to, cut_to]] {
        for place in GAUSS {
            let to_here = reach(from + place * (to - from));
            let thick = 0.5 * (to - from);
            cut.volume_m3 += thick * symmetry.plan_m2(x[0], to_here);
            if from == whole_to {
                cut.side_m2 += thick * symmetry.around_m(to_here);
            }
        }
    }
    cut
}
