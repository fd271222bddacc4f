//! Finish: the flask against the classes it stands for, breathing in other units, days of published limits.

use heapwright::heap::{Heap, Kinetics, Left, Projection, Record};
use heapwright::outcome::finish::{
    Decides, Finish, FinishTable, Lies, LimitOn, Made, Stage, WayName, finished_day, measured,
};
use heapwright::outcome::flask::{Flask, breathing_per_day, carbon_nitrogen, flask};
use heapwright::outcome::reach::{Limit, Reached, limits};
use heapwright::outcome::{Facts, Finding};

use heapwright::quantity::UnitSystem;
use heapwright::text::outcome as words;

use crate::support::close;
use crate::support::garden::Garden;
use crate::support::heaps::{GOOD, Recipe, mesh_cube, project, turned};
use crate::support::within;

fn table() -> FinishTable {
    Facts::built_in().unwrap().finish
}

/// A heap in a bin, turned on these days, so much of it leaves.
fn heaped(turnings: &[f64], leaf_share: f64) -> Made<'_> {
    Made {
        turnings,
        lies: Lies::Heaped,
        leaf_share,
    }
}

fn year(recipe: Recipe) -> Projection {
    let mut heap = mesh_cube(recipe.volume_m3, 15.0);
    heap.days = 360.0;
    heap.plan = turned(&[10.0, 20.0, 30.0, 45.0], Some(0.58));
    project(&recipe.totals(), &heap).unwrap()
}

/// A record of a kilogram of dry matter with these pools.
fn record(pools_kg: [f64; 3]) -> Record {
    let mut record = crate::stand_in::record(0.0, 20.0);
    record.dry_kg = 1.0;
    record.nitrogen_kg = 0.02;
    record.left = Left {
        carbon_kg: 0.4,
        pools_kg,
        microbes_kg: 0.004,
        carbon_share: 0.47,
    };
    record
}

#[test]
fn fresh_matter_is_class_one_and_a_year_old_heap_class_five() {
    // Brinton et al. 1995 (purpose); lines from memory: above 40 K fresh, at most 10 K finished. `common practice`:
    // a hot heap turned four times is finished within a year and was not within its first month.
    let p = year(GOOD);
    let kinetics = Kinetics::default();
    let rises: Vec<f64> = [0.0, 30.0, 90.0, 180.0, 360.0]
        .map(|day| flask(p.at(day).unwrap(), &kinetics).rise_k)
        .to_vec();
    println!("rises {rises:?}");
    assert!(rises[0] > 40.0 && rises[1] > 5.0, "{rises:?}");
    assert!(rises.windows(2).all(|pair| pair[1] < pair[0]), "{rises:?}");
    assert!(rises[4] < 10.0, "{rises:?}");
    let class = |rise_k| {
        Flask {
            rise_k,
            after_days: 1.0,
        }
        .class()
    };
    assert_eq!(
        [0.0, 9.9, 10.0, 20.0, 30.0, 40.0, 70.0].map(class),
        [5, 5, 4, 3, 2, 1, 1]
    );
}

#[test]
fn a_flask_without_food_stays_at_room_temperature() {
    // Energy balance: no source, no rise. With microbes alone what they respire is all the heat there is.
    let kinetics = Kinetics::default();
    let mut none = record([0.0; 3]);
    none.left.microbes_kg = 0.0;
    assert_eq!(flask(&none, &kinetics).rise_k, 0.0);
    let some = flask(&record([0.0; 3]), &kinetics).rise_k;
    // 4 g of carbon at 39.6 MJ/kg into 1 kg dry and 1.22 kg water: never more than 25 K even without loss. Half of the
    // cells that die becomes humus, and a thirtieth dies in a day, so it is no more than a trace.
    within("rise", some, 0.05..=25.0);
}

#[test]
fn the_flask_agrees_with_the_breathing_that_stands_for_the_same() {
    // CCME 2005 (from memory) takes either at most 4 mg CO2-C/g OM d or a rise of at most 8 K: composts that just
    // keep the one should about just keep the other. Two tests never agree closely: within a factor of two.
    let kinetics = Kinetics::default();
    let p = year(GOOD);
    let breath = |r: &Record| 1000.0 * breathing_per_day(r, &kinetics);
    let after = p.records.iter().rposition(|r| breath(r) > 4.0).unwrap();
    let rise = flask(&p.records[after], &kinetics).rise_k;
    println!("day {:.0}: {rise} K", p.records[after].day);
    within("rise at 4 mg", rise, 4.0..=16.0);
}

#[test]
fn breathing_is_the_same_in_every_unit() {
    // Molar masses: C 12, CO2 44, O2 32; oxygen per carbon is that of the model.
    let kinetics = Kinetics::default();
    let r = record([0.02, 0.03, 0.1]);
    let carbon = measured(LimitOn::CarbonMgPerGDay, &r, &kinetics);
    close(
        "CO2",
        measured(LimitOn::CarbonDioxideMgPerGDay, &r, &kinetics),
        carbon * 44.0 / 12.0,
        1e-12,
    );
    let oxygen = measured(LimitOn::OxygenMgPerGH, &r, &kinetics);
    close("O2", oxygen, carbon * 32.0 / 12.0 * 1.06 / 24.0, 1e-12);
    close(
        "mmol",
        measured(LimitOn::OxygenMmolPerKgH, &r, &kinetics),
        oxygen * 1000.0 / 32.0,
        1e-12,
    );
    close("C:N", carbon_nitrogen(&r), 20.0, 1e-12);
}

#[test]
fn a_hot_heap_is_finished_in_months_and_a_cold_one_is_not() {
    // US EPA household text: a hot heap turned a few times takes 3 to 6 months; Raabe and EPA: a cool one 1 to 2
    // years. A band from half the lower to twice the upper end, since finished is judged by lines of three tests.
    let (table, kinetics) = (table(), Kinetics::default());
    let turnings = [10.0, 20.0, 30.0, 45.0];
    let hot = Finish::of(&year(GOOD), &table, &kinetics, &heaped(&turnings, 0.0)).unwrap();
    println!("{hot:?}");
    assert_eq!(hot.way, WayName::Hot);
    within("day", hot.day.unwrap(), 45.0..=360.0);
    let small = Recipe {
        volume_m3: 0.1,
        density: 300.0,
        ..GOOD
    };
    let mut heap = mesh_cube(0.1, 8.0);
    heap.days = 120.0;
    let cold = project(&small.totals(), &heap).unwrap();
    let cold = Finish::of(&cold, &table, &kinetics, &heaped(&[], 0.0)).unwrap();
    println!("{cold:?}");
    assert!(
        cold.way == WayName::Cold
            && cold.day.is_none()
            && words::sentence(&Finding::Finish(&table, &cold), UnitSystem::Metric)
                .contains("not fit for seedlings and pots within the run")
    );
}

#[test]
fn a_heap_of_good_mix_is_fit_to_dig_in_before_it_is_fit_for_pots() {
    // `common practice`: a hot turned heap is fit to dig in after two to four months, and cures for a month and more
    // before seedlings go in. Self-heating classes: III to dig in, V for pots (EU 2019/1009 takes III, from memory).
    // Catalogue ids, as a gardener mixes them.
    let table = table();
    let garden = Garden::by_volume(&[("leaves_mixed", 6.0), ("grass_wilted", 4.0)]);
    let garden = garden.wetted_to(0.58).filling(1.2);
    let mut heap = mesh_cube(1.2, 15.0);
    heap.days = 300.0;
    let days = [7.0, 14.0, 21.0, 35.0];
    heap.plan = turned(&days, Some(0.58));
    let p = garden.run_coarsely(&heap);
    let kinetics = Kinetics::default();
    let finish = Finish::of(&p, &table, &kinetics, &heaped(&days, 0.5)).unwrap();
    assert_eq!(finished_day(&p, &table, &kinetics), finish.day);
    let (first, second) = (finish.usable_day.unwrap(), finish.day.unwrap());
    println!("{first} {second}, hot until {:?}", finish.hot_until_day);
    // Two to four months, or the miss stands in "How far to trust this".
    let inside = (60.0..=122.0).contains(&first);
    assert_eq!(
        notes(&garden, &heap, &p, first).contains(&Limit::SoonFit),
        !inside,
        "{first}"
    );
    assert!(first > 40.0, "the miss has grown: {first}");
    assert!(second >= first && second >= finish.hot_until_day.unwrap() + 21.0);
    assert_eq!(finish.stage(), Stage::Mature);
    let said = words::sentence(&Finding::Finish(&table, &finish), UnitSystem::Metric);
    assert!(
        said.contains("dig in") && said.contains("seedlings and pots"),
        "{said}"
    );
}

/// What is told of how far to trust a run that is fit to dig in from a day on; a day of no number is none.
fn notes(garden: &Garden, heap: &Heap, p: &Projection, usable_day: f64) -> Vec<Limit> {
    limits(&Reached {
        parts: &garden.parts(),
        totals: &garden.totals(),
        heap,
        projection: p,
        usable_day: Some(usable_day).filter(|day| day.is_finite()),
    })
}

#[test]
fn leaves_by_themselves_are_leafmould_in_one_to_two_years_or_the_miss_is_said() {
    // `common practice`: a cold heap of leaves is fit as mulch after one year, for seed after two. A heap of which the
    // simulation says otherwise carries a note in "How far to trust this".
    let (table, kinetics) = (table(), Kinetics::default());
    for volume_m3 in [0.5, 1.4] {
        let garden = Garden::by_volume(&[("leaves_mixed", 1.0)]).filling(volume_m3);
        let mut heap = mesh_cube(volume_m3, 11.0);
        heap.days = 1500.0;
        let p = garden.run_coarsely(&heap);
        let finish = Finish::of(&p, &table, &kinetics, &heaped(&[], 1.0)).unwrap();
        let said = words::sentence(&Finding::Finish(&table, &finish), UnitSystem::Metric);
        assert!(finish.leaves && said.contains("leafmould"), "{said}");
        assert!(
            said.contains("after about 1 year") && said.contains("after 2 years"),
            "{said}"
        );
        let day = finish.usable_day.unwrap_or(f64::INFINITY);
        println!(
            "{volume_m3} m3: day {day}, at most {} degC",
            p.summary.peak_c
        );
        let inside = (365.0..=730.0).contains(&day);
        let told = notes(&garden, &heap, &p, day).contains(&Limit::ColdLeaves);
        assert_eq!(told, !inside, "{volume_m3} m3: {day}");
        // A year later than practice at present (a miss), and no later than that; what is within is not told.
        within("the miss has grown", day, 365.0..=1095.0);
        assert!(!notes(&garden, &heap, &p, 700.0).contains(&Limit::ColdLeaves));
    }
}

#[test]
fn any_one_test_of_the_canadian_guideline_is_enough() {
    // CCME 2005, as remembered: 21 days of curing and any one of oxygen, carbon dioxide and heating. With all but one
    // of them out of reach the day is that one's.
    let (table, kinetics) = (table(), Kinetics::default());
    let p = year(GOOD);
    let with = |kept: &str| {
        let mut table = table.clone();
        for limit in &mut table.limits {
            if limit.decides == Decides::PotsByAnyOf && limit.id != kept {
                limit.most = -1.0;
            }
        }
        finished_day(&p, &table, &kinetics)
    };
    let alone = ["ccme_oxygen", "ccme_carbon", "ccme_rise"].map(with);
    let first = alone
        .iter()
        .flatten()
        .copied()
        .fold(f64::INFINITY, f64::min);
    assert_eq!(finished_day(&p, &table, &kinetics), Some(first));
    assert_eq!(with("none of them"), None);
}

#[test]
fn limits_are_dated_from_where_they_are_kept_to_the_end() {
    let (table, kinetics) = (table(), Kinetics::default());
    let p = year(GOOD);
    let finish = Finish::of(&p, &table, &kinetics, &heaped(&[], 0.0)).unwrap();
    for (limit, result) in table.limits.iter().zip(&finish.limits) {
        let keeps = |r: &Record| measured(limit.measure, r, &kinetics) <= limit.most;
        // The plain way: the last record that breaks it; every third day of 360 is looked at.
        let broken = p.records.iter().rposition(|r| !keeps(r));
        let wanted = match broken {
            None => Some(0.0),
            Some(at) => p.records.get(at + 1).map(|r| r.day),
        };
        match (result.day, wanted) {
            (Some(got), Some(wanted)) => {
                assert!((got - wanted).abs() <= 4.0, "{}: {got} {wanted}", limit.id)
            }
            (got, wanted) => assert_eq!(got, wanted, "{}", limit.id),
        }
    }
}

#[test]
fn every_field_test_can_be_done_and_read() {
    let table = table();
    for id in ["bag", "radish", "flask", "bean"] {
        let test = table.tests.iter().find(|test| test.id == id).unwrap();
        assert!(test.steps.len() >= 4 && test.results.len() >= 2, "{id}");
        assert!(test.results.iter().any(|r| r.passes) && test.results.iter().any(|r| !r.passes));
    }
    let kinetics = Kinetics::default();
    let short = project(&GOOD.totals(), &mesh_cube(1.0, 15.0)).unwrap();
    let finish = Finish::of(&short, &table, &kinetics, &heaped(&[], 0.0)).unwrap();
    // What is said to be missing is missing, and nothing is missing from what is finished.
    assert_eq!(finish.day.is_none(), !finish.still_to_come.is_empty());
    assert!(
        table
            .limits
            .iter()
            .any(|limit| limit.decides == Decides::Pots)
    );
}
