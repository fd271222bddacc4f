//! The list of actions: complete, without clashing keys, each with words.

use eframe::egui::Key;
use heapwright::document::ThemeChoice;
use heapwright::quantity::UnitSystem;
use heapwright::window::action::Entry;
use heapwright::window::{Action, Facts, View};

use super::support::window;

#[test]
fn no_two_actions_share_a_key() {
    let keys: Vec<_> = Action::with_keys(&Facts::default())
        .iter()
        .flat_map(|(_, entry)| entry.shortcut.into_iter().chain(entry.second_shortcut))
        .collect();
    for (index, key) in keys.iter().enumerate() {
        assert!(!keys[..index].contains(key), "{key:?} is used twice");
    }
}

#[test]
fn redo_and_quit_answer_to_the_keys_of_other_programs_too() {
    let mut window = window();
    window.slide("Added water", 10.0);
    let edited = window.app().project.clone();
    window.command(Key::Z);
    assert_ne!(window.app().project, edited);
    window.command(Key::Y);
    assert_eq!(window.app().project, edited);
    window.command(Key::W);
    assert!(window.shows("Unsaved changes"));
}

#[test]
fn every_listed_action_has_words_and_a_sentence() {
    let facts = Facts::default();
    for action in Action::listed() {
        let Entry { text, tooltip, .. } = action.entry(&facts);
        assert!(!text.is_empty(), "{action:?}");
        assert!(tooltip.ends_with('.'), "{tooltip}");
    }
}

#[test]
fn keys_with_shift_come_before_plain_ones() {
    // The toolkit lets a plain key match one with shift held as well.
    let shifted: Vec<bool> = Action::with_keys(&Facts::default())
        .iter()
        .map(|(_, entry)| entry.shortcut.unwrap().modifiers.shift)
        .collect();
    assert!(shifted.is_sorted_by(|a, b| a >= b));
}

#[test]
fn no_key_that_is_written_down_is_left_out_of_the_list() {
    // Buckets share one arm, and both have a key.
    let written = include_str!("../../src/window/action/list.rs")
        .matches("(Key::")
        .count();
    let buckets = 2;
    let keyed: usize = Action::with_keys(&Facts::default())
        .iter()
        .map(|(_, entry)| 1 + usize::from(entry.second_shortcut.is_some()))
        .sum();
    assert_eq!(keyed, written + buckets);
}

#[test]
fn keys_change_view_units_and_theme() {
    let mut window = window();
    window.command(Key::Num4);
    assert_eq!(window.app().state.view, View::Seasons);
    window.command(Key::Num1);
    assert_eq!(window.app().state.view, View::Mix);
    window.command_shift(Key::U);
    assert_eq!(window.app().state.settings.units, UnitSystem::UsCustomary);
    window.command_shift(Key::D);
    assert_eq!(window.app().state.settings.theme, ThemeChoice::Dark);
}

#[test]
fn choices_are_kept_in_the_settings() {
    let mut window = window();
    window.command_shift(Key::U);
    window.run();
    let folders = heapwright::document::Folders::under(window.folder.path());
    let loaded = heapwright::document::Settings::load(&folders);
    assert_eq!(loaded.settings.units, UnitSystem::UsCustomary);
}

#[test]
fn what_cannot_be_done_is_greyed() {
    let facts = Facts::default();
    for action in [Action::Undo, Action::Redo, Action::Pin, Action::Unpin] {
        assert!(!action.entry(&facts).enabled, "{action:?}");
    }
    assert!(Action::Save.entry(&facts).enabled);
}
