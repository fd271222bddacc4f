//! What deeds do to the cells: turning conserves and levels, inside-out swaps, parcels tell the truth.

use heapwright::heap::{Deed, Event, Heap, Plan, Projection, Turning};

use crate::support::heaps::{GOOD, mesh_cube, project};
use crate::support::{close, within};

fn turned(day: f64, turning: Turning) -> (Heap, Projection) {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 40.0;
    heap.plan = Plan {
        events: vec![Event {
            day,
            deed: Deed::Turn {
                turning,
                wet_to: None,
            },
        }],
    };
    let projection = project(&GOOD.totals(), &heap).unwrap();
    (heap, projection)
}

/// Values of the field written just before a day and just after the deed of that day.
fn before_and_after(p: &Projection, day: f64) -> (Vec<f32>, Vec<f32>) {
    let after = p
        .fields
        .iter()
        .position(|f| (f.day - day).abs() < 1e-9 && f.day >= day - 1e-9);
    let last = p
        .fields
        .iter()
        .rposition(|f| (f.day - day).abs() < 1e-9)
        .unwrap();
    let before = p.fields[..after.unwrap()].last().unwrap();
    (
        before.temperature_c.clone(),
        p.fields[last].temperature_c.clone(),
    )
}

fn spread(values: &[f32]) -> f32 {
    let low = values.iter().fold(f32::MAX, |a, b| a.min(*b));
    let high = values.iter().fold(f32::MIN, |a, b| a.max(*b));
    high - low
}

#[test]
fn a_full_remix_makes_every_cell_the_mean() {
    // Process model: a uniform remix sets every cell to the mean; only the heat lost in the work remains.
    let (_, p) = turned(9.25, Turning::Remix);
    let (before, after) = before_and_after(&p, 9.25);
    assert!(
        spread(&before) > 20.0 && spread(&after) < 1e-3,
        "{} {}",
        spread(&before),
        spread(&after)
    );
    let mean = p.records.iter().rfind(|r| r.day < 9.25).unwrap().mean_c;
    // A quarter of the excess over the air is lost.
    within(
        "after",
        f64::from(after[0]),
        15.0 + 0.6 * (mean - 15.0)..=mean,
    );
}

#[test]
fn inside_out_brings_the_skin_to_the_middle() {
    let (_, p) = turned(9.25, Turning::InsideOut);
    let (before, after) = before_and_after(&p, 9.25);
    let grid = &p.grids[0];
    let at = |values: &[f32], place: (usize, usize)| {
        values[grid
            .places
            .iter()
            .position(|&other| other == place)
            .unwrap()]
    };
    let (core, corner) = ((0, 4), (7, 0));
    assert!(at(&before, core) > at(&before, corner) + 15.0);
    assert!(
        at(&after, core) < at(&after, corner),
        "the cold skin lies inside now"
    );
}

#[test]
fn unturned_parcels_agree_with_the_cells() {
    // Each parcel stays in its cell, so the share that held 55 degC for three days is that of the cells, by
    // volume, to one parcel in 256 a cell.
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 40.0;
    let p = project(&GOOD.totals(), &heap).unwrap();
    let grid = &p.grids[0];
    let total: f64 = grid.volume_m3.iter().sum();
    let held: f64 = (0..grid.places.len())
        .filter(|&cell| {
            let history: Vec<(f64, f64)> = p
                .fields
                .iter()
                .map(|f| (f.day, f64::from(f.temperature_c[cell])))
                .collect();
            heapwright::heap::longest_spell(&history, 55.0) >= 3.0
        })
        .map(|cell| grid.volume_m3[cell] / total)
        .sum();
    assert!(held > 0.1, "{held}");
    within("share", p.share_held(55.0, 3.0), held - 0.05..=held + 0.05);
}

#[test]
fn turning_exposes_more_of_the_heap() {
    // Random mixing: each further full turning gives another part of the heap its time in the core.
    let share = |days: &[f64]| {
        let mut heap = mesh_cube(1.5, 18.0);
        let deed = Deed::Turn {
            turning: Turning::Remix,
            wet_to: Some(0.58),
        };
        heap.plan = Plan {
            events: days
                .iter()
                .map(|&day| Event {
                    day,
                    deed: deed.clone(),
                })
                .collect(),
        };
        project(&GOOD.totals(), &heap)
            .unwrap()
            .share_held(55.0, 3.0)
    };
    let shares = [share(&[]), share(&[7.0]), share(&[7.0, 14.0])];
    assert!(
        shares[0] < shares[1] && shares[1] <= shares[2],
        "{shares:?}"
    );
}

#[test]
fn every_parcel_has_a_history_as_long_as_the_fields() {
    let (_, p) = turned(9.25, Turning::Remix);
    assert_eq!(p.parcels.len(), 256);
    for parcel in &p.parcels {
        assert_eq!(p.parcel_history(parcel).len(), p.fields.len());
    }
    let volume: f64 = p.grids[0].volume_m3.iter().sum();
    close("volume of the section", volume, 1.0, 1e-9);
}
