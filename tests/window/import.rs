//! The sheet that imports a logger's file: opened, understood, chosen otherwise, taken, taken back.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::diary::import::{How, Place};
use heapwright::text::logger as words;
use heapwright::window::{Action, View};
use jiff::civil::date;

use super::support::{Window, dialog_that_answers, window, window_in};

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/logger")
        .join(name)
}

/// Steps until the file is read.
fn wait(window: &mut Window) {
    let begun = Instant::now();
    loop {
        window.harness.step();
        let shown = &window.app().shown.import;
        if !shown.busy && (shown.found.is_some() || shown.problem.is_some()) {
            window.harness.step();
            return;
        }
        assert!(begun.elapsed().as_secs() < 60, "the file was never read");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn look_at(name: &str) -> Window {
    let mut window = window();
    let action = Action::ImportFile(file(name));
    window.harness.state_mut().ask(action);
    window.harness.step();
    wait(&mut window);
    window
}

/// Picks an entry of a list.
fn pick(window: &mut Window, list: &str, entry: &str) {
    window
        .harness
        .get_by_role_and_label(Role::ComboBox, list)
        .click();
    window.harness.step();
    window.harness.step();
    window
        .harness
        .get_by_role_and_label(Role::Button, entry)
        .click();
    window.harness.step();
    window.harness.step();
    wait(window);
}

#[test]
fn a_file_chosen_in_the_dialog_is_shown_and_nothing_is_taken_yet() {
    let folder = tempfile::tempdir().unwrap();
    let ask = dialog_that_answers(file("semicolons.csv"));
    let mut window = window_in(folder, None, ask);
    window.begin(Key::I);
    window.wait_for_dialog();
    wait(&mut window);
    assert!(window.shows(words::HEADING));
    assert!(window.shows("semicolons.csv"));
    assert!(window.shows("60 rows: 58 taken, 0 bad, 2 without a reading"));
    assert!(window.app().project.diary.is_empty());
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(window.app().state.import_sheet.is_none());
    assert!(window.app().project.diary.is_empty());
}

#[test]
fn readings_are_taken_in_one_step_and_taken_back() {
    let mut window = look_at("semicolons.csv");
    // 58 hours of two probes in the heap; the air's is not taken.
    window.press("Take 116 readings");
    let diary = &window.app().project.diary;
    assert_eq!(diary.built, Some(date(2025, 5, 30).at(18, 0, 0, 0)));
    assert_eq!(diary.logs.len(), 2);
    assert!(window.app().state.import_sheet.is_none());
    assert!(window.app().is_unsaved());
    window.harness.state_mut().ask(Action::Undo);
    window.run();
    assert!(window.app().project.diary.is_empty());
}

#[test]
fn a_guess_is_chosen_otherwise() {
    let mut window = look_at("order-by-sequence.csv");
    assert!(window.shows(words::how(How::Sequence)));
    let day_first = window.app().shown.import.imported().unwrap().built.value;
    assert_eq!(day_first, date(2024, 2, 3).at(0, 0, 0, 0));
    pick(&mut window, words::choice::ORDER, "month, day, year");
    let month_first = window.app().shown.import.imported().unwrap().built.value;
    assert_eq!(month_first, date(2024, 3, 2).at(0, 0, 0, 0));
    pick(&mut window, &words::place_of_probe("edge"), "in the air");
    let imported = window.app().shown.import.imported().unwrap();
    assert_eq!(imported.probes[1].place, Place::Air);
    assert_eq!(imported.taken().count(), 1);
}

#[test]
fn a_file_that_cannot_be_used_is_said_and_nothing_can_be_taken() {
    let mut window = window();
    let folder = window.folder.path().to_owned();
    window.harness.state_mut().ask(Action::ImportFile(folder));
    window.harness.step();
    wait(&mut window);
    assert!(window.shows("This is a folder; choose a file inside it"));
    window.harness.state_mut().ask(Action::TakeReadings);
    window.run();
    assert!(window.app().project.diary.is_empty());
    assert!(window.app().state.import_sheet.is_some());
}

#[test]
fn the_door_is_in_every_view() {
    for view in View::ALL {
        let mut window = window();
        window.harness.state_mut().ask(Action::Show(view));
        window.run();
        let action = Action::ImportFile(file("long.csv"));
        window.harness.state_mut().ask(action);
        window.harness.step();
        wait(&mut window);
        assert!(window.shows(words::HEADING), "{view:?}");
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
}

#[test]
fn the_keyboard_reaches_every_choice() {
    let mut window = look_at("semicolons.csv");
    window.assert_tab_reaches(
        60,
        &[
            words::choice::ENCODING,
            words::choice::DELIMITER,
            words::choice::DECIMAL,
            words::choice::ORDER,
            words::choice::ZONE,
            words::choice::UNIT,
            words::choice::BUILT,
            words::choice::KEEP,
            words::choice::SPIKES,
            "Take Core (°C)",
            "Name of Core (°C)",
            "Where Core (°C) sits",
            "What column 5 holds",
            "Take 116 readings",
            "Close",
        ],
    );
}

#[test]
fn where_all_rows_are_refused_nothing_is_called_in_order() {
    let mut window = window();
    let late = date(2030, 1, 1).at(12, 0, 0, 0);
    window.harness.state_mut().bench.project.diary.built = Some(late);
    let action = Action::ImportFile(file("semicolons.csv"));
    window.harness.state_mut().ask(action);
    window.harness.step();
    wait(&mut window);
    assert!(window.shows(words::BAD_ROWS));
    assert!(!window.shows(words::FIRST_ROWS));
    assert!(!window.shows(words::NOTHING_ODD));
    let window = look_at("semicolons.csv");
    assert!(window.shows(words::FIRST_ROWS));
}
