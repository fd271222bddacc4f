//! One closed cell for 30 days: time of the heap simulator with a single cell in its usual steps, and of a general solver at
//! the loosest tolerance that is as near to the reference. Steps and errors are printed;
//! `tests/reference/make_closed_cell.py --time` does the same for LSODA of scipy.

mod closed_cell;
#[path = "../support/heaps.rs"]
#[expect(dead_code, reason = "the tests use more of the canonical heaps")]
mod heaps;

use closed_cell::{Cell, as_near_as, general, ours};
use criterion::{Criterion, criterion_group, criterion_main};
use heaps::{GOOD, project_with};

fn one_cell(c: &mut Criterion) {
    let Some((steps, error)) = ours() else {
        return println!("the cell does not run");
    };
    println!("heap simulator: {steps} steps, {error:.4} K off");
    let Some((tolerance, error, steps)) = as_near_as(error) else {
        return println!("the general solver comes nowhere near");
    };
    println!("general solver: {steps} steps at tolerance {tolerance:.0e}, {error:.4} K off");
    let totals = GOOD.totals();
    let (cell, start) = Cell::new(&totals);
    let (heap, resolution) = closed_cell::closed_cell();
    let mut group = c.benchmark_group("30 days of one closed cell");
    group.bench_function("heap simulator", |b| {
        b.iter(|| project_with(&totals, &heap, &resolution))
    });
    group.bench_function("general solver", |b| {
        b.iter(|| general(&cell, &start, tolerance))
    });
    group.finish();
}

criterion_group!(benches, one_cell);
criterion_main!(benches);
