//! Conduction of heat in the kernels against series solutions.
//!
//! Theta is the temperature over the surroundings as a share of that at the start, Bi = U L / k,
//! Fo = alpha t / L^2 with L the half width or radius (Carslaw and Jaeger, Conduction of Heat in
//! Solids, 1959). The series are summed by scipy (`make_conduction.py`); their first eigenvalues agree
//! with the printed tables (Bi 1: 0.8603 for the slab, 1.2558 for the cylinder).

use std::f64::consts::PI;

use heapwright::heap::grid::{Facing, Grid, Outline, Symmetry};
use heapwright::heap::transport::THETA;

use crate::bench::{Bench, Even, Wall, at_middle, falls, near, upright};
use crate::support::heap_math::uniform;
use crate::support::{Vectors, close};

fn series() -> Vectors {
    Vectors::read(include_str!("../reference/conduction.csv"))
}

/// Rows of the series for this body: Bi, Fo, and centre, surface, mean.
fn rows(body: &str) -> Vec<(f64, f64, [f64; 3])> {
    let v = series();
    let its = (0..v.len()).filter(|&row| v.text(row, "body") == body);
    its.map(|row| {
        let shares = ["centre", "surface", "mean"].map(|column| v.number(row, column));
        (v.number(row, "bi"), v.number(row, "fo"), shares)
    })
    .collect()
}

fn grid(outline: &Outline, graded: bool, across: usize, up: usize) -> Grid {
    if graded {
        Grid::graded(outline, across, up)
    } else {
        uniform(outline, across, up)
    }
}

/// Slab or infinite cylinder at 1: one row of cells between insulated ends, film on the side.
fn single_row(symmetry: Symmetry, n: usize, graded: bool, bi: f64) -> Bench {
    let grid = grid(&upright(symmetry, 1.0, 0.3), graded, n, 1);
    let mut bench = Bench::new(grid, Even::UNIT);
    bench.wall(Facing::Side, Wall::Film(bi, 0.0));
    bench.fill(|_, _| 1.0);
    bench
}

/// Advances by this time in equal steps of at most `dt`.
fn advance(bench: &mut Bench, time: f64, dt: f64) {
    let steps = (time / dt).ceil();
    for _ in 0..steps as usize {
        bench.step(time / steps);
    }
}

/// Centre, surface and mean of a single row behind a film, over the surroundings.
fn probe(bench: &Bench, film_w_per_m2_k: f64, outside: f64) -> [f64; 3] {
    let over = |column| {
        let c = bench.grid.cell(column, 0);
        (bench.centre(c).0, bench.temperature[c] - outside)
    };
    let last = bench.grid.across - 1;
    let half = 0.5 * bench.grid.width_m[bench.grid.cell(last, 0)] / bench.even.conductivity;
    // Half a cell and the film in series.
    let surface = over(last).1 / (1.0 + film_w_per_m2_k * half);
    [at_middle(over(0), over(1)), surface, bench.mean() - outside]
}

#[test]
fn slab_and_cylinder_follow_the_series() {
    // 64 cells. The scheme's own error there is 1e-4 at most (see the orders below), hence 1.5e-4.
    for (body, symmetry) in [("slab", Symmetry::Flat), ("cylinder", Symmetry::Round)] {
        let rows = rows(body);
        assert_eq!(rows.len(), 12, "{body}");
        for (bi, fo, wanted) in rows {
            for graded in [false, true] {
                let mut bench = single_row(symmetry, 64, graded, bi);
                advance(&mut bench, fo, 2.5e-4);
                for (got, wanted) in probe(&bench, bi, 0.0).into_iter().zip(wanted) {
                    let what = format!("{body}, Bi {bi}, Fo {fo}, graded {graded}");
                    near(&what, got, wanted, 1.5e-4);
                }
            }
        }
    }
}

#[test]
fn errors_fall_with_the_square_of_the_cell() {
    // Bi 2, Fo 0.5, steps of half a cell squared, so that both errors fall alike: 2 is wanted, 1.9
    // asked of centre, surface and mean on four grids.
    for (body, symmetry) in [("slab", Symmetry::Flat), ("cylinder", Symmetry::Round)] {
        let row = rows(body).into_iter().find(|r| r.0 == 2.0 && r.1 == 0.5);
        let (bi, fo, wanted) = row.unwrap();
        for graded in [false, true] {
            let mut errors = [const { Vec::new() }; 3];
            for n in [8, 16, 32, 64] {
                let mut bench = single_row(symmetry, n, graded, bi);
                advance(&mut bench, fo, 0.5 / (n * n) as f64);
                let got = probe(&bench, bi, 0.0);
                for i in 0..3 {
                    errors[i].push((got[i] - wanted[i]).abs());
                }
            }
            for (place, errors) in ["centre", "surface", "mean"].iter().zip(&errors) {
                falls(&format!("{body} {place}, graded {graded}"), errors, 1.9);
            }
        }
    }
}

/// Centre, rim and mean of a cylinder as high as it is wide, on an even grid.
fn probe_finite(bench: &Bench, bi: f64) -> [f64; 3] {
    let n = bench.grid.across;
    let t = |column, row| bench.temperature[bench.grid.cell(column, row)];
    let h = 1.0 / n as f64;
    let at_axis = |row| at_middle((0.5 * h, t(0, row)), (1.5 * h, t(1, row)));
    let centre = at_middle((0.5 * h, at_axis(n)), (1.5 * h, at_axis(n + 1)));
    let to_surface = 1.0 / (1.0 + 0.5 * bi * h);
    let rim = t(n - 1, 2 * n - 1) * to_surface * to_surface;
    [centre, rim, bench.mean()]
}

#[test]
fn a_finite_cylinder_follows_the_product_of_the_series() {
    // Films on side, top and base: every kind of exposed face. Order 2 wanted, 1.9 asked of the finest
    // pair and 1.8 of the coarser ones, because at Fo 0.1 six cells are few (centre 1.84, 1.96, 1.99);
    // the rim, whose error there happens to pass through 0 (0.28, 1.79, 1.94), only of the finest.
    let rows = rows("finite");
    assert_eq!(rows.len(), 4);
    let mut errors = vec![[const { Vec::new() }; 3]; rows.len()];
    for n in [6, 12, 24, 48] {
        let grid = uniform(&upright(Symmetry::Round, 1.0, 2.0), n, 2 * n);
        let mut bench = Bench::new(grid, Even::UNIT);
        for facing in [Facing::Side, Facing::Top, Facing::Base] {
            bench.wall(facing, Wall::Film(2.0, 0.0));
        }
        bench.fill(|_, _| 1.0);
        let mut time = 0.0;
        for ((bi, fo, wanted), errors) in rows.iter().zip(&mut errors) {
            advance(&mut bench, fo - time, 0.5 / (n * n) as f64);
            time = *fo;
            let got = probe_finite(&bench, *bi);
            for i in 0..3 {
                errors[i].push((got[i] - wanted[i]).abs());
            }
        }
    }
    for ((_, fo, _), errors) in rows.iter().zip(&errors) {
        for (place, errors) in ["centre", "rim", "mean"].iter().zip(errors) {
            falls(&format!("{place}, Fo {fo}"), &errors[2..], 1.9);
            if *place != "rim" {
                falls(&format!("{place}, Fo {fo}"), errors, 1.8);
            }
            near(&format!("{place}, Fo {fo}"), errors[3], 0.0, 2e-4);
        }
    }
}

#[test]
fn a_metre_wide_cylinder_cools_as_the_series_says() {
    // Radius 0.5 m, 0.4 W/m K, 1.6 MJ/m3 K, 2 W/m2 K (Bi 2.5), 60 degC into 10 degC, days 1 to 40;
    // centre on day 5: 29.67 degC. 24 graded cells and steps of an hour: 0.1 K.
    let grid = Grid::graded(&upright(Symmetry::Round, 0.5, 0.3), 24, 1);
    let even = Even {
        conductivity: 0.4,
        capacity: 1.6e6,
        ..Even::UNIT
    };
    let mut bench = Bench::new(grid, even);
    bench.wall(Facing::Side, Wall::Film(2.0, 10.0));
    bench.fill(|_, _| 60.0);
    let mut time = 0.0;
    let rows = rows("metre");
    assert_eq!(rows.len(), 6);
    for (_, fo, wanted) in rows {
        let now = fo * 0.25 * 1.6e6 / 0.4;
        advance(&mut bench, now - time, 3600.0);
        time = now;
        for (got, share) in probe(&bench, 2.0, 10.0).into_iter().zip(wanted) {
            near(&format!("day {}", now / 86400.0), got, 50.0 * share, 0.1);
        }
    }
}

/// Rise of centre and surface over the surroundings when 100 W/m3 flow out steadily.
fn steady_rise(symmetry: Symmetry, extent: f64, k: f64, u: f64, n: usize) -> [f64; 2] {
    let grid = Grid::graded(&upright(symmetry, extent, 0.3), n, 1);
    let even = Even {
        conductivity: k,
        ..Even::UNIT
    };
    let mut bench = Bench::new(grid, even);
    bench.wall(Facing::Side, Wall::Film(u, 10.0));
    for c in bench.grid.cells().collect::<Vec<_>>() {
        bench.source_w[c] = 100.0 * bench.grid.volume_m3[c];
    }
    // Steps far longer than any time of the problem: the change shrinks by 0.45 / 0.55 each.
    for _ in 0..200 {
        bench.step(1e6);
    }
    assert!(bench.largest_change() < 1e-9);
    let [centre, surface, _] = probe(&bench, u, 10.0);
    [centre, surface]
}

#[test]
fn a_steady_source_raises_the_middle_as_in_the_closed_form() {
    // Cylinder q R^2 / 4k + q R / 2U, slab q R^2 / 2k + q R / U; surface without the first term.
    let (q, r, k, u) = (100.0, 0.5, 0.4, 2.0);
    for (symmetry, share) in [(Symmetry::Round, 1.0), (Symmetry::Flat, 2.0)] {
        let surface = share * q * r / (2.0 * u);
        let wanted = [share * q * r * r / (4.0 * k) + surface, surface];
        let mut errors = Vec::new();
        for n in [8, 16, 32, 64] {
            let got = steady_rise(symmetry, r, k, u, n);
            // All heat made must pass the surface, on any grid.
            close("surface", got[1], wanted[1], 1e-9);
            errors.push((got[0] - wanted[0]).abs());
        }
        falls(&format!("{symmetry:?}"), &errors, 1.9);
        near(&format!("{symmetry:?}"), errors[3], 0.0, 0.005);
    }
    // The same formula at 0.35 W/m K and 5 W/m2 K, in K, rounded to a tenth.
    for (r, wanted) in [
        (0.3, 9.4),
        (0.4, 15.4),
        (0.5, 22.9),
        (0.75, 47.7),
        (1.0, 81.4),
    ] {
        let got = steady_rise(Symmetry::Round, r, 0.35, 5.0, 32);
        near(&format!("radius {r}"), got[0], wanted, 0.1);
    }
}

#[test]
fn one_step_multiplies_a_cosine_as_the_two_sweeps_say() {
    // On an even grid with insulated faces cos(a x) cos(b z) is an eigenvector of either sweep with
    // eigenvalue 4/h^2 sin^2(a h/2); a step then multiplies it by
    // 1 - dt (l + m) / ((1 + theta dt l)(1 + theta dt m)): the factored scheme, to rounding, at any dt.
    let (n, m) = (12, 9);
    for dt in [1e-4, 1e-2, 1.0, 100.0] {
        let grid = uniform(&upright(Symmetry::Flat, 1.0, 1.5), n, m);
        let mut bench = Bench::new(grid, Even::UNIT);
        let (a, b) = (2.0 * PI, PI / 1.5);
        let mode = |x: f64, z: f64| (a * x).cos() * (b * z).cos();
        bench.fill(mode);
        bench.step(dt);
        let eigen = |wave: f64, h: f64| (2.0 / h * (0.5 * wave * h).sin()).powi(2);
        let (l, m) = (eigen(a, 1.0 / n as f64), eigen(b, 1.5 / m as f64));
        let factor = 1.0 - dt * (l + m) / ((1.0 + THETA * dt * l) * (1.0 + THETA * dt * m));
        for c in bench.grid.cells() {
            let (x, z) = bench.centre(c);
            near("mode", bench.temperature[c], factor * mode(x, z), 1e-12);
        }
    }
}

#[test]
fn a_row_that_makes_heat_is_as_warm_in_the_middle_as_a_square_bar_is_stressed() {
    // Mirrored at its middle plane and at its insulated foot, half a row as high as it is wide is a square of side
    // sqrt(2) with its edges held at 0: the stress function of a square bar in torsion, whose middle is 0.0736713 side^2
    // (Timoshenko and Goodier, Theory of Elasticity, article on rectangular bars; summed below). Cells cut by
    // the slope must not spoil the second order.
    let series: f64 = (0..40)
        .map(|k| {
            let n = f64::from(2 * k + 1);
            let sign = if k % 2 == 0 { 1.0 } else { -1.0 };
            sign / n.powi(3) * (1.0 - 1.0 / (0.5 * PI * n).cosh())
        })
        .sum();
    let wanted = 2.0 * 4.0 / PI.powi(3) * series;
    close("0.0736713 side^2", wanted, 2.0 * 0.073_671_3, 1e-6);
    let mut errors = Vec::new();
    for n in [6, 12, 24, 48] {
        let outline = Outline {
            upright: false,
            ..upright(Symmetry::Flat, 1.0, 1.0)
        };
        let mut bench = Bench::new(uniform(&outline, n, n), Even::UNIT);
        for facing in [Facing::Side, Facing::Top] {
            bench.wall(facing, Wall::Held(0.0));
        }
        for c in bench.grid.cells().collect::<Vec<_>>() {
            bench.source_w[c] = bench.grid.volume_m3[c];
        }
        advance(&mut bench, 3.0, 0.5 / (n * n) as f64);
        let t = |column, row| bench.temperature[bench.grid.cell(column, row)];
        let h = 1.0 / n as f64;
        let at_axis = |row| at_middle((0.5 * h, t(0, row)), (1.5 * h, t(1, row)));
        let middle = at_middle((0.5 * h, at_axis(0)), (1.5 * h, at_axis(1)));
        errors.push((middle - wanted).abs());
    }
    falls("middle", &errors, 1.8);
    near("middle", errors[3], 0.0, 3e-4);
}
