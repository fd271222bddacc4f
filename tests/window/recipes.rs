//! Kept recipes and examples in the Seasons view: found, opened, started again, copied, renamed, put away, compared.

use std::path::PathBuf;
use std::time::Duration;

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::document::library::list;
use heapwright::document::{Folders, NAME_LIMIT, Project, examples, file};
use heapwright::material::Catalogue;
use heapwright::text::number::unparted;
use heapwright::text::recipes::{copy_of, start_again, title_of_year};
use heapwright::window::action::{Action, RecipeAction, Reply};
use heapwright::window::piles::recipe_cards::{CardKey, RecipesPage};
use heapwright::window::verbs::workbench::Clock;
use heapwright::window::{View, WindowState};
use jiff::civil::date;

use super::support::{Window, no_dialog, window, window_in};

/// Five examples, and as many recipes of one's own as are named.
fn window_with(titles: &[&str]) -> Window {
    let folder = tempfile::tempdir().unwrap();
    keep(&Folders::under(folder.path()), titles);
    let mut window = window_in(folder, None, no_dialog());
    window.harness.state_mut().bench.clock = Clock::Stands(date(2026, 11, 27).at(9, 0, 0, 0));
    window.command(Key::Num4);
    window
}

fn keep(folders: &Folders, titles: &[&str]) -> Vec<PathBuf> {
    std::fs::create_dir_all(&folders.recipes).unwrap();
    let kept = titles.iter().enumerate().map(|(place, title)| {
        let mut project = examples().unwrap().remove(0);
        project.title = (*title).to_owned();
        project.place = "Behind the shed".to_owned();
        let path = folders.recipes.join(format!("{place:03}.heap.ron"));
        file::write(&path, &project, None).unwrap();
        path
    });
    kept.collect()
}

fn folders(window: &Window) -> Folders {
    Folders::under(window.folder.path())
}

fn kept_titles(window: &Window) -> Vec<String> {
    let all = list(&folders(window)).recipes.into_iter();
    all.map(|recipe| recipe.title).collect()
}

fn state(window: &Window) -> &WindowState {
    &window.app().state
}

fn ask(window: &mut Window, action: RecipeAction) {
    window.harness.state_mut().ask(Action::Recipe(action));
    window.run();
}

fn path_of(window: &Window, title: &str) -> PathBuf {
    let all = list(&folders(window)).recipes;
    let found = all.into_iter().find(|recipe| recipe.title == title);
    found.unwrap().path
}

fn key_of(window: &Window, title: &str) -> CardKey {
    let mut all = window.app().shelf.cards.iter();
    all.find(|listed| listed.title == title)
        .unwrap()
        .key
        .clone()
}

/// Names of the buttons that open a recipe, as they are laid out.
fn offered(window: &Window) -> Vec<String> {
    let all = window.harness.root().children_recursive();
    let buttons = all
        .map(|node| node.accesskit_node())
        .filter(|node| node.role() == Role::Button);
    let names = buttons.filter_map(|node| node.label());
    let titles = names.filter_map(|name| {
        let named = name.strip_prefix("Open ")?.to_owned();
        Some(
            named
                .strip_prefix("the example ")
                .map_or(named.clone(), str::to_owned),
        )
    });
    titles.collect()
}

/// Lets the background work until this holds.
fn wait_until(window: &mut Window, holds: impl Fn(&Window) -> bool) {
    window.harness.state_mut().bench.refines = true;
    for _ in 0..2400 {
        window.harness.step();
        if holds(window) {
            window.harness.step();
            return;
        }
        std::thread::sleep(Duration::from_millis(25));
    }
    panic!("the background never answered");
}

#[test]
fn the_examples_are_offered_at_once_and_opening_one_leaves_it_as_it_is() {
    let mut window = window_with(&[]);
    let titles: Vec<String> = examples().unwrap().into_iter().map(|it| it.title).collect();
    let mut offered = offered(&window);
    offered.sort();
    let mut expected = titles.clone();
    expected.sort();
    assert_eq!(offered, expected);
    window.press("Open the example Summer hot heap");
    assert_eq!(state(&window).view, View::Mix);
    assert_eq!(window.app().project.title, "Summer hot heap");
    assert!(window.app().store.path.is_none(), "a copy has no file");
    assert!(!window.app().is_unsaved());
    window.harness.state_mut().bench.project.title = "Mine".to_owned();
    window.run();
    window.command(Key::Num4);
    window.press("Keep “Mine” in Summer");
    assert_eq!(kept_titles(&window), ["Mine"]);
    assert_eq!(window.app().shelf.examples, examples().unwrap());
}

#[test]
fn words_find_title_place_notes_and_materials() {
    let mut window = window_with(&["Bracken and fern"]);
    for (query, expected) in [
        ("fern", vec!["Bracken and fern"]),
        ("shed BEHIND", vec!["Bracken and fern"]),
        ("kitchen door", vec!["Winter kitchen bin"]),
        // A word of the notes, one of a material's name, both in one recipe.
        ("egg boxes peelings", vec!["Winter kitchen bin"]),
        ("bracken kitchen", vec![]),
    ] {
        window
            .harness
            .get_by_role_and_label(Role::TextInput, "Find recipes")
            .set_text_value_accesskit(query);
        window.run();
        assert_eq!(offered(&window), expected, "{query}");
    }
    assert!(window.shows("0 recipes"));
    assert!(window.shows("Nothing found here."));
}

#[test]
fn of_many_recipes_only_those_on_screen_are_laid_out() {
    let titles: Vec<String> = (0..200)
        .map(|number| format!("Leaves {number:03}"))
        .collect();
    let titles: Vec<&str> = titles.iter().map(String::as_str).collect();
    let window = window_with(&titles);
    let offered = offered(&window);
    assert!(offered.contains(&"Leaves 000".to_owned()));
    assert!(offered.len() < 15, "{} are laid out", offered.len());
    // Nothing is asked of those that nobody sees.
    let known = window.app().shelf.cards.len();
    assert_eq!(known, 205);
}

#[test]
fn files_that_are_no_recipes_are_told_and_hide_none_of_the_others() {
    let mut window = window_with(&["Bracken"]);
    let folder = folders(&window).recipes;
    for name in ["a", "b", "c", "d"] {
        std::fs::write(folder.join(format!("{name}.heap.ron")), "(for").unwrap();
    }
    ask(&mut window, RecipeAction::Show(RecipesPage::Cards));
    assert!(window.shows("a.heap.ron"));
    assert!(window.shows("and 1 more file that cannot be read"));
    assert!(offered(&window).contains(&"Bracken".to_owned()));
}

#[test]
fn started_again_it_is_a_new_recipe_of_the_coming_season() {
    let mut window = window_with(&[]);
    let (season, today) = (heapwright::document::Season::Autumn, date(2026, 11, 27));
    assert_eq!(
        start_again(season, date(2027, 10, 25), date(2026, 12, 24)),
        "Start next autumn’s"
    );
    let name = format!(
        "{} from the example Autumn leaves, with a diary",
        start_again(season, today, today)
    );
    window.press(&name);
    let project = &window.app().project;
    assert_eq!(project.title, "Autumn leaves, with a diary 2026");
    assert!(project.diary.is_empty());
    let lesson = "\nThe heap before: built 25 Oct 2026; 58 °C read on day 7.";
    assert!(project.notes.ends_with(lesson), "{}", project.notes);
    assert_eq!(project.beds, examples().unwrap()[1].beds);
    assert_eq!(project.place, "Withybed School Garden, bay 1");
    // 27 November.
    assert_eq!(project.heap.start_day_of_year, 331.0);
    assert!(window.app().is_unsaved() && window.app().store.path.is_none());
    assert_eq!(state(&window).view, View::Mix);
    assert_eq!(
        title_of_year("Leaves 2026", date(2027, 10, 25)),
        "Leaves 2027"
    );
    assert_eq!(title_of_year("Heap 7", date(2027, 10, 25)), "Heap 7 2027");
    let longest = "ü".repeat(NAME_LIMIT);
    for made in [
        title_of_year(&longest, date(2027, 10, 25)),
        copy_of(&longest),
    ] {
        assert!(made.chars().count() <= NAME_LIMIT);
    }
}

#[test]
fn starting_again_asks_about_unsaved_changes_first() {
    let mut window = window_with(&["Bracken"]);
    window.harness.state_mut().bench.project.notes.push('!');
    window.run();
    let edited = window.app().project.clone();
    let key = key_of(&window, "Bracken");
    let built = date(2026, 11, 27);
    ask(&mut window, RecipeAction::StartAgain { key, built });
    assert!(window.shows("Unsaved changes"));
    window.harness.state_mut().ask(Action::Reply(Reply::Cancel));
    window.run();
    assert_eq!(window.app().project, edited);
}

#[test]
fn a_copy_stands_beside_it_and_another_title_moves_the_file() {
    let mut window = window_with(&["Bracken"]);
    window.press("More for Bracken");
    window.press("Duplicate");
    assert_eq!(kept_titles(&window), ["Bracken", "Bracken, copy"]);
    window.press("More for Bracken, copy");
    window.press("Rename…");
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "New title")
        .set_text_value_accesskit("Fern");
    window.run();
    window.press("Rename");
    assert_eq!(kept_titles(&window), ["Bracken", "Fern"]);
    assert!(folders(&window).recipes.join("fern.heap.ron").exists());
    assert!(offered(&window).contains(&"Fern".to_owned()));
    // By keyboard: Escape leaves it, Enter takes it.
    let path = path_of(&window, "Fern");
    ask(&mut window, RecipeAction::StartRename(path.clone()));
    window.harness.key_press(Key::Escape);
    window.run();
    assert_eq!(state(&window).recipes.renaming, None);
    ask(&mut window, RecipeAction::StartRename(path));
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "New title")
        .type_text(" and moss");
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    assert!(
        kept_titles(&window)
            .iter()
            .any(|title| title.contains("and moss"))
    );
}

#[test]
fn the_open_recipe_follows_its_new_title_and_keeps_what_is_unsaved() {
    let mut window = window_with(&["Bracken"]);
    let path = path_of(&window, "Bracken");
    window.ask(Action::OpenFile(path.clone()));
    window.harness.state_mut().bench.project.notes = "Unsaved.".to_owned();
    window.run();
    ask(&mut window, RecipeAction::StartRename(path));
    let renaming = &mut window.harness.state_mut().bench.state.recipes.renaming;
    renaming.as_mut().unwrap().title = "Fern".to_owned();
    ask(&mut window, RecipeAction::Rename);
    let bench = window.app();
    assert_eq!(bench.project.title, "Fern");
    assert_eq!(bench.project.notes, "Unsaved.");
    assert!(bench.is_unsaved());
    let now = path_of(&window, "Fern");
    assert_eq!(window.app().store.path.as_deref(), Some(now.as_path()));
    // Saving is no conflict with the renaming.
    window.command(Key::S);
    assert_eq!(state(&window).question, None);
    let read = file::read(&now, &Catalogue::built_in().unwrap()).unwrap();
    assert_eq!(read.project, window.app().project);
}

#[test]
fn what_is_put_away_is_brought_back_from_the_bin() {
    let mut window = window_with(&["Bracken", "Fern"]);
    window.press("More for Fern");
    window.press("Move to the bin");
    assert_eq!(kept_titles(&window), ["Bracken"]);
    assert!(!offered(&window).contains(&"Fern".to_owned()));
    window.press("Bin (1)");
    window.press("Bring back Fern");
    assert!(window.shows("The bin is empty."));
    window.harness.key_press(Key::Escape);
    window.run();
    assert_eq!(state(&window).recipes.page, RecipesPage::Cards);
    assert!(offered(&window).contains(&"Fern".to_owned()));
    assert_eq!(kept_titles(&window), ["Bracken", "Fern"]);
}

#[test]
fn the_open_recipe_stays_open_when_it_is_put_away() {
    let mut window = window_with(&["Bracken"]);
    let path = path_of(&window, "Bracken");
    window.ask(Action::OpenFile(path.clone()));
    let open: Project = window.app().project.clone();
    ask(&mut window, RecipeAction::PutAway(path.clone()));
    assert_eq!(window.app().project, open);
    assert!(window.app().is_unsaved() && window.app().store.path.is_none());
    assert!(!state(&window).settings.recent.contains(&path));
}

#[test]
fn cards_are_calculated_behind_the_window_and_kept_by_the_state_of_their_file() {
    let mut window = window_with(&["Bracken"]);
    let key = key_of(&window, "Bracken");
    assert!(!window.app().shown.cards.knows(&key));
    let diary = key_of(&window, "Autumn leaves, with a diary");
    wait_until(&mut window, |window| {
        let cards = &window.app().shown.cards;
        cards.knows(&key) && cards.knows(&diary)
    });
    // What the file says is projected is what the card says; what a diary says comes before that.
    let project = &examples().unwrap()[0];
    let assessed = heapwright::assess::Assessed::of(project, &Catalogue::built_in().unwrap());
    let peak_c = assessed.unwrap().projection.unwrap().summary.peak_c;
    let at_most = unparted(&format!("Projected: {peak_c:.0} °C at most"));
    let figures: Vec<String> = figures(&window);
    let bracken = figures
        .iter()
        .find(|it| it.starts_with("Bracken at a glance"));
    assert!(unparted(bracken.unwrap()).contains(&at_most), "{bracken:?}");
    let diary = figures
        .iter()
        .find(|it| it.starts_with("the example Autumn leaves, with a diary at"));
    let diary = diary.unwrap();
    // Read by hand on 1 November at 16:00, built on 25 October at 12:00: 58.5 degC on day 7.
    assert!(
        diary.contains("Built 25 Oct 2026; 58 °C read on day 7"),
        "{diary}"
    );
    assert!(diary.contains("Not done yet: day 32 of"), "{diary}");
    // Written anew it is another state, which is calculated anew.
    let path = path_of(&window, "Bracken");
    let mut project = examples().unwrap().remove(2);
    project.title = "Bracken".to_owned();
    project.season = heapwright::document::Season::Autumn;
    file::write(&path, &project, None).unwrap();
    window.harness.state_mut().ask(Action::Show(View::Seasons));
    window.harness.step();
    window.harness.step();
    let anew = key_of(&window, "Bracken");
    assert_ne!(anew, key);
    assert!(!window.app().shown.cards.knows(&key));
    wait_until(&mut window, |window| window.app().shown.cards.knows(&anew));
}

/// What the figures of the window say.
fn figures(window: &Window) -> Vec<String> {
    let all = window.harness.root().children_recursive();
    let figures = all
        .map(|node| node.accesskit_node())
        .filter(|node| node.role() == Role::Figure);
    figures.filter_map(|node| node.label()).collect()
}

#[test]
fn two_are_compared_side_by_side_with_their_bands() {
    let mut window = window_with(&[]);
    for title in ["Spring grass glut", "Autumn leaves and last grass"] {
        window
            .harness
            .get_by_role_and_label(Role::CheckBox, &format!("Compare the example {title}"))
            .click();
        window.run();
    }
    assert!(window.shows("Two are ticked."));
    window
        .harness
        .get_by_role_and_label(Role::Button, "Compare")
        .click();
    wait_until(&mut window, |window| {
        let compared = &window.app().shown.compared;
        !compared.busy && compared.both().is_some()
    });
    let both = window.app().shown.compared.both().unwrap();
    assert!(both.iter().all(|side| side.curve.band.is_some()));
    for words in [
        "Side by side",
        "Autumn leaves, mixed, as raked",
        "planned for 25 October",
        "Withybed School Garden, bay 2",
        "The same in both",
    ] {
        assert!(window.shows(words), "{words}");
    }
    let figures = figures(&window);
    let figure = figures.iter().find(|it| it.starts_with("Heat of both."));
    let figure = figure.unwrap();
    assert!(figure.contains("Spring grass glut") && figure.contains("last grass"));
    window.harness.key_press(Key::Escape);
    window.harness.step();
    window.harness.step();
    assert_eq!(state(&window).recipes.page, RecipesPage::Cards);
    // A third tick takes the place of the first.
    let third = key_of(&window, "Summer hot heap");
    ask(&mut window, RecipeAction::Tick(third.clone()));
    let autumn = key_of(&window, "Autumn leaves and last grass");
    assert_eq!(state(&window).recipes.ticked, [autumn, third]);
    ask(&mut window, RecipeAction::TickNone);
    assert!(state(&window).recipes.ticked.is_empty());
}

#[test]
fn a_new_recipe_starts_without_the_examples_place_and_beds() {
    let mut window = window();
    window.command(Key::N);
    let project = &window.app().project;
    assert!(project.place.is_empty() && project.beds.is_empty() && project.uses.is_empty());
    assert!(project.title.is_empty() && project.mix.ingredients.is_empty());
    assert!(!project.heap.climate.name.contains("Withybed"));
}

#[test]
fn the_keyboard_reaches_every_control_of_the_recipes() {
    let mut window = window_with(&["Bracken", "Fern"]);
    window.assert_tab_reaches(
        80,
        &[
            "Find recipes",
            "Bin (0)",
            "Open Bracken",
            "Compare Bracken",
            "Start this autumn’s from Bracken",
            "More for Bracken",
            "Open Fern",
            "Open the example Winter kitchen bin",
            "Start this winter’s from the example Winter kitchen bin",
        ],
    );
    for page in [RecipesPage::Bin, RecipesPage::Compared, RecipesPage::Cards] {
        ask(&mut window, RecipeAction::Show(page));
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
    let path = path_of(&window, "Fern");
    ask(&mut window, RecipeAction::StartRename(path));
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}
