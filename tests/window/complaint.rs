//! The sheet "What is wrong with my heap?": opened from every view, ticked, answered, cured, kept.

use std::time::{Duration, Instant};

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::assess::remedy::{Diagnosis, Mostly, Progress};
use heapwright::outcome::complaint::Symptom;
use heapwright::text::complaint as words;
use heapwright::window::piles::complaint_choices::AskedHeap;
use heapwright::window::{Action, View};

use super::support::{Window, window};

fn open(window: &mut Window) {
    window.command(Key::H);
    assert!(window.app().state.complaint_open);
}

fn tick(window: &mut Window, symptom: Symptom) {
    window
        .harness
        .get_by_role_and_label(Role::CheckBox, words::symptom(symptom))
        .click();
    window.harness.step();
    window.harness.step();
}

/// Steps until all cures are simulated.
fn wait(window: &mut Window) -> Diagnosis {
    let begun = Instant::now();
    loop {
        window.harness.step();
        let found = window.app().shown.complaint.found().cloned();
        if let Some(found) = found.filter(|found| found.progress == Progress::Done) {
            window.harness.step();
            return (*found).clone();
        }
        assert!(begun.elapsed().as_secs() < 120, "no answer");
        std::thread::sleep(Duration::from_millis(5));
    }
}

#[test]
fn every_view_has_the_door() {
    let mut window = window();
    for view in View::ALL {
        window.harness.state_mut().ask(Action::Show(view));
        window.run();
        open(&mut window);
        assert!(window.shows(words::HEADING), "{view:?}");
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
        window.harness.state_mut().ask(Action::LeaveWrong);
        window.run();
        assert!(!window.app().state.complaint_open);
    }
}

#[test]
fn causes_stand_at_once_and_cures_follow() {
    let mut window = window();
    open(&mut window);
    tick(&mut window, Symptom::Dry);
    let first = window.app().shown.complaint.found().cloned().unwrap();
    assert!(!first.ranked.is_empty(), "causes before any simulation");
    assert!(window.shows(words::cause(first.ranked[0].cause)));
    let found = wait(&mut window);
    assert!(!window.app().is_diagnosing());
    assert!(window.shows(words::cause(found.ranked[0].cause)));
}

#[test]
fn a_cure_goes_into_the_recipe_in_one_step_and_comes_back() {
    let mut window = window();
    // Leaves alone, as raked: cold.
    let project = &mut window.harness.state_mut().bench.project;
    project.mix.ingredients.truncate(1);
    project.mix.added_water_l = 0.0;
    window.run();
    let before = window.app().project.clone();
    open(&mut window);
    tick(&mut window, Symptom::Cold);
    let found = wait(&mut window);
    let best = found.best_cure().expect("a cure").clone();
    let place = found.cures.iter().position(|cure| *cure == best).unwrap();
    let text = words::cure(
        &best,
        &heapwright::material::Catalogue::built_in().unwrap(),
        Default::default(),
    );
    assert!(window.shows(&text), "{text}");
    window.press(&words::take_cure(place));
    assert!(!window.app().state.complaint_open);
    assert_eq!(window.app().project.mix, best.then.0);
    window.harness.state_mut().ask(Action::Undo);
    window.run();
    assert_eq!(window.app().project.mix, before.mix);
}

#[test]
fn a_heap_without_a_recipe_is_asked_about_and_kept() {
    let mut window = window();
    open(&mut window);
    window
        .harness
        .get_by_role_and_label(Role::RadioButton, words::NO_RECIPE)
        .click();
    window.harness.step();
    assert_eq!(window.app().state.complaint.heap, AskedHeap::Rough);
    window
        .harness
        .state_mut()
        .bench
        .state
        .complaint
        .rough
        .mostly = Mostly::Leaves;
    tick(&mut window, Symptom::Cold);
    let found = wait(&mut window);
    assert!(!found.ranked.is_empty());
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    window.press("Keep as a recipe");
    let app = window.app();
    assert_eq!(app.project.title, words::ROUGH_TITLE);
    assert!(
        app.project
            .mix
            .ingredients
            .iter()
            .any(|row| row.material == "leaves_mixed")
    );
    assert!(app.is_unsaved(), "no file holds it");
    app.project.check_alone().unwrap();
}
