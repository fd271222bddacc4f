//! Cost of balancing: 20 ingredients into their bands, and a mix that cannot be.
//!
//! Budget: 1 ms for 20 ingredients. The problem is the last of `tests/reference/balance.csv`, so that
//! `python3 tests/reference/make_balance.py --time` can say what scipy takes for the same.

#![expect(
    clippy::expect_used,
    reason = "a benchmark whose vectors are damaged measures nothing"
)]

#[path = "../support/balance_cases.rs"]
mod balance_cases;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use heapwright::mix::balance::{Goal, balance, fixes};
use heapwright::mix::{Gauge, Ingredient, Mix};
use heapwright::quantity::{Amount, Measure};

fn balancing(c: &mut Criterion) {
    let cases = balance_cases::cases();
    let twenty = cases.last().expect("the vectors hold problems");
    assert!(twenty.mix.ingredients.len() == 20 && twenty.best && twenty.works);
    assert!(twenty.number == 201 && twenty.least_effort > 1.0);
    c.bench_function("balance of 20 ingredients", |b| {
        b.iter(|| balance(black_box(&twenty.mix), &twenty.catalogue, &twenty.goal))
    });
    let goal = Goal::of_room(Some(1.0));
    let leaves = Mix {
        ingredients: vec![Ingredient::new(
            "leaves_mixed",
            Amount::new(10.0, Measure::Barrow),
        )],
        added_water_l: 0.0,
    };
    c.bench_function("ways out for leaves alone", |b| {
        b.iter(|| balance(black_box(&leaves), &twenty.catalogue, &goal))
    });
    c.bench_function("fixes of one gauge", |b| {
        b.iter(|| {
            let gauge = Gauge::Moisture;
            fixes(black_box(&twenty.mix), &twenty.catalogue, &goal, gauge)
        })
    });
}

criterion_group!(benches, balancing);
criterion_main!(benches);
