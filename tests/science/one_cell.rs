//! The reference cell of the tests against scipy's LSODA, and its balances.

use heapwright::heap::{Heap, Kinetics, Resolution};

use crate::support::heaps::{GOOD, GRASS, Recipe, closed_bin, mesh_cube, project_with};
use crate::support::well_mixed::{CellHistory, simulate_well_mixed};
use crate::support::{Vectors, close, closes};

/// The cases of `make_one_cell.py`, by name.
fn case(name: &str) -> (Recipe, Heap) {
    match name {
        "good_1m3" => (GOOD, mesh_cube(1.0, 15.0)),
        "small_0.2m3" => (
            Recipe {
                volume_m3: 0.2,
                ..GOOD
            },
            mesh_cube(0.2, 15.0),
        ),
        "wet_72" => (GOOD.wetted_to(0.72), mesh_cube(1.0, 15.0)),
        "brown_cn50" => (Recipe { cn: 50.0, ..GOOD }, mesh_cube(1.0, 15.0)),
        "closed_1m3" => (GOOD, closed_bin(1.0, 15.0)),
        "grass" => (GRASS, mesh_cube(1.0, 15.0)),
        other => panic!("no case {other}"),
    }
}

fn run(name: &str, tolerance: f64) -> CellHistory {
    let (recipe, heap) = case(name);
    simulate_well_mixed(&recipe.totals(), &heap, &Kinetics::default(), tolerance)
}

const NAMES: [&str; 6] = [
    "good_1m3",
    "small_0.2m3",
    "wet_72",
    "brown_cn50",
    "closed_1m3",
    "grass",
];

#[test]
fn every_case_follows_lsoda() {
    // scipy solve_ivp LSODA at rtol 1e-10, equations written a second time in Python. 1e-4 of each
    // value is asked; the run uses the tolerance at which our own error lies well below that.
    let v = Vectors::read(include_str!("../reference/one_cell.csv"));
    for name in NAMES {
        let projection = run(name, 1e-8);
        let rows: Vec<usize> = (0..v.len())
            .filter(|&row| v.text(row, "case") == name)
            .collect();
        assert_eq!(rows.len(), 8, "{name}");
        for row in rows {
            let record = projection.at(v.number(row, "day") + 1e-9).unwrap();
            for (column, got) in [
                ("day", record.day),
                ("temperature_c", record.temperature_c),
                ("water_kg", record.water_kg),
                ("dry_kg", record.dry_kg),
                ("nitrogen_kg", record.nitrogen_kg),
                ("volume_m3", record.volume_m3),
                ("oxygen", record.oxygen),
            ] {
                close(
                    &format!("{name} day {} {column}", record.day),
                    got,
                    v.number(row, column),
                    1e-4,
                );
            }
        }
    }
}

#[test]
fn heat_water_carbon_nitrogen_and_oxygen_close() {
    // First law and conservation of matter, to 1e-9 of what is turned over.
    for name in NAMES {
        let l = run(name, 1e-6).ledger;
        closes(name, &l);
    }
}

#[test]
fn a_closed_cell_of_the_grid_follows_lsoda() {
    // scipy LSODA at rtol 1e-10 (make_closed_cell.py). Steps of a sixteenth of an hour, since the brown cell runs out of
    // nitrogen in the midst of its climb: 0.05 K while it climbs 20 K a day, 1e-4 of water and dry matter. Four by four
    // equal cells must do the same as one.
    let v = Vectors::read(include_str!("../reference/closed_cell.csv"));
    for cells in [(1, 1), (4, 4)] {
        for (name, cn) in [("balanced", 27.0), ("brown", 50.0)] {
            let mut heap = mesh_cube(1.0, 20.0);
            (heap.days, heap.start_temperature_c) = (30.0, Some(20.0));
            let resolution = Resolution {
                cells,
                step_hours: 0.0625,
                refresh_hours: 0.0625,
                record_hours: 0.0625,
                field_hours: None,
                isolated: true,
                ..Resolution::fine()
            };
            let p = project_with(&Recipe { cn, ..GOOD }.totals(), &heap, &resolution).unwrap();
            for row in (0..v.len()).filter(|&row| v.text(row, "case") == name) {
                let day = v.number(row, "day");
                let after = p
                    .records
                    .partition_point(|r| r.day < day)
                    .min(p.records.len() - 1);
                let (a, b) = (&p.records[after - 1], &p.records[after]);
                let share = ((day - a.day) / (b.day - a.day)).clamp(0.0, 1.0);
                let between = |x: f64, y: f64| x * (1.0 - share) + y * share;
                let off = between(a.mean_c, b.mean_c) - v.number(row, "temperature_c");
                assert!(off.abs() < 0.05, "{name} {cells:?} day {day}: {off} K off");
                close(
                    "water",
                    between(a.water_kg, b.water_kg),
                    v.number(row, "water_kg"),
                    1e-4,
                );
                close(
                    "dry matter",
                    between(a.dry_kg, b.dry_kg),
                    v.number(row, "dry_kg"),
                    1e-4,
                );
            }
        }
    }
}
