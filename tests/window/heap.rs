//! The Heap view: shape, place, regions.

use eframe::egui::{Key, Rect, accesskit::Role, pos2};
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::heap::{Board, Lid, Shape};
use heapwright::window::heap::HeapRegions;
use heapwright::window::theme::{Shade, Theme};
use heapwright::window::widgets::shape_picker::CHOICES;

use super::support::{Window, window};

/// A window that shows the Heap view.
pub fn heap_window() -> Window {
    let mut window = window();
    window.press("Heap");
    window
}

#[test]
fn a_climate_is_picked_and_its_numbers_are_changed() {
    let mut window = heap_window();
    let before = window.app().project.heap.climate.clone();
    window.harness.get_by_label("Climate").click();
    window.run();
    window.harness.get_by_label("Dfc, subarctic").click();
    window.run();
    assert_eq!(window.app().project.heap.climate.monthly_mean_c[0], -14.0);
    window
        .harness
        .get_by_label("Your own weather numbers")
        .click();
    window.run();
    window.type_number("Mean air temperature in January", "-20");
    assert_eq!(window.app().project.heap.climate.monthly_mean_c[0], -20.0);
    window.press("Undo");
    window.press("Undo");
    assert_eq!(window.app().project.heap.climate, before);
}

/// Picks a drawing by its name.
pub fn pick(window: &mut Window, name: &str) {
    window
        .harness
        .get_by_role_and_label(Role::RadioButton, name)
        .click();
    window.run();
}

#[test]
fn every_drawing_can_be_picked_by_name_and_changes_the_projection() {
    let mut window = heap_window();
    let before = window.app().project.clone();
    let mut curves = Vec::new();
    for choice in &CHOICES {
        pick(&mut window, choice.name);
        let shape = &window.app().project.heap.shape;
        assert_eq!(heapwright::text::heap::shape(shape), choice.name);
        curves.push(window.app().shown.curve.clone());
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
    for (index, curve) in curves.iter().enumerate() {
        assert!(!curves[..index].contains(curve), "{}", CHOICES[index].name);
    }
    while window.app().facts().undo.is_some() {
        window.press("Undo");
    }
    assert_eq!(window.app().project, before);
}

#[test]
fn the_picked_drawing_says_that_it_is_picked() {
    let mut window = heap_window();
    pick(&mut window, "wire cylinder");
    let chosen = |window: &Window, name: &str| {
        let node = window
            .harness
            .get_by_role_and_label(Role::RadioButton, name);
        node.accesskit_node().toggled() == Some(eframe::egui::accesskit::Toggled::True)
    };
    assert!(chosen(&window, "wire cylinder"));
    assert!(!chosen(&window, "slatted bay"));
}

#[test]
fn a_closed_bin_has_a_lid_and_walls() {
    let mut window = heap_window();
    pick(&mut window, "closed bin");
    let is = |window: &Window, wanted: Lid| matches!(&window.app().project.heap.shape, Shape::SolidBin { lid, board: Board::Plastic, .. } if *lid == wanted);
    assert!(is(&window, Lid::Closed));
    window
        .harness
        .get_by_role_and_label(Role::CheckBox, "lid")
        .click();
    window.run();
    assert!(is(&window, Lid::Open));
    // Picking what is already there leaves the lid as it is.
    pick(&mut window, "closed bin");
    assert!(is(&window, Lid::Open));
    assert!(window.shows("Walls of the bin"));
}

#[test]
fn regions_of_the_heap_view_lie_beside_each_other_at_every_size() {
    let theme = Theme::built_in().unwrap();
    for (width, height) in [(876.0, 500.0), (1256.0, 700.0), (1896.0, 980.0)] {
        let whole = Rect::from_min_max(pos2(12.0, 80.0), pos2(12.0 + width, 80.0 + height));
        let regions = HeapRegions::of(whole, theme.look(Shade::Light));
        let all = [regions.place, regions.inside, regions.heat];
        for (index, region) in all.iter().enumerate() {
            assert!(whole.contains_rect(*region));
            assert!(region.width() > 300.0 && region.height() > 200.0);
            for other in &all[index + 1..] {
                assert!(!region.shrink(0.5).intersects(*other));
            }
        }
    }
}

#[test]
fn no_button_or_list_says_centimetres_or_litres_in_us_units() {
    let mut window = heap_window();
    window.command_shift(Key::U);
    window.harness.get_by_label("+ Cover with straw").hover();
    window.run();
    assert!(window.shows("Lays 4 in of straw"));
    window.press("Mix");
    window
        .harness
        .get_all_by_role(Role::ComboBox)
        .find(|node| {
            let label = node.accesskit_node().label();
            label.is_some_and(|label| label.starts_with("Measure of"))
        })
        .unwrap()
        .click();
    window.run();
    assert!(window.shows("bucket (3.17 gal)"));
    assert!(!window.shows(" L)"));
}
