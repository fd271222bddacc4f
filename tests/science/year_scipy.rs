//! The year planner's optimum against scipy's `milp`.
//!
//! `reference/year_plans.json` is written by `make_year_plans.py` beside it: 50 seeded years in numbers, each with the
//! objective that scipy's `milp` (HiGHS) finds on another formulation of it; `null` where the demands contradict each other.

use std::time::Instant;

use heapwright::mix::{
    ASH_DENSITY_KG_PER_M3, ORGANIC_DENSITY_KG_PER_M3, Totals, WATER_DENSITY_KG_PER_M3, slumped_part,
};
use heapwright::year::{BandPart, Demand, Goal, Limits, Place, Stuff, Task, Unsolved, solve};
use serde_json::Value;

/// Relative distance that two optimal objectives may have.
pub const SAME: f64 = 1e-6;

fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no {key}"))
}

fn index(value: &Value, key: &str) -> usize {
    value[key].as_u64().unwrap_or_else(|| panic!("no {key}")) as usize
}

fn reference_years() -> Vec<(Task, Option<f64>)> {
    let text = include_str!("../reference/year_plans.json");
    let years: Value = serde_json::from_str(text).unwrap();
    let years = years.as_array().unwrap();
    years
        .iter()
        .map(|year| (task(year), year["objective"].as_f64()))
        .collect()
}

fn task(year: &Value) -> Task {
    let rows = |key: &str| year[key].as_array().unwrap().clone();
    Task {
        stuffs: rows("stuffs")
            .iter()
            .map(|it| Stuff {
                sums: sums(it),
                arrives: std::array::from_fn(|at| it["arrives"][at].as_f64().unwrap()),
                lasts_months: index(it, "lasts_months"),
                lasts_days: number(it, "lasts_days"),
                measures: 1.0,
            })
            .collect(),
        places: rows("places")
            .iter()
            .map(|it| Place {
                count: index(it, "count"),
                low_m3: number(it, "low_m3"),
                high_m3: number(it, "high_m3"),
                fills_days: number(it, "fills_days"),
                fills_months: index(it, "fills_months"),
                stands_months: index(it, "stands_months"),
                free_from: index(it, "free_from"),
                takes: it["takes"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(|t| t.as_bool().unwrap())
                    .collect(),
            })
            .collect(),
        storage_m3: number(year, "storage_m3"),
        limits: Limits::of(BandPart::Best),
        demands: rows("demands").iter().map(demand).collect(),
        goal: Goal::Most,
    }
}

/// The sums of a unit. The reference gives volumes without air and once settled: the ash and the slumping that make
/// them so are solved for.
fn sums(it: &Value) -> Totals {
    let [organic, ash, water] = [
        ORGANIC_DENSITY_KG_PER_M3,
        ASH_DENSITY_KG_PER_M3,
        WATER_DENSITY_KG_PER_M3,
    ];
    let (dry_kg, water_kg) = (number(it, "dry_kg"), number(it, "water_kg"));
    let (piled_m3, settled_m3) = (number(it, "piled_m3"), number(it, "settled_m3"));
    let without_ash_m3 = dry_kg / organic + water_kg / water;
    let part = slumped_part(14.0);
    let sums = Totals {
        dry_kg,
        water_kg,
        carbon_kg: number(it, "carbon_kg"),
        nitrogen_kg: number(it, "nitrogen_kg"),
        ash_kg: (without_ash_m3 - number(it, "airless_m3")) / (1.0 / organic - 1.0 / ash),
        piled_volume_m3: piled_m3,
        volume_that_slumps_m3: (piled_m3 - settled_m3) / part,
        loose_volume_m3: number(it, "loose_m3"),
        ..Totals::default()
    };
    assert!((sums.airless_volume_m3() - number(it, "airless_m3")).abs() < 1e-12);
    assert!((piled_m3 - sums.slumped_volume_m3() - settled_m3).abs() < 1e-12);
    sums
}

fn demand(it: &Value) -> Demand {
    match it["what"].as_str().unwrap() {
        "build" => Demand::Build {
            place: index(it, "place"),
            month: index(it, "month"),
            heaps: 1,
        },
        "empty" => Demand::Empty {
            place: index(it, "place"),
            month: index(it, "month"),
            empty: 1,
        },
        "put" => Demand::Put {
            place: index(it, "place"),
            month: index(it, "month"),
            stuff: index(it, "stuff"),
            units: number(it, "units"),
        },
        "none_spoils" => Demand::NoneSpoils {
            stuff: index(it, "stuff"),
        },
        other => panic!("{other} is no demand"),
    }
}

/// scipy's `milp` (HiGHS), see `make_year_plans.py`.
#[test]
fn fifty_seeded_years_count_as_much_as_with_scipy() {
    let years = reference_years();
    assert_eq!(years.len(), 50);
    let (mut planned, mut contradict, mut worst) = (0, 0, 0.0_f64);
    let since = Instant::now();
    for (seed, (task, wanted)) in years.iter().enumerate() {
        match (solve(task), wanted) {
            (Ok(solved), Some(wanted)) => {
                assert!(solved.proven, "year {seed} was not solved to the end");
                let off = (solved.objective - wanted).abs() / wanted.abs().max(1.0);
                assert!(
                    off <= SAME,
                    "year {seed}: {} against {wanted}",
                    solved.objective
                );
                worst = worst.max(off);
                planned += 1;
            }
            (Err(Unsolved::Infeasible), None) => contradict += 1,
            (found, wanted) => panic!("year {seed}: {found:?} against {wanted:?}"),
        }
    }
    println!(
        "{planned} planned, {contradict} contradict, worst {worst:.1e}, {:?}",
        since.elapsed()
    );
    assert!(planned >= 30 && contradict >= 5, "{planned} {contradict}");
}
