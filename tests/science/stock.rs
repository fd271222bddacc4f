//! What there is and what a heap takes: nothing proposed exceeds either.

use heapwright::forecast::plan_search::SEEDS;
use heapwright::garden::Aim;
use heapwright::heap::{Projection, Shape};
use heapwright::mix::balance::{Goal, Reached, balance, fill, fixes};
use heapwright::mix::{Change, Fit, Gauge, Ingredient, Mix, Part, Totals, bands, blend, dose};
use heapwright::outcome::advice::{AimCase, Effort, advise_within, aim_ahead};
use heapwright::outcome::turns::courses;
use heapwright::outcome::{advise, shared};
use heapwright::quantity::{Amount, Measure, OwnMeasure, UnitSystem};
use heapwright::text::advice::sentence;
use heapwright::text::amount::carried;
use heapwright::text::typed_amount::{read, unread};
use proptest::prelude::*;

use crate::support::heaps;
use crate::support::materials::built_in;

fn row(material: &str, value: f64, measure: Measure, stock: Option<f64>) -> Ingredient {
    Ingredient {
        stock,
        ..Ingredient::new(material, Amount::new(value, measure))
    }
}

fn volume_m3(mix: &Mix) -> f64 {
    let parts = mix.resolve(built_in()).unwrap();
    blend(&parts, mix.added_water_l).totals.volume_m3()
}

/// The change on top of a mix.
fn with(mix: &Mix, change: &Change) -> Mix {
    let mut after = mix.clone();
    change.apply(&mut after);
    after
}

/// Every row within its stock, where it was before.
fn within_stock(before: &Mix, after: &Mix) -> bool {
    after.ingredients.iter().enumerate().all(|(place, row)| {
        let was = before
            .ingredients
            .get(place)
            .map_or(0.0, |row| row.amount.value);
        let most = row.stock.unwrap_or(f64::INFINITY).max(was);
        row.amount.value <= most * (1.0 + 1e-9)
    })
}

/// No row, unless it was as large a share before, is more than a heap of this mix takes.
fn within_dose(before: &Mix, after: &Mix) -> bool {
    let (before_m3, heap_m3) = (volume_m3(before), volume_m3(after));
    after.ingredients.iter().enumerate().all(|(place, row)| {
        let material = built_in().find(&row.material).unwrap();
        let density = material.bulk_density.typical;
        let of = |row: &Ingredient| row.amount.volume_m3(density);
        let was = before.ingredients.get(place).map_or(0.0, of);
        let most = dose::most_m3(material, heap_m3).unwrap_or(f64::INFINITY);
        let as_before = if before_m3 > 0.0 {
            was * (heap_m3 / before_m3).max(1.0)
        } else {
            was
        };
        of(row) <= most.max(as_before) * (1.0 + 1e-6)
    })
}

fn advised(mix: &Mix, room_m3: Option<f64>) -> Vec<heapwright::outcome::Advice> {
    let parts = mix.resolve(built_in()).unwrap();
    let blend = blend(&parts, mix.added_water_l);
    advise(mix, &parts, &blend, room_m3, None::<&Projection>)
}

/// Chalker-Scott (Washington State University Extension FS207E): coffee grounds are at most a fifth of a heap by volume.
/// Straw and scraps with grounds cannot be balanced at their best with so little, and are told so.
#[test]
fn coffee_grounds_are_never_more_than_a_fifth() {
    let mix = Mix {
        ingredients: vec![
            row("straw_wheat", 0.0, Measure::Barrow, None),
            row("veg_scraps", 0.0, Measure::Bucket, None),
            row("coffee_grounds", 0.0, Measure::Bucket, None),
        ],
        added_water_l: 0.0,
    };
    let found = balance(&mix, built_in(), &Goal::of_room(Some(1.0))).unwrap();
    assert!(
        matches!(found.verdict, Reached::Works { .. }),
        "{:?}",
        found.verdict
    );
    let share = found.mix.ingredients[2].amount.volume_m3(1.0) / volume_m3(&found.mix);
    assert!(share > 0.1 && share <= 0.2, "{share}");
}

/// Two sacks of sawdust would take 300 L of urine to be balanced; nobody carries that, and WHO 2006 gives 500 L a person and year.
#[test]
fn sawdust_is_not_balanced_by_a_barrel_of_urine() {
    let mix = Mix {
        ingredients: vec![
            row("sawdust", 6.0, Measure::Sack, None),
            row("urine", 10.0, Measure::Litre, None),
        ],
        added_water_l: 0.0,
    };
    let found = balance(&mix, built_in(), &Goal::of_room(None)).unwrap();
    assert!(within_dose(&mix, &found.mix), "{:?}", found.steps);
    for gauge in Gauge::ALL {
        for fix in fixes(&mix, built_in(), &Goal::of_room(None), gauge).unwrap() {
            assert!(within_dose(&mix, &fix.mix), "{:?}", fix.step);
        }
    }
}

/// More of what does not work is no proposal: grass alone in a large bin stays as it is, with what would help.
#[test]
fn a_failing_mix_is_not_multiplied() {
    let mix = Mix {
        ingredients: vec![row("grass_fresh", 4.0, Measure::Bucket, None)],
        added_water_l: 0.0,
    };
    let found = fill(&mix, built_in(), 1.0, &Goal::of_room(Some(1.0))).unwrap();
    assert!(matches!(found.verdict, Reached::Nearest { .. }));
    assert_eq!(found.mix, mix);
    assert!(found.steps.is_empty());
}

/// Three barrows are all there is: advice never says "one more barrow".
#[test]
fn advice_does_not_ask_for_more_than_there_is() {
    let mut mix = Mix {
        ingredients: vec![
            row("grass_fresh", 10.0, Measure::Bucket, None),
            row("leaves_dry_loose", 1.0, Measure::Barrow, None),
        ],
        added_water_l: 0.0,
    };
    let of_leaves = |advice: &heapwright::outcome::Advice| matches!(&advice.change, Some(Change::Amount { row: 1, amount }) if amount.value > 1.0);
    assert!(advised(&mix, None).iter().any(of_leaves), "leaves help");
    mix.ingredients[1].stock = Some(1.0);
    assert!(!advised(&mix, None).iter().any(of_leaves));
}

/// A cubic metre or so of one brown and one green, watered to 55 %.
fn two_of(brown: &str, green: &str, share: f64) -> Totals {
    let litres = |litres: f64| Amount::new(litres, Measure::Litre);
    let (green_l, brown_l) = (litres(1700.0 * share), litres(1700.0 * (1.0 - share)));
    let parts = [
        Part::new(built_in().find(green).unwrap(), &green_l),
        Part::new(built_in().find(brown).unwrap(), &brown_l),
    ];
    let dry = blend(&parts, 0.0).totals;
    let water_l = (0.55 * dry.wet_kg() - dry.water_kg) / 0.45;
    blend(&parts, water_l.max(0.0)).totals
}

/// "Loose" and "light" beside a heap that heats up were wrong: where C:N, moisture and size are right, a heap in the best part
/// of the band of free air space and bulk density passes 55 degC (the hot phase of every rule on heat, 7 CFR 205.203(c)(2)).
#[test]
fn what_reads_well_aired_heats_up() {
    let mut tried = 0;
    for brown in [
        "leaves_dry_loose",
        "leaves_mixed",
        "straw",
        "cardboard",
        "shrub_trimmings",
        "hay_grass",
    ] {
        for green in [
            "grass_fresh",
            "veg_scraps",
            "horse_straw",
            "weeds_soft",
            "hay_legume",
            "poultry_litter",
        ] {
            for share in [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8] {
                let totals = two_of(brown, green, share);
                let right = [
                    bands::CN.judge(totals.cn()),
                    bands::MOISTURE.judge(totals.moisture()),
                    bands::FREE_AIR_SPACE.judge(totals.settled_air_space()),
                    bands::BULK_DENSITY_KG_PER_M3.judge(totals.wet_kg() / totals.volume_m3()),
                ];
                if right.iter().any(|fit| *fit != Fit::Good) {
                    continue;
                }
                let heap = heaps::place(Shape::OpenHeap, 15.0);
                let peak_c = heaps::project(&totals, &heap).unwrap().summary.peak_c;
                assert!(peak_c >= 55.0, "{brown} {green} {share}: {peak_c}");
                tried += 1;
            }
        }
    }
    assert!(tried >= 10, "{tried}");
}

/// Kitchen and fruit mash at 80-90 % water goes airless by itself (Cornell Composting, inadequate porosity; from memory): it never reads as
/// well aired, while leaves, straw and chips measure above 38 % (Ahn, Richard and Glanville 2008, abstract).
#[test]
fn mash_reads_as_short_of_air_and_stalks_do_not() {
    let air = |id: &str| {
        let amount = Amount::new(100.0, Measure::Litre);
        let part = Part::new(built_in().find(id).unwrap(), &amount);
        blend(&[part], 0.0).totals.settled_air_space()
    };
    for id in [
        "veg_scraps",
        "fruit_waste",
        "apple_pomace",
        "root_peelings",
        "brewers_grain",
        "tomatoes",
    ] {
        assert_eq!(
            bands::FREE_AIR_SPACE.judge(air(id)),
            Fit::TooLow,
            "{id} {}",
            air(id)
        );
    }
    assert_eq!(bands::FREE_AIR_SPACE.judge(air("grass_fresh")), Fit::Low);
    for id in [
        "leaves_mixed",
        "straw",
        "hay_grass",
        "shavings",
        "sawdust",
        "wood_chips_arb",
    ] {
        assert!((0.38..=0.99).contains(&air(id)), "{id} {}", air(id));
    }
}

/// A mix whose rows may have an end.
fn mixes() -> impl Strategy<Value = Mix> {
    let materials = [
        "leaves_mixed",
        "grass_fresh",
        "straw",
        "sawdust",
        "urine",
        "coffee_grounds",
        "urea",
        "horse_straw",
        "veg_scraps",
    ];
    let row = (
        0..materials.len(),
        0.0..30.0_f64,
        prop::option::of(1.0..3.0_f64),
    );
    (prop::collection::vec(row, 1..5), 0.0..100.0_f64).prop_map(move |(rows, added_water_l)| Mix {
        ingredients: rows
            .into_iter()
            .map(|(place, value, times)| row_of(materials[place], value, times))
            .collect(),
        added_water_l,
    })
}

fn row_of(material: &str, value: f64, times: Option<f64>) -> Ingredient {
    let (value, measure) = match material {
        "urea" => (10.0 * value, Measure::Gram),
        "urine" => (value, Measure::Litre),
        _ => (value, Measure::Bucket),
    };
    row(material, value, measure, times.map(|times| times * value))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn nothing_proposed_exceeds_what_there_is_or_what_a_heap_takes(
        mix in mixes(),
        room in prop::option::of(0.3..2.0_f64),
    ) {
        let goal = Goal::of_room(room);
        let balanced = balance(&mix, built_in(), &goal).unwrap();
        let filled = fill(&mix, built_in(), room.unwrap_or(1.0), &goal).unwrap();
        for found in [&balanced, &filled] {
            prop_assert!(within_stock(&mix, &found.mix), "{:?}", found.steps);
            prop_assert!(within_dose(&mix, &found.mix), "{:?}", found.steps);
            if let Reached::Nearest { ways_out, .. } = &found.verdict {
                for way in ways_out {
                    prop_assert!(within_dose(&mix, &way.mix), "{:?}", way.needs);
                }
            }
        }
        for gauge in Gauge::ALL {
            for fix in fixes(&mix, built_in(), &goal, gauge).unwrap() {
                prop_assert!(within_stock(&mix, &fix.mix), "{:?}", fix.step);
                prop_assert!(within_dose(&mix, &fix.mix), "{:?}", fix.step);
            }
        }
        let mut after = mix.clone();
        for advice in advised(&mix, room) {
            let Some(change) = &advice.change else { continue };
            let before = after.clone();
            after = with(&after, change);
            // Less of something else may leave what was right before too large a share.
            prop_assert!(within_stock(&mix, &after), "{:?}", advice.says);
            prop_assert!(within_dose(&before, &after), "{:?}", advice.says);
        }
    }
}

/// What a heap of so many barrows of leaves and grass does for an aim.
fn aimed(aim: Aim, barrows: f64) -> String {
    let mix = Mix {
        ingredients: vec![
            row("leaves_mixed", 14.0 * barrows, Measure::Barrow, None),
            row("grass_fresh", 9.0 * barrows, Measure::Barrow, None),
        ],
        added_water_l: 0.0,
    };
    let totals = blend(&mix.resolve(built_in()).unwrap(), 0.0).totals;
    let heap = heaps::place(Shape::OpenHeap, 5.0);
    let projection = heaps::project(&totals, &heap).unwrap();
    let facts = shared().unwrap();
    let class = facts.kill.plants().find(|class| class.id == SEEDS).unwrap();
    let ahead = aim_ahead(&AimCase {
        aim,
        totals: &totals,
        room_m3: None,
        summary: projection.summary,
        start_day_of_year: 1.0,
        days: heap.days,
        finished_day: Some(100.0),
        seeds_share: class.share(&courses(&projection, 1), facts.kill.moisture_floor),
        turnings: 0,
    });
    sentence(&ahead.unwrap(), UnitSystem::Metric)
}

/// A heap of a few buckets loses its warmth (a cubic metre keeps it; common practice), whatever is done to it: that is said with what to
/// do first. A large one is told what it reaches.
#[test]
fn what_is_out_of_reach_is_said_with_why() {
    let seeds = aimed(Aim::SeedsKilled, 0.05);
    assert!(
        seeds.starts_with("No timetable kills seeds in this heap: it never passes"),
        "{seeds}"
    );
    assert!(seeds.contains("make it about 1000 L first"), "{seeds}");
    let hot = aimed(Aim::Hot, 0.05);
    assert!(hot.contains("out of reach as it stands"), "{hot}");
    let large = aimed(Aim::Hot, 1.0);
    assert!(large.contains("stays above 55 °C for"), "{large}");
    let early = aimed(Aim::FinishedBy { day_of_year: 31 }, 1.0);
    assert!(
        early.contains("finished on about day 100, and there are 30 days"),
        "{early}"
    );
    let late = aimed(Aim::FinishedBy { day_of_year: 201 }, 1.0);
    assert!(late.contains("100 days before it"), "{late}");
}

/// Whoever wants little work is not told to fetch for a mix that works; other aims are.
#[test]
fn least_work_asks_for_nothing_that_is_not_needed() {
    let mix = Mix {
        ingredients: vec![
            row("leaves_mixed", 8.0, Measure::Barrow, None),
            row("grass_fresh", 3.0, Measure::Barrow, None),
        ],
        added_water_l: 0.0,
    };
    let parts = mix.resolve(built_in()).unwrap();
    let blend = blend(&parts, 0.0);
    let steps = |effort: Effort| {
        let all = advise_within(effort, (&mix, parts.as_slice(), &blend), None, None);
        all.iter().filter(|advice| advice.change.is_some()).count()
    };
    assert!(steps(Effort::Any) > 0);
    assert_eq!(steps(Effort::Least), 0);
}

/// Ways of writing a number that people use; a comma before three digits is read by nobody for sure.
#[test]
fn amounts_are_read_as_people_write_them() {
    let own = [OwnMeasure {
        name: "my barrow".to_owned(),
        litres: 85.0,
    }];
    let read = |text: &str| read(text, &Measure::Bucket, &own);
    for (text, value, measure) in [
        ("2", 2.0, Measure::Bucket),
        ("2,5", 2.5, Measure::Bucket),
        ("2.5", 2.5, Measure::Bucket),
        (".5", 0.5, Measure::Bucket),
        ("1/2", 0.5, Measure::Bucket),
        ("1 1/2", 1.5, Measure::Bucket),
        ("1½", 1.5, Measure::Bucket),
        ("¾ barrow", 0.75, Measure::Barrow),
        ("2 sacks", 2.0, Measure::Sack),
        ("200 L", 200.0, Measure::Litre),
        ("200l", 200.0, Measure::Litre),
        ("0,125 m3", 125.0, Measure::Litre),
        ("3 My Barrow", 3.0, own[0].measure()),
        ("3 my barrows", 3.0, own[0].measure()),
        ("2 wheelbarrows", 2.0, Measure::Barrow),
        ("500 g", 500.0, Measure::Gram),
        ("10 lbs", 10.0, Measure::Pound),
    ] {
        assert_eq!(read(text), Ok(Amount::new(value, measure)), "{text}");
    }
    for text in [
        "", "two", "-1", "1/0", "1,000", "1.2.3", "NaN", "1e300", "inf", "2 pints", "½ ½",
    ] {
        let problem = read(text).unwrap_err();
        assert!(unread(&problem).ends_with("Nothing was changed."), "{text}");
    }
}

/// More than five buckets are carried in barrows of 100 L: 13 buckets of 12 L are about one and a half.
#[test]
fn more_than_five_buckets_are_said_in_barrows() {
    let said = |buckets: f64| carried(&Amount::new(buckets, Measure::Bucket));
    assert_eq!(said(5.0), "5 buckets");
    assert_eq!(said(6.0), "about ¾ barrow");
    assert_eq!(said(13.0), "about 1½ barrows");
    assert_eq!(said(100.0), "about 12 barrows");
}
