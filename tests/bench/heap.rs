//! Runs of 120 days: coarse (while dragging), fine (at rest), a member of an ensemble, and 32 of them on
//! two threads. Cost per cell and step is the time over `cells * steps`, printed first.

#[path = "../support/heaps.rs"]
#[expect(dead_code, reason = "the tests use more of the canonical heaps")]
mod heaps;

use criterion::{Criterion, criterion_group, criterion_main};
use heaps::{GOOD, mesh_cube, project_with};
use heapwright::heap::Resolution;

fn runs(c: &mut Criterion) {
    let heap = mesh_cube(1.0, 15.0);
    let totals = GOOD.totals();
    let mut group = c.benchmark_group("120 days of a cubic metre");
    group.sample_size(20);
    for (name, resolution) in [
        ("coarse", Resolution::coarse()),
        ("member", Resolution::member()),
        ("fine", Resolution::fine()),
    ] {
        let steps = project_with(&totals, &heap, &resolution).map_or(0, |p| p.steps);
        println!(
            "{name}: {} cells, {steps} steps",
            resolution.cells.0 * resolution.cells.1
        );
        group.bench_function(name, |b| {
            b.iter(|| project_with(&totals, &heap, &resolution))
        });
    }
    group.sample_size(10);
    group.bench_function("32 members on two threads", |b| {
        b.iter(|| {
            std::thread::scope(|scope| {
                for _ in 0..2 {
                    scope.spawn(|| {
                        for _ in 0..16 {
                            project_with(&totals, &heap, &Resolution::member());
                        }
                    });
                }
            });
        });
    });
    group.finish();
}

criterion_group!(benches, runs);
criterion_main!(benches);
