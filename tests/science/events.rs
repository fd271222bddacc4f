//! What operations do to the cells: turning conserves and levels, inside-out swaps, parcels tell the truth.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Event, Heap, Operation, Placing, Plan, Projection, Record, Resolution, Turning, longest_spell,
    simulate,
};
use heapwright::mix::{Mix, Totals};

use crate::bench::near;
use crate::support::heap_math::share_held;
use crate::support::heaps::{
    GOOD, GRASS, Recipe, mesh_cube, project, project_with, turned as remixed,
};
use crate::support::{close, within};

/// Lots that a run follows.
const PARCELS: usize = 256;

fn event(day: f64, operation: Operation) -> Event {
    Event {
        repeat: None,
        day,
        operation,
    }
}

fn turned(day: f64, turning: Turning) -> (Heap, Projection) {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 40.0;
    heap.plan = Plan {
        events: vec![Event {
            repeat: None,
            day,
            operation: Operation::Turn {
                turning,
                wet_to: None,
            },
        }],
    };
    let projection = project(&GOOD.totals(), &heap).unwrap();
    (heap, projection)
}

/// Values of the field written just before a day and just after the operation of that day.
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
    within(
        "share",
        share_held(&p, 55.0, 3.0),
        held - 0.05..=held + 0.05,
    );
}

/// Share of the volume whose cell held 55 degC for three days in a row between two days.
fn cells_held(p: &Projection, from: f64, to: f64) -> f64 {
    let grid = &p.grids[0];
    let total: f64 = grid.volume_m3.iter().sum();
    // The last field at a turning shows the heap after it.
    let last_before = p.fields.iter().rposition(|f| f.day <= from).unwrap();
    let first_at_end = p.fields.iter().position(|f| f.day >= to);
    let spell = &p.fields[last_before..=first_at_end.unwrap_or(p.fields.len() - 1)];
    let held = (0..grid.places.len()).filter(|&cell| {
        let history: Vec<(f64, f64)> = spell
            .iter()
            .map(|f| (f.day, f64::from(f.temperature_c[cell])))
            .collect();
        longest_spell(&history, 55.0) >= 3.0
    });
    held.map(|cell| grid.volume_m3[cell] / total).sum()
}

#[test]
fn untreated_shares_multiply_with_random_mixing() {
    // If a share h of the heap is treated in each spell and every turning mixes at random, (1 - h)^n of it is left
    // untreated after n spells (elementary probability; the reasoning behind the five turnings of windrow rules, Haug
    // 1993 from memory). With the shares of each spell taken from the cells: the product of 1 - h_i. Parcels are 256
    // drawn lots: three standard errors, at most 0.09; over all heaps together, three of the joint mean.
    let mut apart = Vec::new();
    for (volume_m3, mean_c, every) in [(1.0, 15.0, 6.0), (1.5, 18.0, 7.0), (0.7, 20.0, 5.0)] {
        let days: Vec<f64> = (1..=3).map(|i| every * f64::from(i)).collect();
        let mut heap = mesh_cube(volume_m3, mean_c);
        heap.days = every * 4.0;
        heap.plan = remixed(&days, Some(0.58));
        let resolution = Resolution {
            field_hours: Some(4.0),
            ..Resolution::coarse()
        };
        let recipe = Recipe { volume_m3, ..GOOD };
        let p = project_with(&recipe.totals(), &heap, &resolution).unwrap();
        // Every turning cools all of it below the line, so no spell runs on across it.
        for day in &days {
            let after = p
                .fields
                .iter()
                .rfind(|f| (f.day - day).abs() < 1e-9)
                .unwrap();
            assert!(after.temperature_c.iter().all(|t| *t < 55.0));
        }
        let spells: Vec<f64> = (0..4)
            .map(|i| cells_held(&p, every * f64::from(i), every * f64::from(i + 1)))
            .collect();
        assert!(spells[0] > 0.1 && spells[1] > 0.05, "{spells:?}");
        let treated = 1.0 - spells.iter().map(|h| 1.0 - h).product::<f64>();
        let error = (treated * (1.0 - treated) / PARCELS as f64).sqrt();
        let got = share_held(&p, 55.0, 3.0);
        within(
            &format!("{volume_m3} m3, {spells:.2?}"),
            got,
            treated - 3.0 * error..=treated + 3.0 * error,
        );
        apart.push((got - treated) / error);
    }
    let mean = apart.iter().sum::<f64>() / (apart.len() as f64).sqrt();
    within("all heaps, standard errors", mean, -3.0..=3.0);
}

#[test]
fn turning_conserves_what_it_does_not_lose() {
    // Nothing but heat, and the steam that carries most of it, leaves in a turning: a quarter of the heat over the air
    // (tuned), seven tenths of it as steam at 2.45 MJ/kg.
    for turning in [Turning::Remix, Turning::InsideOut] {
        let mut heap = mesh_cube(1.0, 15.0);
        heap.climate.daily_swing_k = 0.0;
        heap.days = 20.0;
        heap.plan.events = vec![event(
            9.25,
            Operation::Turn {
                turning,
                wet_to: None,
            },
        )];
        let resolution = Resolution {
            record_hours: 0.01,
            ..Resolution::coarse()
        };
        let p = project_with(&GOOD.totals(), &heap, &resolution).unwrap();
        let at: Vec<&Record> = p
            .records
            .iter()
            .filter(|r| (r.day - 9.25).abs() < 1e-9)
            .collect();
        let (before, after) = (at[0], at[1]);
        close("dry matter", after.dry_kg, before.dry_kg, 1e-12);
        close("nitrogen", after.nitrogen_kg, before.nitrogen_kg, 1e-12);
        let heat = |r: &Record| (1300.0 * r.dry_kg + 4180.0 * r.water_kg) * r.mean_c;
        let lost = heat(before) - heat(after);
        let over_air = heat(before) * (before.mean_c - 15.0) / before.mean_c;
        close("heat lost", lost, 0.25 * over_air, 0.01);
        close(
            "steam lost",
            before.water_kg - after.water_kg,
            0.7 * lost / 2.45e6,
            1e-6,
        );
    }
}

/// The farthest face of a grid, m.
fn last(edges: &[f64]) -> f64 {
    *edges.last().unwrap()
}

#[test]
fn inside_out_gives_the_skin_the_warmth_of_the_core() {
    // By equal volumes: what was the outer third is then the inner third and the other way round.
    let (_, p) = turned(9.25, Turning::InsideOut);
    let (before, after) = before_and_after(&p, 9.25);
    let grid = &p.grids[0];
    let middle = |edges: &[f64], i: usize| 0.5 * (edges[i] + edges[i + 1]);
    let mut order: Vec<(f64, usize)> = (0..grid.places.len())
        .map(|i| {
            let (column, row) = grid.places[i];
            let x = middle(&grid.edges_across_m, column);
            let z = middle(&grid.edges_up_m, row);
            let (extent, height) = (last(&grid.edges_across_m), last(&grid.edges_up_m));
            ((extent - x).min(height - z).min(z), i)
        })
        .collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let third = |values: &[f32], cells: &mut dyn Iterator<Item = usize>| {
        let (mut sum, mut volume) = (0.0, 0.0);
        for i in cells {
            if volume < 1.0 / 3.0 {
                sum += f64::from(values[i]) * grid.volume_m3[i];
                volume += grid.volume_m3[i];
            }
        }
        sum / volume
    };
    let outer = |values: &[f32]| third(values, &mut order.iter().map(|o| o.1));
    let inner = |values: &[f32]| third(values, &mut order.iter().rev().map(|o| o.1));
    let cooled = |t: f64| 15.0 + 0.75 * (t - 15.0);
    // 2.5 K: cells on the border of a third, and the heat capacity of drier and wetter matter.
    near("core", inner(&after), cooled(outer(&before)), 2.5);
    near("skin", outer(&after), cooled(inner(&before)), 2.5);
}

/// A heap that gets this addition on day 6, with the records just before and after it.
fn added(placing: Placing, more: &Totals) -> (Projection, Record, Record) {
    let mut heap = mesh_cube(1.5, 15.0);
    heap.days = 20.0;
    let mix = Mix::default();
    heap.plan.events = vec![event(6.0, Operation::Add { mix, placing })];
    let resolution = Resolution {
        record_hours: 0.01,
        ..Resolution::coarse()
    };
    let stop = AtomicBool::new(false);
    let p = simulate(&GOOD.totals(), &[(0, *more)], &heap, &resolution, &stop).unwrap();
    let at: Vec<Record> = p
        .records
        .iter()
        .copied()
        .filter(|r| (r.day - 6.0).abs() < 1e-9)
        .collect();
    (p, at[0], at[1])
}

#[test]
fn what_is_added_is_there_afterwards_and_where_it_was_put() {
    let more = Recipe {
        volume_m3: 0.4,
        ..GRASS
    }
    .totals();
    for placing in [Placing::OnTop, Placing::MixedIn] {
        let (p, before, after) = added(placing, &more);
        close("dry", after.dry_kg, before.dry_kg + more.dry_kg, 1e-12);
        close(
            "water",
            after.water_kg,
            before.water_kg + more.water_kg,
            1e-12,
        );
        let nitrogen = before.nitrogen_kg + more.nitrogen_kg;
        close("nitrogen", after.nitrogen_kg, nitrogen, 1e-12);
        let heat = |r: &Record| (1300.0 * r.dry_kg + 4180.0 * r.water_kg) * r.mean_c;
        let fresh_c = heap_air_c();
        let brought = (1300.0 * more.dry_kg + 4180.0 * more.water_kg) * fresh_c;
        close("heat", heat(&after), heat(&before) + brought, 1e-9);
        // Own weight presses a little more or less than before, the more the softer the matter is.
        let volume = before.volume_m3 + more.volume_m3();
        close("volume", after.volume_m3, volume, 0.07);
        assert_eq!(p.grids.len(), 2);
        let field = p
            .fields
            .iter()
            .rfind(|f| (f.day - 6.0).abs() < 1e-9)
            .unwrap();
        let grid = &p.grids[field.grid];
        let at = |place| {
            let index = grid.places.iter().position(|&other| other == place);
            f64::from(field.temperature_c[index.unwrap()])
        };
        let (top, foot) = (at((0, 7)), at((0, 3)));
        if placing == Placing::OnTop {
            near("top", top, fresh_c, 1e-3);
            assert!(foot > fresh_c + 20.0, "{foot}");
        } else {
            near("everywhere the same", top, foot, 1e-3);
        }
    }
}

/// Mean air of the even climate of these heaps, which fresh material has.
fn heap_air_c() -> f64 {
    15.0
}

#[test]
fn many_small_additions_hold_the_volume_of_what_was_put_in() {
    // Sixty portions of what hardly rots make a bin no fuller than their sum; it settles, never swells.
    for placing in [Placing::OnTop, Placing::MixedIn] {
        let part = Recipe {
            volume_m3: 0.02,
            pools: [0.0, 0.0, 0.01],
            ..GOOD
        };
        let mut heap = mesh_cube(1.0, 15.0);
        let mix = Mix::default();
        heap.plan.events = (1..=60)
            .map(|i| {
                event(
                    f64::from(i),
                    Operation::Add {
                        mix: mix.clone(),
                        placing,
                    },
                )
            })
            .collect();
        let later: Vec<_> = (0..60).map(|place| (place, part.totals())).collect();
        let stop = AtomicBool::new(false);
        let resolution = Resolution::coarse();
        let p = simulate(&part.totals(), &later, &heap, &resolution, &stop).unwrap();
        let last = p.records.last().unwrap();
        // 12 % slumping, and 8 % more or less by its own weight.
        within(
            "share of the sum",
            last.volume_m3 / (61.0 * 0.02),
            0.75..=1.0,
        );
    }
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

#[test]
fn inside_out_follows_the_slope_of_cones_and_rows() {
    // Plane geometry: the distance of a point to a slope at 45 degrees (or the row's angle) and to the ground.
    // The outermost third of the heap, cold before, holds what was inside after, and the other way round.
    for shape in [
        heapwright::heap::Shape::OpenHeap,
        heapwright::heap::Shape::Row {
            width_m: 3.0,
            length_m: 3.0,
        },
    ] {
        let name = heapwright::text::heap::shape(&shape);
        let mut heap = crate::support::heaps::place(shape, 12.0);
        heap.days = 20.0;
        heap.plan.events = vec![Event {
            repeat: None,
            day: 9.25,
            operation: Operation::Turn {
                turning: Turning::InsideOut,
                wet_to: None,
            },
        }];
        let recipe = crate::support::heaps::Recipe {
            volume_m3: 3.0,
            ..GOOD
        };
        let p = project(&recipe.totals(), &heap).unwrap();
        let (before, after) = before_and_after(&p, 9.25);
        let grid = &p.grids[0];
        let (extent, height) = (last(&grid.edges_across_m), last(&grid.edges_up_m));
        let mut cells: Vec<(f64, usize)> = grid
            .places
            .iter()
            .enumerate()
            .map(|(cell, &(column, row))| {
                let middle = |edges: &[f64], i: usize| 0.5 * (edges[i] + edges[i + 1]);
                let (x, z) = (
                    middle(&grid.edges_across_m, column),
                    middle(&grid.edges_up_m, row),
                );
                let slope =
                    (1.0 - x / extent - z / height) * extent * height / extent.hypot(height);
                (slope.min(z), cell)
            })
            .collect();
        cells.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mean = |values: &[f32], part: &[(f64, usize)]| {
            let (mut sum, mut volume) = (0.0, 0.0);
            for &(_, cell) in part {
                sum += f64::from(values[cell]) * grid.volume_m3[cell];
                volume += grid.volume_m3[cell];
            }
            sum / volume
        };
        // A quarter of the excess heat is lost at turning, so the two states are compared within themselves.
        let third = cells.len() / 3;
        let (skin, core) = (&cells[..third], &cells[cells.len() - third..]);
        let warmer = |values: &[f32]| mean(values, core) - mean(values, skin);
        assert!(warmer(&before) > 10.0, "{name}: {}", warmer(&before));
        assert!(
            warmer(&after) < -0.4 * warmer(&before),
            "{name}: {} after {}",
            warmer(&after),
            warmer(&before)
        );
    }
}
