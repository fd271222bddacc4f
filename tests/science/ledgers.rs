//! Balances of a run: heat, water, carbon, nitrogen, oxygen and mass close to 1e-9 whatever is done.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Base, Board, Cover, Ended, Event, Heap, Ledger, Lid, Operation, Placing, Plan, Projection,
    Repeat, Resolution, Shape, Turning, simulate,
};
use heapwright::mix::{Mix, Totals};

use crate::support::heaps::{GOOD, GRASS, LEAVES, Recipe, place};
use crate::support::{close, closes};

fn run(name: &str, totals: &Totals, later: &[(usize, Totals)], heap: &Heap) -> Ledger {
    heap.check().unwrap();
    let p = simulate(
        totals,
        later,
        heap,
        &Resolution::coarse(),
        &AtomicBool::new(false),
    )
    .unwrap();
    assert_eq!(p.ended, Ended::Finished, "{name}");
    closes(name, &p.ledger);
    p.ledger
}

fn every_shape() -> Vec<Shape> {
    let bin = |lid, board| Shape::SolidBin {
        width_m: 1.0,
        length_m: 1.0,
        height_m: 1.0,
        lid,
        board,
    };
    vec![
        Shape::OpenHeap,
        Shape::SlattedBin {
            width_m: 1.2,
            length_m: 1.2,
            height_m: 1.0,
        },
        bin(Lid::Open, Board::Plastic),
        bin(Lid::Closed, Board::Timber),
        bin(Lid::Closed, Board::Insulated),
        Shape::WireCylinder {
            diameter_m: 1.1,
            height_m: 1.0,
        },
        Shape::Tumbler {
            diameter_m: 0.6,
            length_m: 0.9,
        },
        Shape::Row {
            width_m: 1.5,
            length_m: 2.0,
        },
        Shape::Layer { thickness_m: 0.06 },
    ]
}

fn event(day: f64, operation: Operation) -> Event {
    Event {
        repeat: None,
        day,
        operation,
    }
}

/// A plan with every kind of operation; additions stand at places 3 and 7.
fn busy_plan() -> Plan {
    let turn = |turning, wet_to| Operation::Turn { turning, wet_to };
    let add = |placing| Operation::Add {
        mix: Mix::default(),
        placing,
    };
    Plan {
        events: vec![
            event(5.0, turn(Turning::Remix, Some(0.58))),
            event(9.0, turn(Turning::InsideOut, None)),
            event(12.0, Operation::Water { wet_to: 0.7 }),
            event(20.0, add(Placing::OnTop)),
            event(26.0, Operation::Cover(Cover::Sheet)),
            event(33.0, turn(Turning::Remix, None)),
            event(40.0, Operation::Cover(Cover::Straw { thickness_m: 0.1 })),
            event(47.5, add(Placing::MixedIn)),
            event(60.0, Operation::Cover(Cover::Compost { thickness_m: 0.05 })),
            event(80.0, turn(Turning::InsideOut, Some(0.6))),
        ],
    }
}

#[test]
fn every_shape_closes_with_every_operation() {
    let more = Recipe {
        volume_m3: 0.2,
        ..GRASS
    }
    .totals();
    for shape in every_shape() {
        for (base, in_sun) in [(Base::Soil, true), (Base::Paving, false)] {
            let mut heap = place(shape.clone(), 12.0);
            (heap.base, heap.in_sun, heap.plan) = (base, in_sun, busy_plan());
            let name = format!("{} on {base:?}", heapwright::text::heap::shape(&shape));
            let totals = Recipe {
                volume_m3: 0.5,
                ..GOOD
            }
            .totals();
            let l = run(&name, &totals, &[(3, more), (7, more)], &heap);
            // What was added counts in what there was.
            close(
                &name,
                l.dry_start_kg,
                totals.dry_kg + 2.0 * more.dry_kg,
                1e-9,
            );
            close(
                &name,
                l.nitrogen_start_kg,
                totals.nitrogen_kg + 2.0 * more.nitrogen_kg,
                1e-9,
            );
        }
    }
}

#[test]
fn very_wet_and_very_dry_heaps_close() {
    for (name, recipe) in [
        ("soaked", GOOD.wetted_to(0.80)),
        (
            "dry",
            Recipe {
                moisture: 0.15,
                ..GOOD
            },
        ),
        (
            "loose",
            Recipe {
                particle_size_m: 3.0e-3,
                density: 150.0,
                ..GOOD
            },
        ),
        ("without nitrogen", Recipe { cn: 1e9, ..GOOD }),
        ("all nitrogen", Recipe { cn: 2.0, ..GOOD }),
    ] {
        run(name, &recipe.totals(), &[], &place(Shape::OpenHeap, 15.0));
    }
}

/// A continental year of -15 to 18 degC: T13's (`heap_cases/winter.rs`).
const COLD_YEAR_C: [f64; 12] = [
    -12.0, -8.0, -2.0, 5.0, 11.0, 16.0, 18.0, 17.0, 12.0, 6.0, -1.0, -9.0,
];

#[test]
fn heaps_that_freeze_and_thaw_close() {
    // Frozen and mild starts in winter and before it, through frost, snow and thaw, with every operation.
    let more = Recipe {
        volume_m3: 0.2,
        ..GRASS
    }
    .totals();
    for shape in every_shape() {
        for (start_day, start_c) in [(20.0, Some(-15.0)), (330.0, Some(4.0)), (1.0, None)] {
            let mut heap = place(shape.clone(), 0.0);
            heap.climate.monthly_mean_c = COLD_YEAR_C;
            (heap.start_day_of_year, heap.start_temperature_c) = (start_day, start_c);
            (heap.plan, heap.days, heap.in_sun) = (busy_plan(), 160.0, true);
            let name = format!(
                "{} from day {start_day}",
                heapwright::text::heap::shape(&shape)
            );
            for recipe in [GOOD, LEAVES, GRASS] {
                let totals = Recipe {
                    volume_m3: 0.5,
                    ..recipe
                }
                .totals();
                run(&name, &totals, &[(3, more), (7, more)], &heap);
            }
        }
    }
}

#[test]
fn fine_runs_close_as_well() {
    let mut heap = place(
        Shape::SlattedBin {
            width_m: 1.0,
            length_m: 1.0,
            height_m: 1.0,
        },
        15.0,
    );
    heap.plan = busy_plan();
    heap.days = 60.0;
    let more = Recipe {
        volume_m3: 0.1,
        ..GOOD
    }
    .totals();
    let resolution = Resolution::fine();
    let p = simulate(
        &GOOD.totals(),
        &[(3, more), (7, more)],
        &heap,
        &resolution,
        &AtomicBool::new(false),
    )
    .unwrap();
    closes("fine", &p.ledger);
}

#[test]
fn a_stopped_run_says_so_and_its_books_close() {
    let stop = AtomicBool::new(true);
    let p = simulate(
        &GOOD.totals(),
        &[],
        &place(Shape::OpenHeap, 15.0),
        &Resolution::coarse(),
        &stop,
    )
    .unwrap();
    assert!(matches!(p.ended, Ended::Cancelled { day } if day < 1.0));
    assert_eq!(p.ledger.carbon_oxidised_kg, 0.0);
}

/// A bin that is fed every week of a year, each time on top or mixed in, with a turning a month.
fn fed_for_a_year(placing: Placing) -> Heap {
    let weekly = |first: f64, times: u32, operation: Operation| Event {
        repeat: Some(Repeat {
            every_days: 7.0,
            times,
        }),
        ..event(first, operation)
    };
    let mut heap = place(
        Shape::SolidBin {
            width_m: 0.8,
            length_m: 0.8,
            height_m: 1.0,
            lid: Lid::Open,
            board: Board::Timber,
        },
        10.0,
    );
    heap.climate.monthly_mean_c = COLD_YEAR_C;
    heap.days = 380.0;
    let feed = Operation::Add {
        mix: Mix::default(),
        placing,
    };
    let turn = Operation::Turn {
        turning: Turning::InsideOut,
        wet_to: None,
    };
    let monthly = Repeat {
        every_days: 30.0,
        times: 12,
    };
    heap.plan.events = vec![
        weekly(7.0, 52, feed),
        Event {
            repeat: Some(monthly),
            ..event(30.0, turn)
        },
    ];
    heap
}

#[test]
fn a_year_of_weekly_additions_closes() {
    let of = |volume_m3: f64| Recipe { volume_m3, ..GOOD }.totals();
    let (first, weekly) = (of(0.05), of(0.01));
    for placing in [Placing::OnTop, Placing::MixedIn] {
        let heap = fed_for_a_year(placing);
        let name = format!("fed weekly, {placing:?}");
        let l = run(&name, &first, &[(0, weekly)], &heap);
        for (told, start, one, portion) in [
            ("dry", l.dry_start_kg, first.dry_kg, weekly.dry_kg),
            ("water", l.water_start_kg, first.water_kg, weekly.water_kg),
            (
                "nitrogen",
                l.nitrogen_start_kg,
                first.nitrogen_kg,
                weekly.nitrogen_kg,
            ),
        ] {
            let all = one + 52.0 * portion;
            close(&format!("{name}: {told}"), start, all, 1e-9);
        }
    }
}

#[test]
fn a_repeated_entry_is_the_same_as_one_entry_for_each_time() {
    let of = |volume_m3: f64| Recipe { volume_m3, ..GOOD }.totals();
    let mut heap = fed_for_a_year(Placing::OnTop);
    heap.days = 90.0;
    let spelled = Plan {
        events: heap
            .plan
            .events
            .iter()
            .flat_map(|it| it.days().map(|day| event(day, it.operation.clone())))
            .collect(),
    };
    let course = |heap: &Heap, later: &[(usize, Totals)]| {
        let resolution = Resolution::coarse();
        let stop = AtomicBool::new(false);
        simulate(&of(0.1), later, heap, &resolution, &stop).unwrap()
    };
    let repeated = course(&heap, &[(0, of(0.02))]);
    let later: Vec<(usize, Totals)> = (0..52).map(|entry| (entry, of(0.02))).collect();
    heap.plan = spelled;
    let spelled = course(&heap, &later);
    assert_eq!(repeated.records.len(), spelled.records.len());
    let numbers = |p: &Projection| {
        let last = p.records.last().unwrap();
        let sums = [last.dry_kg, last.water_kg, last.nitrogen_kg];
        [sums.to_vec(), vec![p.summary.peak_c, last.centre_c]].concat()
    };
    // Sums over 52 entries are rounded otherwise than 52 times one.
    for (one, other) in numbers(&repeated).into_iter().zip(numbers(&spelled)) {
        close("repeated and spelled out", one, other, 1e-6);
    }
}
