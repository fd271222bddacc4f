//! The balance against scipy, handbook examples, and what it promises.

use std::time::{Duration, Instant};

use heapwright::material::{Catalogue, Material};
use heapwright::mix::balance::{
    Balanced, Goal, Limit, Reached, Rounding, Size, TargetBands, WayNeed, balance, fill, fixes,
};
use heapwright::mix::{Change, Gauge, Ingredient, Mix, TargetBand, bands, blend};
use heapwright::quantity::{Amount, Measure};
use heapwright::text::balance::way as way_words;
use proptest::prelude::*;

use crate::support::balance_cases::cases;
use crate::support::materials::{built_in, plain};

fn row(material: &str, value: f64, measure: Measure) -> Ingredient {
    Ingredient::new(material, Amount::new(value, measure))
}

fn locked(row: Ingredient) -> Ingredient {
    Ingredient {
        locked: true,
        ..row
    }
}

fn mix_of(ingredients: Vec<Ingredient>) -> Mix {
    Mix {
        ingredients,
        added_water_l: 0.0,
    }
}

fn value(balanced: &Balanced, gauge: Gauge) -> f64 {
    balanced.after.gauges.expect("dry matter").value(gauge)
}

/// scipy's linprog and SLSQP on 200 random mixes and one of 20 ingredients,
/// `tests/reference/make_balance.py`, which writes the formulas out again. 1e-6 of the objective:
/// both solvers stop far below that.
#[test]
fn the_least_effort_is_that_of_scipy_on_two_hundred_mixes() {
    let cases = cases();
    assert_eq!(cases.len(), 201);
    for case in cases.iter().filter(|case| case.best) {
        let found = balance(&case.mix, &case.catalogue, &case.goal).unwrap();
        assert_eq!(found.verdict, Reached::Best, "mix {}", case.number);
        let apart = (found.least_effort - case.least_effort).abs();
        assert!(
            apart <= 1e-6 * case.least_effort,
            "mix {}: {} against {}",
            case.number,
            found.least_effort,
            case.least_effort
        );
    }
}

/// The same vectors: linprog says which cannot be done. Yes or no, so there is no tolerance; close
/// calls (a margin below 1e-4) are not among the vectors.
#[test]
fn what_cannot_be_done_is_recognised_without_exception() {
    let (mut never, mut not_best) = (0, 0);
    for case in cases().iter().filter(|case| !case.best) {
        let found = balance(&case.mix, &case.catalogue, &case.goal).unwrap();
        match found.verdict {
            Reached::Works { beyond_best } => {
                assert!(case.works, "mix {} cannot be", case.number);
                assert!(beyond_best.contains(&Gauge::Volume));
                not_best += 1;
            }
            Reached::Nearest { fighting, .. } => {
                assert!(!case.works, "mix {} can be", case.number);
                assert!(!fighting.is_empty());
                never += 1;
            }
            other => panic!("mix {}: {other:?}", case.number),
        }
    }
    assert!(never > 30 && not_best > 0, "{never} {not_best}");
}

/// A goal that asks for one value of one gauge and nothing else.
fn exactly(gauge: Gauge, target: f64) -> Goal {
    let just = |this: Gauge| {
        let ends = if this == gauge {
            (target, target)
        } else {
            (f64::NEG_INFINITY, f64::INFINITY)
        };
        TargetBand {
            works: ends,
            best: ends,
        }
    };
    Goal {
        bands: TargetBands {
            cn: just(Gauge::CarbonNitrogen),
            moisture: just(Gauge::Moisture),
            free_air_space: just(Gauge::AirSpace),
            bulk_density_kg_per_m3: just(Gauge::Density),
        },
        water: gauge == Gauge::Moisture,
        ..Goal::of_room(None)
    }
}

/// So much of a locked base and a free partner, balanced; the partner's kilograms.
fn partner_kg(base: (&Material, f64), partner: &Material, goal: &Goal) -> f64 {
    let own = [base.0.clone(), partner.clone()];
    let catalogue = Catalogue::default().with_own(&own).unwrap();
    let mix = mix_of(vec![
        locked(row(&base.0.id, base.1, Measure::Kilogram)),
        row(&partner.id, 0.0, Measure::Kilogram),
    ]);
    let found = balance(&mix, &catalogue, goal).unwrap();
    assert!(
        !matches!(found.verdict, Reached::Nearest { .. }),
        "{found:?}"
    );
    found.mix.ingredients[1].amount.value
}

#[test]
fn handbook_proportions_for_a_ratio_are_solved() {
    let cn = |target| exactly(Gauge::CarbonNitrogen, target);
    // Cornell Composting, C/N page (from memory): 10 kg of grass take 3.5 kg of leaves for 30:1;
    // half of the last printed digit.
    let grass = plain("grass", 0.77, 0.45, 0.024, 200.0);
    let leaves = plain("leaves", 0.35, 0.50, 0.0075, 100.0);
    let kg = partner_kg((&grass, 10.0), &leaves, &cn(30.0));
    assert!((kg - 3.5).abs() < 0.05, "{kg}");
    // Environmental-engineering problem sheet: 0.3 kg of sawdust per kg of vegetable waste for 20:1,
    // printed as exact; 5e-5 is half of its fourth digit.
    let waste = plain("waste", 0.80, 0.44, 0.04, 400.0);
    let sawdust = plain("sawdust", 0.50, 0.50, 0.001, 250.0);
    let kg = partner_kg((&waste, 1.0), &sawdust, &cn(20.0));
    assert!((kg - 0.3).abs() < 5e-5, "{kg}");
    // Japanese soil guide: a tonne of rice straw (C 42 %, N 0.6 %) takes 40 kg of a fertiliser of
    // 20 % nitrogen for 30:1, exact by its formula; 1e-4 is what the program may be off at an equality.
    let straw = plain("straw", 0.0, 0.42, 0.006, 60.0);
    let fertiliser = plain("fertiliser", 0.0, 0.0, 0.20, 1000.0);
    let kg = partner_kg((&straw, 1000.0), &fertiliser, &cn(30.0));
    assert!((kg - 40.0).abs() < 40.0 * 1e-4, "{kg}");
    // Polprasert, exercises 3.4-3.5, by hand: 0.0119/0.077 kg of straw per kg of manure for 25:1.
    let manure = plain("manure", 0.90, 18.0 * 0.017, 0.017, 900.0);
    let straw = plain("straw", 0.30, 80.0 * 0.002, 0.002, 150.0);
    let kg = partner_kg((&manure, 1.0), &straw, &cn(25.0));
    assert!((kg - 0.0119 / 0.077).abs() < 2e-5, "{kg}");
}

#[test]
fn handbook_proportions_for_moisture_are_solved() {
    // Mass balance as printed by extension handbooks: 100 kg at 40 % take 25 kg of water for 52 %;
    // 100 kg at 80 % take 40 kg of straw at 10 % for 60 %. Exact; 1e-4 as above.
    let dry = plain("dry", 0.40, 0.45, 0.015, 300.0);
    let catalogue = Catalogue::default()
        .with_own(std::slice::from_ref(&dry))
        .unwrap();
    let mix = mix_of(vec![locked(row("dry", 100.0, Measure::Kilogram))]);
    let found = balance(&mix, &catalogue, &exactly(Gauge::Moisture, 0.52)).unwrap();
    assert!(
        (found.mix.added_water_l - 25.0).abs() < 25.0 * 1e-4,
        "{found:?}"
    );
    let wet = plain("wet", 0.80, 0.45, 0.015, 500.0);
    let straw = plain("straw", 0.10, 0.45, 0.006, 60.0);
    let goal = Goal {
        water: false,
        ..exactly(Gauge::Moisture, 0.60)
    };
    let kg = partner_kg((&wet, 100.0), &straw, &goal);
    assert!((kg - 40.0).abs() < 40.0 * 1e-4, "{kg}");
}

/// The Composting Handbook 2022 and Cooperband 2002 give the bands; no figure of ours is asked.
#[test]
fn three_materials_picked_and_one_call_fill_a_cubic_metre_in_buckets_and_barrows() {
    for names in [
        ["leaves_mixed", "grass_fresh", "horse_straw"],
        ["straw_wheat", "veg_scraps", "poultry_fresh"],
        ["leaves_dry_loose", "grass_fresh", "poultry_litter"],
        ["wood_chips_arb", "grass_wilted", "horse_straw"],
    ] {
        let measure = [Measure::Barrow, Measure::Bucket, Measure::Bucket];
        let rows = names.iter().zip(measure);
        let mix = mix_of(
            rows.map(|(name, measure)| row(name, 0.0, measure))
                .collect(),
        );
        let found = balance(&mix, built_in(), &Goal::of_room(Some(1.0))).unwrap();
        assert_eq!(found.rounding, Rounding::Whole, "{names:?}");
        for ingredient in &found.mix.ingredients {
            assert_eq!(ingredient.amount.value.fract(), 0.0, "{ingredient:?}");
        }
        assert!(matches!(
            found.verdict,
            Reached::Best | Reached::Works { .. }
        ));
        for (gauge, band) in [
            (Gauge::CarbonNitrogen, bands::CN.best),
            (Gauge::Moisture, bands::MOISTURE.best),
            (Gauge::AirSpace, bands::FREE_AIR_SPACE.works),
            (Gauge::Volume, (0.85, 1.0)),
        ] {
            let value = value(&found, gauge);
            assert!(
                value >= band.0 && value <= band.1,
                "{names:?} {gauge:?} {value}"
            );
        }
    }
}

#[test]
fn with_leaves_alone_it_says_what_to_look_for() {
    // Leaves have a C:N of 40-80 (Cornell fact sheet FS2): whatever their amount, nitrogen is missing.
    let mix = mix_of(vec![row("leaves_mixed", 0.0, Measure::Barrow)]);
    let found = balance(&mix, built_in(), &Goal::of_room(Some(1.0))).unwrap();
    let Reached::Nearest { fighting, ways_out } = &found.verdict else {
        panic!("{found:?}");
    };
    let broken = |limit: &&Limit| matches!(limit, Limit::Gauge { broken: true, .. });
    let broken: Vec<&Limit> = fighting.iter().filter(broken).collect();
    assert!(
        matches!(
            broken[..],
            [Limit::Gauge {
                gauge: Gauge::CarbonNitrogen,
                ..
            }]
        ),
        "{fighting:?}"
    );
    let named: Vec<&str> = ways_out
        .iter()
        .flat_map(|way| &way.needs)
        .filter_map(|need| match need {
            WayNeed::Add { material, .. } => Some(material.id.as_str()),
            _ => None,
        })
        .collect();
    assert!(
        named.contains(&"urea") && named.contains(&"grass_fresh"),
        "{named:?}"
    );
    // Without nitrogen sources, greens are left.
    let goal = Goal {
        nitrogen_sources: false,
        ..Goal::of_room(Some(1.0))
    };
    let found = balance(&mix, built_in(), &goal).unwrap();
    let Reached::Nearest { ways_out, .. } = &found.verdict else {
        panic!("{found:?}");
    };
    assert!(!ways_out.is_empty());
    assert!(ways_out.iter().all(|way| !way_words(way).contains("urea")));
}

#[test]
fn what_is_right_already_is_left_alone() {
    let mix = mix_of(vec![
        row("leaves_mixed", 0.0, Measure::Barrow),
        row("grass_fresh", 0.0, Measure::Bucket),
        row("horse_straw", 0.0, Measure::Bucket),
    ]);
    let goal = Goal::of_room(Some(1.0));
    let once = balance(&mix, built_in(), &goal).unwrap();
    let twice = balance(&once.mix, built_in(), &goal).unwrap();
    assert!(twice.steps.is_empty(), "{:?}", twice.steps);
    assert_eq!(twice.mix, once.mix);
    assert_eq!(twice.least_effort, 0.0);
}

#[test]
fn a_lock_or_a_stock_in_the_way_is_named_and_the_way_out_opens_it() {
    let goal = Goal::of_room(Some(1.0));
    // A cubic metre of wet grass, locked: C:N 17 and 82 % water.
    let mut mix = mix_of(vec![
        locked(row("grass_fresh", 100.0, Measure::Bucket)),
        row("straw", 2.0, Measure::Bucket),
    ]);
    let ways = |mix: &Mix| {
        let found = balance(mix, built_in(), &goal).unwrap();
        let Reached::Nearest { fighting, ways_out } = found.verdict else {
            panic!("{:?}", found.verdict);
        };
        (fighting, ways_out)
    };
    let (fighting, ways_out) = ways(&mix);
    assert!(fighting.contains(&Limit::Locked(0)), "{fighting:?}");
    let unlocks = |need: &WayNeed| matches!(need, WayNeed::Unlock { row: 0, .. });
    assert!(ways_out.iter().any(|way| way.needs.iter().any(unlocks)));
    // Little straw: more of it helps.
    mix.ingredients[0] = row("grass_fresh", 40.0, Measure::Bucket);
    mix.ingredients[0].locked = true;
    mix.ingredients[1].stock = Some(3.0);
    let (fighting, ways_out) = ways(&mix);
    assert!(fighting.contains(&Limit::Stock(1)), "{fighting:?}");
    let more =
        |need: &WayNeed| matches!(need, WayNeed::More { row: 1, more, .. } if more.value > 0.0);
    assert!(
        ways_out.iter().any(|way| way.needs.iter().any(more)),
        "{ways_out:?}"
    );
}

#[test]
fn the_bin_is_filled_with_what_is_left() {
    let mut mix = mix_of(vec![
        row("leaves_mixed", 4.0, Measure::Barrow),
        row("grass_fresh", 20.0, Measure::Bucket),
    ]);
    mix.ingredients[0].stock = Some(14.0);
    mix.ingredients[1].stock = Some(60.0);
    let found = fill(&mix, built_in(), 1.0, &Goal::of_room(None)).unwrap();
    assert!(value(&found, Gauge::Volume) >= 0.6, "{found:?}");
    for (old, new) in mix.ingredients.iter().zip(&found.mix.ingredients) {
        assert!(new.amount.value >= old.amount.value);
        assert!(new.amount.value <= old.stock.unwrap());
    }
    assert!(found.mix.added_water_l >= mix.added_water_l);
}

/// Each single change is tested against the band and against the blend of the mix it makes.
#[test]
fn one_gauge_is_mended_by_one_change() {
    let goal = Goal::of_room(None);
    let dry = mix_of(vec![
        row("leaves_dry_loose", 6.0, Measure::Barrow),
        row("coffee_grounds", 12.0, Measure::Bucket),
    ]);
    let wet = mix_of(vec![
        row("grass_fresh", 6.0, Measure::Barrow),
        row("straw", 2.0, Measure::Barrow),
    ]);
    for (mix, gauge) in [
        (&dry, Gauge::Moisture),
        (&wet, Gauge::Moisture),
        (&wet, Gauge::CarbonNitrogen),
    ] {
        let found = fixes(mix, built_in(), &goal, gauge).unwrap();
        assert!(!found.is_empty(), "{gauge:?}");
        for fix in &found {
            let mut after = mix.clone();
            fix.step.change.apply(&mut after);
            assert_eq!(after, fix.mix);
            let parts = after.resolve(built_in()).unwrap();
            assert_eq!(blend(&parts, after.added_water_l), fix.after);
            let band = match gauge {
                Gauge::Moisture => bands::MOISTURE,
                _ => bands::CN,
            };
            let value = fix.after.gauges.unwrap().value(gauge);
            let ends = if fix.best { band.best } else { band.works };
            assert!(value >= ends.0 && value <= ends.1, "{value} {:?}", fix.step);
        }
        assert!(found.windows(2).all(|two| two[0].effort <= two[1].effort));
    }
    let first = &fixes(&dry, built_in(), &goal, Gauge::Moisture).unwrap()[0];
    assert!(
        matches!(first.step.change, Change::Water { .. }),
        "{:?}",
        first.step
    );
    assert!(
        fixes(&Mix::default(), built_in(), &goal, Gauge::Moisture)
            .unwrap()
            .is_empty()
    );
}

/// A mix with anything in it: nothing, too much, locked, short of stock.
fn mixes() -> impl Strategy<Value = Mix> {
    let amount = prop_oneof![Just(0.0), 0.0..40.0_f64, Just(1e5), Just(1e-9)];
    let stock = prop_oneof![Just(None), Just(Some(0.0)), (0.0..100.0_f64).prop_map(Some)];
    let row = (
        0..178_usize,
        0..14_usize,
        amount,
        any::<bool>(),
        any::<bool>(),
        stock,
    );
    let ingredient = row.prop_map(|(place, measure, value, a, b, stock)| {
        let amount = Amount::new(value, Measure::READY[measure].clone());
        Ingredient {
            locked: a && b,
            stock,
            ..Ingredient::new(&built_in().materials()[place].id, amount)
        }
    });
    let rows = prop::collection::vec(ingredient, 0..9);
    let water = prop_oneof![Just(0.0), 0.0..300.0_f64, Just(1e6)];
    (rows, water).prop_map(|(ingredients, added_water_l)| Mix {
        ingredients,
        added_water_l,
    })
}

fn goals() -> impl Strategy<Value = Goal> {
    let size = prop_oneof![
        Just(Size::Free),
        (0.01..1000.0_f64).prop_map(Size::Fill),
        (0.1..3.0_f64).prop_map(Size::Fill),
        (0.1..3.0_f64).prop_map(Size::Within),
    ];
    let may = (any::<bool>(), any::<bool>(), any::<bool>());
    (size, may).prop_map(|(size, (water, only_more, nitrogen_sources))| Goal {
        size,
        water,
        only_more,
        nitrogen_sources,
        ..Goal::of_room(None)
    })
}

/// Where the volume must lie, from the size asked for.
fn volume_works(size: Size, before_m3: f64) -> (f64, f64) {
    match size {
        Size::Fill(room) => bands::volume(room).works,
        Size::Within(room) => {
            let works = bands::volume(room).works;
            (works.0.min(0.5 * before_m3), works.1)
        }
        Size::Free if before_m3 < 1e-4 => bands::volume(1.0).works,
        Size::Free => (0.5 * before_m3, f64::INFINITY),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn locks_bounds_and_bands_hold_whatever_the_mix(mix in mixes(), goal in goals()) {
        let begun = Instant::now();
        let found = balance(&mix, built_in(), &goal).unwrap();
        // A guard against going round in circles, not a measure: it takes a few milliseconds.
        prop_assert!(begun.elapsed() < Duration::from_secs(5));
        prop_assert!(found.least_effort.is_finite());
        let parts = found.mix.resolve(built_in()).unwrap();
        prop_assert_eq!(&blend(&parts, found.mix.added_water_l), &found.after);
        let nothing = found.verdict == Reached::Nothing;
        for (old, new) in mix.ingredients.iter().zip(&found.mix.ingredients) {
            prop_assert_eq!(&old.material, &new.material);
            let (old_value, value) = (old.amount.value, new.amount.value);
            if old.locked {
                prop_assert_eq!(old, new);
            } else if let (Some(stock), false) = (old.stock, nothing) {
                prop_assert!(value <= stock * (1.0 + 1e-6) + 1e-6, "{} of {}", value, stock);
            }
            if goal.only_more && old.stock.is_none() {
                prop_assert!(value >= old_value * (1.0 - 1e-6) - 1e-6);
            }
        }
        if !goal.water {
            prop_assert_eq!(mix.added_water_l, found.mix.added_water_l);
        }
        let mut done = mix.clone();
        for step in &found.steps {
            step.change.apply(&mut done);
        }
        prop_assert_eq!(&done, &found.mix);
        let before_m3 = found.before.totals.volume_m3();
        let volume = volume_works(goal.size, before_m3);
        let works = |blend: &heapwright::mix::Blend| {
            let gauges = blend.gauges.unwrap();
            [
                (Gauge::CarbonNitrogen, bands::CN.works),
                (Gauge::Moisture, bands::MOISTURE.works),
                (Gauge::AirSpace, bands::FREE_AIR_SPACE.works),
                (Gauge::Density, bands::BULK_DENSITY_KG_PER_M3.works),
                (Gauge::Volume, volume),
            ]
            .into_iter()
            // 1e-6: what amounts that cannot be rounded may be off by.
            .find(|(gauge, (low, high))| {
                let value = gauges.value(*gauge);
                !(value >= low * (1.0 - 1e-6) && value <= high * (1.0 + 1e-6))
            })
            .map(|(gauge, ends)| (gauge, ends, gauges.value(gauge)))
        };
        match &found.verdict {
            Reached::Best | Reached::Works { .. } => {
                prop_assert_eq!(works(&found.after), None);
                let within = |gauge: Gauge, band: TargetBand| {
                    let value = value(&found, gauge);
                    value >= band.best.0 * (1.0 - 1e-6) && value <= band.best.1 * (1.0 + 1e-6)
                };
                let beyond = match &found.verdict {
                    Reached::Works { beyond_best } => beyond_best.clone(),
                    _ => Vec::new(),
                };
                for (gauge, band) in [
                    (Gauge::CarbonNitrogen, bands::CN),
                    (Gauge::Moisture, bands::MOISTURE),
                    (Gauge::AirSpace, bands::FREE_AIR_SPACE),
                    (Gauge::Density, bands::BULK_DENSITY_KG_PER_M3),
                ] {
                    prop_assert!(beyond.contains(&gauge) || within(gauge, band), "{:?}", gauge);
                }
            }
            Reached::Nearest { fighting, ways_out } => {
                prop_assert!(!fighting.is_empty());
                for way in ways_out {
                    prop_assert_eq!(works(&way.after), None);
                    prop_assert!(!way.needs.is_empty() && way.effort.is_finite());
                    let parts = way.mix.resolve(built_in()).unwrap();
                    prop_assert_eq!(&blend(&parts, way.mix.added_water_l), &way.after);
                }
            }
            Reached::Nothing => {
                let totals = &found.before.totals;
                prop_assert!(totals.dry_kg <= 0.0 || totals.volume_m3() < 1e-4);
                prop_assert_eq!(&mix, &found.mix);
            }
        }
    }

    #[test]
    fn fixes_are_finite_and_keep_locks(mix in mixes(), goal in goals(), gauge in 0..5_usize) {
        for fix in fixes(&mix, built_in(), &goal, Gauge::ALL[gauge]).unwrap() {
            prop_assert!(fix.effort.is_finite() && fix.after.gauges.is_some());
            for (old, new) in mix.ingredients.iter().zip(&fix.mix.ingredients) {
                prop_assert!(!old.locked || old == new);
            }
        }
    }
}
