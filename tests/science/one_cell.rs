//! The reference cell of the tests against scipy's LSODA, and its balances.

use heapwright::heap::{Heap, Kinetics};

use crate::support::heaps::{GOOD, GRASS, Recipe, closed_bin, mesh_cube};
use crate::support::well_mixed::{CellHistory, simulate_well_mixed};
use crate::support::{Vectors, close};

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
        let heat = l.heat_start_j + l.heat_made_j
            - l.heat_surface_j
            - l.heat_vapour_j
            - l.heat_drained_j
            - l.heat_end_j;
        assert!(
            heat.abs() < 1e-9 * l.heat_made_j,
            "{name}: heat {heat} J of {}",
            l.heat_made_j
        );
        let water = l.water_start_kg + l.water_made_kg + l.water_rain_kg
            - l.water_vapour_kg
            - l.water_drained_kg
            - l.water_end_kg;
        assert!(
            water.abs() < 1e-9 * l.water_start_kg,
            "{name}: water {water} kg"
        );
        close(
            &format!("{name}: carbon"),
            l.carbon_end_kg + l.carbon_oxidised_kg,
            l.carbon_start_kg,
            1e-9,
        );
        close(
            &format!("{name}: nitrogen"),
            l.nitrogen_end_kg + l.nitrogen_ammonia_kg,
            l.nitrogen_start_kg,
            1e-9,
        );
        close(
            &format!("{name}: oxygen"),
            l.oxygen_supplied_kg,
            l.oxygen_used_kg,
            1e-9,
        );
        // Dry matter lost + oxygen used = carbon dioxide + water made.
        let burnt = l.dry_start_kg - l.dry_end_kg + l.oxygen_used_kg;
        let products = l.carbon_oxidised_kg * 44.0 / 12.0 + l.water_made_kg;
        close(&format!("{name}: mass"), products, burnt, 1e-9);
        assert!(
            l.carbon_oxidised_kg > 0.0 && l.heat_vapour_j > 0.0,
            "{name} did nothing"
        );
    }
}
