//! The air flow alone: hydrostatics, balance of every cell, sealed and half-open heaps.

use heapwright::heap::airflow::{Airflow, GRAVITY_M_PER_S2};
use heapwright::heap::grid::{Facing, Grid, Outline, Symmetry};

use crate::bench::{Noise, near, upright};
use crate::support::close;
use crate::support::heap_math::uniform;

/// Air conductance of a face of this area over this distance where a cube of 1 m passes `PERMEANCE`.
const PERMEANCE: f64 = 2.5e-4;

/// An even heap whose faces that look as `open` says are open.
fn even(grid: &Grid, open: impl Fn(Facing) -> bool) -> Airflow {
    let mut air = Airflow::new(grid);
    for c in grid.cells() {
        if grid.outward_area_m2[c] > 0.0 {
            let apart = 0.5 * (grid.width_m[c] + grid.width_m[c + 1]);
            air.outward_conductance[c] = PERMEANCE * grid.outward_area_m2[c] / apart;
        }
        if grid.upward_area_m2[c] > 0.0 {
            let apart = 0.5 * (grid.height_m[c] + grid.height_m[c + grid.stride]);
            air.upward_conductance[c] = PERMEANCE * grid.upward_area_m2[c] / apart;
        }
    }
    for (face, g) in grid.exposed.iter().zip(&mut air.exposed_conductance) {
        if open(face.facing) {
            *g = PERMEANCE * face.area_m2 / face.depth_m;
        }
    }
    air.factorise(grid);
    air
}

fn cone() -> Grid {
    let outline = Outline {
        symmetry: Symmetry::Round,
        extent_m: 1.0,
        height_m: 0.9,
        upright: false,
    };
    Grid::graded(&outline, 11, 9)
}

/// Largest lack of balance in a cell, as a share of the largest flow through any face.
fn imbalance(grid: &Grid, air: &Airflow) -> f64 {
    let mut out = vec![0.0; grid.len];
    let mut largest = 0.0_f64;
    for c in grid.cells() {
        out[c] += air.outward[c] + air.upward[c];
        out[c + 1] -= air.outward[c];
        out[c + grid.stride] -= air.upward[c];
        largest = largest.max(air.outward[c].abs()).max(air.upward[c].abs());
    }
    for (face, flow) in grid.exposed.iter().zip(&air.exposed) {
        out[face.cell] += flow;
        largest = largest.max(flow.abs());
    }
    assert!(largest > 0.0, "nothing flows");
    out.iter().map(|d| d.abs()).fold(0.0, f64::max) / largest
}

/// Sum of the flows through exposed faces that look this way, kg/s outward.
fn through(grid: &Grid, air: &Airflow, facing: Facing) -> f64 {
    let faces = grid.exposed.iter().zip(&air.exposed);
    let its = faces.filter(|(face, _)| face.facing == facing);
    its.map(|(_, flow)| flow).sum()
}

#[test]
fn a_warm_column_draws_as_a_chimney() {
    // Darcy with hydrostatics: a column open at both ends and lighter by d than the air outside passes
    // PERMEANCE * 9.81 d per m2, whatever its height and its cells. Linear, so exact to rounding.
    let d = 0.15;
    for graded in [false, true] {
        let outline = upright(Symmetry::Round, 0.6, 1.4);
        let grid = if graded {
            Grid::graded(&outline, 4, 9)
        } else {
            uniform(&outline, 4, 9)
        };
        let mut air = even(&grid, |facing| facing != Facing::Side);
        let area: f64 = std::f64::consts::PI * 0.36;
        let wanted = PERMEANCE * GRAVITY_M_PER_S2 * d * area;
        let settled = vec![1.0; grid.len];
        air.solve(&grid, &vec![1.2 - d; grid.len], 1.2, &settled);
        close("top", through(&grid, &air, Facing::Top), wanted, 1e-12);
        close("base", through(&grid, &air, Facing::Base), -wanted, 1e-12);
        // Heavier than outside: the same downward.
        air.solve(&grid, &vec![1.2 + d; grid.len], 1.2, &settled);
        close("top", through(&grid, &air, Facing::Top), -wanted, 1e-12);
        // Settled to two thirds with the same conductances of faces: two thirds of the draught.
        let settled = vec![2.0 / 3.0; grid.len];
        air.solve(&grid, &vec![1.2 - d; grid.len], 1.2, &settled);
        close(
            "top",
            through(&grid, &air, Facing::Top),
            wanted / 1.5,
            1e-12,
        );
    }
}

#[test]
fn a_layered_column_draws_by_its_mean_lightness() {
    // Resistances in series and lifts that add up: PERMEANCE * 9.81 * mean of (outside - inside).
    let grid = Grid::graded(&upright(Symmetry::Flat, 0.6, 1.0), 3, 8);
    let mut air = even(&grid, |facing| facing != Facing::Side);
    let mut density = vec![1.2; grid.len];
    let mut mean = 0.0;
    for row in 0..8 {
        let lightness = 0.02 * (row * row % 5) as f64;
        mean += lightness * (grid.edges_up_m[row + 1] - grid.edges_up_m[row]);
        for column in 0..3 {
            density[grid.cell(column, row)] -= lightness;
        }
    }
    air.solve(&grid, &density, 1.2, &vec![1.0; grid.len]);
    let wanted = PERMEANCE * GRAVITY_M_PER_S2 * mean * 0.6;
    close("top", through(&grid, &air, Facing::Top), wanted, 1e-11);
}

#[test]
fn level_layers_in_a_sealed_heap_do_not_move() {
    // Hydrostatic rest, light above or below: no flow but rounding of what a chimney would pass.
    let chimney = PERMEANCE * GRAVITY_M_PER_S2 * 0.2;
    for grid in [
        cone(),
        Grid::graded(&upright(Symmetry::Flat, 0.6, 1.0), 7, 9),
    ] {
        let mut air = even(&grid, |_| false);
        for sign in [-1.0, 1.0] {
            let row = |c: usize| (c / grid.stride) as f64 / 11.0;
            let density: Vec<f64> = (0..grid.len).map(|c| 1.1 + 0.1 * sign * row(c)).collect();
            air.solve(&grid, &density, 1.2, &vec![1.0; grid.len]);
            for c in grid.cells() {
                near("outward", air.outward[c] / chimney, 0.0, 1e-12);
                near("upward", air.upward[c] / chimney, 0.0, 1e-12);
            }
        }
    }
}

/// Conductances that span seven decades, as permeability does, at open faces too.
fn uneven(grid: &Grid, open: impl Fn(Facing) -> bool, noise: &mut Noise) -> Airflow {
    let mut air = even(grid, open);
    let mut spread = |g: &mut f64| *g *= 10f64.powf(7.0 * noise.next() - 7.0);
    air.outward_conductance.iter_mut().for_each(&mut spread);
    air.upward_conductance.iter_mut().for_each(&mut spread);
    air.exposed_conductance.iter_mut().for_each(&mut spread);
    air.factorise(grid);
    air
}

#[test]
fn air_is_neither_made_nor_lost_in_any_cell() {
    // Steps of a cone and a box; even and very uneven; open, half open and sealed. What is left over
    // in a cell is compared with the largest flow through a face: 1e-12 is asked, and 1e-11 of a sealed
    // heap, whose flow is the small rest of lifts that cancel.
    type Open = fn(Facing) -> bool;
    let openings: [Open; 4] = [
        |_| true,
        |facing| facing != Facing::Base,
        |facing| facing == Facing::Top,
        |_| false,
    ];
    let mut noise = Noise::new(7);
    for grid in [cone(), uniform(&upright(Symmetry::Flat, 0.6, 1.0), 16, 16)] {
        for open in openings {
            let density: Vec<f64> = (0..grid.len).map(|_| 1.0 + 0.2 * noise.next()).collect();
            let settled: Vec<f64> = (0..grid.len).map(|_| 0.5 + 0.5 * noise.next()).collect();
            for mut air in [even(&grid, open), uneven(&grid, open, &mut noise)] {
                air.solve(&grid, &density, 1.2, &settled);
                let allowed = if open(Facing::Top) { 1e-12 } else { 1e-11 };
                near("left over", imbalance(&grid, &air), 0.0, allowed);
                let out: f64 = air.exposed.iter().sum();
                let passed: f64 = air.exposed.iter().map(|flow| flow.abs()).sum();
                near("in and out", out, 0.0, 1e-11 * passed);
            }
        }
    }
}

#[test]
fn a_warm_heap_breathes_in_at_the_side_and_out_at_the_top() {
    // Sense of the draught, and its reversal in a heap colder than the air (linear, so exact).
    let grid = Grid::graded(&upright(Symmetry::Round, 0.6, 1.0), 8, 8);
    let mut air = even(&grid, |facing| facing != Facing::Base);
    let settled = vec![1.0; grid.len];
    air.solve(&grid, &vec![1.0; grid.len], 1.2, &settled);
    let (up, side) = (
        through(&grid, &air, Facing::Top),
        through(&grid, &air, Facing::Side),
    );
    assert!(up > 0.0 && side < 0.0, "{up} {side}");
    assert!(through(&grid, &air, Facing::Base) == 0.0);
    air.solve(&grid, &vec![1.4; grid.len], 1.2, &settled);
    close("reversed", through(&grid, &air, Facing::Top), -up, 1e-10);
}

#[test]
fn openings_too_small_to_matter_leave_the_rest_as_if_sealed() {
    // From wide open to shut in steps of a decade: always finite and balanced, and the flow inside
    // tends to that of the sealed heap. What passes an opening of 1e-13 may be lost, hence 1e-10.
    let grid = uniform(&upright(Symmetry::Round, 0.6, 1.0), 6, 6);
    let density: Vec<f64> = (0..grid.len).map(|c| 1.2 - 0.02 * (c % 7) as f64).collect();
    let settled = vec![1.0; grid.len];
    let mut sealed = even(&grid, |_| false);
    sealed.solve(&grid, &density, 1.2, &settled);
    for decade in 0..20 {
        let mut air = even(&grid, |_| true);
        let share = 10f64.powi(-decade);
        air.exposed_conductance.iter_mut().for_each(|g| *g *= share);
        air.factorise(&grid);
        air.solve(&grid, &density, 1.2, &settled);
        near("left over", imbalance(&grid, &air), 0.0, 1e-10);
        if decade >= 8 {
            let c = grid.cell(2, 2);
            close("inside", air.upward[c], sealed.upward[c], 1e-5);
        }
    }
}

#[test]
fn a_part_shut_off_inside_stands_still() {
    // A tight layer at half height: what lies below has no opening, what lies above keeps its draught.
    let grid = uniform(&upright(Symmetry::Flat, 0.6, 1.0), 4, 6);
    let mut air = even(&grid, |facing| facing == Facing::Top);
    for column in 0..4 {
        let c = grid.cell(column, 2);
        assert!(air.upward_conductance[c] > 0.0);
        air.upward_conductance[c] = 0.0;
    }
    air.factorise(&grid);
    // Warm toward the middle, so that both parts turn.
    let density: Vec<f64> = (0..grid.len)
        .map(|c| 1.0 + 0.03 * (c * c % 7) as f64)
        .collect();
    air.solve(&grid, &density, 1.2, &vec![1.0; grid.len]);
    near("left over", imbalance(&grid, &air), 0.0, 1e-12);
    for column in 0..4 {
        assert!(air.upward[grid.cell(column, 2)] == 0.0);
        assert!(air.upward[grid.cell(column, 0)] != 0.0);
    }
}

#[test]
fn a_face_that_is_closed_later_keeps_no_flow() {
    let grid = uniform(&upright(Symmetry::Flat, 0.6, 1.0), 4, 4);
    let mut air = even(&grid, |_| true);
    let density: Vec<f64> = (0..grid.len)
        .map(|c| 1.0 + 0.03 * (c * c % 7) as f64)
        .collect();
    air.solve(&grid, &density, 1.2, &vec![1.0; grid.len]);
    let c = grid.cell(1, 1);
    assert!(air.outward[c] != 0.0 && air.upward[c] != 0.0);
    air.outward_conductance[c] = 0.0;
    air.upward_conductance[c] = 0.0;
    air.factorise(&grid);
    air.solve(&grid, &density, 1.2, &vec![1.0; grid.len]);
    assert!(air.outward[c] == 0.0 && air.upward[c] == 0.0);
    near("left over", imbalance(&grid, &air), 0.0, 1e-12);
}
