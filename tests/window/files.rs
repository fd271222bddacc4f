//! Opening, saving, keeping, recovering: nothing is lost, nothing half-read.

use std::path::PathBuf;
use std::time::Duration;

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::document::recovery::{self, Recovery};
use heapwright::document::{Folders, file};
use heapwright::material::Catalogue;
use heapwright::window::{Action, View};

use super::support::{Window, dialog_that_answers, no_dialog, window, window_in};

const GRASS: &str = "Grass clippings, fresh and loose";

/// Waits for another thread.
fn wait_until(what: &str, done: impl Fn() -> bool) {
    let begun = std::time::Instant::now();
    while !done() {
        assert!(begun.elapsed() < Duration::from_secs(20), "never: {what}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn open_by_path(window: &mut Window, path: &std::path::Path) {
    window.command_shift(Key::O);
    window.use_path(path, "Open this file");
}

#[test]
fn saved_by_path_and_opened_again_it_is_equal() {
    let mut window = window();
    window.slide(GRASS, 3.25);
    let saved = window.app().project.clone();
    let path = window.folder.path().join("Laub ü");
    window.command_shift(Key::E);
    window.use_path(&path, "Save here");
    let full = window.folder.path().join("Laub ü.heap.ron");
    assert_eq!(window.app().store.path.as_deref(), Some(full.as_path()));
    assert!(!window.app().is_unsaved());
    window.harness.state_mut().ask(Action::New);
    window.run();
    assert!(window.app().project.mix.ingredients.is_empty());
    open_by_path(&mut window, &full);
    assert_eq!(window.app().project, saved);
}

#[test]
fn a_desktop_without_dialogs_gets_the_path_field_with_a_reason() {
    let mut window = window();
    window.command(Key::S);
    window.wait_for_dialog();
    assert!(window.shows("There is no file dialog on this desktop"));
    let path = window.folder.path().join("a.heap.ron");
    window.use_path(&path, "Save here");
    assert!(path.exists());
}

#[test]
fn a_name_the_dialog_did_not_ask_about_is_asked_about_here() {
    let folder = tempfile::tempdir().unwrap();
    let chosen = folder.path().join("heap");
    let full = folder.path().join("heap.heap.ron");
    std::fs::write(&full, "something else").unwrap();
    let mut window = window_in(folder, None, dialog_that_answers(chosen));
    window.command_shift(Key::S);
    window.wait_for_dialog();
    assert!(window.shows("Replace the file?"));
    assert_eq!(std::fs::read_to_string(&full).unwrap(), "something else");
    window.press("Cancel");
    assert_eq!(std::fs::read_to_string(&full).unwrap(), "something else");
    window.command_shift(Key::S);
    window.wait_for_dialog();
    window.press("Replace it");
    let opened = file::read(&full, &Catalogue::built_in().unwrap()).unwrap();
    assert_eq!(opened.project, window.app().project);
}

#[test]
fn a_name_the_dialog_asked_about_is_not_asked_about_again() {
    let folder = tempfile::tempdir().unwrap();
    let full = folder.path().join("heap.heap.ron");
    std::fs::write(&full, "old").unwrap();
    let mut window = window_in(folder, None, dialog_that_answers(full.clone()));
    window.command_shift(Key::S);
    window.wait_for_dialog();
    assert_ne!(std::fs::read_to_string(&full).unwrap(), "old");
}

#[test]
fn unsaved_changes_are_asked_about_before_they_go() {
    let mut window = window();
    window.slide(GRASS, 1.0);
    let edited = window.app().project.clone();
    window.command(Key::N);
    assert!(window.shows("Unsaved changes"));
    window.press("Cancel");
    assert_eq!(window.app().project, edited);
    window.command(Key::N);
    window.press("Discard");
    assert!(window.app().project.mix.ingredients.is_empty());
}

#[test]
fn saving_from_the_question_goes_on_with_what_was_asked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kept.heap.ron");
    let mut window = window_in(folder, None, dialog_that_answers(path.clone()));
    window.slide(GRASS, 1.0);
    let edited = window.app().project.clone();
    window.command(Key::N);
    // The question's button comes last: the first is the one of the top row.
    window
        .harness
        .get_all_by_label("Save")
        .last()
        .unwrap()
        .click();
    window.run();
    window.wait_for_dialog();
    window.run();
    assert!(
        window.app().project.mix.ingredients.is_empty(),
        "New went on"
    );
    let opened = file::read(&path, &Catalogue::built_in().unwrap()).unwrap();
    assert_eq!(opened.project, edited);
}

#[test]
fn a_save_that_is_refused_does_not_go_on() {
    let folder = tempfile::tempdir().unwrap();
    let nowhere = folder.path().join("no such folder").join("x.heap.ron");
    let mut window = window_in(folder, None, dialog_that_answers(nowhere));
    window.slide(GRASS, 1.0);
    let edited = window.app().project.clone();
    window.command(Key::N);
    window
        .harness
        .get_all_by_label("Save")
        .last()
        .unwrap()
        .click();
    window.run();
    window.wait_for_dialog();
    assert_eq!(window.app().project, edited);
    assert!(window.shows("The recipe was not saved"));
}

#[test]
fn bad_files_leave_the_recipe_alone_and_are_explained() {
    let mut window = window();
    let before = window.app().project.clone();
    let cases: [(&str, Option<&[u8]>); 6] = [
        ("missing.heap.ron", None),
        ("empty.heap.ron", Some(b"")),
        ("binary.heap.ron", Some(b"\x7fELF\0\xff\xfe")),
        ("newer.heap.ron", Some(b"(format: 999, title: \"x\")")),
        ("cut.heap.ron", Some(b"(format: 1, title: \"x\", ")),
        ("other.txt", Some(b"Dear gardener,")),
    ];
    for (name, content) in cases {
        let path = window.folder.path().join(name);
        if let Some(content) = content {
            std::fs::write(&path, content).unwrap();
        }
        open_by_path(&mut window, &path);
        assert_eq!(window.app().project, before, "{name}");
        assert!(!window.app().is_unsaved());
        let problem = window.app().state.path_field.clone().unwrap().problem;
        assert!(!problem.is_empty(), "{name} says nothing");
        assert!(window.shows(&problem), "{name}: {problem}");
        window.harness.key_press(Key::Escape);
        window.run();
        assert!(window.app().state.path_field.is_none());
        let last = window.app().state.notices.list().last().unwrap();
        assert!(last.summary.contains(&problem[1..]));
    }
}

#[test]
fn a_typed_path_that_is_gone_leaves_the_recent_files() {
    // A typed path takes the one way in that every file takes: read once, told once.
    let mut window = window();
    let gone = window.folder.path().join("gone.heap.ron");
    window
        .harness
        .state_mut()
        .bench
        .state
        .settings
        .remember(&gone);
    let told = window.app().state.notices.list().len();
    open_by_path(&mut window, &gone);
    assert!(!window.app().state.settings.recent.contains(&gone));
    assert_eq!(window.app().state.notices.list().len(), told + 1);
}

#[test]
fn a_file_changed_by_someone_else_is_not_written_over_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shared.heap.ron");
    let mut project = window().app().project.clone();
    file::write(&path, &project, None).unwrap();
    let mut window = window_in(folder, Some(path.clone()), no_dialog());
    project.title = "Theirs".to_owned();
    file::write(&path, &project, None).unwrap();
    window.slide(GRASS, 1.0);
    window.command(Key::S);
    assert!(window.shows("The file was changed elsewhere"));
    let catalogue = Catalogue::built_in().unwrap();
    assert_eq!(file::read(&path, &catalogue).unwrap().project, project);
    window.press("Replace it");
    let mine = window.app().project.clone();
    assert_eq!(file::read(&path, &catalogue).unwrap().project, mine);
}

#[test]
fn a_dropped_file_is_opened() {
    #[derive(Debug)]
    struct Dropped(PathBuf);
    impl eframe::egui::DroppedFile for Dropped {
        fn path(&self) -> &std::path::Path {
            &self.0
        }
        fn bytes(&self) -> Result<Vec<u8>, String> {
            std::fs::read(&self.0).map_err(|err| err.to_string())
        }
    }
    let mut window = window();
    let path = window.folder.path().join("dropped.heap.ron");
    let mut project = window.app().project.clone();
    project.title = "Dropped".to_owned();
    file::write(&path, &project, None).unwrap();
    window
        .harness
        .input_mut()
        .dropped_files
        .push(std::sync::Arc::new(Dropped(path)));
    window.run();
    assert_eq!(window.app().project, project);
}

#[test]
fn a_kept_recipe_stands_under_its_season_and_opens_again() {
    let mut window = window();
    window.slide(GRASS, 1.0);
    let kept = window.app().project.clone();
    window.command(Key::Num4);
    window.press("Keep “Autumn leaves and last grass” in Autumn");
    assert!(!window.app().is_unsaved());
    window.harness.state_mut().ask(Action::New);
    window.run();
    window.command(Key::Num4);
    window.press("Open Autumn leaves and last grass");
    assert_eq!(window.app().project, kept);
    assert_eq!(window.app().state.view, View::Mix);
}

#[test]
fn work_of_a_crashed_run_is_offered_and_taken_up() {
    let folder = tempfile::tempdir().unwrap();
    let folders = Folders::under(folder.path());
    let mut project = window().app().project.clone();
    project.title = "Before the crash".to_owned();
    let place = Recovery::start(&folders).unwrap();
    place.keep(&project, None, None).unwrap();
    // Dropped without an end, as by a crash.
    drop(place);
    let mut window = window_in(folder, None, no_dialog());
    assert!(window.shows("Unsaved work was found"));
    window.press("Restore");
    assert_eq!(window.app().project, project);
    assert!(window.app().is_unsaved(), "it is in no file yet");
}

#[test]
fn unsaved_work_is_kept_after_a_while_and_forgotten_when_saved() {
    let mut window = window();
    window.slide(GRASS, 1.0);
    let place = window.app().store.keeper.as_ref().unwrap().work_path();
    assert!(!place.exists());
    // Nothing is drawn meanwhile, as behind other windows.
    wait_until("the work is kept", || place.exists());
    window.command_shift(Key::E);
    let path = window.folder.path().join("saved");
    window.use_path(&path, "Save here");
    assert!(!place.exists());
}

#[test]
fn changes_that_are_taken_back_leave_nothing_to_recover() {
    let mut window = window();
    window.slide(GRASS, 1.0);
    let place = window.app().store.keeper.as_ref().unwrap().work_path();
    wait_until("the work is kept", || place.exists());
    window.command(Key::Z);
    assert!(!window.app().is_unsaved());
    assert!(!place.exists());
}

#[test]
fn a_window_that_goes_without_asking_leaves_its_work_to_the_next() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().to_owned();
    let mut window = window_in(folder, None, no_dialog());
    window.slide(GRASS, 1.0);
    let edited = window.app().project.clone();
    // As when the display is lost: the end comes at once, and nothing was saved or discarded.
    window.harness.state_mut().bench.finish();
    let found = recovery::pending(&Folders::under(&root), &Catalogue::built_in().unwrap());
    let works = found.leftovers.iter().map(|leftover| &leftover.project);
    assert_eq!(works.collect::<Vec<_>>(), [&edited]);
}

#[test]
fn a_slow_dialog_can_be_given_up_for_the_field() {
    let folder = tempfile::tempdir().unwrap();
    let (release, wait) = std::sync::mpsc::channel::<()>();
    let wait = std::sync::Mutex::new(wait);
    let ask: heapwright::window::jobs::dialog::Ask = std::sync::Arc::new(move |_| {
        let _ = wait.lock().unwrap().recv();
        Some(PathBuf::from("/too/late"))
    });
    let mut window = window_in(folder, None, ask);
    window.command_shift(Key::S);
    window.harness.run_steps(4 * 4);
    window.run();
    window.press("Type the path instead");
    let path = window.folder.path().join("typed.heap.ron");
    window.use_path(&path, "Save here");
    release.send(()).unwrap();
    window.run();
    assert_eq!(window.app().store.path.as_deref(), Some(path.as_path()));
}

#[test]
fn closing_the_window_asks_first_and_then_lets_go() {
    use eframe::egui::{ViewportCommand, ViewportEvent, ViewportId};
    let close = |window: &mut Window| -> Vec<ViewportCommand> {
        let viewports = &mut window.harness.input_mut().viewports;
        let root = viewports.entry(ViewportId::ROOT).or_default();
        root.events.push(ViewportEvent::Close);
        window.harness.step();
        window.harness.output().viewport_output[&ViewportId::ROOT]
            .commands
            .clone()
    };
    let mut window = window();
    window.slide(GRASS, 1.0);
    let commands = close(&mut window);
    assert!(commands.contains(&ViewportCommand::CancelClose));
    window.run();
    assert!(window.shows("Unsaved changes"));
    window
        .harness
        .get_by_role_and_label(Role::Button, "Discard")
        .click();
    let mut closed = false;
    for _ in 0..4 {
        window.harness.step();
        let output = &window.harness.output().viewport_output[&ViewportId::ROOT];
        closed |= output.commands.contains(&ViewportCommand::Close);
    }
    assert!(closed, "the window was never told to close");
    let commands = close(&mut window);
    assert!(!commands.contains(&ViewportCommand::CancelClose));
}
