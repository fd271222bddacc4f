//! Grid and step convergence of whole runs, at the centre.

use heapwright::heap::{Projection, Settings};

use crate::support::heaps::{GOOD, mesh_cube, project_with};

/// 26 by 26 cells (2.6 times the cells of a fine run), steps of at most 1.5 h, refreshed every 3 h.
const FINER: Settings = Settings {
    cells: (26, 26),
    step_hours: 1.5,
    change_k: 0.7,
    refresh_hours: 3.0,
    oxygen_sweeps: 24,
    record_hours: 3.0,
    field_hours: None,
};

fn run(settings: &Settings) -> Projection {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 60.0;
    project_with(&GOOD.totals(), &heap, settings).unwrap()
}

/// Temperature of the centre on a day, straight between records.
fn centre_c(p: &Projection, day: f64) -> f64 {
    let after = p
        .records
        .partition_point(|r| r.day < day)
        .clamp(1, p.records.len() - 1);
    let (a, b) = (&p.records[after - 1], &p.records[after]);
    let share = ((day - a.day) / (b.day - a.day)).clamp(0.0, 1.0);
    a.centre_c * (1.0 - share) + b.centre_c * share
}

/// Root mean square difference of the centre over the run, K.
fn apart_k(a: &Projection, b: &Projection) -> f64 {
    let days: Vec<f64> = (0..240).map(|i| 0.25 * f64::from(i)).collect();
    let square = |day: &f64| (centre_c(a, *day) - centre_c(b, *day)).powi(2);
    (days.iter().map(square).sum::<f64>() / days.len() as f64).sqrt()
}

#[test]
fn a_finer_run_moves_the_fine_one_by_less_than_a_degree_and_half_a_day() {
    // Self-convergence: 1 K and 0.5 d are the program's own budget for a settled projection, 2 K for the one
    // drawn while dragging.
    let (coarse, fine, finer) = (
        run(&Settings::coarse()),
        run(&Settings::fine()),
        run(&FINER),
    );
    let (near, far) = (apart_k(&fine, &finer), apart_k(&coarse, &fine));
    println!(
        "fine to finer {near:.2} K, coarse to fine {far:.2} K; peaks {:.1} {:.1} {:.1}, days above 55 {:.2} {:.2} {:.2}",
        coarse.summary.peak_c,
        fine.summary.peak_c,
        finer.summary.peak_c,
        coarse.summary.days_above_55,
        fine.summary.days_above_55,
        finer.summary.days_above_55
    );
    assert!(near < 1.0, "{near} K");
    assert!(far < 2.0, "{far} K");
    assert!((fine.summary.days_above_55 - finer.summary.days_above_55).abs() < 0.5);
    assert!((fine.summary.peak_c - finer.summary.peak_c).abs() < 1.0);
}

#[test]
fn the_same_run_is_the_same_to_the_last_bit() {
    assert_eq!(run(&Settings::coarse()), run(&Settings::coarse()));
}
