//! The Help menu: every key is listed, the program says what it is; F11 and Ctrl+P do what they say.

use std::time::{Duration, Instant};

use eframe::egui::Key;
use heapwright::window::{Action, Facts, View};

use super::support::{dialog_that_answers, window, window_in};

#[test]
fn the_list_of_keys_has_every_action_with_a_key() {
    let mut window = window();
    window.command(Key::Questionmark);
    assert!(window.shows("Keys"));
    assert!(window.shows("Ctrl+? or Ctrl+/") || window.shows("Cmd+? or Cmd+/"));
    let facts = window.app().facts();
    let listed = Action::with_keys(&facts);
    assert!(listed.len() > 30);
    let ctx = window.harness.ctx.clone();
    for (action, entry) in listed {
        assert!(window.shows(&entry.tooltip), "{action:?} is not explained");
        for key in entry.shortcut.iter().chain(&entry.second_shortcut) {
            let named = ctx.format_shortcut(key);
            let key = named.replace("Questionmark", "?").replace("Slash", "/");
            assert!(window.shows(&key), "{action:?} lacks {key}");
        }
    }
}

#[test]
fn escape_leaves_the_list_of_keys_and_keys_work_again() {
    let mut window = window();
    window.press("Help");
    window.press("Keys…");
    // What lies below a sheet does not answer.
    window.command(Key::Num2);
    assert_eq!(window.app().state.view, View::Mix);
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(window.app().state.help.is_none());
    window.command(Key::Num2);
    assert_eq!(window.app().state.view, View::Heap);
}

#[test]
fn the_program_tells_version_licences_and_changes() {
    let mut window = window();
    window.press("Help");
    window.press("About Heapwright…");
    let version = env!("CARGO_PKG_VERSION");
    for words in [
        &format!("Version {version}"),
        "MIT",
        "Apache License 2.0",
        "SIL Open Font",
    ] {
        assert!(window.shows(words), "{words}");
    }
    let changes = include_str!("../../assets/changes.md");
    let newest = changes.lines().find_map(|line| line.strip_prefix("## "));
    assert_eq!(
        newest,
        Some(version),
        "the newest changes are those of this version"
    );
    let points: Vec<&str> = changes
        .lines()
        .filter_map(|line| line.strip_prefix("- "))
        .collect();
    assert!(points.len() > 3);
    for point in points {
        assert!(window.shows(point), "{point}");
    }
    window.press("Close");
    assert!(window.app().state.help.is_none());
}

#[test]
fn f11_fills_the_screen_and_escape_leaves_it() {
    let mut window = window();
    window.harness.key_press(Key::F11);
    window.run();
    assert!(window.app().state.full_screen);
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(!window.app().state.full_screen);
}

#[test]
fn print_writes_the_handout_as_pdf() {
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("sheet.pdf");
    let mut window = window_in(folder, None, dialog_that_answers(page.clone()));
    window.begin(Key::P);
    let begun = Instant::now();
    while !page.exists() {
        window.harness.step();
        std::thread::sleep(Duration::from_millis(20));
        assert!(begun.elapsed().as_secs() < 60, "nothing came");
    }
    assert!(std::fs::read(&page).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn what_is_printed_is_what_is_looked_at() {
    let recipe = Facts::default();
    let year = Facts {
        on_year: true,
        ..Facts::default()
    };
    assert_eq!(Action::Print.text(&recipe), "Print the handout…");
    assert_eq!(Action::Print.text(&year), "Print the year…");
}
