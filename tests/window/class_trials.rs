//! Trials side by side, lessons, guesses and beliefs of the Class view.

use eframe::egui;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::assess::trial::{Show, Stop};
use heapwright::forecast::Effect;
use heapwright::window::action::{Action, ClassAction, Reply};
use heapwright::window::class::answer::STALE;
use heapwright::window::class::find::SEARCH;
use heapwright::window::piles::class_choices::{Guess, Mode};

use crate::class::{ask, class_window, show};
use crate::support::{Window, window_in};

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

/// Runs the chosen trial until it has brought pairs.
fn run_trial(window: &mut Window) {
    let run = Action::Class(ClassAction::RunTrial);
    window.harness.state_mut().ask(run);
    window.harness.step();
    window.harness.step();
    wait_for_pairs(window, 8);
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
        ask(&mut window, ClassAction::Next);
    }
    assert!(window.shows("Claimed"));
    run_trial(&mut window);
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
    let heavier = |a: &&Effect, b: &&Effect| a.weight().total_cmp(&b.weight());
    let largest = comparison.effects.iter().max_by(heavier).unwrap();
    let largest = heapwright::text::trial::effect(largest, units);
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
    run_trial(&mut window);
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

/// Presses that a stop takes: one to reveal or to run where there is anything to, and one to go on.
fn presses(stop: &Stop) -> usize {
    let trials = heapwright::assess::trial::Trial::ready().unwrap();
    let runs = match &stop.show {
        Show::Trial(id) => trials
            .iter()
            .any(|trial| trial.id == *id && trial.can_be_run()),
        _ => false,
    };
    if stop.guess_first || runs { 2 } else { 1 }
}

/// A key; the trial that runs behind may ask for as many frames as it likes.
fn tap(window: &mut Window, key: egui::Key) {
    window.harness.key_press(key);
    window.harness.run_steps(3);
}

#[test]
fn the_middle_of_the_guesses_is_their_median() {
    // numpy.median, numpy 2.4.6.
    for (guesses, median) in [
        (&[55.0, 60.0][..], 57.5),
        (&[40.0, 50.0, 70.0, 80.0], 60.0),
        (&[61.0, 43.0, 58.0, 47.0, 52.0, 66.0], 55.0),
        (&[50.0, 52.0, 90.0], 52.0),
        (&[41.0], 41.0),
    ] {
        let guess = Guess {
            noted: guesses.to_vec(),
            ..Guess::default()
        };
        let [least, middle, most] = guess.spread().unwrap();
        assert_eq!(middle, median, "{guesses:?}");
        assert!(guesses.iter().all(|guess| (least..=most).contains(guess)));
    }
    assert_eq!(Guess::default().spread(), None);
}

#[test]
fn the_trial_of_a_stop_and_the_next_are_run_while_the_class_guesses() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    ask(&mut window, ClassAction::Next);
    assert!(window.app().state.class.guess.hidden);
    let begun = std::time::Instant::now();
    while window
        .app()
        .shown
        .ahead
        .iter()
        .filter(|kept| kept.is_whole())
        .count()
        < 2
    {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(10));
        assert!(begun.elapsed().as_secs() < 240, "nothing was run ahead");
    }
    assert!(window.shows("Guess first: the answer is hidden."));
    assert!(window.app().shown.trial.is_none(), "nobody has asked");
    tap(&mut window, egui::Key::PageDown);
    let shown = window.app().shown.trial.clone().unwrap();
    assert!(shown.is_whole(), "it is there at once");
    let units = window.app().state.settings.units;
    let pairs = shown.comparison.unwrap();
    let told = heapwright::text::trial::telling(&pairs).unwrap();
    assert!(window.shows(&heapwright::text::trial::headline(told, units)));
}

#[test]
fn the_keys_of_a_clicker_are_named_in_a_lesson() {
    let mut window = class_window();
    let keys = heapwright::text::trial::CLICKER_KEYS;
    assert!(!window.shows(keys));
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    assert!(window.shows(keys));
}

#[test]
fn enter_goes_nowhere_while_nothing_is_looked_for() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    ask(&mut window, ClassAction::Trial(3));
    let field = egui::accesskit::Role::TextInput;
    window.harness.get_by_role_and_label(field, SEARCH).focus();
    window.run();
    window.harness.key_press(egui::Key::Enter);
    window.run();
    assert_eq!(window.app().state.class.trial, 3);
}

#[test]
fn a_belief_is_found_by_its_words() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Trials));
    window
        .harness
        .get_by_role_and_label(egui::accesskit::Role::TextInput, SEARCH)
        .set_text_value_accesskit("tea bags");
    window.run();
    window.press("Tea bags");
    assert!(window.shows("Claimed: Tea bags can go in whole."));
    assert!(window.shows("The tea can."), "the answer, in large type");
}

#[test]
fn the_speakers_window_has_notes_and_answers_that_the_class_does_not_see() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    let lesson = &heapwright::assess::trial::Lesson::ready().unwrap()[0];
    assert!(!window.shows(&lesson.stops[0].notes));
    window.press("Speaker's notes");
    assert!(window.shows(&lesson.stops[0].notes));
    assert!(window.shows(&format!("Next: {}", lesson.stops[1].say)));
}

#[test]
fn a_lesson_is_walked_by_the_clicker_to_its_end_and_back() {
    let mut window = class_window();
    ask(&mut window, ClassAction::Mode(Mode::Lessons));
    let lessons = heapwright::assess::trial::Lesson::ready().unwrap();
    for (place, lesson) in lessons.iter().enumerate() {
        ask(&mut window, ClassAction::Lesson(place));
        for (at, stop) in lesson.stops.iter().enumerate() {
            assert!(window.shows(&stop.say), "{}: {}", lesson.id, stop.say);
            let class = &window.app().state.class;
            assert_eq!(class.lesson, (place, at));
            assert_eq!(class.guess.hidden, stop.guess_first, "{}", stop.say);
            let key = [egui::Key::PageDown, egui::Key::ArrowRight, egui::Key::Space][at % 3];
            for _ in 0..presses(stop) {
                assert_eq!(window.app().state.class.lesson, (place, at), "{}", stop.say);
                tap(&mut window, key);
            }
        }
        // At the end it stays.
        let last = lesson.stops.len() - 1;
        assert_eq!(window.app().state.class.lesson, (place, last));
        tap(&mut window, egui::Key::PageUp);
        assert_eq!(window.app().state.class.lesson, (place, last - 1));
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
    window.slide("The guess", 60.0);
    window.press("Record guess");
    assert!(window.shows("1 guessed: 60 to 60 °C"));
    window.command_shift(egui::Key::U);
    assert!(window.shows("1 guessed: 140 to 140 °F"));
}
