//! Plans: what is refused, and in which order operations are done.

use heapwright::heap::{Cover, Event, Operation, Placing, Plan, PlanError, Repeat, Turning};
use heapwright::mix::Mix;

fn plan(events: &[(f64, Operation)]) -> Plan {
    let events = events.iter().map(|(day, operation)| Event {
        repeat: None,
        day: *day,
        operation: operation.clone(),
    });
    Plan {
        events: events.collect(),
    }
}

fn turn(wet_to: Option<f64>) -> Operation {
    Operation::Turn {
        turning: Turning::Remix,
        wet_to,
    }
}

#[test]
fn operations_come_by_day_and_equal_days_as_given() {
    let all = plan(&[
        (9.0, turn(None)),
        (2.0, Operation::Cover(Cover::Sheet)),
        (9.0, Operation::Water { wet_to: 0.6 }),
        (0.0, turn(Some(0.55))),
    ]);
    let order: Vec<usize> = all.in_order().iter().map(|due| due.entry).collect();
    assert_eq!(order, [3, 1, 0, 2]);
}

#[test]
fn a_sound_plan_passes_and_a_bad_entry_is_named() {
    let add = Operation::Add {
        mix: Mix::default(),
        placing: Placing::OnTop,
    };
    assert_eq!(plan(&[(3.0, add), (0.0, turn(Some(0.0)))]).check(), Ok(()));
    let thick = |thickness_m| Operation::Cover(Cover::Straw { thickness_m });
    for (day, operation, word) in [
        (-0.5, turn(None), "day of a planned operation"),
        (1501.0, turn(None), "day of a planned operation"),
        (f64::NAN, turn(None), "day of a planned operation"),
        (3.0, turn(Some(0.9)), "moisture to wet to"),
        (3.0, turn(Some(-0.1)), "moisture to wet to"),
        (
            3.0,
            Operation::Water { wet_to: f64::NAN },
            "moisture to wet to",
        ),
        (3.0, thick(1.5), "thickness of a cover"),
        (3.0, thick(f64::INFINITY), "thickness of a cover"),
    ] {
        let problem = plan(&[(1.0, turn(None)), (day, operation)])
            .check()
            .unwrap_err();
        let text = problem.to_string();
        assert!(text.starts_with("entry 2 of the plan: "), "{text}");
        assert!(
            text.contains(word) && text.contains("must lie between"),
            "{text}"
        );
        assert!(matches!(problem, PlanError::Number { entry: 2, .. }));
    }
}

#[test]
fn four_hundred_entries_are_enough() {
    let hourly = |count: u32| {
        let events: Vec<_> = (0..count)
            .map(|i| (f64::from(i) / 24.0, turn(None)))
            .collect();
        plan(&events)
    };
    assert_eq!(hourly(400).check(), Ok(()));
    let text = hourly(401).check().unwrap_err().to_string();
    assert!(text.contains("401") && text.contains("400"), "{text}");
}

fn weekly(first: f64, times: u32, operation: Operation) -> Event {
    Event {
        repeat: Some(Repeat {
            every_days: 7.0,
            times,
        }),
        ..Event::once(first, operation)
    }
}

#[test]
fn an_entry_that_repeats_comes_on_each_of_its_days_between_the_others() {
    let all = Plan {
        events: vec![
            weekly(3.0, 4, turn(None)),
            Event::once(10.0, Operation::Cover(Cover::Sheet)),
        ],
    };
    let order: Vec<(usize, f64)> = all
        .in_order()
        .iter()
        .map(|due| (due.entry, due.day))
        .collect();
    assert_eq!(
        order,
        [(0, 3.0), (0, 10.0), (1, 10.0), (0, 17.0), (0, 24.0)]
    );
    assert_eq!(all.turning_days(20.0), [3.0, 10.0, 17.0]);
    assert_eq!(all.times(), 5);
    assert_eq!(all.check(), Ok(()));
}

#[test]
fn repeats_that_cannot_be_are_refused() {
    for (every_days, times, word) in [
        (0.0, 3, "from one time to the next"),
        (f64::NAN, 3, "from one time to the next"),
        (7.0, 0, "the times of a planned operation"),
        (7.0, 401, "the times of a planned operation"),
        (300.0, 9, "day of a planned operation"),
    ] {
        let mut plan = plan(&[(1.0, turn(None)), (2.0, turn(None))]);
        plan.events[1].repeat = Some(Repeat { every_days, times });
        let text = plan.check().unwrap_err().to_string();
        assert!(text.starts_with("entry 2 of the plan: "), "{text}");
        assert!(text.contains(word), "{text}");
    }
    let many = Plan {
        events: vec![weekly(0.0, 200, turn(None)), weekly(0.0, 201, turn(None))],
    };
    let text = many.check().unwrap_err().to_string();
    assert!(text.contains("401") && text.contains("400"), "{text}");
}

#[test]
fn one_time_is_set_apart_and_the_others_stay() {
    let days = |plan: &Plan| -> Vec<Vec<f64>> {
        plan.events.iter().map(|it| it.days().collect()).collect()
    };
    let of = |day: f64| {
        let mut plan = Plan {
            events: vec![Event::once(1.0, turn(None)), weekly(7.0, 3, turn(None))],
        };
        let place = plan.set_apart(1, day);
        (place, days(&plan))
    };
    let one = vec![1.0];
    assert_eq!(of(7.0), (1, vec![one.clone(), vec![7.0], vec![14.0, 21.0]]));
    assert_eq!(
        of(14.0),
        (2, vec![one.clone(), vec![7.0], vec![14.0], vec![21.0]])
    );
    assert_eq!(
        of(21.0),
        (2, vec![one.clone(), vec![7.0, 14.0], vec![21.0]])
    );
    assert_eq!(of(8.0), (1, vec![one, vec![7.0, 14.0, 21.0]]));
}

#[test]
fn another_plan_of_turnings_leaves_what_is_past_of_an_entry_that_repeats() {
    let turns = weekly(7.0, 4, turn(None));
    let past = turns.kept_beside(Some(15.0)).unwrap();
    assert_eq!(past.days().collect::<Vec<f64>>(), [7.0, 14.0]);
    assert_eq!(turns.kept_beside(Some(7.0)), None);
    assert_eq!(turns.kept_beside(None), None);
    let add = Operation::Add {
        mix: Mix::default(),
        placing: Placing::OnTop,
    };
    let adds = weekly(7.0, 4, add);
    assert_eq!(adds.kept_beside(Some(15.0)), Some(adds.clone()));
}
