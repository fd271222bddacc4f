//! Cones of a right mix on three grids: what is drawn while dragging, at rest, and twice as fine.
//!
//! Self-convergence, the program's own budget: 1 K of the heap's mean temperature from the coarse grid to the fine one
//! and from the fine one to 32 by 32 cells. A cone is drawn in steps, so it is the hardest outline.

use heapwright::heap::{Projection, Resolution, Shape};

use super::right_mix;
use crate::support::garden::{at_once, fate};
use crate::support::heaps::place;
use crate::support::published::case;

/// 32 by 32 cells, four times those of a fine run, on its steps.
const FINER: Resolution = Resolution {
    cells: (32, 32),
    field_hours: None,
    ..Resolution::fine()
};

/// Mean over the run of how far two heaps' mean temperatures are apart, K.
fn apart_k(a: &Projection, b: &Projection) -> f64 {
    let mean = |p: &Projection, day: f64| {
        let after = p.records.partition_point(|r| r.day < day);
        let after = after.clamp(1, p.records.len() - 1);
        let (a, b) = (&p.records[after - 1], &p.records[after]);
        let share = ((day - a.day) / (b.day - a.day)).clamp(0.0, 1.0);
        a.mean_c * (1.0 - share) + b.mean_c * share
    };
    let days: Vec<f64> = (0..160).map(|i| 0.25 * f64::from(i)).collect();
    let apart = days.iter().map(|&day| (mean(a, day) - mean(b, day)).abs());
    apart.sum::<f64>() / days.len() as f64
}

#[test]
fn cones_come_to_the_same_on_every_grid() {
    let heap = "1, 5 and 30 m3 of the mix of T3 in open heaps, 15 degC, 40 days";
    case("CONES", heap, "self-convergence", |told| {
        for volume_m3 in [1.0, 5.0, 30.0] {
            let mut heap = place(Shape::OpenHeap, 15.0);
            heap.days = 40.0;
            let totals = right_mix().filling(volume_m3).totals();
            let grids = [Resolution::coarse(), Resolution::fine(), FINER];
            let [coarse, fine, finer] =
                at_once(grids, |resolution| fate(&totals, &[], &heap, &resolution));
            told.wanted(format!("{volume_m3} m3: coarse to fine, K"), 0.0..=1.0)
                .got(apart_k(&coarse, &fine));
            told.wanted(format!("{volume_m3} m3: fine to finer, K"), 0.0..=1.0)
                .got(apart_k(&fine, &finer));
        }
    });
}
