//! The material picker, by keyboard and by pointer.

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::material::{Browse, Catalogue};
use heapwright::text::material::family;

use super::support::{Window, window};

fn open_and_type(words: &str) -> Window {
    let mut window = window();
    window.press("Add material…");
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search materials")
        .type_text(words);
    window.run();
    window
}

fn last(window: &Window) -> &str {
    &window
        .app()
        .project
        .mix
        .ingredients
        .last()
        .unwrap()
        .material
}

#[test]
fn the_keyboard_alone_finds_and_adds() {
    let mut window = window();
    window.command(Key::M);
    assert!(
        window
            .harness
            .get_by_role_and_label(Role::TextInput, "Search materials")
            .is_focused(),
        "typing must go on at once"
    );
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search materials")
        .type_text("straw, wheat");
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(last(&window), "straw_wheat");
    assert!(window.app().state.picker.is_none());
}

#[test]
fn arrows_choose_another_one() {
    let mut window = open_and_type("straw");
    window.harness.key_press(Key::ArrowDown);
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(last(&window), "straw_wheat");
}

#[test]
fn only_rows_in_sight_are_laid_out_and_arrows_reach_the_rest() {
    let mut window = window();
    window.command(Key::M);
    let catalogue = Catalogue::built_in().unwrap();
    let all = Browse::default().find(&catalogue, family);
    let (wanted, many) = (all[90], all.len());
    let laid_out = window.harness.query_all_by_role(Role::Button).count();
    assert!(many > 150 && laid_out < 100, "{laid_out} of {many}");
    for _ in 0..90 {
        window.harness.key_press(Key::ArrowDown);
    }
    window.run();
    // The chosen row is in sight, in the middle of the list.
    let name = format!("{}, ", wanted.name);
    let row = window.harness.get_by_label_contains(&name).rect();
    let search = window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search materials")
        .rect();
    assert!(
        row.top() > search.bottom() + 100.0 && row.bottom() < 700.0,
        "{row:?}"
    );
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(last(&window), wanted.id);
}

#[test]
fn a_click_adds() {
    let mut window = open_and_type("coffee");
    window
        .harness
        .get_by_role_and_label(Role::Button, "Coffee grounds, green")
        .click();
    window.run();
    assert_eq!(last(&window), "coffee_grounds");
}

#[test]
fn escape_adds_nothing() {
    let mut window = open_and_type("straw");
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(window.app().state.picker.is_none());
    assert_eq!(window.app().project.mix.ingredients.len(), 3);
}

#[test]
fn nothing_found_is_said_and_enter_does_nothing() {
    let mut window = open_and_type("moonrock");
    assert!(window.shows("No material is known by these words"));
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(window.app().project.mix.ingredients.len(), 3);
}

#[test]
fn gardeners_words_stand_in_the_order_they_fit() {
    let mut window = open_and_type("lawn clipings");
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(last(&window), "grass_fresh");
    let mut window = open_and_type("hen bedding");
    window.harness.key_press(Key::Enter);
    window.run();
    assert_eq!(last(&window), "poultry_litter");
}

#[test]
fn what_is_called_green_says_its_ratio_too() {
    let window = open_and_type("banana skin");
    assert!(
        window
            .harness
            .query_by_role_and_label(Role::Button, "Banana peel, green")
            .is_some()
    );
}

#[test]
fn what_does_not_belong_in_a_heap_is_said() {
    let window = open_and_type("coal ash");
    assert!(window.shows("Coal ash and soot: not for the heap"));
}

#[test]
fn what_is_said_of_it_is_in_the_units_shown() {
    let mut window = open_and_type("tobacco");
    assert!(window.shows("more than 68 °C"));
    let settings = &mut window.harness.state_mut().bench.state.settings;
    settings.units = heapwright::quantity::UnitSystem::UsCustomary;
    window.run();
    // 68 degC is 154.4 degF.
    assert!(window.shows("more than 154\u{a0}°F"));
}
