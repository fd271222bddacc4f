//! Undo and redo of every kind of change, with words.

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::material::Catalogue;
use heapwright::text::change::change as change_words;
use heapwright::window::Action;

use super::support::window;

const GRASS: &str = "Grass clippings, fresh and loose";

#[test]
fn undo_and_redo_by_key_take_a_slider_back_and_forth() {
    let mut window = window();
    let before = window.app().project.clone();
    window.slide(GRASS, 2.0);
    let after = window.app().project.clone();
    window.command(Key::Z);
    assert_eq!(window.app().project, before);
    assert!(!window.app().is_unsaved());
    window.command_shift(Key::Z);
    assert_eq!(window.app().project, after);
}

#[test]
fn the_menu_says_what_it_would_take_back() {
    let mut window = window();
    window.slide(GRASS, 2.0);
    window
        .harness
        .get_by_role_and_label(Role::Button, "Edit")
        .click();
    window.run();
    assert!(window.shows(&format!("Undo: less {GRASS}")));
}

#[test]
fn every_structural_change_is_one_step() {
    let mut window = window();
    let mut states = vec![window.app().project.clone()];
    let actions = [
        Action::AddMaterial("straw_wheat".to_owned()),
        Action::SetMeasure(0, heapwright::quantity::Measure::Kilogram),
        Action::AddBucket(heapwright::material::Side::Green),
        Action::Remove(1),
    ];
    for action in actions {
        window.harness.state_mut().ask(action);
        window.run();
        assert_ne!(window.app().project, *states.last().unwrap());
        states.push(window.app().project.clone());
    }
    for state in states.iter().rev().skip(1) {
        window.press("Undo");
        assert_eq!(window.app().project, *state);
    }
    for state in &states[1..] {
        window.press("Redo");
        assert_eq!(window.app().project, *state);
    }
}

#[test]
fn the_recipes_own_fields_are_undone_too() {
    let mut window = window();
    let before = window.app().project.title.clone();
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "Title")
        .set_text_value_accesskit("Leaves of the year");
    window.run();
    assert_eq!(window.app().project.title, "Leaves of the year");
    window.harness.state_mut().ask(Action::Undo);
    window.run();
    assert_eq!(window.app().project.title, before);
}

#[test]
fn every_part_of_a_project_has_a_word_for_its_change() {
    let window = window();
    let catalogue = Catalogue::built_in().unwrap();
    let before = window.app().project.clone();
    let label = |change: &dyn Fn(&mut heapwright::document::Project)| {
        let mut after = before.clone();
        change(&mut after);
        change_words(&before, &after, &catalogue)
    };
    let grass_more = label(&|p| p.mix.ingredients[1].amount.value += 1.0);
    assert_eq!(grass_more, format!("more {GRASS}"));
    assert_eq!(
        label(&|p| p.mix.ingredients[1].locked = true),
        format!("lock {GRASS}")
    );
    assert_eq!(label(&|p| p.mix.added_water_l += 1.0), "more water");
    assert_eq!(label(&|p| p.heap.days += 1.0), "forecast length");
    assert_eq!(label(&|p| p.title.push('x')), "title");
    assert_eq!(label(&|p| p.notes.push('x')), "notes");
    assert_eq!(label(&|p| p.place.push('x')), "place");
}
