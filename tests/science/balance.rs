//! The balance against scipy, handbook examples, and what it promises.

use heapwright::mix::balance::{Goal, Reached, balance};
use heapwright::mix::{Gauge, Ingredient, Mix};
use heapwright::quantity::{Amount, Measure};

use crate::support::balance_cases::cases;
use crate::support::materials::built_in;

fn row(material: &str, value: f64, measure: Measure) -> Ingredient {
    Ingredient {
        material: material.into(),
        amount: Amount::new(value, measure),
        locked: false,
        stock: None,
    }
}

#[test]
fn probe() {
    for (names, room) in [
        (
            vec!["leaves_mixed", "grass_fresh", "horse_straw"],
            Some(1.0),
        ),
        (vec!["leaves_mixed", "grass_fresh", "veg_scraps"], Some(1.0)),
        (vec!["leaves_mixed"], Some(1.0)),
        (vec!["leaves_dry_loose"], Some(1.44)),
        (vec!["grass_fresh"], Some(1.0)),
        (vec![], Some(1.0)),
        (vec!["straw", "cattle_fresh", "wood_chips_arb"], Some(1.0)),
        (vec!["wood_ash"], Some(1.0)),
    ] {
        let mix = Mix {
            ingredients: names
                .iter()
                .map(|n| {
                    row(
                        n,
                        0.0,
                        if n.starts_with("leaves") {
                            Measure::Barrow
                        } else {
                            Measure::Bucket
                        },
                    )
                })
                .collect(),
            added_water_l: 0.0,
        };
        let started = std::time::Instant::now();
        let b = balance(&mix, built_in(), &Goal::of_room(room)).unwrap();
        println!(
            "{names:?} {:?} {:?} {:?}",
            b.rounding,
            b.least_effort,
            started.elapsed()
        );
        for s in &b.steps {
            println!("   {} {} -> {}", s.name, s.from.text(), s.to.text());
        }
        if let Some(g) = b.after.gauges {
            println!(
                "   cn {:.1} m {:.3} v {:.3} fas {:.3} bd {:.0}",
                g.cn.typical,
                g.moisture.typical,
                g.volume_m3.typical,
                g.free_air_space.typical,
                g.wet_bulk_density_kg_per_m3.typical
            );
        }
        match &b.verdict {
            Reached::Nearest { fighting, ways_out } => {
                println!("   {fighting:?}");
                for w in ways_out {
                    println!(
                        "   way: {} best {} effort {:.1}",
                        w.text(),
                        w.best,
                        w.effort
                    );
                    for s in &w.steps {
                        println!("        {} {} -> {}", s.name, s.from.text(), s.to.text());
                    }
                }
            }
            other => println!("   {other:?}"),
        }
    }
}

/// scipy's linprog and SLSQP on 200 random mixes and one of 20 ingredients,
/// `tests/reference/make_balance.py`, which writes the formulas out again. 1e-6 of the objective:
/// both solvers stop far below that.
#[test]
fn the_least_effort_is_that_of_scipy_on_two_hundred_mixes() {
    let cases = cases();
    assert_eq!(cases.len(), 201);
    for case in cases.iter().filter(|case| case.best) {
        let found = balance(&case.mix, &case.catalogue, &case.goal).unwrap();
        assert_eq!(found.verdict, Reached::Best, "mix {}", case.number);
        let apart = (found.least_effort - case.least_effort).abs();
        assert!(
            apart <= 1e-6 * case.least_effort,
            "mix {}: {} against {}",
            case.number,
            found.least_effort,
            case.least_effort
        );
    }
}

/// The same vectors: linprog says which cannot be done. Yes or no, so there is no tolerance; close
/// calls (a margin below 1e-4) are not among the vectors.
#[test]
fn what_cannot_be_done_is_recognised_without_exception() {
    let (mut never, mut not_best) = (0, 0);
    for case in cases().iter().filter(|case| !case.best) {
        let found = balance(&case.mix, &case.catalogue, &case.goal).unwrap();
        match found.verdict {
            Reached::Works { beyond_best } => {
                assert!(case.works, "mix {} cannot be", case.number);
                assert!(beyond_best.contains(&Gauge::Volume));
                not_best += 1;
            }
            Reached::Nearest { fighting, .. } => {
                assert!(!case.works, "mix {} can be", case.number);
                assert!(!fighting.is_empty());
                never += 1;
            }
            other => panic!("mix {}: {other:?}", case.number),
        }
    }
    assert!(never > 30 && not_best > 0, "{never} {not_best}");
}
