//! Undo takes back what a person would call one step, and never loses what was there.

use heapwright::document::history::{DEPTH, LONGEST_S, REST_S};
use heapwright::document::{History, Project};
use proptest::prelude::*;

use crate::sample::rich_project;

/// The sample with this much of its first ingredient.
fn with(amount: f64) -> Project {
    let mut project = rich_project();
    project.mix.ingredients[0].amount.value = amount;
    project
}

fn amount(project: &Project) -> f64 {
    project.mix.ingredients[0].amount.value
}

#[test]
fn a_whole_drag_is_one_step() {
    let mut history = History::new(&with(1.0));
    for frame in 0..60 {
        let now_s = f64::from(frame) / 60.0;
        history.note(&with(1.0 + now_s), "reeds", now_s, false);
    }
    history.note(&with(2.0), "reeds", 1.0, true);
    assert_eq!(history.undo_label(), Some("reeds"));
    let (before, label) = history.undo(&with(2.0)).unwrap();
    assert_eq!((amount(&before), label.as_str()), (1.0, "reeds"));
    assert_eq!(history.undo(&before), None);
    assert_eq!(history.redo_label(), Some("reeds"));
    let (after, _) = history.redo(&before).unwrap();
    assert_eq!(amount(&after), 2.0);
    assert_eq!(history.redo(&after), None);
}

#[test]
fn a_held_change_that_rests_a_second_is_a_step() {
    let mut history = History::new(&with(1.0));
    history.note(&with(2.0), "reeds", 10.0, false);
    history.note(&with(2.0), "reeds", 10.0 + REST_S, false);
    history.note(&with(3.0), "reeds", 11.5, false);
    history.note(&with(3.0), "reeds", 11.5 + REST_S / 2.0, false);
    history.note(&with(3.0), "reeds", 11.5 + REST_S / 2.0, true);
    let (back, _) = history.undo(&with(3.0)).unwrap();
    assert_eq!(amount(&back), 2.0);
    let (back, _) = history.undo(&back).unwrap();
    assert_eq!(amount(&back), 1.0);
}

#[test]
fn a_change_that_never_rests_takes_a_step_every_thirty_seconds() {
    let mut history = History::new(&with(1.0));
    let mut latest = with(1.0);
    for tenth in 1..=650 {
        let now_s = f64::from(tenth) / 10.0;
        latest = with(1.0 + now_s);
        history.note(&latest, "reeds", now_s, false);
    }
    // 65 s of dragging: steps at about 30 s and 60 s, and the rest is still under way.
    let mut steps = Vec::new();
    while let Some((back, _)) = history.undo(&latest) {
        steps.push(amount(&back) - 1.0);
        latest = back;
    }
    assert_eq!(steps.len(), 3, "{steps:?}");
    assert!((steps[1] - LONGEST_S).abs() < 0.5, "{steps:?}");
    assert!((steps[0] - 2.0 * LONGEST_S).abs() < 0.5, "{steps:?}");
}

#[test]
fn undo_during_a_drag_keeps_the_state_in_between() {
    let mut history = History::new(&with(1.0));
    history.note(&with(2.0), "reeds", 0.0, false);
    // A frame later the slider has moved on without having been noted.
    let (back, label) = history.undo(&with(2.5)).unwrap();
    assert_eq!((amount(&back), label.as_str()), (1.0, "reeds"));
    let (again, _) = history.redo(&back).unwrap();
    assert_eq!(amount(&again), 2.5);
}

#[test]
fn another_label_closes_the_step_before_it() {
    let mut history = History::new(&with(1.0));
    history.note(&with(2.0), "reeds", 0.0, false);
    let mut both = with(2.0);
    both.mix.added_water_l = 30.0;
    history.note(&both, "water", 0.1, false);
    history.note(&both, "water", 0.2, true);
    let (back, label) = history.undo(&both).unwrap();
    assert_eq!((back.clone(), label.as_str()), (with(2.0), "water"));
    let (back, label) = history.undo(&back).unwrap();
    assert_eq!((back, label.as_str()), (with(1.0), "reeds"));
}

#[test]
fn a_recorded_step_comes_at_once_and_keeps_the_drag_before_it() {
    let mut history = History::new(&with(1.0));
    history.note(&with(2.0), "reeds", 0.0, false);
    let mut fewer = with(2.0);
    fewer.mix.ingredients.pop();
    history.record(&fewer, "grass removed");
    assert_eq!(history.undo_label(), Some("grass removed"));
    let (back, _) = history.undo(&fewer).unwrap();
    assert_eq!(back, with(2.0));
    let (back, _) = history.undo(&back).unwrap();
    assert_eq!(back, with(1.0));
}

#[test]
fn nothing_changed_is_no_step_and_a_new_change_ends_redo() {
    let mut history = History::new(&with(1.0));
    history.note(&with(1.0), "reeds", 0.0, true);
    history.record(&with(1.0), "nothing");
    // Dragged away and back again.
    history.note(&with(2.0), "reeds", 1.0, false);
    history.note(&with(1.0), "reeds", 1.1, true);
    assert_eq!(history.undo_label(), None);
    assert_eq!(history.undo(&with(1.0)), None);

    history.record(&with(2.0), "to two");
    let (one, _) = history.undo(&with(2.0)).unwrap();
    history.note(&with(3.0), "to three", 5.0, true);
    assert_eq!(history.redo_label(), None);
    assert_eq!(history.redo(&with(3.0)), None);
    assert_eq!(history.undo(&with(3.0)).unwrap().0, one);
}

#[test]
fn the_oldest_steps_go_first() {
    let mut history = History::new(&with(0.0));
    for step in 1..=(DEPTH + 50) {
        history.record(&with(step as f64), "step");
    }
    let mut latest = with((DEPTH + 50) as f64);
    let mut steps = 0;
    while let Some((back, _)) = history.undo(&latest) {
        latest = back;
        steps += 1;
    }
    assert_eq!(steps, DEPTH);
    assert_eq!(amount(&latest), 50.0);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// However a session went, undoing everything and redoing everything comes back to its end.
    #[test]
    fn all_the_way_back_and_forth_again(moves in proptest::collection::vec((0_u8..6, any::<bool>(), 0.0..3.0), 1..40)) {
        let mut history = History::new(&with(0.0));
        let mut now_s = 0.0;
        let mut current = with(0.0);
        for (value, settled, wait_s) in moves {
            now_s += wait_s;
            current = with(f64::from(value));
            history.note(&current, "reeds", now_s, settled);
        }
        let end = current.clone();
        let mut seen = vec![current.clone()];
        while let Some((back, _)) = history.undo(&current) {
            prop_assert_ne!(&back, &current, "a step that changes nothing");
            current = back;
            seen.push(current.clone());
        }
        prop_assert_eq!(&current, &with(0.0));
        for expected in seen.iter().rev().skip(1) {
            let (forth, _) = history.redo(&current).unwrap();
            prop_assert_eq!(&forth, expected);
            current = forth;
        }
        prop_assert_eq!(current, end);
        prop_assert_eq!(history.redo_label(), None);
    }
}
