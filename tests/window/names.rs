//! Names: every control can be found by a screen reader, every sign can be drawn.
//!
//! The harness itself fails on an input without a name and on a character no font can draw; here it
//! is led through every part of the window.

use eframe::egui::accesskit::Role;
use egui_kittest::kittest::Queryable;
use heapwright::quantity::UnitSystem;
use heapwright::window::piles::drawer_choices::FormKind;
use heapwright::window::{Action, View};

use super::support::window;

#[test]
fn every_part_of_the_window_has_names_and_letters() {
    let mut window = window();
    for action in [
        Action::ToggleNotes,
        Action::Pin,
        Action::SetUnits(UnitSystem::UsCustomary),
        Action::PickMaterial,
        Action::OpenDrawer,
        Action::CloseDrawer,
        Action::ToggleDetails(0),
        Action::ShowMaterial("egg_shells".to_owned()),
        Action::StartForm(FormKind::Copy),
        Action::StartForm(FormKind::Report),
        Action::StartForm(FormKind::Bucket),
        Action::CloseDrawer,
        Action::AddMaterial("egg_shells".to_owned()),
        Action::SaveByPath,
        Action::ClosePathField,
        Action::New,
        Action::Reply(heapwright::window::action::Reply::Cancel),
        Action::ToggleNotices,
        Action::ToggleNotices,
        Action::ShowKeys,
        Action::ShowAbout,
        Action::LeaveHelp,
        Action::Show(View::Seasons),
        Action::Keep,
        Action::Show(View::Results),
        Action::Show(View::Heap),
        Action::ProposePlan,
        Action::LeavePlan,
        Action::SetUnits(UnitSystem::Metric),
    ] {
        window.harness.state_mut().ask(action);
        window.run();
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
}

#[test]
fn every_menu_opens_and_has_names() {
    for menu in ["File", "Edit", "View", "Help"] {
        let mut window = window();
        window
            .harness
            .get_by_role_and_label(Role::Button, menu)
            .click();
        window.run();
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
}

#[test]
fn every_list_opens_and_has_names() {
    for list in [
        "Season",
        "Shape of the heap",
        "Month it is built",
        "Choose the green material",
        "Choose the brown material",
    ] {
        let mut window = window();
        window
            .harness
            .get_by_role_and_label(Role::ComboBox, list)
            .click();
        window.run();
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
}

#[test]
fn the_keyboard_reaches_every_control_of_the_mix() {
    let mut window = window();
    let reached = window.reached_by_tab(80);
    for name in [
        "File",
        "Save",
        "Mix",
        "Title",
        "Season",
        "Place",
        "Add material…",
        "Grass clippings, fresh and loose",
        "Measure of Grass clippings, fresh and loose",
        "Lock Grass clippings, fresh and loose",
        "Remove Grass clippings, fresh and loose",
        "Added water",
        "+1 bucket Grass clippings, fresh and loose",
        "Choose the brown material",
        "Shape of the heap",
        "Height of the heap",
        "Forecast length",
        "Pin this mix",
    ] {
        assert!(
            reached.contains(name),
            "Tab never came to {name}: {reached:?}"
        );
    }
}

#[test]
fn the_keyboard_reaches_every_control_of_the_heap_view() {
    let mut window = window();
    window.press("Heap");
    window.press("+ Turn");
    let reached = window.reached_by_tab(80);
    for name in [
        "open heap",
        "layer on the ground",
        "Width of the heap",
        "What the heap stands on",
        "Cover at the start",
        "in the sun",
        "Day of the month it is built",
        "Forecast length",
        "Climate",
        "Your own weather numbers",
        "+ Turn",
        "+ Uncover",
        "Day of entry 1: Turn",
        "Moisture of entry 1",
        "Remove entry 1",
        "Moisture",
        "Play",
        "Day of the cross-section",
        "Marker 1: Turn",
    ] {
        assert!(
            reached.contains(name),
            "Tab never came to {name}: {reached:?}"
        );
    }
}

#[test]
fn the_keyboard_reaches_the_controls_of_the_spread_view() {
    let mut window = window();
    window.press("Results");
    // The topics are folded; the way to the plan is in the first.
    window
        .harness
        .get_by_label("Seeds and roots")
        .click_accesskit();
    window.run();
    let reached = window.reached_by_tab(240);
    for name in [
        "Seeds and roots",
        "Plan turnings",
        "Rules on heat",
        "beds",
        "near water",
        "+ Add bed",
        "Name of bed 1",
        "Area of bed 1",
        "Need of bed 1",
        "Remove bed 1",
        "Distances to water",
        "Bag test",
    ] {
        assert!(
            reached.contains(name),
            "Tab never came to {name}: {reached:?}"
        );
    }
}
