//! The Class view: big controls with a ghost, guessing first, trials side by side, lessons, the handout.

use eframe::egui;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::quantity::UnitSystem;
use heapwright::window::View;
use heapwright::window::action::{Action, ClassAction, Facts, Reply};
use heapwright::window::class::answer::STALE;
use heapwright::window::piles::class_choices::Mode;

use crate::support::{Window, dialog_that_answers, window, window_in};

fn class_window() -> Window {
    let mut window = window();
    show(&mut window);
    window
}

fn show(window: &mut Window) {
    window.harness.state_mut().ask(Action::Show(View::Class));
    window.run();
    window.run();
}

fn ask(window: &mut Window, action: ClassAction) {
    window.harness.state_mut().ask(Action::Class(action));
    window.run();
}

/// Lets the trial run, but only so long.
fn wait_for_pairs(window: &mut Window, pairs: usize) {
    let begun = std::time::Instant::now();
    loop {
        window.harness.step();
        let shown = window.app().shown.trial.clone().unwrap();
        assert_eq!(shown.problem, None);
        if shown.comparison.is_some_and(|found| found.pairs() >= pairs) {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
        assert!(begun.elapsed().as_secs() < 120, "no pairs came");
    }
}

#[test]
fn type_is_larger_here_and_as_before_elsewhere() {
    let mut window = window();
    let plain = window.harness.ctx.zoom_factor();
    show(&mut window);
    assert!(window.harness.ctx.zoom_factor() >= 1.6 * plain);
    window.harness.state_mut().ask(Action::Show(View::Mix));
    window.run();
    window.run();
    assert_eq!(window.harness.ctx.zoom_factor(), plain);
}

#[test]
fn every_big_control_changes_the_heap_and_leaves_a_ghost() {
    let mut window = class_window();
    for (name, changes) in [
        ("+1 bucket Grass clippings", "mix"),
        ("+1 bucket Autumn leaves", "mix"),
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

#[test]
fn a_class_that_guesses_first_sees_the_answer_only_when_it_is_revealed() {
    let mut window = class_window();
    window.press("Guess first");
    window.press("Half the size");
    assert!(window.shows("the new curve is hidden"));
    window
        .harness
        .get_by_role_and_label(egui::accesskit::Role::Slider, "The guess")
        .set_value_accesskit(60.0);
    window.run();
    window.press("Record guess");
    window.press("Record guess");
    assert!(window.shows("2 guessed: 60 to 60"));
    window.press("Reveal");
    assert!(!window.shows("the new curve is hidden"));
    assert!(window.shows("2 guessed"), "the guesses stay to be compared");
    assert!(window.shows("Centre at most"));
}

#[test]
fn sugar_is_run_side_by_side_and_the_words_come_from_the_effect() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    let place = {
        let trials = heapwright::assess::trial::Trial::ready().unwrap();
        trials.iter().position(|trial| trial.id == "sugar").unwrap()
    };
    for _ in 0..place {
        window.harness.key_press(egui::Key::PageDown);
        window.run();
    }
    assert!(window.shows("Claimed"));
    window
        .harness
        .state_mut()
        .ask(Action::Class(ClassAction::RunTrial));
    window.harness.step();
    window.harness.step();
    wait_for_pairs(&mut window, 8);
    window.harness.get_by_label("Stop").click();
    window.harness.run_steps(3);
    let shown = window.app().shown.trial.clone().unwrap();
    let comparison = shown.comparison.unwrap();
    let peak = comparison
        .effect(heapwright::forecast::Measured::ALL[0])
        .unwrap();
    // Half a kilogram in a cubic metre and more: 5 K for a moment at most (energy arithmetic).
    assert!(peak.range.typical.abs() < 5.0, "{peak:?}");
    let units = window.app().state.settings.units;
    let largest = heapwright::text::trial::effect(comparison.largest().unwrap(), units);
    assert!(window.shows(&largest), "{largest}");
    window.harness.get_by_label("Insides").click();
    window.run();
    assert!(window.shows("without"), "both insides");
}

/// A window in which a trial of the recipe has brought pairs and was stopped.
fn with_a_trial() -> Window {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    let trials = heapwright::assess::trial::Trial::ready().unwrap();
    let place = trials.iter().position(|trial| trial.id == "sugar").unwrap();
    ask(&mut window, ClassAction::Trial(place));
    window
        .harness
        .state_mut()
        .ask(Action::Class(ClassAction::RunTrial));
    window.harness.step();
    window.harness.step();
    wait_for_pairs(&mut window, 8);
    ask(&mut window, ClassAction::StopTrial);
    assert!(!window.shows(STALE), "it is of this recipe");
    window
}

#[test]
fn a_trial_of_the_recipe_as_it_was_says_so() {
    let mut window = with_a_trial();
    ask(&mut window, ClassAction::Water);
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    assert!(window.shows(STALE));
    window.harness.state_mut().ask(Action::Undo);
    window.run();
    assert!(!window.shows(STALE), "it is the same recipe again");
}

#[test]
fn another_recipe_shows_no_trial_of_the_one_before() {
    let mut window = with_a_trial();
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("demo-data/withybed-winter-kitchen.heap.ron");
    window.harness.state_mut().ask(Action::OpenFile(demo));
    window.run();
    if window.app().state.question.is_some() {
        window.harness.state_mut().ask(Action::Reply(Reply::No));
        window.run();
    }
    assert!(window.app().project.title.contains("itchen"));
    assert!(window.app().shown.trial.is_none());
    show(&mut window);
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    assert!(window.shows("Run it, and both heaps appear here."));
}

#[test]
fn a_trial_the_model_cannot_test_shows_evidence_alone() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    let trials = heapwright::assess::trial::Trial::ready().unwrap();
    let place = trials.iter().position(|trial| !trial.can_be_run()).unwrap();
    window.harness.state_mut().bench.state.class.trial = place;
    window.run();
    assert!(window.shows("The model cannot test this"));
    assert!(window.shows(&trials[place].evidence[0].finding));
    assert!(!window.shows("Run it"));
}

#[test]
fn a_lesson_is_walked_by_the_clicker_to_its_end_and_back() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    let lessons = heapwright::assess::trial::Lesson::ready().unwrap();
    for (place, lesson) in lessons.iter().enumerate() {
        ask(&mut window, ClassAction::Lesson(place));
        for stop in &lesson.stops {
            assert!(window.shows(&stop.say), "{}: {}", lesson.id, stop.say);
            window.harness.key_press(egui::Key::PageDown);
            window.run();
        }
        // At the end it stays.
        let last = lesson.stops.len() - 1;
        assert_eq!(window.app().state.class.lesson, (place, last));
        window.harness.key_press(egui::Key::PageUp);
        window.run();
        assert_eq!(window.app().state.class.lesson, (place, last - 1));
    }
}

#[test]
fn handout_and_pictures_are_written_beside_the_recipe_and_never_over_it() {
    for (action, ending, begins) in [
        (ClassAction::Handout, "pdf", &b"%PDF-"[..]),
        (ClassAction::CurvePicture, "png", b"\x89PNG"),
        (ClassAction::InsidePicture, "png", b"\x89PNG"),
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
fn a_teachers_own_trial_and_lesson_are_found_and_a_broken_one_is_told_of() {
    let folder = tempfile::tempdir().unwrap();
    let folders = heapwright::document::Folders::under(folder.path());
    let at = |kind: &str, name: &str, text: &str| {
        let place = folders.recipes.join(kind);
        std::fs::create_dir_all(&place).unwrap();
        std::fs::write(place.join(name), text).unwrap();
    };
    let trial = r#"[(
        id: "two_buckets", title: "Two buckets", claim: "Two buckets of grass do it.",
        differs: "Two buckets of grass more.", common: [],
        change: [Add(material: "grass_fresh", amount: (value: 2.0, measure: Bucket))],
        evidence: [], cannot_tell: "How it smells.",
    )]"#;
    let lesson = r#"(
        id: "ours", title: "Ours", minutes: 5,
        stops: [(say: "What do two buckets do?", show: Trial("two_buckets"), guess_first: true, notes: "")],
    )"#;
    at("Trials", "ours.ron", trial);
    at("Trials", "broken.ron", "[(id: 3)]");
    at("Lessons", "ours.ron", lesson);
    let mut window = window_in(folder, None, crate::support::no_dialog());
    show(&mut window);
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    let ready = heapwright::assess::trial::Lesson::ready().unwrap().len();
    ask(&mut window, ClassAction::Lesson(ready));
    assert!(window.shows("What do two buckets do?"));
    assert!(window.shows("Two buckets of grass more."));
    let told = format!("{:?}", window.app().state.notices);
    assert!(told.contains("broken.ron"), "{told}");
}

/// Ends and place of the slider on which the class guesses.
fn guess_slider(window: &Window) -> (f64, f64, f64) {
    let slider = window
        .harness
        .get_by_role_and_label(egui::accesskit::Role::Slider, "The guess");
    let node = slider.accesskit_node();
    (
        node.min_numeric_value().unwrap(),
        node.max_numeric_value().unwrap(),
        node.numeric_value().unwrap(),
    )
}

#[test]
fn a_guess_at_a_difference_has_as_wide_a_scale_in_either_unit() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    window.press("Guess first");
    let (low, high, _) = guess_slider(&window);
    assert_eq!((low, high), (-25.0, 25.0), "degrees Celsius");
    window.command_shift(egui::Key::U);
    let (low, high, _) = guess_slider(&window);
    assert_eq!((low, high), (-45.0, 45.0), "degrees Fahrenheit");
}

#[test]
fn a_guess_begins_at_the_peak_that_was_seen_last_in_the_unit_shown() {
    let mut window = class_window();
    window.command_shift(egui::Key::U);
    window.press("Guess first");
    let (peak_c, _) = window.app().shown.curve.peak.unwrap();
    window.press("Half the size");
    let (_, _, guess) = guess_slider(&window);
    let peak_f = 1.8 * peak_c + 32.0;
    // The peak is rounded to a whole degree Celsius.
    assert!((guess - peak_f).abs() <= 0.9 + 1e-6, "{guess} for {peak_f}");
}

#[test]
fn a_recorded_guess_is_said_in_the_unit_shown() {
    let mut window = class_window();
    window.press("Guess first");
    window.press("Half the size");
    window
        .harness
        .get_by_role_and_label(egui::accesskit::Role::Slider, "The guess")
        .set_value_accesskit(60.0);
    window.run();
    window.press("Record guess");
    assert!(window.shows("1 guessed: 60 to 60 °C"));
    window.command_shift(egui::Key::U);
    assert!(window.shows("1 guessed: 140 to 140 °F"));
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
