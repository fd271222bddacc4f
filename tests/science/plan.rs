//! Plans: what is refused, and in which order operations are done.

use heapwright::heap::{Cover, Event, Operation, Placing, Plan, PlanError, Turning};
use heapwright::mix::Mix;

fn plan(events: &[(f64, Operation)]) -> Plan {
    let events = events.iter().map(|(day, operation)| Event {
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
    let order: Vec<usize> = all.in_order().iter().map(|(place, _)| *place).collect();
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
