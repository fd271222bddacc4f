//! The open file in other hands: open twice, changed on the disk, settings of two windows.

use eframe::egui::{Event, Key};
use heapwright::document::{Folders, Settings, ThemeChoice, file};
use heapwright::material::Catalogue;

use super::support::{Window, no_dialog, window, window_in};

/// A window on a file of its own.
fn window_on_a_file() -> (Window, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shared.heap.ron");
    let project = window().app().project.clone();
    file::write(&path, &project, None).unwrap();
    (window_in(folder, Some(path.clone()), no_dialog()), path)
}

/// The person goes to another window and comes back.
fn go_and_come_back(window: &mut Window) {
    for focused in [false, true] {
        let input = window.harness.input_mut();
        input.focused = focused;
        input.events.push(Event::WindowFocused(focused));
        window.run();
    }
}

fn write_theirs(window: &Window, path: &std::path::Path, title: &str) {
    let mut theirs = window.app().project.clone();
    theirs.title = title.to_owned();
    file::write(path, &theirs, None).unwrap();
}

#[test]
fn a_change_on_the_disk_is_noticed_on_coming_back_and_can_be_loaded() {
    let (mut window, path) = window_on_a_file();
    go_and_come_back(&mut window);
    assert!(window.app().state.question.is_none(), "nothing has changed");
    write_theirs(&window, &path, "Theirs");
    window.run();
    assert!(window.app().state.question.is_none(), "not while one works");
    go_and_come_back(&mut window);
    assert!(window.shows("The file was changed elsewhere"));
    window.press("Load it again");
    assert_eq!(window.app().project.title, "Theirs");
    assert!(!window.app().is_unsaved());
}

#[test]
fn one_who_keeps_theirs_is_asked_once_and_again_before_writing_over_it() {
    let (mut window, path) = window_on_a_file();
    window.slide("Added water", 10.0);
    let mine = window.app().project.clone();
    write_theirs(&window, &path, "Theirs");
    go_and_come_back(&mut window);
    window.press("Keep mine");
    assert_eq!(window.app().project, mine);
    go_and_come_back(&mut window);
    assert!(window.app().state.question.is_none(), "asked twice");
    window.command(Key::S);
    assert!(window.shows("The file was changed elsewhere"));
    let stands = file::read(&path, &Catalogue::built_in().unwrap()).unwrap();
    assert_eq!(stands.project.title, "Theirs");
    window.press("Cancel");
    write_theirs(&window, &path, "Theirs again");
    go_and_come_back(&mut window);
    assert!(window.shows("The file was changed elsewhere"), "not asked");
}

#[test]
fn the_same_file_in_two_windows_is_told() {
    let (first, path) = window_on_a_file();
    assert!(!first.shows("open in another window"));
    let folders = Folders::under(first.folder.path());
    let second = heapwright::window::App::start(heapwright::window::Setup {
        folders: Some(folders.clone()),
        path: Some(path.clone()),
        ask: no_dialog(),
    })
    .unwrap();
    let told = |app: &heapwright::window::App| {
        let list = app.bench.state.notices.list();
        list.iter()
            .any(|it| it.summary.contains("open in another window"))
    };
    assert!(told(&second));
    // Where the first is gone, it is open once.
    drop((first.harness, second));
    let third = heapwright::window::App::start(heapwright::window::Setup {
        folders: Some(folders),
        path: Some(path),
        ask: no_dialog(),
    })
    .unwrap();
    assert!(!told(&third));
    drop(first.folder);
}

#[test]
fn what_two_windows_choose_is_kept_of_both() {
    let (mut first, path) = window_on_a_file();
    let folders = Folders::under(first.folder.path());
    let other = first.folder.path().join("other.heap.ron");
    // Another window is started, chooses another look and opens another file.
    let loaded = Settings::load(&folders).settings;
    let mut theirs = loaded.clone();
    theirs.theme = ThemeChoice::Contrast;
    theirs.remember(&other);
    theirs.save_changes(&loaded, &folders).unwrap();
    // This one chooses less motion.
    let settings = &mut first.harness.state_mut().bench.state.settings;
    settings.theme = loaded.theme;
    settings.less_motion = true;
    first.run();
    let both = Settings::load(&folders).settings;
    assert!(both.less_motion);
    assert_eq!(both.theme, ThemeChoice::Contrast);
    assert_eq!(both.recent, [other, path]);
}
