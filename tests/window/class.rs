//! The Class view: big controls with a ghost, greens against browns, guessing first, the handout.

use eframe::egui;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::quantity::UnitSystem;
use heapwright::window::View;
use heapwright::window::action::{Action, ClassAction, Facts};

use crate::support::{Window, dialog_that_answers, window, window_in};

pub fn class_window() -> Window {
    let mut window = window();
    show(&mut window);
    window
}

pub fn show(window: &mut Window) {
    window.harness.state_mut().ask(Action::Show(View::Class));
    window.run();
    window.run();
}

pub fn ask(window: &mut Window, action: ClassAction) {
    window.harness.state_mut().ask(Action::Class(action));
    window.run();
}

#[test]
fn every_big_control_changes_the_heap_and_leaves_a_ghost() {
    let mut window = class_window();
    for (name, changes) in [
        ("More greens, fewer browns", "mix"),
        ("More browns, fewer greens", "mix"),
        ("Turn it", "plan"),
        ("Water it", "mix"),
        ("Half the size", "mix"),
    ] {
        let before = window.app().project.clone();
        let curve = window.app().shown.curve.heap_c.clone();
        window.press(name);
        let after = window.app().project.clone();
        match changes {
            "mix" => assert_ne!(before.mix, after.mix, "{name}"),
            _ => assert_ne!(before.heap.plan, after.heap.plan, "{name}"),
        }
        let ghost = window.app().shown.pinned.clone().unwrap();
        assert_eq!(ghost.curve.heap_c, curve, "{name}: the heap as it was");
        assert_ne!(window.app().shown.curve.heap_c, curve, "{name}");
        window.press("Undo");
        assert_eq!(window.app().project, before, "{name}: one step back");
        window.press("Redo");
    }
}

/// Volume of the mix, m3 as piled, and its C:N.
fn mixed(window: &Window) -> (f64, f64) {
    let totals = window.app().shown.stages.blend().unwrap().totals;
    (totals.piled_volume_m3, totals.cn())
}

#[test]
fn browns_dragged_up_starve_the_heap_and_greens_make_it_smell() {
    // A high C:N limits the rise of temperature, a low one smells: AgriFutures, poultry waste composting guidelines.
    let mut window = class_window();
    let (volume_m3, balanced) = mixed(&window);
    let before = window.app().project.clone();
    window.slide("Share of greens", 0.0);
    let (as_large_m3, brown) = mixed(&window);
    assert!(
        (as_large_m3 / volume_m3 - 1.0).abs() < 1e-9,
        "{as_large_m3}"
    );
    assert!(brown > 40.0 && balanced < 35.0, "{brown} {balanced}");
    assert!(window.gauge("C:N").contains("too brown"));
    assert!(window.shows("Starves: too little nitrogen"));
    assert!(window.shows("Browns 100 %"));
    let ghost = window.app().shown.pinned.clone().unwrap();
    assert!(window.shows(&format!("Before (dashed): C:N {balanced:.1}")));
    let (peak_c, now_c) = (
        ghost.curve.peak.unwrap().0,
        window.app().shown.curve.peak.unwrap().0,
    );
    assert!(now_c < peak_c - 25.0, "{now_c} after {peak_c}");
    window.press("Undo");
    assert_eq!(window.app().project, before, "one step back");
    window.slide("Share of greens", 20.0);
    assert!((mixed(&window).0 / volume_m3 - 1.0).abs() < 1e-9);
    assert!(window.gauge("C:N").contains("too green"));
    assert!(window.shows("it smells") || window.shows("It smells"));
    assert!(!window.shows("nitrogen") && !window.shows("No bad smell"));
}

#[test]
fn greens_and_browns_dragged_to_an_end_and_back_are_as_they_were() {
    let mut window = class_window();
    window.slide("Share of greens", 10.0);
    let before = window.app().project.mix.clone();
    for end in [0.0, 20.0] {
        window.slide("Share of greens", end);
        assert_ne!(window.app().project.mix, before);
        window.slide("Share of greens", 10.0);
        assert_eq!(window.app().project.mix, before);
    }
}

#[test]
fn a_press_exchanges_a_twentieth_of_the_heap() {
    let mut window = class_window();
    let share = |window: &Window| {
        let bench = window.app();
        let catalogue = heapwright::material::Catalogue::built_in().unwrap();
        let sides = heapwright::mix::Sides::of(&bench.project.mix, &catalogue).unwrap();
        (sides.browns_m3, sides.both_m3())
    };
    let ((before_m3, heap_m3), step) = (share(&window), "More browns, fewer greens");
    window.press(step);
    let (after_m3, as_large_m3) = share(&window);
    assert!((as_large_m3 - heap_m3).abs() < 1e-9);
    let moved = (after_m3 - before_m3) / heap_m3;
    assert!((moved - 0.05).abs() < 1e-3, "{moved}");
    window.press("More greens, fewer browns");
    assert!((share(&window).0 - before_m3).abs() < 1e-9);
}

#[test]
fn the_heap_grows_by_a_twentieth_where_it_may() {
    let mut window = class_window();
    window.press("Heap grows instead");
    assert!(window.shows("The first two buttons add to the heap."));
    let (before_m3, _) = mixed(&window);
    let named = |side| {
        let facts = window.app().facts();
        ClassAction::More(side).entry(&facts).text
    };
    let name = named(heapwright::material::Side::Brown);
    assert!(
        name.starts_with('+') && name.contains("Autumn leaves"),
        "{name}"
    );
    window.press(&name);
    let grown = mixed(&window).0 / before_m3;
    // Loose leaves lie closer once piled.
    assert!((1.02..1.07).contains(&grown), "{name}: {grown}");
    window.press("Heap grows instead");
    assert!(window.shows("Greens"));
}

#[test]
fn a_class_that_guesses_first_sees_the_answer_only_when_it_is_revealed() {
    let mut window = class_window();
    window.press("Guess first");
    window.press("Half the size");
    assert!(window.shows("the new curve is hidden"));
    window.slide("The guess", 60.0);
    window.press("Record guess");
    window.press("Record guess");
    assert!(window.shows("2 guessed: 60 to 60"));
    window.press("Reveal");
    assert!(!window.shows("the new curve is hidden"));
    assert!(window.shows("2 guessed"), "the guesses stay to be compared");
    assert!(window.shows("Centre at most"));
}

#[test]
fn handout_and_pictures_are_written_beside_the_recipe_and_never_over_it() {
    for (action, ending, begins) in [
        (ClassAction::Handout, "pdf", &b"%PDF-"[..]),
        (ClassAction::CurvePicture, "png", b"\x89PNG"),
        (ClassAction::InsidePicture, "png", b"\x89PNG"),
        (ClassAction::Calendar, "ics", b"BEGIN:VCALENDAR"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let recipe = folder.path().join("class.heap.ron");
        let mut window = window_in(folder, None, dialog_that_answers(recipe.clone()));
        show(&mut window);
        std::fs::write(&recipe, "a recipe").unwrap();
        ask(&mut window, action);
        let page = recipe.with_file_name(format!("class.{ending}"));
        let begun = std::time::Instant::now();
        while !page.exists() {
            window.harness.step();
            std::thread::sleep(std::time::Duration::from_millis(20));
            assert!(begun.elapsed().as_secs() < 60, "{action:?}: nothing came");
        }
        assert_eq!(std::fs::read(&recipe).unwrap(), b"a recipe");
        assert!(
            std::fs::read(&page).unwrap().starts_with(begins),
            "{action:?}"
        );
    }
}

#[test]
fn the_gauges_of_a_class_say_what_water_and_nitrogen_come_from() {
    let mut window = class_window();
    for (gauge, what) in [
        ("Moisture", "water mostly from"),
        ("C:N", "nitrogen mostly from"),
    ] {
        let meter = window
            .harness
            .get_all_by_role(egui::accesskit::Role::Meter)
            .find(|node| {
                let label = node.accesskit_node().label();
                label.is_some_and(|label| label.starts_with(gauge))
            })
            .unwrap();
        meter.hover();
        window.run();
        assert!(window.shows(what), "{gauge}");
        assert!(!window.shows("from any ingredient"), "{gauge}");
    }
}

#[test]
fn buttons_of_a_class_speak_of_the_unit_shown() {
    let can = |units| {
        let facts = Facts {
            units,
            ..Facts::default()
        };
        ClassAction::Water.entry(&facts).tooltip
    };
    assert!(can(UnitSystem::Metric).contains("10 L of water"));
    assert!(can(UnitSystem::UsCustomary).contains("2.64 gal of water"));
}
