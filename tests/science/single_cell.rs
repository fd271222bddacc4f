//! The heap in two dimensions with one cell against scipy's LSODA.
//!
//! `make_single_cell.py` writes the same equations a second time as ordinary differential equations, with exact
//! functions and root finding in place of tables and Newton steps. What differs is then the step, the tables
//! (2e-4 of the humidity) and three Newton steps at the skin.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Base, Cover, Ended, Event, Heap, Kinetics, Operation, Projection, Resolution, RunControl,
    Shape, simulate_with,
};

use crate::support::Vectors;
use crate::support::heaps::{GOOD, Recipe, closed_bin, mesh_cube, place};

const NAMES: [&str; 5] = ["mesh_1m3", "closed_1m3", "wet_72", "slats_cn50", "tumbler"];

/// The cases of `make_single_cell.py`, by name.
fn case(name: &str) -> (Recipe, Heap) {
    match name {
        "mesh_1m3" => (GOOD, mesh_cube(1.0, 15.0)),
        "closed_1m3" => (GOOD, closed_bin(1.0, 15.0)),
        "wet_72" => (GOOD.wetted_to(0.72), mesh_cube(1.0, 15.0)),
        "slats_cn50" => {
            let mut heap = place(
                Shape::SlattedBin {
                    width_m: 1.0,
                    length_m: 1.0,
                    height_m: 1.0,
                },
                15.0,
            );
            heap.base = Base::Paving;
            (Recipe { cn: 50.0, ..GOOD }, heap)
        }
        "tumbler" => {
            let plan: f64 = 0.3 / 0.9;
            let recipe = Recipe {
                volume_m3: 0.3,
                cn: 22.0,
                particle_size_m: 1.2e-3,
                ..GOOD
            };
            let shape = Shape::Tumbler {
                diameter_m: (4.0 * plan / std::f64::consts::PI).sqrt(),
                length_m: 0.9,
            };
            (recipe, place(shape, 20.0))
        }
        other => panic!("no case {other}"),
    }
}

/// The kinetics written down in `make_single_cell.py`.
fn kinetics() -> Kinetics {
    Kinetics {
        fast_per_day: 0.26,
        medium_per_day: 0.042,
        slow_per_day: 0.015,
        growth_yield: 0.385,
        microbe_cn: 7.8,
        lean_nitrogen: [1.0 / 11.0, 1.0 / 12.0, 1.0 / 18.0],
        lean_nitrogen_on_wood: 1.0 / 45.0,
        slow_first: 0.8,
        death_per_day: 0.032,
        die_off_at_65_c_per_day: 1.0,
        humus_share: 0.50,
        richness: [1.6, 0.9, 0.6, 0.9],
        mineral_at_start: 0.01,
        mineral_at_start_in_wood: 0.05,
        nitrified_and_lost_per_day: 0.08,
        crowding: 0.012,
        microbes_at_start: 0.01,
        mineral_use_days: 0.25,
        cardinal_c: [-1.0, 56.0, 74.0],
        half_oxygen: 0.02,
        ammonia_free_share: 1.0,
        ph_raise: 0.0,
    }
}

/// One cell, this step (h) and change (K) at most.
fn run(name: &str, (step_hours, change_k, refresh_hours): (f64, f64, f64)) -> Projection {
    let (recipe, mut heap) = case(name);
    // A operation that does nothing ends a step and makes a record on the days of the vectors.
    heap.plan.events = [1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0]
        .map(|day| Event {
            repeat: None,
            day,
            operation: Operation::Cover(Cover::Bare),
        })
        .to_vec();
    let resolution = Resolution {
        cells: (1, 1),
        step_hours,
        change_k,
        refresh_hours,
        record_hours: 24.0,
        field_hours: None,
        ..Resolution::coarse()
    };
    let stop = AtomicBool::new(false);
    let p = simulate_with(
        &recipe.totals(),
        &[],
        &heap,
        &kinetics(),
        RunControl {
            resolution: &resolution,
            stop: &stop,
        },
    )
    .unwrap();
    assert_eq!(p.ended, Ended::Finished);
    p
}

/// Water on the first day of the vectors, nearly that at the start, kg.
fn record_of_start(v: &Vectors, name: &str, column: &str) -> f64 {
    let first = (0..v.len()).find(|&row| v.text(row, "case") == name);
    v.number(first.unwrap(), column)
}

/// Largest difference of temperature (K), of amounts (share of them; water, of which little is left in the end, as a
/// share of what was there) and of oxygen (mole fraction).
fn differences(name: &str, p: &Projection) -> [f64; 3] {
    let v = Vectors::read(include_str!("../reference/single_cell.csv"));
    let rows: Vec<usize> = (0..v.len())
        .filter(|&row| v.text(row, "case") == name)
        .collect();
    assert_eq!(rows.len(), 8, "{name}");
    let mut worst = [0.0f64; 3];
    for row in rows {
        let day = v.number(row, "day");
        let record = p.at(day + 1e-9).unwrap();
        assert!((record.day - day).abs() < 1e-9);
        worst[0] = worst[0].max((record.centre_c - v.number(row, "temperature_c")).abs());
        let built = record_of_start(&v, name, "water_kg");
        worst[1] = worst[1].max((record.water_kg - v.number(row, "water_kg")).abs() / built);
        for (column, got) in [
            ("dry_kg", record.dry_kg),
            ("nitrogen_kg", record.nitrogen_kg),
            ("volume_m3", record.volume_m3),
        ] {
            worst[1] = worst[1].max((got / v.number(row, column) - 1.0).abs());
        }
        worst[2] = worst[2].max((record.oxygen - v.number(row, "oxygen")).abs());
    }
    worst
}

#[test]
fn one_cell_with_short_steps_follows_lsoda() {
    // Steps of 7.5 minutes. Bands: 0.06 K and 6e-4 of each amount, what tables and first-order steps leave.
    for name in NAMES {
        let [kelvin, share, oxygen] = differences(name, &run(name, (0.125, 0.025, 0.125)));
        assert!(
            kelvin < 0.06 && share < 6e-4 && oxygen < 5e-4,
            "{name}: {kelvin} K, {share:.1e}, oxygen {oxygen:.1e}"
        );
    }
}

#[test]
fn one_cell_comes_closer_the_shorter_the_steps() {
    // First order in the step: a quarter of the step leaves less than half of the difference of an amount.
    let errors =
        |name| [1.0, 0.25].map(|step| differences(name, &run(name, (step, 0.2 * step, step)))[1]);
    let smooth = errors("mesh_1m3");
    assert!(smooth[1] < 0.5 * smooth[0], "{smooth:?}");
    // The lean cell runs out of nitrogen on its second day: a corner in its laws, at which a longer step may happen to do
    // as well as a shorter one. Both stay small.
    let cornered = errors("slats_cn50");
    assert!(cornered.iter().all(|error| *error < 4e-4), "{cornered:?}");
}

#[test]
fn one_cell_with_the_steps_of_the_window_stays_near_lsoda() {
    // Steps of the fine and of the coarse resolution: 0.5 and 1 K on the days of the vectors, which lie on the steep
    // flank and the fall as well; 1.5 % and 2.5 % of each amount, both for water of a heap that the wind dries out.
    for (resolution, kelvin_most, share_most) in [
        (Resolution::fine(), 0.5, 0.015),
        (Resolution::coarse(), 1.0, 0.025),
    ] {
        let steps = (
            resolution.step_hours,
            resolution.change_k,
            resolution.refresh_hours,
        );
        for name in NAMES {
            let [kelvin, share, _] = differences(name, &run(name, steps));
            assert!(
                kelvin < kelvin_most && share < share_most,
                "{name}: {kelvin} K, {share:.1e}"
            );
        }
    }
}
