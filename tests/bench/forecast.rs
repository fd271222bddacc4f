//! The forecast: ensembles of 200 and of 32 members over 120 days on all threads, and for reference the
//! single runs; then what is not simulation (drawing 200 members, and gathering them, from a stand-in).

#[path = "../support/heaps.rs"]
#[expect(dead_code, reason = "the tests use more of the canonical heaps")]
mod heaps;

use std::sync::atomic::AtomicBool;

use criterion::{Criterion, criterion_group, criterion_main};
use heaps::{GOOD, mesh_cube, project_with};
use heapwright::diary::{Diary, Reading, Spot};
use heapwright::forecast::learn::Learner;
use heapwright::forecast::plan_search::{SEEDS, explore};
use heapwright::forecast::{Draws, Ensemble, Inputs, WIDTHS, ensemble};
use heapwright::heap::{Addition, Heap, Kinetics, Projection, Resolution, RunControl};
use heapwright::mix::Totals;
use heapwright::outcome::{Brief, Case, Outcome, shared};
use jiff::civil::date;

/// One projection for all members, made once.
static READY: std::sync::OnceLock<Projection> = std::sync::OnceLock::new();

fn ready(
    totals: &Totals,
    _: &[Addition],
    heap: &Heap,
    _: &Kinetics,
    control: RunControl<'_>,
) -> Option<Projection> {
    if READY.get().is_none() {
        READY
            .set(project_with(totals, heap, control.resolution)?)
            .ok();
    }
    READY.get().cloned()
}

fn forecasts(c: &mut Criterion) {
    let heap = mesh_cube(1.0, 15.0);
    let totals = GOOD.totals();
    let inputs = Inputs::of(&totals, &heap);
    let never = AtomicBool::new(false);
    println!("threads: {}", rayon::current_num_threads());
    let mut group = c.benchmark_group("forecast of 120 days");
    group.sample_size(10);
    for (name, resolution) in [
        ("member", Resolution::member()),
        ("coarse", Resolution::coarse()),
        ("fine", Resolution::fine()),
    ] {
        group.bench_function(name, |b| {
            b.iter(|| project_with(&totals, &heap, &resolution))
        });
    }
    for count in [32, 200] {
        group.bench_function(format!("ensemble of {count}"), |b| {
            b.iter(|| ensemble(&inputs, count, 1, &never, |_| {}));
        });
    }
    let mut diary = Diary {
        built: Some(date(2025, 5, 1).at(12, 0, 0, 0)),
        ..Diary::default()
    };
    for day in 1..=10 {
        if let Some(at) = diary.moment_of(2.0 * f64::from(day)) {
            diary
                .readings
                .push(Reading::temperature(at, Spot::CENTRE, 55.0));
        }
    }
    group.bench_function("learning from 10 readings", |b| {
        b.iter(|| Learner::default().learn(&inputs, &diary, &never));
    });
    group.bench_function("200 draws", |b| {
        b.iter(|| {
            let draws = Draws::new(&inputs, &WIDTHS, 1);
            for number in 1..=200 {
                std::hint::black_box(draws.member(number));
            }
        });
    });
    let gathering = Ensemble {
        simulator: ready,
        ..Ensemble::default()
    };
    group.bench_function("200 gathered", |b| {
        b.iter(|| gathering.run(&inputs, &never, |_| {}));
    });
    if let Ok(facts) = shared() {
        let projection = project_with(&totals, &heap, &Resolution::member());
        group.bench_function("judging a member", |b| {
            b.iter(|| {
                projection
                    .as_ref()
                    .map(|p| Brief::of(p, facts, &heap, &inputs.kinetics))
            });
        });
        for (name, resolution) in [
            ("coarse", Resolution::coarse()),
            ("fine", Resolution::fine()),
        ] {
            let Some(projection) = project_with(&totals, &heap, &resolution) else {
                continue;
            };
            let case = Case {
                projection: &projection,
                heap: &heap,
                totals: &totals,
                parts: &[],
                advice: &[],
                uses: &[],
                tests: &[],
                kinetics: &inputs.kinetics,
            };
            group.bench_function(format!("whole outcome of a {name} run"), |b| {
                b.iter(|| Outcome::of(&case, facts));
            });
        }
        group.bench_function("plan search", |b| {
            b.iter(|| explore((&inputs, None), SEEDS, facts, &never, |_| {}));
        });
    }
    group.finish();
}

criterion_group!(benches, forecasts);
criterion_main!(benches);
