//! What field tests say beside the projection, in words.
//!
//! In: a finish with its tests, the table. Out: pieces of sentences.
//!
//! Not here: which tests count (`outcome::curing`), when the projection says so (`finish`).
//!
//! Tested by: `tests/science/outcome_curing.rs`.

use crate::outcome::curing::{Curing, Seen, Verdict};
use crate::outcome::finish::{Finish, FinishTable};
use crate::quantity::UnitSystem;
use crate::text::{number, sentence};

use super::facts::{NamedNumber, unverified};
use super::metric;

/// `the bag test of day 60 ("sour or rotten")`, and whether that line is unverified.
fn test_of(seen: &Seen, table: &FinishTable, units: UnitSystem) -> String {
    let Some(test) = table.tests.get(seen.test) else {
        return String::new();
    };
    let Some(result) = test.results.get(seen.result) else {
        return String::new();
    };
    format!(
        "the {} of day {:.0} (\"{}\"{})",
        test.name.to_lowercase().replace("dewar", "Dewar"),
        seen.day,
        metric::shown_rise(&result.seen, units),
        unverified(result.trust)
    )
}

/// How the first end stands once tests are counted; `None`: as projected.
pub(super) fn dig_in(table: &FinishTable, got: &Finish, units: UnitSystem) -> Option<String> {
    match got.curing.dig_in {
        Verdict::Stopped(seen) => Some(format!(
            "Not fit to dig in or mulch yet, by {}",
            test_of(&seen, table, units)
        )),
        Verdict::ByTests(seen) => Some(format!(
            "Fit to dig in or mulch by {}, sooner than projected",
            test_of(&seen, table, units)
        )),
        Verdict::Projected | Verdict::Confirmed(_) => None,
    }
}

/// The same of the second end.
pub(super) fn pots(table: &FinishTable, got: &Finish, units: UnitSystem) -> Option<String> {
    match got.curing.pots {
        Verdict::Stopped(seen) => Some(format!(
            "not fit for seedlings and pots, whatever is projected, by {}: do the test again{}",
            test_of(&seen, table, units),
            if seen.day < got.curing.counts_from {
                format!(" from day {:.0}, once it has cured", got.curing.counts_from)
            } else {
                " in a few weeks".to_owned()
            }
        )),
        Verdict::ByTests(seen) => Some(format!(
            "fit for seedlings and pots by tests of two kinds, the last {}, sooner than projected",
            test_of(&seen, table, units)
        )),
        Verdict::Confirmed(seen) => got.day.map(|day| {
            format!(
                "fit for seedlings and pots from about day {day:.0}, confirmed by {}",
                test_of(&seen, table, units)
            )
        }),
        Verdict::Projected => None,
    }
}

/// Passed tests that came too early, in a sentence's tail; nothing where there are none.
pub(super) fn too_early(table: &FinishTable, got: &Finish, units: UnitSystem) -> String {
    let curing: &Curing = &got.curing;
    let Some(seen) = curing.too_early.last() else {
        return String::new();
    };
    format!(
        ". {} was too early to count: from day {:.0} it does",
        sentence(&test_of(seen, table, units)),
        curing.counts_from
    )
}

/// What a short summary says in place of the projection, where a test has said no.
pub(super) fn stopped(got: &Finish) -> Option<String> {
    match (got.curing.dig_in, got.curing.pots) {
        (Verdict::Stopped(seen), _) => Some(format!(
            "A field test of day {:.0} says that it is not fit yet, neither to dig in nor for seedlings and pots.",
            seen.day
        )),
        (_, Verdict::Stopped(seen)) => Some(match got.dig_in_day() {
            Some(day) => format!(
                "It would be fit to dig in or mulch from about day {day:.0}, but a field test of day {:.0} says not for seedlings and pots.",
                seen.day
            ),
            None => format!(
                "It would not be finished by the end, nor fit to dig in or mulch, and a field test of day {:.0} says not for seedlings and pots.",
                seen.day
            ),
        }),
        _ => None,
    }
}

/// When a passed test counts, as a number behind the line.
pub(super) fn counts_from(table: &FinishTable, got: &Finish) -> NamedNumber {
    let rule = match got.hot_until_day {
        Some(_) => format!(
            "the hot stage and {} of curing, {}",
            number::days(table.curing_days),
            table.curing_source
        ),
        None => "never hot: the projected day, else the least time such heaps are given".to_owned(),
    };
    let value = format!("day {:.0} ({rule})", got.curing.counts_from);
    NamedNumber::new("a passed field test counts for seedlings from", value)
}
