//! How far to trust the simulation: each note is told of the kind of heap it is about, and of no other.
//!
//! What is published, and that the simulation parts from it, is shown by `heap_cases`; the kinds of heap below are those
//! of its rows that miss (`tests/reports/published-cases.md`, sources there).

use std::collections::BTreeSet;

use heapwright::heap::{Heap, Plan, Projection, Shape};
use heapwright::mix::{Part, blend};
use heapwright::outcome::reach::{Limit, Reached, limits};
use heapwright::quantity::{Amount, Measure, UnitSystem};
use heapwright::text::outcome::limit;

use crate::support::heaps::{GOOD, mesh_cube, project, row, turned};
use crate::support::materials::built_in;

/// A projection that got this hot at the centre.
fn hot(peak_c: f64, days_above_40: f64) -> Projection {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 5.0;
    let mut projection = project(&GOOD.totals(), &heap).unwrap();
    projection.summary.peak_c = peak_c;
    projection.summary.days_above_40 = days_above_40;
    projection
}

/// What is told of these materials by volume (L), watered, in a heap.
fn told(litres: &[(&str, f64)], water_l: f64, heap: &Heap, projection: &Projection) -> Vec<Limit> {
    told_if_fit(litres, water_l, (heap, projection), Some(100.0))
}

/// The same of a heap that is fit to dig in from a day on.
fn told_if_fit(
    litres: &[(&str, f64)],
    water_l: f64,
    (heap, projection): (&Heap, &Projection),
    usable_day: Option<f64>,
) -> Vec<Limit> {
    let amounts = litres.iter().map(|(_, l)| Amount::new(*l, Measure::Litre));
    let amounts: Vec<Amount> = amounts.collect();
    let parts: Vec<Part<'_>> = litres
        .iter()
        .zip(&amounts)
        .map(|((id, _), amount)| Part::new(built_in().find(id).unwrap(), amount))
        .collect();
    limits(&Reached {
        parts: &parts,
        totals: &blend(&parts, water_l).totals,
        heap,
        projection,
        usable_day,
    })
}

#[test]
fn a_good_mix_in_mild_weather_has_no_note() {
    let good = [("leaves_mixed", 600.0), ("grass_wilted", 400.0)];
    let found = told(&good, 20.0, &mesh_cube(1.0, 15.0), &hot(65.0, 30.0));
    assert_eq!(found, []);
}

#[test]
fn each_note_is_told_of_its_kind_of_heap() {
    let cube = |mean_c| mesh_cube(1.0, mean_c);
    let (warm, cold) = (hot(60.0, 30.0), hot(20.0, 0.0));
    // WINTER: 1 m3 in air of 0 degC; not at 3.
    let good = [("leaves_mixed", 600.0), ("grass_wilted", 400.0)];
    assert_eq!(told(&good, 20.0, &cube(0.0), &warm), [Limit::Frost]);
    assert_eq!(told(&good, 20.0, &cube(3.0), &warm), []);
    // T10: 72 % moisture; a heap that never warms is not too warm.
    let wet = [("grass_fresh", 700.0), ("leaves_mixed", 300.0)];
    assert_eq!(told(&wet, 60.0, &cube(15.0), &warm), [Limit::Wet]);
    assert_eq!(told(&wet, 60.0, &cube(15.0), &cold), []);
    // CN: lean mixes that are not wood.
    let leaves = [("leaves_wet_packed", 1000.0)];
    assert_eq!(told(&leaves, 0.0, &cube(15.0), &warm), [Limit::VeryLean]);
    // Leaves that stay cold are held to what practice says of leafmould; wetted or not.
    let air = cube(15.0);
    let late = told_if_fit(&leaves, 0.0, (&air, &cold), None);
    assert_eq!(late, [Limit::ColdLeaves]);
    assert_eq!(told(&leaves, 0.0, &air, &cold), []);
    // `common practice`: a hot turned heap takes two months and more; one that is not turned is not meant.
    let mut often = cube(15.0);
    often.plan = turned(&[7.0], None);
    let after = |heap, day| told_if_fit(&good, 20.0, (heap, &warm), Some(day));
    assert_eq!(after(&often, 59.0), [Limit::SoonFit]);
    assert_eq!(after(&often, 61.0), []);
    assert_eq!(after(&air, 59.0), []);
    // Grass by itself, `common practice`; not where the run finds that it stinks.
    let grass = [("grass_fresh", 1000.0)];
    assert!(told(&grass, 0.0, &cube(15.0), &warm).contains(&Limit::Grass));
    assert!(!told(&wet, 0.0, &cube(15.0), &warm).contains(&Limit::Grass));
    // A small heap of chips is none of these.
    assert_eq!(
        told(&[("wood_chips_arb", 1000.0)], 0.0, &cube(15.0), &warm),
        []
    );
    // T12, W1, W2: big heaps of chips.
    let chips = [("wood_chips_arb", 150_000.0)];
    assert_eq!(told(&chips, 0.0, &cube(15.0), &warm), [Limit::Chips]);
    assert_eq!(told(&chips, 0.0, &cube(15.0), &cold), []);
    // T1, T2: trimmings of 0.3 and 0.75 m3; the 30 m3 of T1 are met.
    let trimmings = |times: f64| {
        [
            ("shrub_trimmings", 225.0 * times),
            ("tree_trimmings_leafy", 75.0 * times),
        ]
    };
    let small = told(&trimmings(1.0), 5.0, &cube(7.0), &warm);
    assert!(small.contains(&Limit::SmallTrimmings), "{small:?}");
    let large = told(&trimmings(100.0), 500.0, &cube(7.0), &warm);
    assert!(!large.contains(&Limit::SmallTrimmings), "{large:?}");
}

#[test]
fn rows_of_leaves_are_told_apart_by_turning() {
    // T6: weekly and monthly, thrice a year (met), yearly.
    let mut heap = row(100.0, 7.0, 11.0);
    assert!(matches!(heap.shape, Shape::Row { .. }));
    heap.days = 365.0;
    let leaves = [("leaves_wet_packed", 100_000.0)];
    let at = |heap: &Heap| told(&leaves, 0.0, heap, &hot(50.0, 30.0));
    let every = |days: f64| -> Vec<f64> {
        (1..)
            .map(|n| days * f64::from(n))
            .take_while(|day| *day < 365.0)
            .collect()
    };
    for days in [7.0, 30.0] {
        heap.plan = turned(&every(days), None);
        assert!(at(&heap).contains(&Limit::LeafRowTurned), "{days}");
    }
    heap.plan = turned(&every(120.0), None);
    let thrice = at(&heap);
    assert!(!thrice.contains(&Limit::LeafRowTurned) && !thrice.contains(&Limit::LeafRowLeft));
    heap.plan = Plan::default();
    assert!(at(&heap).contains(&Limit::LeafRowLeft));
    // The same leaves in a cube are no row.
    let cube = told(&leaves, 0.0, &mesh_cube(1.0, 11.0), &hot(50.0, 30.0));
    assert!(!cube.contains(&Limit::LeafRowLeft) && !cube.contains(&Limit::LeafRowTurned));
}

#[test]
fn every_note_has_words_a_source_and_a_name_of_its_own() {
    let mut names = BTreeSet::new();
    for of in Limit::ALL {
        for units in [UnitSystem::Metric, UnitSystem::UsCustomary] {
            let note = limit(of, units);
            assert!(note.text.ends_with('.') && !note.source.is_empty());
            assert!(
                !(units == UnitSystem::UsCustomary && note.text.contains("°C")),
                "{}",
                note.text
            );
        }
        names.insert(limit(of, UnitSystem::Metric).id);
    }
    assert_eq!(names.len(), Limit::ALL.len());
}
