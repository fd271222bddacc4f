//! The year's page: opened, saved, never lost; what it shows and how it is changed.

use std::path::Path;

use eframe::egui::Key;
use heapwright::document::year::{read_year, write_year};
use heapwright::material::Catalogue;
use heapwright::window::action::YearAction;
use heapwright::window::piles::choices::SeasonsPage;
use heapwright::window::{Action, View};

use super::support::{Window, dialog_that_answers, no_dialog, window, window_in};

/// A window in which the example is open.
fn with_example() -> Window {
    let mut window = window();
    window.command(Key::Num4);
    window.press("The year");
    window.press("Open the example");
    window
}

/// Asks for another year.
fn from_the_menu(window: &mut Window, name: &str) {
    window.press("Another year");
    window.press(name);
}

fn title(window: &Window) -> String {
    let open = window.app().year.open.as_ref().unwrap();
    open.file.title.clone()
}

/// Changes the title of the open year.
fn retitle(window: &mut Window, title: &str) {
    let open = window.harness.state_mut().bench.year.open.as_mut().unwrap();
    title.clone_into(&mut open.file.title);
    window.run();
}

fn saved_title(path: &Path) -> String {
    let catalogue = Catalogue::built_in().unwrap();
    read_year(path, &catalogue).unwrap().0.title
}

#[test]
fn the_switch_leads_to_the_year_and_back() {
    let mut window = window();
    window.command(Key::Num4);
    assert!(window.shows("Spring"));
    window.press("The year");
    assert!(window.shows("Plan a year of heaps"));
    window.press("Open the example");
    assert!(window.shows("The plan"));
    assert_eq!(title(&window), "A year at Withybed");
    assert!(!window.app().year.is_unsaved(), "an example is no work");
    window.press("Recipes");
    assert!(window.shows("Spring"));
    window.press("The year");
    assert_eq!(title(&window), "A year at Withybed", "the year was lost");
}

#[test]
fn a_changed_year_is_asked_about_before_it_goes() {
    let mut window = with_example();
    retitle(&mut window, "Mine");
    assert!(window.app().year.is_unsaved());
    from_the_menu(&mut window, "New year");
    assert!(window.shows("Unsaved changes of the year"));
    window.press("Cancel");
    assert_eq!(title(&window), "Mine");
    from_the_menu(&mut window, "New year");
    window.press("Discard");
    assert_eq!(title(&window), "");
    assert!(!window.app().year.is_unsaved());
}

#[test]
fn the_window_does_not_close_over_an_unsaved_year() {
    let mut window = with_example();
    retitle(&mut window, "Mine");
    window.harness.state_mut().ask(Action::Show(View::Mix));
    window.harness.state_mut().ask(Action::Quit);
    window.run();
    assert!(window.shows("Unsaved changes of the year"));
}

#[test]
fn saved_by_key_it_gets_its_ending_and_opens_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.year.ron");
    let chosen = folder.path().join("garden");
    let mut window = window_in(folder, None, dialog_that_answers(chosen));
    window.command(Key::Num4);
    window.press("The year");
    window.press("Open the example");
    let recipe = window.app().project.clone();
    retitle(&mut window, "Mine");
    window.command(Key::S);
    window.wait_for_dialog();
    assert_eq!(saved_title(&path), "Mine");
    assert!(!window.app().year.is_unsaved());
    assert_eq!(
        window.app().store.path,
        None,
        "the recipe was not asked for"
    );
    // A dropped, typed or chosen file of this ending is a year and takes no recipe's place.
    from_the_menu(&mut window, "New year");
    window.ask(Action::OpenFile(path.clone()));
    assert_eq!(title(&window), "Mine");
    assert_eq!(window.app().project, recipe);
    // From now on saving asks nothing.
    retitle(&mut window, "Mine again");
    window.command(Key::S);
    assert_eq!(saved_title(&path), "Mine again");
}

#[test]
fn a_file_in_the_way_is_asked_about() {
    let mut window = with_example();
    let path = window.folder.path().join("taken.year.ron");
    std::fs::write(&path, "something else").unwrap();
    window.command_shift(Key::E);
    window.use_path(&path, "Save here");
    assert!(window.shows("Replace the file?"));
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "something else");
    window.press("Replace it");
    assert_eq!(saved_title(&path), "A year at Withybed");
}

#[test]
fn a_damaged_year_leaves_the_open_one_alone() {
    let mut window = with_example();
    let path = window.folder.path().join("bad.year.ron");
    std::fs::write(&path, "(format: 1, title: \"x\", ").unwrap();
    from_the_menu(&mut window, "By path…");
    window.use_path(&path, "Open this file");
    assert!(window.shows("ends too early"));
    assert_eq!(title(&window), "A year at Withybed");
    // The field stays, so that the path can be corrected.
    let mut good = window.app().year.open.as_ref().unwrap().file.clone();
    good.title = "Another".to_owned();
    write_year(&path, &good).unwrap();
    window.press("Open this file");
    assert_eq!(title(&window), "Another");
}

#[test]
fn undo_takes_back_what_is_looked_at() {
    let mut window = with_example();
    retitle(&mut window, "Mine");
    let recipe = window.app().project.clone();
    window.press("Undo");
    assert_eq!(title(&window), "A year at Withybed");
    assert_eq!(window.app().project, recipe);
    window.press("Redo");
    assert_eq!(title(&window), "Mine");
    // Elsewhere the recipe is undone.
    window
        .harness
        .state_mut()
        .ask(Action::Year(YearAction::Show(SeasonsPage::Recipes)));
    window.run();
    window.command(Key::Z);
    assert_eq!(title(&window), "Mine");
}

#[test]
fn the_year_last_worked_on_is_open_again_next_time() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("garden.year.ron");
    let mut window = window_in(folder, Some(path.clone()), no_dialog());
    assert!(
        window.app().year.open.is_none(),
        "there is no such file yet"
    );
    window
        .harness
        .state_mut()
        .ask(Action::Year(YearAction::Example));
    window.run();
    window.command_shift(Key::E);
    window.use_path(&path, "Save here");
    let Window { harness, folder } = window;
    drop(harness);
    let mut window = window_in(folder, None, no_dialog());
    window.command(Key::Num4);
    window.press("The year");
    assert_eq!(title(&window), "A year at Withybed");
    // Given as the file to open, it is shown at once.
    let Window { harness, folder } = window;
    drop(harness);
    let window = window_in(folder, Some(path), no_dialog());
    assert_eq!(window.app().state.view, View::Seasons);
    assert_eq!(title(&window), "A year at Withybed");
}
