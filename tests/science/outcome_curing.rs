//! Curing: what field tests say weighs more than the projection, and only if they were taken late enough.
//!
//! Rules held here: curing of 21 days (CCME 2005; from memory, so shown as such); for maturity a test of stability and
//! one with plants (structure of the California compost maturity index, 2001); self-heating class III is stable
//! (EU 2019/1009, not opened); cress above 80 % of the control is mature (Zucconi et al. 1981, quoted); bag test
//! (several garden sources); radish test (UF/IFAS Extension Sarasota).

use heapwright::garden::TestResult;
use heapwright::heap::{Ended, Kinetics};
use heapwright::outcome::curing::{Bears, LooksAt, Verdict};
use heapwright::outcome::finish::{Finish, FinishTable, Lies, Made, Stage};
use heapwright::outcome::{Facts, Finding};
use heapwright::quantity::UnitSystem;
use heapwright::text::outcome as words;

use crate::stand_in;

/// Last hot day of the heap that is judged.
const HOT_UNTIL: f64 = 40.0;
/// From here a passed test counts for seedlings.
const CURED: f64 = HOT_UNTIL + 21.0;

fn table() -> FinishTable {
    Facts::built_in().unwrap().finish
}

/// A heap that is hot until day 40, fit to dig in from `usable`, finished from `day`.
fn finish(usable: Option<f64>, day: Option<f64>) -> Finish {
    let records = vec![stand_in::record(0.0, 60.0), stand_in::record(200.0, 15.0)];
    let summary = stand_in::summary(&Kinetics::default());
    let projection = stand_in::projection(records, summary, Ended::Finished);
    let made = Made {
        turnings: &[],
        lies: Lies::Heaped,
        leaf_share: 0.0,
    };
    let finish = Finish::of(&projection, &table(), &Kinetics::default(), &made).unwrap();
    Finish {
        hot_until_day: Some(HOT_UNTIL),
        usable_day: usable,
        day,
        digs_in: true,
        ..finish
    }
}

/// A result by the test's id and the beginning of what was seen.
fn saw(test: &str, seen: &str, day: f64) -> TestResult {
    let table = table();
    let of = table.tests.iter().find(|it| it.id == test).unwrap();
    let result = of
        .results
        .iter()
        .position(|it| it.seen.starts_with(seen))
        .unwrap();
    TestResult {
        test: test.to_owned(),
        day,
        result,
        note: String::new(),
    }
}

fn tested(finish: Finish, results: &[TestResult]) -> Finish {
    finish.tested(&table(), results)
}

#[test]
fn a_failed_cress_test_stops_seedlings_whatever_is_projected() {
    let failed = saw("cress", "less than half", 150.0);
    let got = tested(
        finish(Some(50.0), Some(90.0)),
        std::slice::from_ref(&failed),
    );
    assert!(matches!(got.curing.pots, Verdict::Stopped(seen) if seen.day == 150.0));
    assert_eq!(got.pots_day(), None);
    assert_eq!(got.dig_in_day(), Some(50.0), "digging in is not refuted");
    assert_eq!(got.stage(), Stage::Young);
    // Another test that is passed does not make it good; the same one, later, does.
    let radish = saw("radish", "three quarters", 160.0);
    let still = tested(finish(Some(50.0), Some(90.0)), &[failed.clone(), radish]);
    assert_eq!(still.pots_day(), None);
    let again = saw("cress", "four fifths", 170.0);
    let earlier = saw("cress", "four fifths", 140.0);
    let good = tested(finish(Some(50.0), Some(90.0)), &[again, failed.clone()]);
    assert!(matches!(good.curing.pots, Verdict::Confirmed(seen) if seen.day == 170.0));
    assert_eq!(good.pots_day(), Some(90.0));
    let worse = tested(finish(Some(50.0), Some(90.0)), &[failed, earlier]);
    assert!(worse.curing.stops());
}

#[test]
fn a_passed_test_counts_once_the_heap_has_cured() {
    for (day, counts) in [(10.0, false), (CURED - 0.5, false), (CURED, true)] {
        let got = tested(
            finish(Some(41.0), Some(CURED)),
            &[saw("radish", "three quarters", day)],
        );
        assert_eq!(
            matches!(got.curing.pots, Verdict::Confirmed(_)),
            counts,
            "day {day}"
        );
        assert_eq!(got.curing.too_early.is_empty(), counts, "day {day}");
        // Too early or not, nothing is taken away from the projection.
        assert_eq!(got.pots_day(), Some(CURED));
    }
    // A raw heap of leaves that smells of earth on day 5 is not finished by that.
    let raw = tested(finish(None, None), &[saw("bag", "earthy", 5.0)]);
    assert_eq!(raw.stage(), Stage::Raw);
}

#[test]
fn without_the_projection_two_kinds_of_test_are_asked_for() {
    let plants = [
        saw("radish", "three quarters", 100.0),
        saw("cress", "four fifths", 101.0),
    ];
    let one_kind = tested(finish(None, None), &plants);
    assert_eq!(one_kind.curing.pots, Verdict::Projected);
    let both = [
        saw("radish", "three quarters", 100.0),
        saw("bag", "earthy", 104.0),
    ];
    let got = tested(finish(None, None), &both);
    assert!(matches!(got.curing.pots, Verdict::ByTests(_)));
    assert_eq!(got.pots_day(), Some(104.0), "the last of both");
    assert_eq!(got.stage(), Stage::Mature);
    // What is found sooner than projected is told by the sooner day.
    let sooner = tested(finish(Some(80.0), Some(150.0)), &both);
    assert_eq!(sooner.pots_day(), Some(104.0));
}

#[test]
fn the_flask_classes_decide_as_their_lines_in_the_table_do() {
    for (seen, dig_in, pots) in [
        ("at most 10", true, true),
        ("10 to 20", true, false),
        ("20 to 30", true, false),
        ("30 to 40", false, false),
        ("more than 40", false, false),
    ] {
        let got = tested(finish(Some(50.0), Some(90.0)), &[saw("flask", seen, 120.0)]);
        assert_eq!(got.dig_in_day().is_some(), dig_in, "{seen}");
        assert_eq!(got.pots_day().is_some(), pots, "{seen}");
    }
    // Sour in the bag: still rotting, for neither; ammonia: still freeing nitrogen, not for seedlings.
    let sour = tested(finish(Some(50.0), Some(90.0)), &[saw("bag", "sour", 120.0)]);
    assert_eq!(sour.stage(), Stage::Raw);
    let sharp = tested(
        finish(Some(50.0), Some(90.0)),
        &[saw("bag", "ammonia", 120.0)],
    );
    assert_eq!(sharp.stage(), Stage::Young);
}

/// A heap that was never hot has no hot stage to cure after: a passed test counts from the day the projection gives, else
/// from the least time that such heaps are given.
#[test]
fn a_heap_that_was_never_hot_is_held_to_its_own_days() {
    for (day, usual, from) in [
        (Some(90.0), Some((180.0, 365.0)), 90.0),
        (None, Some((180.0, 365.0)), 180.0),
        (None, None, 200.0),
    ] {
        for (taken, counts) in [(from - 1.0, false), (from, true)] {
            let cold = Finish {
                hot_until_day: None,
                usual_days: usual,
                ..finish(day, day)
            };
            let passed = [
                saw("bag", "earthy", taken),
                saw("radish", "three quarters", taken),
            ];
            let got = tested(cold, &passed);
            assert_eq!(got.curing.counts_from, from);
            assert_eq!(got.curing.pots != Verdict::Projected, counts, "{taken}");
            assert_eq!(got.curing.dig_in != Verdict::Projected, counts, "{taken}");
        }
    }
}

#[test]
fn what_says_nothing_changes_nothing() {
    let plain = finish(Some(50.0), Some(90.0));
    let seed_at_fault = saw("cress", "fewer than 30", 120.0);
    let unknown = TestResult {
        test: "no such test".to_owned(),
        day: 120.0,
        result: 0,
        note: String::new(),
    };
    let no_such_result = TestResult {
        result: 99,
        ..saw("bag", "earthy", 120.0)
    };
    let weedkiller = saw("bean", "both alike", 120.0);
    for result in [seed_at_fault.clone(), unknown, no_such_result, weedkiller] {
        let got = tested(plain.clone(), std::slice::from_ref(&result));
        assert_eq!(
            (got.curing.dig_in, got.curing.pots),
            (Verdict::Projected, Verdict::Projected),
            "{result:?}"
        );
    }
    // A test that failed of itself does not undo the one before it.
    let got = tested(
        plain,
        &[saw("cress", "less than half", 110.0), seed_at_fault],
    );
    assert!(got.curing.stops());
}

#[test]
fn a_result_that_passes_is_against_nothing_and_the_other_way_round() {
    for test in &table().tests {
        for result in &test.results {
            let told = format!("{}: {}", test.id, result.seen);
            match result.bears {
                Bears::ForPots => assert!(result.passes, "{told}"),
                Bears::AgainstPots | Bears::AgainstBoth => assert!(!result.passes, "{told}"),
                Bears::ForDigInAlone => assert_eq!(test.id, "flask", "{told}"),
                Bears::Nothing => assert!(test.looks_at != LooksAt::Stability, "{told}"),
            }
        }
    }
}

#[test]
fn words_name_the_test_and_say_what_is_unverified() {
    let table = table();
    let said = |got: &Finish| words::sentence(&Finding::Finish(&table, got), UnitSystem::Metric);
    let stopped = tested(
        finish(Some(50.0), Some(90.0)),
        &[saw("cress", "half to", 120.0)],
    );
    let told = said(&stopped);
    assert!(
        told.contains("not fit for seedlings and pots, whatever is projected"),
        "{told}"
    );
    assert!(told.contains("the cress test of day 120"), "{told}");
    assert!(
        told.contains("unverified"),
        "the lower lines are from memory: {told}"
    );
    let short = words::finished(&stopped);
    assert!(short.contains("says not for seedlings and pots"), "{short}");
    assert!(!short.contains("day 90"), "{short}");
    let early = tested(
        finish(Some(50.0), Some(90.0)),
        &[saw("radish", "three", 20.0)],
    );
    assert!(
        said(&early).contains("too early to count: from day 61"),
        "{}",
        said(&early)
    );
    let confirmed = tested(
        finish(Some(50.0), Some(90.0)),
        &[saw("bag", "earthy", 95.0)],
    );
    assert!(said(&confirmed).contains("confirmed by the bag test of day 95"));
}
