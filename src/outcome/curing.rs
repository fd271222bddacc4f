//! Curing: what field tests of the compost itself say beside the projection.
//!
//! In: the results a person has entered, the days of a projection, the tests of `assets/finish.ron`. Out: [`Curing`], a verdict for
//! each of the two ends.
//!
//! What is found weighs more than what is projected. A failed test stops its end until the same test is passed later. A
//! passed one counts only if it was taken late enough: for digging in after the hot stage, for seedlings after curing too
//! (CCME 2005: 21 days; from memory), since a raw heap of leaves smells of earth as well. Where the projection is not
//! there yet, seedlings ask for two kinds of test, one of stability and one with plants (structure of the California
//! compost maturity index, 2001), digging in for one of stability alone (EU 2019/1009 takes self-heating class III; not
//! opened).
//!
//! Not here: how a test is done (`assets/finish.ron`), the projection's own days (`finish`), sentences (`text::outcome`).
//!
//! Tested by: `tests/science/outcome_curing.rs`.

use serde::Deserialize;

use crate::garden::TestResult;

use super::trust::Trust;

/// What a field test looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum LooksAt {
    /// Whether it still rots.
    Stability,
    /// Whether plants come up in it.
    Plants,
    /// Whether weedkillers are left in it.
    Residues,
}

/// What a result says of the two ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Bears {
    /// Fit for seedlings and pots, and so to dig in.
    ForPots,
    /// Fit to dig in, not for seedlings and pots.
    ForDigInAlone,
    /// Not for seedlings and pots.
    AgainstPots,
    /// For neither.
    AgainstBoth,
    /// Says nothing of them.
    Nothing,
}

impl Bears {
    fn for_pots(self) -> bool {
        self == Self::ForPots
    }

    fn for_dig_in(self) -> bool {
        matches!(self, Self::ForPots | Self::ForDigInAlone)
    }

    fn against_pots(self) -> bool {
        matches!(
            self,
            Self::ForDigInAlone | Self::AgainstPots | Self::AgainstBoth
        )
    }
}

/// A simple test of the product.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FieldTest {
    /// Short, stable name.
    pub id: String,
    /// What it looks at.
    pub looks_at: LooksAt,
    /// Name on screen.
    pub name: String,
    /// What it tells.
    pub tells: String,
    /// How long it takes, d.
    pub days: (f64, f64),
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What is read off it: a word or number, and what it means.
    pub results: Vec<TestMeaning>,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// What a result of a field test means.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TestMeaning {
    /// What is seen.
    pub seen: String,
    /// What it means.
    pub means: String,
    /// Whether the compost passes.
    pub passes: bool,
    /// What that says of the two ends.
    pub bears: Bears,
    /// How far that line is to be trusted.
    pub trust: Trust,
}

/// What a projection says of both ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Projected {
    /// Last day on which the centre was hot.
    pub hot_until_day: Option<f64>,
    /// Day from which it is fit to dig in or mulch.
    pub usable_day: Option<f64>,
    /// Day from which it is fit for seedlings and pots.
    pub day: Option<f64>,
    /// Least time that heaps made this way are usually given, d.
    pub usual_least_days: Option<f64>,
    /// Length of the run, d.
    pub run_days: f64,
}

/// A result that was seen, by the places of test and result in the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Place of the test in the table.
    pub test: usize,
    /// Place of the result in the test's.
    pub result: usize,
    /// Days after the heap was built.
    pub day: f64,
}

/// How one end stands, once tests are counted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    /// No test counts: the projection stands by itself.
    Projected,
    /// The projection was there when this test was passed.
    Confirmed(Seen),
    /// Tests alone say so, the projection does not; the last of them.
    ByTests(Seen),
    /// This test says no.
    Stopped(Seen),
}

/// What field tests say of the two ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Curing {
    /// Fit to dig in or mulch.
    pub dig_in: Verdict,
    /// Fit for seedlings and pots.
    pub pots: Verdict,
    /// Passed, but too early to count for seedlings.
    pub too_early: Vec<Seen>,
    /// Day from which a passed test counts for seedlings, d.
    pub counts_from: f64,
}

impl Curing {
    /// Nothing tested yet.
    pub(super) fn untested() -> Self {
        Self {
            dig_in: Verdict::Projected,
            pots: Verdict::Projected,
            too_early: Vec::new(),
            counts_from: 0.0,
        }
    }

    /// Holds results of these tests against a projection; `curing_days` is the time it cures after the hot stage, d.
    /// Results of other tests are left out.
    pub fn of(
        projected: &Projected,
        (tests, curing_days): (&[FieldTest], f64),
        results: &[TestResult],
    ) -> Self {
        let latest = latest(tests, results);
        let from = counts_from(projected, curing_days);
        let bears = |seen: &Seen| tests[seen.test].results[seen.result].bears;
        let kind = |seen: &Seen| tests[seen.test].looks_at;
        let stopped = |no: &dyn Fn(Bears) -> bool| {
            let mut against = latest.iter().filter(|seen| no(bears(seen)));
            against.next_back().copied()
        };
        let passed: Vec<&Seen> = latest
            .iter()
            .filter(|seen| bears(seen).for_pots())
            .collect();
        let counted: Vec<&Seen> = passed
            .iter()
            .copied()
            .filter(|s| s.day >= from.pots)
            .collect();
        let of_kind = |wanted| counted.iter().copied().rfind(|seen| kind(seen) == wanted);
        let pots = match (
            stopped(&Bears::against_pots),
            counted.last(),
            of_kind(LooksAt::Stability),
            of_kind(LooksAt::Plants),
        ) {
            (Some(no), ..) => Verdict::Stopped(no),
            (None, Some(last), ..) if projected.day.is_some_and(|day| day <= last.day) => {
                Verdict::Confirmed(**last)
            }
            (None, Some(last), Some(_), Some(_)) => Verdict::ByTests(**last),
            _ => Verdict::Projected,
        };
        let stable = latest.iter().rfind(|seen| {
            let counts = kind(seen) == LooksAt::Stability && seen.day >= from.dig_in;
            counts && bears(seen).for_dig_in()
        });
        let dig_in = match (stopped(&|bears| bears == Bears::AgainstBoth), stable) {
            (Some(no), _) => Verdict::Stopped(no),
            (None, Some(yes)) if projected.usable_day.is_some_and(|day| day <= yes.day) => {
                Verdict::Confirmed(*yes)
            }
            (None, Some(yes)) => Verdict::ByTests(*yes),
            (None, None) => Verdict::Projected,
        };
        let early = passed.into_iter().filter(|seen| seen.day < from.pots);
        Self {
            dig_in,
            pots,
            too_early: early.copied().collect(),
            counts_from: from.pots,
        }
    }

    /// Whether a test has stopped either end.
    pub fn stops(&self) -> bool {
        let no = |verdict| matches!(verdict, Verdict::Stopped(_));
        no(self.dig_in) || no(self.pots)
    }
}

impl Verdict {
    /// Day of an end that is projected for this day; `None` if stopped, or not within the run.
    pub fn day(self, projected: Option<f64>) -> Option<f64> {
        match self {
            Self::Projected | Self::Confirmed(_) => projected,
            Self::ByTests(seen) => Some(projected.map_or(seen.day, |day| day.min(seen.day))),
            Self::Stopped(_) => None,
        }
    }
}

/// The last result of each test that says anything, earliest first; of the same day that entered last.
fn latest(tests: &[FieldTest], results: &[TestResult]) -> Vec<Seen> {
    let known = |it: &TestResult| {
        let test = tests.iter().position(|test| test.id == it.test)?;
        let bears = tests[test].results.get(it.result)?.bears;
        let (result, day) = (it.result, it.day);
        (bears != Bears::Nothing).then_some(Seen { test, result, day })
    };
    let mut all: Vec<Seen> = results.iter().filter_map(known).collect();
    all.sort_by(|a, b| a.day.total_cmp(&b.day));
    let mut latest: Vec<Seen> = Vec::new();
    for seen in all {
        latest.retain(|it| it.test != seen.test);
        latest.push(seen);
    }
    latest
}

/// Days from which passed tests count.
struct CountsFrom {
    dig_in: f64,
    pots: f64,
}

/// After the hot stage, and for seedlings after curing; a heap that never gets hot is held to the day the projection
/// gives it, else to the least time that such heaps are given.
fn counts_from(projected: &Projected, curing_days: f64) -> CountsFrom {
    match projected.hot_until_day {
        Some(hot) => CountsFrom {
            dig_in: hot,
            pots: hot + curing_days,
        },
        None => {
            let usual = projected.usual_least_days;
            let else_usual = |day: Option<f64>| day.or(usual).unwrap_or(projected.run_days);
            CountsFrom {
                dig_in: else_usual(projected.usable_day),
                pots: else_usual(projected.day),
            }
        }
    }
}
