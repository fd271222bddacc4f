//! Starting: the demo, a file, the latest file, no window.

use heapwright::document::{Folders, Settings, file};
use heapwright::window::{View, no_window};

use super::support::{no_dialog, window, window_in};

#[test]
fn the_first_start_opens_the_demo_as_an_untitled_copy() {
    let window = window();
    let app = window.app();
    assert!(app.project.place.starts_with("Withybed School Garden"));
    assert!(app.project.notes.contains("Invented"));
    assert_eq!(app.store.path, None);
    assert!(!app.is_unsaved());
    assert!(!app.title().contains('•'));
}

#[test]
fn the_title_tells_what_is_open_and_whether_it_is_saved() {
    let mut window = window();
    assert_eq!(
        window.app().title(),
        "Autumn leaves and last grass - Heapwright"
    );
    window.slide("Added water", 10.0);
    assert_eq!(
        window.app().title(),
        "Autumn leaves and last grass • - Heapwright"
    );
}

#[test]
fn a_given_file_is_opened_and_the_latest_one_next_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.heap.ron");
    let mut project = window().app().project.clone();
    project.title = "Mine".to_owned();
    file::write(&path, &project, None).unwrap();
    let mut window = window_in(folder, Some(path.clone()), no_dialog());
    assert_eq!(window.app().project, project);
    window.harness.state_mut().bench.finish();
    let folders = Folders::under(window.folder.path());
    assert_eq!(Settings::load(&folders).settings.recent, [path]);
    let again = window_in(window.folder, None, no_dialog());
    assert_eq!(again.app().project, project);
}

#[test]
fn the_window_opens_as_it_was_left() {
    let mut window = window();
    window.command(eframe::egui::Key::Num2);
    window.harness.ctx.set_zoom_factor(1.25);
    window.run();
    window.harness.state_mut().bench.finish();
    let folders = Folders::under(window.folder.path());
    let layout = Settings::load(&folders).settings.layout;
    assert_eq!(layout.zoom(), 1.25);
    let again = window_in(window.folder, None, no_dialog());
    assert_eq!(again.app().state.view, View::Heap);
    let ctx = eframe::egui::Context::default();
    again.harness.state().prepare(&ctx);
    ctx.begin_pass(eframe::egui::RawInput::default());
    assert_eq!(ctx.zoom_factor(), 1.25);
}

#[test]
fn a_file_that_cannot_be_opened_is_said_and_the_demo_stands() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("nothing.heap.ron");
    let window = window_in(folder, Some(path), no_dialog());
    assert!(window.app().project.place.starts_with("Withybed"));
    assert!(window.shows("The file was not opened: there is no file of this name"));
}

#[test]
fn without_a_window_one_sentence_names_what_works() {
    let sentence = no_window("Library libxkbcommon-x11.so\n could not be loaded.");
    let with_place = no_window("os error at /somewhere/mod.rs:765: DISPLAY is not set.");
    assert!(with_place.contains("(DISPLAY is not set)"), "{with_place}");
    assert_eq!(sentence.lines().count(), 1);
    for word in [
        "libxkbcommon-x11.so",
        "assess FILE",
        "curve FILE",
        "materials",
    ] {
        assert!(sentence.contains(word), "{word} is missing in: {sentence}");
    }
}
