//! The grid against geometry: volumes, areas, cells that a slope cuts, grading.

use std::f64::consts::PI;

use heapwright::heap::grid::{Exposed, Facing, Grid, Outline, Symmetry};

use crate::bench::upright;
use crate::support::heap_math::uniform;
use crate::support::{close, within};

/// Sum of exposed areas that look this way; with `true` the surface they stand for.
fn exposed(grid: &Grid, facing: Facing, of_the_slope: bool) -> f64 {
    let faces = grid.exposed.iter().filter(|face| face.facing == facing);
    faces
        .map(|face| face.area_m2 * if of_the_slope { face.slope_factor } else { 1.0 })
        .sum()
}

fn sloping(symmetry: Symmetry) -> Outline {
    Outline {
        symmetry,
        extent_m: 0.9,
        height_m: 1.1,
        upright: false,
    }
}

#[test]
fn a_cylinder_has_the_volume_and_surface_of_a_cylinder() {
    // Elementary geometry; sums of a few hundred terms, hence 1e-12.
    let (r, h) = (0.7, 1.1);
    let outline = upright(Symmetry::Round, r, h);
    for grid in [uniform(&outline, 9, 13), Grid::graded(&outline, 9, 13)] {
        close("volume", grid.total_volume_m3(), PI * r * r * h, 1e-12);
        close("outline", outline.volume_m3(), PI * r * r * h, 1e-12);
        close(
            "side",
            exposed(&grid, Facing::Side, true),
            2.0 * PI * r * h,
            1e-12,
        );
        close("top", exposed(&grid, Facing::Top, true), PI * r * r, 1e-12);
        close(
            "base",
            exposed(&grid, Facing::Base, true),
            PI * r * r,
            1e-12,
        );
        assert_eq!(grid.cells().count(), 9 * 13);
    }
}

#[test]
fn a_flat_section_has_the_area_and_outline_of_a_rectangle() {
    let outline = upright(Symmetry::Flat, 0.7, 1.1);
    for grid in [uniform(&outline, 9, 13), Grid::graded(&outline, 9, 13)] {
        close("section", grid.total_volume_m3(), 0.7 * 1.1, 1e-12);
        close("side", exposed(&grid, Facing::Side, true), 1.1, 1e-12);
        close("top", exposed(&grid, Facing::Top, true), 0.7, 1e-12);
        close("base", exposed(&grid, Facing::Base, true), 0.7, 1e-12);
    }
}

#[test]
fn inner_faces_are_rings_and_discs() {
    let grid = Grid::graded(&upright(Symmetry::Round, 0.7, 1.1), 5, 4);
    for row in 0..4 {
        for column in 0..5 {
            let c = grid.cell(column, row);
            let (r0, r1) = (grid.edges_across_m[column], grid.edges_across_m[column + 1]);
            let (z0, z1) = (grid.edges_up_m[row], grid.edges_up_m[row + 1]);
            close(
                "volume",
                grid.volume_m3[c],
                PI * (r1 * r1 - r0 * r0) * (z1 - z0),
                1e-12,
            );
            let ring = if column < 4 {
                2.0 * PI * r1 * (z1 - z0)
            } else {
                0.0
            };
            let disc = if row < 3 {
                PI * (r1 * r1 - r0 * r0)
            } else {
                0.0
            };
            close("ring", grid.outward_area_m2[c], ring, 1e-12);
            close("disc", grid.upward_area_m2[c], disc, 1e-12);
        }
    }
}

#[test]
fn a_cone_and_a_row_hold_their_volume_and_show_their_mantle() {
    // Cone: pi r^2 h / 3 and pi r sqrt(r^2 + h^2); half a triangle: r h / 2 and sqrt(r^2 + h^2).
    // Exact by construction on every grid, so 1e-12.
    let (r, h) = (0.9_f64, 1.1_f64);
    for (symmetry, volume, mantle) in [
        (Symmetry::Round, PI * r * r * h / 3.0, PI * r * r.hypot(h)),
        (Symmetry::Flat, r * h / 2.0, r.hypot(h)),
    ] {
        for n in [1, 2, 6, 8, 12, 16, 24] {
            let outline = sloping(symmetry);
            for grid in [uniform(&outline, n, n), Grid::graded(&outline, n, n)] {
                close("volume", grid.total_volume_m3(), volume, 1e-12);
                let shown = exposed(&grid, Facing::Side, true) + exposed(&grid, Facing::Top, true);
                close("mantle", shown, mantle, 1e-12);
                // What looks up must lie over the foot, whatever the steps.
                close(
                    "plan",
                    exposed(&grid, Facing::Top, false),
                    exposed(&grid, Facing::Base, false),
                    1e-12,
                );
            }
        }
    }
}

#[test]
fn a_slope_is_seen_from_the_side_and_from_above_as_it_is() {
    // Foot pi r^2, seen from the side pi r h; half a triangle: r and h. Exact on every grid, so 1e-12.
    let (r, h) = (0.9_f64, 1.1_f64);
    for (symmetry, plan, side) in [
        (Symmetry::Round, PI * r * r, PI * r * h),
        (Symmetry::Flat, r, h),
    ] {
        for n in [1, 2, 3, 8, 16, 64] {
            let outline = sloping(symmetry);
            for grid in [uniform(&outline, n, n), Grid::graded(&outline, n, n + 3)] {
                close("foot", exposed(&grid, Facing::Base, false), plan, 1e-12);
                close("above", exposed(&grid, Facing::Top, false), plan, 1e-12);
                close("side", exposed(&grid, Facing::Side, false), side, 1e-12);
            }
        }
    }
}

#[test]
fn depths_are_those_of_the_centres_under_the_slope() {
    // Distance of a point from the line x / r + z / h = 1. Cells halved by the slope hold half of theirs.
    let (r, h) = (0.9_f64, 1.1_f64);
    for n in [3, 4, 9] {
        let size = 1.0 / n as f64;
        let grid = uniform(&sloping(Symmetry::Flat), n, n);
        let slopes = grid
            .exposed
            .iter()
            .filter(|face| face.facing != Facing::Base);
        for face in slopes {
            let (column, row) = (face.cell % grid.stride - 1, face.cell / grid.stride - 1);
            assert_eq!(column + row, n - 1, "only what the slope cuts shows it");
            close(
                "volume",
                grid.volume_m3[face.cell],
                0.5 * size * size * r * h,
                1e-12,
            );
            assert!(face.depth_m > 0.0 && face.depth_m < 1.001e-4 * size * r);
        }
    }
    // Four unequal cells, of which the outer upper one lies outside.
    let grid = Grid::from_edges(
        &sloping(Symmetry::Flat),
        vec![0.0, 0.3, 0.9],
        vec![0.0, 0.4, 1.1],
    );
    assert_eq!(grid.cells().count(), 3);
    for (column, row, x, z) in [(1, 0, 0.6, 0.2), (0, 1, 0.15, 0.75)] {
        let its =
            |face: &&Exposed| face.cell == grid.cell(column, row) && face.facing != Facing::Base;
        for face in grid.exposed.iter().filter(its) {
            let under = (1.0 - x / r - z / h) * r * h / r.hypot(h);
            close("depth", face.depth_m, under, 1e-12);
        }
    }
}

#[test]
fn a_slope_through_the_corners_is_not_ragged() {
    // On an n x n grid of equal cells a row of centres lies exactly on the slope.
    for n in 2..=40 {
        let grid = uniform(&sloping(Symmetry::Round), n, n);
        for row in 0..n {
            let cells = (0..n).filter(|&c| grid.active[grid.cell(c, row)]).count();
            assert_eq!(cells, n - row, "row {row} of {n}");
        }
    }
}

#[test]
fn cells_grow_finer_toward_side_and_top() {
    // Cells at the side a third of those in the middle; neighbours differ by less than a third, so
    // that second order holds.
    let grid = Grid::graded(&upright(Symmetry::Round, 1.0, 1.0), 12, 12);
    let widths: Vec<f64> = grid
        .edges_across_m
        .windows(2)
        .map(|e| e[1] - e[0])
        .collect();
    let heights: Vec<f64> = grid.edges_up_m.windows(2).map(|e| e[1] - e[0]).collect();
    within("middle over side", widths[0] / widths[11], 2.7..=3.24);
    assert!(widths.windows(2).all(|w| w[1] < w[0] && w[1] > w[0] / 1.33));
    let widest = heights.iter().copied().fold(0.0, f64::max);
    within("widest over top", widest / heights[11], 2.0..=2.56);
    within("widest over base", widest / heights[0], 1.0..=1.15);
    close("whole", widths.iter().sum(), 1.0, 1e-12);
    let fine = Grid::graded(&upright(Symmetry::Round, 1.0, 1.0), 400, 1);
    let edges = &fine.edges_across_m;
    close("limit", edges[1] / (edges[400] - edges[399]), 3.24, 0.01);
}

#[test]
fn the_ring_of_ghosts_holds_nothing() {
    for symmetry in [Symmetry::Round, Symmetry::Flat] {
        let grid = Grid::graded(&sloping(symmetry), 7, 5);
        assert_eq!((grid.stride, grid.len), (9, 9 * 7));
        for c in (0..grid.len).filter(|&c| !grid.active[c]) {
            let held = grid.volume_m3[c] + grid.outward_area_m2[c] + grid.upward_area_m2[c];
            assert!(held == 0.0, "cell {c}");
        }
        let ring = (0..grid.len).filter(|c| {
            let (column, row) = (c % grid.stride, c / grid.stride);
            column == 0 || row == 0 || column == 8 || row == 6
        });
        assert!(ring.into_iter().all(|c| !grid.active[c]));
    }
}
