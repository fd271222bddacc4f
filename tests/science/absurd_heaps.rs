//! Heaps nobody should build: refused in words, or a projection that is finite and never below nothing.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Base, Board, Cover, Ended, Event, Heap, Lid, Operation, Placing, Projection, Resolution, Shape,
    Turning, simulate,
};
use heapwright::mix::{Mix, Totals};
use proptest::prelude::*;

use crate::support::heaps::{GOOD, Recipe, mesh_cube, place, turned};

/// Runs it coarse and looks at every number.
fn sound(name: &str, totals: &Totals, later: &[(usize, Totals)], heap: &Heap) -> Projection {
    heap.check().unwrap();
    let stop = AtomicBool::new(false);
    let p = simulate(totals, later, heap, &Resolution::coarse(), &stop).unwrap();
    for r in &p.records {
        for value in [r.centre_c, r.middle_c, r.edge_c, r.mean_c, r.ambient_c] {
            assert!(value > -110.0 && value < 100.0, "{name}: {r:?}");
        }
        for value in [r.oxygen, r.dry_kg, r.water_kg, r.nitrogen_kg, r.volume_m3] {
            assert!(value.is_finite() && value >= -1e-12, "{name}: {r:?}");
        }
        assert!(
            r.oxygen < 0.2096 && (0.0..=1.0).contains(&r.moisture),
            "{name}: {r:?}"
        );
    }
    for field in &p.fields {
        let all = [
            &field.temperature_c,
            &field.moisture,
            &field.oxygen,
            &field.left_to_rot,
        ];
        let finite = |values: &&Vec<f32>| values.iter().all(|value| value.is_finite());
        assert!(all.iter().all(finite), "{name}: field of day {}", field.day);
    }
    p
}

/// A box of these lengths.
fn solid(width_m: f64, length_m: f64, height_m: f64) -> Shape {
    Shape::SolidBin {
        width_m,
        length_m,
        height_m,
        lid: Lid::Closed,
        board: Board::Plastic,
    }
}

#[test]
fn sizes_that_cannot_be_are_refused_in_words() {
    for (shape, word) in [
        (solid(0.0, 1.0, 1.0), "a length of the heap"),
        (solid(-1.0, 1.0, 1.0), "a length of the heap"),
        (solid(f64::NAN, 1.0, 1.0), "a length of the heap"),
        (solid(1.0, 201.0, 1.0), "a length of the heap"),
        (solid(100.0, 100.0, 100.0), "the heap's volume"),
        (
            Shape::Layer { thickness_m: 0.0 },
            "the thickness of a layer",
        ),
        (
            Shape::Layer { thickness_m: 100.0 },
            "the thickness of a layer",
        ),
    ] {
        let text = place(shape, 15.0).check().unwrap_err().to_string();
        assert!(
            text.starts_with(word) && text.contains("must lie between"),
            "{text}"
        );
    }
    let stop = AtomicBool::new(false);
    let resolution = Resolution::coarse();
    for volume_m3 in [0.0, 0.009, 1001.0, 1e9] {
        let recipe = Recipe { volume_m3, ..GOOD };
        let heap = mesh_cube(1.0, 15.0);
        assert_eq!(
            simulate(&recipe.totals(), &[], &heap, &resolution, &stop),
            None
        );
    }
    // Additions count.
    let huge = Recipe {
        volume_m3: 999.5,
        ..GOOD
    }
    .totals();
    let heap = mesh_cube(1.0, 15.0);
    assert_eq!(
        simulate(&GOOD.totals(), &[(0, huge)], &heap, &resolution, &stop),
        None
    );
}

#[test]
fn towers_films_and_mountains_finish() {
    for (name, volume_m3, shape) in [
        ("a tower of 100 m", 100.0, solid(1.0, 1.0, 100.0)),
        ("a drop in a hall", 0.01, solid(20.0, 20.0, 1.0)),
        ("a mountain", 999.0, Shape::OpenHeap),
        (
            "a thread",
            1.0,
            Shape::Row {
                width_m: 0.1,
                length_m: 200.0,
            },
        ),
        (
            "a hair",
            1.0,
            Shape::Row {
                width_m: 200.0,
                length_m: 0.1,
            },
        ),
        ("a film", 100.0, Shape::Layer { thickness_m: 0.01 }),
    ] {
        let recipe = Recipe { volume_m3, ..GOOD };
        let mut heap = place(shape, 15.0);
        heap.days = 60.0;
        let p = sound(name, &recipe.totals(), &[], &heap);
        assert_eq!(p.ended, Ended::Finished, "{name}");
        assert!(p.steps < 90_000, "{name}: {} steps", p.steps);
    }
}

#[test]
fn climates_at_the_ends_of_their_bounds_finish() {
    for (mean, swing, wind, latitude) in [
        (-60.0, 0.0, 0.0, 90.0),
        (-60.0, 25.0, 30.0, -90.0),
        (45.0, 0.0, 0.0, 0.0),
        (-20.0, 25.0, 5.0, 70.0),
    ] {
        let mut heap = mesh_cube(1.0, mean);
        heap.climate.daily_swing_k = swing;
        (heap.climate.wind_m_per_s, heap.climate.latitude_deg) = (wind, latitude);
        heap.climate.monthly_rain_mm = [2000.0; 12];
        heap.in_sun = true;
        heap.base = Base::Paving;
        let p = sound(&format!("{mean} degC"), &GOOD.totals(), &[], &heap);
        assert_eq!(p.ended, Ended::Finished);
    }
    // In the other extreme the air itself is near boiling: the run may stop, with what it has.
    let mut heap = mesh_cube(1.0, 50.0);
    heap.climate.daily_swing_k = 25.0;
    heap.in_sun = true;
    let p = sound("50 degC and more", &GOOD.totals(), &[], &heap);
    assert!(matches!(p.ended, Ended::Finished | Ended::Stopped { .. }));
}

#[test]
fn four_hundred_turnings_by_the_hour_finish() {
    let days: Vec<f64> = (1..=400).map(|i| f64::from(i) / 24.0).collect();
    let mut heap = mesh_cube(1.0, 15.0);
    heap.plan = turned(&days, Some(0.6));
    heap.days = 30.0;
    let p = sound("hourly", &GOOD.totals(), &[], &heap);
    assert_eq!(p.ended, Ended::Finished);
    assert!(p.steps < 5_000, "{} steps", p.steps);
    // All on one day, on the first and after the last.
    for day in [0.0, 12.5, 1500.0] {
        heap.plan = turned(&[day; 400], None);
        assert_eq!(
            sound("at once", &GOOD.totals(), &[], &heap).ended,
            Ended::Finished
        );
    }
}

#[test]
fn additions_beyond_the_room_and_of_anything_finish() {
    let add = |day: f64, placing| Event {
        repeat: None,
        day,
        operation: Operation::Add {
            mix: Mix::default(),
            placing,
        },
    };
    let soup = Recipe {
        moisture: 0.97,
        density: 1000.0,
        ..GOOD
    };
    let dust = Recipe {
        moisture: 0.02,
        density: 30.0,
        cn: 500.0,
        ..GOOD
    };
    for placing in [Placing::OnTop, Placing::MixedIn] {
        for more in [soup, dust, GOOD] {
            let mut heap = place(solid(0.5, 0.5, 0.8), 15.0);
            heap.plan.events = (1..=6).map(|i| add(5.0 * f64::from(i), placing)).collect();
            let later: Vec<_> = (0..6).map(|place| (place, more.totals())).collect();
            let first = Recipe {
                volume_m3: 0.1,
                ..GOOD
            };
            let p = sound("seven times too full", &first.totals(), &later, &heap);
            assert_eq!(p.ended, Ended::Finished);
        }
    }
    // Nothing, or water alone, is no material; the run goes on as if it had not been.
    let mut heap = mesh_cube(1.0, 15.0);
    heap.plan.events = vec![add(3.0, Placing::OnTop), add(4.0, Placing::MixedIn)];
    let water = Totals {
        water_kg: 50.0,
        ..Totals::default()
    };
    let later = [(0, Totals::default()), (1, water)];
    assert_eq!(
        sound("nothing added", &GOOD.totals(), &later, &heap).ended,
        Ended::Finished
    );
}

/// From the dry matter of loose straw (the catalogue's lightest holds 30 kg/m3) to that of soil, with any moisture.
fn any_recipe() -> impl Strategy<Value = Recipe> {
    let shares = (0.0..1.0f64, 0.0..1.0f64, 0.0..1.0f64);
    (
        -1.9..1.4f64,
        1.3..2.7f64,
        0.01..0.98f64,
        0.0..3.0f64,
        -4.0..-2.2f64,
        shares,
        0.0..0.6f64,
    )
        .prop_map(
            |(volume, density, moisture, cn, size, (a, b, c), slump)| Recipe {
                volume_m3: 10f64.powf(volume),
                density: 10f64.powf(density) / (1.0 - moisture),
                moisture,
                cn: 10f64.powf(cn),
                particle_size_m: 10f64.powf(size),
                pools: [a, (1.0 - a) * b, (1.0 - a) * (1.0 - b) * c],
                slump,
                holds: 8.0 * slump,
            },
        )
}

fn any_heap() -> impl Strategy<Value = Heap> {
    let length = || 0.3..3.0f64;
    let shape = prop_oneof![
        Just(Shape::OpenHeap),
        (length(), length()).prop_map(|(w, l)| solid(w, l, 1.0)),
        length().prop_map(|diameter_m| Shape::WireCylinder {
            diameter_m,
            height_m: 1.0
        }),
        length().prop_map(|diameter_m| Shape::Tumbler {
            diameter_m,
            length_m: 1.0
        }),
        (length(), 1.0..40.0f64).prop_map(|(width_m, length_m)| Shape::Row { width_m, length_m }),
        (0.02..0.5f64).prop_map(|thickness_m| Shape::Layer { thickness_m }),
    ];
    let cover = prop_oneof![
        Just(Cover::Bare),
        Just(Cover::Sheet),
        Just(Cover::Straw { thickness_m: 0.2 })
    ];
    let weather = (
        -60.0..40.0f64,
        0.0..20.0f64,
        0.0..15.0f64,
        0.0..1.0f64,
        0.0..400.0f64,
    );
    (
        shape,
        cover,
        weather,
        any::<bool>(),
        proptest::option::of(0.0..0.85f64),
    )
        .prop_map(
            |(shape, cover, (mean, swing, wind, humid, rain), in_sun, wet_to)| {
                let mut heap = place(shape, mean);
                (heap.cover, heap.in_sun, heap.days) = (cover, in_sun, 12.0);
                heap.climate.daily_swing_k = swing;
                heap.climate.wind_m_per_s = wind;
                heap.climate.relative_humidity = humid;
                heap.climate.monthly_rain_mm = [rain; 12];
                heap.plan = turned(&[3.0], wet_to);
                heap.plan.events.push(Event {
                    repeat: None,
                    day: 7.0,
                    operation: Operation::Turn {
                        turning: Turning::InsideOut,
                        wet_to: None,
                    },
                });
                heap
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_mix_in_any_heap_comes_to_an_end(recipe in any_recipe(), heap in any_heap()) {
        let p = sound("drawn", &recipe.totals(), &[], &heap);
        // Never more than two steps a minute, and far fewer for all but the loosest.
        prop_assert!(p.steps < 35_000, "{} steps", p.steps);
        let ended = matches!(p.ended, Ended::Finished | Ended::Stopped { .. });
        prop_assert!(ended, "{:?}", p.ended);
    }
}
