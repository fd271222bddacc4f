//! The next days: each rule against its source, the list against plan and outcome.
//!
//! Turn: rot is fastest at 40 to 60 degC and managers stay below about 65 degC (Cornell Composting, Compost Physics); turn
//! and wet it each time the core cools (troubleshooting tables of Cornell, NC State, BioCycle). Water: below 40 % it is
//! too dry (The Composting Handbook 2022). Cured 21 days after the hot stage (CCME 2005, from memory). The rest is
//! `common practice`.

use heapwright::garden::TestResult;
use heapwright::heap::{Ended, Event, Kinetics, Left, Operation, Plan, Projection, Turning};
use heapwright::outcome::finish::{Finish, Lies, Made};
use heapwright::outcome::next_days::{Ahead, Due, MOST, NextDay, TurnFor, next_days};
use heapwright::outcome::smell::{Trouble, TroubleKind};
use heapwright::outcome::{Facts, shared};

use crate::stand_in;
use crate::support::heaps::{GOOD, mesh_cube, project, turned};

/// What a made-up heap is like.
struct Course {
    centre_c: fn(f64) -> f64,
    moisture: fn(f64) -> f64,
    /// Carbon that can still be eaten, kg per kg dry matter.
    left_kg: f64,
}

/// Rotting for long: hot for twelve days, then 3 K cooler every day, below 45 degC on day 17.
const RAW: Course = Course {
    centre_c: |day| {
        if day < 12.0 {
            60.0
        } else {
            (60.0 - 3.0 * (day - 12.0)).max(15.0)
        }
    },
    moisture: |_| 0.55,
    left_kg: 0.3,
};

impl Course {
    fn projection(&self) -> Projection {
        let record = |step: u32| {
            let day = f64::from(step) / 4.0;
            let mut record = stand_in::record(day, (self.centre_c)(day));
            record.moisture = (self.moisture)(day);
            record.dry_kg = 1.0;
            record.nitrogen_kg = 0.03;
            record.left = Left {
                carbon_kg: 0.4,
                pools_kg: [0.4, 0.4, 0.2].map(|share| share * self.left_kg),
                microbes_kg: 0.02 * self.left_kg,
                carbon_share: 0.47,
            };
            record
        };
        let mut summary = stand_in::summary(&Kinetics::default());
        summary.peak_c = 60.0;
        stand_in::projection((0..=400).map(record).collect(), summary, Ended::Finished)
    }
}

fn facts() -> &'static Facts {
    shared().unwrap()
}

fn finish(projection: &Projection, plan: &Plan, tests: &[TestResult]) -> Finish {
    let turnings = plan.turning_days(400.0);
    let made = Made {
        turnings: &turnings,
        lies: Lies::Heaped,
        leaf_share: 0.0,
    };
    let finish = Finish::of(projection, &facts().finish, &Kinetics::default(), &made).unwrap();
    finish.tested(&facts().finish, tests)
}

/// The list of a heap on a day.
fn listed(projection: &Projection, plan: &Plan, today: Option<u32>) -> Vec<NextDay> {
    with_troubles(projection, plan, today, &[])
}

fn with_troubles(
    projection: &Projection,
    plan: &Plan,
    today: Option<u32>,
    troubles: &[Trouble],
) -> Vec<NextDay> {
    let all = next_days(&Ahead {
        projection,
        plan,
        finish: &finish(projection, plan, &[]),
        table: &facts().finish,
        troubles,
        kinetics: &Kinetics::default(),
        today,
        built_at: 0.0,
    });
    assert!(all.len() <= MOST);
    assert!(
        all.windows(2).all(|pair| pair[0].day < pair[1].day),
        "{all:?}"
    );
    assert!(
        all.iter()
            .all(|it| it.day >= today.unwrap_or(0) && !it.due.is_empty())
    );
    all
}

/// Days on which such a thing is due.
fn days_of(all: &[NextDay], wanted: fn(&Due) -> bool) -> Vec<u32> {
    let has = |it: &&NextDay| it.due.iter().any(wanted);
    all.iter().filter(has).map(|it| it.day).collect()
}

fn turns(due: &Due) -> bool {
    matches!(due, Due::Turn { .. })
}

fn plan(day: f64, operation: Operation) -> Plan {
    Plan {
        events: vec![Event {
            repeat: None,
            day,
            operation,
        }],
    }
}

fn turning(wet_to: Option<f64>) -> Operation {
    Operation::Turn {
        turning: Turning::Remix,
        wet_to,
    }
}

#[test]
fn a_core_that_falls_below_45_is_turned_while_there_is_much_to_rot() {
    let projection = RAW.projection();
    let all = listed(&projection, &Plan::default(), Some(0));
    assert_eq!(days_of(&all, turns), [17]);
    let why = all.iter().find(|it| it.day == 17).unwrap().due[0];
    assert_eq!(
        why,
        Due::Turn {
            why: TurnFor::Cooling,
            wet: false
        }
    );
    // Nothing left that would heat again (self-heating class V): it cures instead.
    let rotted = Course {
        left_kg: 0.0,
        ..RAW
    };
    let all = listed(&rotted.projection(), &Plan::default(), Some(0));
    assert_eq!(days_of(&all, turns), [0; 0]);
    assert_eq!(days_of(&all, |due| *due == Due::Cure).len(), 1);
    // The dip of a day is no fall.
    let dip = Course {
        centre_c: |day| {
            if (5.0..6.0).contains(&day) {
                43.0
            } else {
                58.0
            }
        },
        ..RAW
    };
    let all = listed(&dip.projection(), &Plan::default(), Some(0));
    assert_eq!(days_of(&all, turns), [0; 0]);
}

#[test]
fn a_core_that_passes_65_is_turned() {
    let hot = Course {
        centre_c: |day| (20.0 + 10.0 * day).min(69.0),
        ..RAW
    };
    let all = listed(&hot.projection(), &Plan::default(), Some(0));
    assert_eq!(
        days_of(&all, turns),
        [4],
        "65 degC is passed after 4.5 days"
    );
    let below = Course {
        centre_c: |day| (20.0 + 10.0 * day).min(65.0),
        ..RAW
    };
    let all = listed(&below.projection(), &Plan::default(), Some(0));
    assert_eq!(days_of(&all, turns), [0; 0]);
}

#[test]
fn what_the_plan_does_anyway_is_not_proposed_again() {
    let projection = RAW.projection();
    for (day, proposed) in [(16.0, 0), (18.0, 0), (21.0, 0), (30.0, 1), (5.0, 1)] {
        let plan = plan(day, turning(None));
        let all = listed(&projection, &plan, Some(0));
        assert_eq!(
            days_of(&all, turns).len(),
            proposed,
            "planned for day {day}"
        );
        let planned = days_of(&all, |due| *due == Due::Planned(0));
        assert_eq!(planned, [day as u32], "the plan itself is listed");
    }
    // What is in the past is not listed, what is overdue is due today.
    let all = listed(&projection, &plan(5.0, turning(None)), Some(20));
    assert_eq!(days_of(&all, |due| matches!(due, Due::Planned(_))), [0; 0]);
    assert_eq!(days_of(&all, turns), [20]);
    // One that was turned yesterday is not turned again.
    let all = listed(&projection, &plan(19.0, turning(None)), Some(20));
    assert_eq!(days_of(&all, turns), [0; 0]);
}

#[test]
fn a_heap_that_dries_below_its_band_is_watered_once() {
    let dries = Course {
        moisture: |day| 0.60 - 0.02 * day,
        ..RAW
    };
    let projection = dries.projection();
    // 40 % is passed on day 10; the core falls a week later, so these are two days.
    let all = listed(&projection, &Plan::default(), Some(0));
    assert_eq!(days_of(&all, |due| *due == Due::Water), [10]);
    let wets = plan(12.0, Operation::Water { wet_to: 0.55 });
    let all = listed(&projection, &wets, Some(0));
    assert_eq!(days_of(&all, |due| *due == Due::Water), [0; 0]);
    // A turning without water leaves it dry.
    let all = listed(&projection, &plan(12.0, turning(None)), Some(0));
    assert_eq!(days_of(&all, |due| *due == Due::Water), [10]);
    // Where both come together they are one.
    let both = Course {
        moisture: |day| 0.59 - 0.01 * day,
        ..RAW
    };
    let all = listed(&both.projection(), &Plan::default(), Some(0));
    assert_eq!(days_of(&all, |due| *due == Due::Water), [0; 0]);
    assert_eq!(
        days_of(&all, |due| matches!(due, Due::Turn { wet: true, .. })),
        [17]
    );
}

#[test]
fn it_is_probed_the_more_often_the_faster_it_changes() {
    let rises = Course {
        centre_c: |day| if day < 6.0 { 10.0 + 8.0 * day } else { 58.0 },
        ..RAW
    };
    let all = listed(&rises.projection(), &Plan::default(), Some(0));
    let probes = days_of(&all, |due| *due == Due::Probe);
    let gaps: Vec<u32> = probes.windows(2).map(|pair| pair[1] - pair[0]).collect();
    assert_eq!(&probes[..4], [1, 2, 3, 4], "8 K a day: daily");
    assert_eq!(gaps.last(), Some(&5), "steady: every five days");
}

#[test]
fn a_smell_is_looked_for_when_it_is_projected_and_not_where_it_is_not() {
    let projection = RAW.projection();
    let trouble = |kind, days| Trouble {
        kind,
        days,
        worst: 0.5,
        causes: Vec::new(),
        step: None,
    };
    let troubles = [
        trouble(TroubleKind::Ammonia, (6.0, 12.0)),
        trouble(TroubleKind::TooDry, (20.0, 30.0)),
    ];
    let smell: fn(&Due) -> bool = |due| matches!(due, Due::CheckSmell(_));
    let all = with_troubles(&projection, &Plan::default(), Some(0), &troubles);
    assert_eq!(days_of(&all, smell), [6], "dryness smells of nothing");
    let all = with_troubles(&projection, &Plan::default(), Some(9), &troubles);
    assert_eq!(days_of(&all, smell), [9]);
    let all = with_troubles(&projection, &Plan::default(), Some(13), &troubles);
    assert_eq!(days_of(&all, smell), [0; 0]);
}

#[test]
fn a_failed_test_is_done_again_and_nothing_is_fit_by_then() {
    // Rotted already, so the projection is soon there.
    let projection = Course {
        left_kg: 0.0,
        ..RAW
    }
    .projection();
    let cress = facts()
        .finish
        .tests
        .iter()
        .find(|it| it.id == "cress")
        .unwrap();
    let failed = TestResult {
        test: cress.id.clone(),
        day: 60.0,
        result: cress
            .results
            .iter()
            .position(|it| it.seen.starts_with("less"))
            .unwrap(),
        note: String::new(),
    };
    let of = |tests: &[TestResult], today| {
        next_days(&Ahead {
            projection: &projection,
            plan: &Plan::default(),
            finish: &finish(&projection, &Plan::default(), tests),
            table: &facts().finish,
            troubles: &[],
            kinetics: &Kinetics::default(),
            today: Some(today),
            built_at: 0.0,
        })
    };
    let fit: fn(&Due) -> bool = |due| matches!(due, Due::FitForPots { .. });
    let untested = of(&[], 0);
    assert_eq!(days_of(&untested, fit).len(), 1);
    assert_eq!(
        days_of(&untested, fit),
        days_of(&untested, |due| *due == Due::FieldTest)
    );
    let stopped = of(&[failed], 61);
    assert_eq!(days_of(&stopped, fit), [0; 0]);
    assert_eq!(
        days_of(&stopped, |due| *due == Due::FieldTest),
        [81],
        "21 days later"
    );
}

#[test]
fn the_list_of_a_simulated_heap_agrees_with_its_outcome() {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 150.0;
    heap.plan = turned(&[10.0, 20.0, 30.0], Some(0.58));
    let projection = project(&GOOD.totals(), &heap).unwrap();
    let outcome = finish(&projection, &heap.plan, &[]);
    let all = listed(&projection, &heap.plan, None);
    assert_eq!(all[0].due[0], Due::Build);
    let day = |wanted: fn(&Due) -> bool| days_of(&all, wanted).first().copied();
    let whole = |day: Option<f64>| day.map(|day| day.floor() as u32);
    assert_eq!(
        day(|due| matches!(due, Due::FitToDigIn { .. })),
        whole(outcome.usable_day)
    );
    assert_eq!(
        day(|due| matches!(due, Due::FitForPots { .. })),
        whole(outcome.day)
    );
    let planned = days_of(&all, |due| matches!(due, Due::Planned(_)));
    assert_eq!(planned, [10, 20, 30]);
    let near = |day: &u32| planned.iter().any(|at| day.abs_diff(*at) <= 2);
    assert!(!days_of(&all, turns).iter().any(near), "{all:?}");
}
