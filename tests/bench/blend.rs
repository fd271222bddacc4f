//! Cost of what runs on every frame while a slider moves: look-up, blend, ranges, advice, search.
//!
//! Budget: 50 us for the blend of 20 ingredients with its ranges.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use heapwright::material::{Browse, Catalogue, Condition, Order};
use heapwright::mix::{Ingredient, Mix, blend};
use heapwright::outcome::advise;
use heapwright::quantity::{Amount, Measure, UnitSystem};
use heapwright::text::advice::sentence;
use heapwright::text::material::family;

/// Every seventh material of the catalogue, twenty of them, in turn by bucket and by kilogram.
fn mix_of_twenty(catalogue: &Catalogue) -> Mix {
    let materials = catalogue.materials().iter().step_by(7).take(20);
    Mix {
        ingredients: materials
            .enumerate()
            .map(|(place, material)| {
                let measure = if place % 2 == 0 {
                    Measure::Bucket
                } else {
                    Measure::Kilogram
                };
                Ingredient {
                    material: material.id.clone(),
                    amount: Amount::new(1.0 + place as f64, measure),
                    locked: false,
                    stock: None,
                    condition: Condition::default(),
                }
            })
            .collect(),
        added_water_l: 20.0,
    }
}

fn every_frame(c: &mut Criterion) {
    let Ok(catalogue) = Catalogue::built_in() else {
        return;
    };
    let mix = mix_of_twenty(&catalogue);
    let Ok(parts) = mix.resolve(&catalogue) else {
        return;
    };
    let blended = blend(&parts, mix.added_water_l);
    c.bench_function("blend of 20 ingredients with ranges", |b| {
        b.iter(|| blend(black_box(&parts), black_box(20.0)))
    });
    c.bench_function("look up and blend 20 ingredients", |b| {
        b.iter(|| {
            let parts = black_box(&mix).resolve(&catalogue)?;
            Ok::<_, heapwright::mix::MixError>(blend(&parts, mix.added_water_l))
        })
    });
    let mut worn = mix.clone();
    for row in &mut worn.ingredients {
        row.condition = Condition {
            wilted_days: 1.0,
            packed: 0.5,
            chopped: 0.5,
        };
    }
    c.bench_function(
        "look up and blend 20 ingredients, all wilted, packed, chopped",
        |b| {
            b.iter(|| {
                let parts = black_box(&worn).resolve(&catalogue)?;
                Ok::<_, heapwright::mix::MixError>(blend(&parts, worn.added_water_l))
            })
        },
    );
    c.bench_function("what to do next, 20 ingredients", |b| {
        b.iter(|| {
            let units = UnitSystem::Metric;
            let advice = advise(black_box(&mix), &parts, &blended, Some(1.44), None);
            let said = advice.iter().map(|advice| sentence(advice, units));
            said.collect::<Vec<String>>()
        })
    });
    c.bench_function("search per keystroke", |b| {
        b.iter(|| catalogue.search(black_box("dry le"), family).len())
    });
    let browse = Browse {
        words: "le".to_owned(),
        family: None,
        side: None,
        order: Order::CarbonToNitrogen,
    };
    c.bench_function("search and sort per keystroke in the drawer", |b| {
        b.iter(|| black_box(&browse).find(&catalogue, family).len())
    });
    c.bench_function("read the catalogue", |b| b.iter(Catalogue::built_in));
}

criterion_group!(benches, every_frame);
criterion_main!(benches);
