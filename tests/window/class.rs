//! The Class view: big controls with a ghost, guessing first, trials side by side, lessons, the handout.

use eframe::egui;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::assess::trial::{Show, Stop};
use heapwright::forecast::Effect;
use heapwright::quantity::UnitSystem;
use heapwright::text::number::unparted;
use heapwright::window::View;
use heapwright::window::action::{Action, ClassAction, Facts, Reply};
use heapwright::window::class::answer::STALE;
use heapwright::window::class::find::SEARCH;
use heapwright::window::class::zoom_for;
use heapwright::window::piles::class_choices::{Guess, Mode};
use heapwright::window::theme::Theme;

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
        ask(&mut window, ClassAction::Next);
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
fn type_grows_with_the_screen() {
    let sizes = Theme::built_in().unwrap().sizes;
    let zoom = |width: f32, height: f32| zoom_for(egui::vec2(width, height), &sizes);
    assert_eq!(zoom(1024.0, 768.0), 1.6, "never smaller than before");
    assert_eq!(zoom(1280.0, 800.0), 1.6);
    // A quarter of the size, 480 by 270, is what the last row sees: running text of 8 pixels and more, a verdict of
    // twice that (8 pixels is about the least that is read; common practice).
    let full = zoom(1920.0, 1080.0);
    assert!(sizes.body * full / 4.0 >= 8.0, "{full}");
    assert!(sizes.verdict * full / 4.0 >= 16.0, "{full}");
    assert!(zoom(3840.0, 2160.0) > 1.9 * full);
    let mut window = class_window();
    let before = window.harness.ctx.zoom_factor();
    window.harness.set_size(egui::vec2(1920.0, 1080.0));
    window.run();
    window.run();
    assert!(window.harness.ctx.zoom_factor() > 1.2 * before);
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
fn f11_fills_the_screen_and_esc_leaves_it() {
    let mut window = class_window();
    assert!(window.shows("File"));
    window.harness.key_press(egui::Key::F11);
    window.run();
    assert!(window.app().state.full_screen);
    assert!(!window.shows("File"), "the menus go");
    window.harness.key_press(egui::Key::Escape);
    window.run();
    assert!(!window.app().state.full_screen);
}

#[test]
fn a_toast_covers_none_of_the_big_controls_and_moves_none() {
    let mut window = class_window();
    window.run();
    let places = |window: &Window| {
        ["Turn it", "Water it", "Half the size"].map(|name| {
            let button = egui::accesskit::Role::Button;
            window.harness.get_by_role_and_label(button, name).rect()
        })
    };
    let before = places(&window);
    ask(&mut window, ClassAction::CopyHandout);
    let begun = std::time::Instant::now();
    while !window.shows("on the clipboard") {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(20));
        assert!(begun.elapsed().as_secs() < 60, "nothing was told");
    }
    window.harness.run_steps(3);
    let toast = window
        .harness
        .get_by_label_contains("on the clipboard")
        .rect();
    assert_eq!(places(&window), before, "no button moves under a hand");
    for button in before {
        assert!(button.bottom() <= toast.top(), "{button} {toast}");
    }
}

#[test]
fn a_long_problem_moves_no_big_control_either() {
    let mut window = class_window();
    window.run();
    let place = |window: &Window| {
        let button = egui::accesskit::Role::Button;
        window
            .harness
            .get_by_role_and_label(button, "Turn it")
            .rect()
    };
    let before = place(&window);
    let long = "The file could not be written, for the folder does not exist. ".repeat(8);
    let notice = heapwright::window::piles::notices::Notice::problem(&long, "");
    let bench = &mut window.harness.state_mut().bench;
    bench.state.notices.tell(notice, 0.0);
    window.run();
    assert!(window.shows("Dismiss") && window.shows("All notices"));
    assert_eq!(place(&window), before);
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
fn a_wide_sheet_over_the_class_has_the_room_it_needs() {
    let mut window = class_window();
    window.run();
    let large = window.harness.ctx.zoom_factor();
    let theme = heapwright::window::theme::Theme::built_in().unwrap();
    for (open, leave) in [
        (Action::AskWrong, Action::LeaveWrong),
        (Action::OpenDrawer, Action::CloseDrawer),
    ] {
        window.harness.state_mut().ask(open.clone());
        window.run();
        let room = window.harness.ctx.content_rect().size();
        assert!(room.x > theme.sizes.complaint_width, "{open:?}: {room}");
        assert!(room.y > theme.sizes.complaint_height, "{open:?}: {room}");
        window.harness.state_mut().ask(leave);
        window.run();
        window.run();
        assert_eq!(window.harness.ctx.zoom_factor(), large, "{open:?}");
    }
}

/// Where a text is painted, by its words.
fn painted(shape: &egui::Shape, words: &str) -> Option<egui::Pos2> {
    match shape {
        egui::Shape::Vec(all) => all.iter().find_map(|shape| painted(shape, words)),
        egui::Shape::Text(text) => {
            (text.galley.text().trim() == unparted(words)).then_some(text.pos)
        }
        _ => None,
    }
}

#[test]
fn the_line_of_55_is_named_where_the_heap_has_cooled() {
    let mut window = class_window();
    window.run();
    let shapes = &window.harness.output().shapes;
    let at = shapes.iter().find_map(|it| painted(&it.shape, "55 °C"));
    let right = window.harness.ctx.content_rect().right();
    let at = at.expect("the line has its name");
    // A hot heap rises over it within the first days, at the left.
    assert!(at.x > 0.85 * right, "{at} of {right}");
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
