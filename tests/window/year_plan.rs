//! The year on its page: edited, planned behind the window, decided by hand in two clicks, opened as recipes.

use std::time::{Duration, Instant};

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::assess::planned::Site;
use heapwright::text::number::rounded;
use heapwright::window::action::YearAction;
use heapwright::window::piles::year_desk::{OpenYear, YearTab};
use heapwright::window::{Action, View};
use heapwright::year::{Keeps, Plan, Wish};

use super::support::{Window, dialog_that_answers, window, window_in};

fn open(window: &Window) -> &OpenYear {
    window.app().year.open.as_ref().unwrap()
}

fn plan(window: &Window) -> &Plan {
    let shown = window.app().year.shown.as_ref().unwrap();
    shown.answer.as_ref().unwrap()
}

/// The example, planned.
fn planned() -> Window {
    planned_in(window())
}

fn planned_in(mut window: Window) -> Window {
    window
        .harness
        .state_mut()
        .ask(Action::Year(YearAction::Example));
    window.run();
    window.wait_for_year();
    window
}

fn tab(window: &mut Window, tab: YearTab) {
    window
        .harness
        .state_mut()
        .ask(Action::Year(YearAction::Tab(tab)));
    window.run();
}

fn build(bay: &str, month: u8) -> Wish {
    Wish::Build {
        bay: bay.to_owned(),
        month,
    }
}

fn ask(window: &mut Window, action: YearAction) {
    window.harness.state_mut().ask(Action::Year(action));
    window.run();
}

#[test]
fn the_plan_comes_by_itself_and_every_heap_is_shown_with_its_heat() {
    let window = planned();
    assert!(!plan(&window).heaps.is_empty());
    assert!(window.shows("Bay 1, begun in October"));
    assert!(window.shows("Roughly: up to"));
    assert!(window.shows("What becomes of it"));
    let shown = window.app().year.shown.as_ref().unwrap();
    assert!(shown.warmth.iter().all(Option::is_some));
    assert_eq!(shown.of.site, Site::of(&window.app().project));
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn two_clicks_build_a_heap_in_a_month_and_two_take_it_back() {
    let mut window = planned();
    let before = plan(&window).clone();
    let free = |heap: &heapwright::year::PlannedHeap| (heap.bay, heap.month) == (0, 5);
    assert!(
        !before.heaps.iter().any(free),
        "the example builds there by itself"
    );
    window.press("Bay 1 in March");
    window.press("Build here in March");
    assert_eq!(open(&window).file.year.wishes, [build("Bay 1", 3)]);
    window.wait_for_year();
    assert!(plan(&window).heaps.iter().any(free));
    assert!(window.shows("A heap begun in Bay 1 in March"));
    // Keeping it empty takes the place of building there.
    window.press("Bay 1 in March");
    window.press("Keep empty in March");
    let empty = Wish::Empty {
        bay: "Bay 1".to_owned(),
        month: 3,
    };
    assert_eq!(open(&window).file.year.wishes, [empty]);
    window.wait_for_year();
    let stands = |heap: &heapwright::year::PlannedHeap| {
        heap.bay == 0 && (heap.month..heap.free_from).contains(&5)
    };
    assert!(!plan(&window).heaps.iter().any(stands));
    window.press("Drop: Bay 1 empty in March");
    assert!(open(&window).file.year.wishes.is_empty());
    window.wait_for_year();
    assert_eq!(plan(&window).objective, before.objective);
    // Each was one step.
    window.command(Key::Z);
    assert_eq!(open(&window).file.year.wishes.len(), 1);
}

#[test]
fn wishes_that_contradict_each_other_are_named_and_dropped() {
    let mut window = planned();
    for wish in [build("Bay 1", 5), build("Bay 3", 4), build("Bay 1", 6)] {
        ask(&mut window, YearAction::Decide(wish));
    }
    window.wait_for_year();
    assert!(window.shows("There is no plan: wish 1 (a heap begun in Bay 1 in May)"));
    let marks = window.harness.query_all_by_label("contradicts").count();
    assert_eq!(marks, 2, "the wish for Bay 3 is not to blame");
    window.press("Drop: a heap begun in Bay 1 in June");
    window.wait_for_year();
    assert!(!window.shows("There is no plan"));
    assert!(window.app().year.shown.as_ref().unwrap().answer.is_ok());
}

#[test]
fn a_typed_amount_of_a_heap_is_kept_to() {
    let mut window = planned();
    let year = &open(&window).file.year;
    let heap = &plan(&window).heaps[0];
    assert_eq!(year.bays[heap.bay].name, "Bay 1");
    let field = "Autumn leaves, dry and loose in Bay 1, begun in October";
    window.type_number(field, "some");
    assert!(window.shows("is no amount"));
    assert!(open(&window).file.year.wishes.is_empty());
    window.type_number(field, "11,5");
    let put = Wish::Put {
        bay: "Bay 1".to_owned(),
        month: 10,
        material: "leaves_dry_loose".to_owned(),
        amount: 11.5,
    };
    assert_eq!(open(&window).file.year.wishes, [put]);
    window.wait_for_year();
    let heap = plan(&window)
        .heaps
        .iter()
        .find(|heap| (heap.bay, heap.month) == (0, 0))
        .unwrap();
    let row = heap
        .mix
        .ingredients
        .iter()
        .find(|row| row.material == "leaves_dry_loose")
        .unwrap();
    assert!(
        (row.amount.value - 11.5).abs() < 1e-6,
        "{}",
        row.amount.value
    );
}

#[test]
fn what_arrives_is_typed_as_people_type_it() {
    let mut window = planned();
    tab(&mut window, YearTab::Arrivals);
    let monthly = |window: &Window, row: usize| open(window).file.year.arrivals[row].monthly;
    window.type_number("Autumn leaves, dry and loose in Oct", "2,5");
    assert_eq!(monthly(&window, 0)[9], 2.5);
    window.type_number("Autumn leaves, dry and loose in Nov", "½");
    assert_eq!(monthly(&window, 0)[10], 0.5);
    // Nonsense changes nothing and says so.
    window.type_number("Autumn leaves, dry and loose in Nov", "many");
    assert_eq!(monthly(&window, 0)[10], 0.5);
    assert!(window.shows("is no amount"));
    window.wait_for_year();
    let arrived: f64 = plan(&window).fates[0].arrived.iter().sum();
    assert_eq!(rounded(arrived), "13");
    window.command(Key::Z);
    assert_eq!(monthly(&window, 0)[10], 34.0);
}

#[test]
fn a_material_is_added_and_removed_with_what_names_it() {
    let mut window = planned();
    let name = "coffee_grounds".to_owned();
    let spoils = Wish::NoneSpoils {
        material: name.clone(),
    };
    ask(&mut window, YearAction::Decide(spoils));
    tab(&mut window, YearTab::Arrivals);
    // It may lie below what is shown of the table.
    window
        .harness
        .get_by_role_and_label(Role::Button, "Remove Coffee grounds")
        .click_accesskit();
    window.run();
    let year = &open(&window).file.year;
    assert!(!year.arrivals.iter().any(|row| row.material == name));
    assert!(year.wishes.is_empty());
    assert!(year.bays.iter().all(|bay| !bay.takes.contains(&name)));
    window.press("+ Add material…");
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search materials")
        .type_text("coffee grounds");
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    let added = open(&window).file.year.arrivals.last().unwrap();
    assert_eq!(added.monthly, [0.0; 12]);
    assert!(window.shows("Coffee grounds"));
    // A second row of the same is refused.
    let id = added.material.clone();
    let rows = open(&window).file.year.arrivals.len();
    ask(&mut window, YearAction::AddArrival(id));
    assert_eq!(open(&window).file.year.arrivals.len(), rows);
    assert!(window.shows("stands twice"));
}

#[test]
fn a_bay_is_added_named_and_removed() {
    let mut window = planned();
    ask(&mut window, YearAction::Decide(build("Bay 2", 5)));
    tab(&mut window, YearTab::Bays);
    window.press("+ Add bay");
    let names = |window: &Window| -> Vec<String> {
        let bays = open(window).file.year.bays.iter();
        bays.map(|bay| bay.name.clone()).collect()
    };
    assert_eq!(names(&window).last().unwrap(), "Bay 4");
    ask(
        &mut window,
        YearAction::RenameBay(1, "By the hedge".to_owned()),
    );
    assert_eq!(names(&window)[1], "By the hedge");
    assert_eq!(open(&window).file.year.wishes, [build("By the hedge", 5)]);
    // A name that is taken is refused, and the wish stays with its bay.
    ask(&mut window, YearAction::RenameBay(1, "Bay 1".to_owned()));
    assert_eq!(names(&window)[1], "By the hedge");
    window.press("Remove bay 2");
    assert!(!names(&window).contains(&"By the hedge".to_owned()));
    assert!(open(&window).file.year.wishes.is_empty());
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn how_long_it_keeps_changes_what_spoils() {
    let mut window = planned();
    let spoiled = |window: &Window| plan(window).fates[1].spoiled.iter().sum::<f64>();
    let before = spoiled(&window);
    assert!(before > 1.0);
    let state = window.harness.state_mut();
    let file = &mut state.bench.year.open.as_mut().unwrap().file;
    file.year.arrivals[1].keeps = Some(Keeps::Months(6));
    window.run();
    window.wait_for_year();
    assert!(spoiled(&window) < before);
}

#[test]
fn the_newest_year_wins() {
    let mut window = planned();
    for amount in [1.0, 2.0, 3.0, 4.0] {
        let state = window.harness.state_mut();
        let file = &mut state.bench.year.open.as_mut().unwrap().file;
        file.year.arrivals[0].monthly[9] = amount;
        // A frame each: what was begun for the one before is called off.
        window.harness.step();
    }
    window.wait_for_year();
    let shown = window.app().year.shown.as_ref().unwrap();
    assert_eq!(shown.of.file.year.arrivals[0].monthly[9], 4.0);
}

#[test]
fn a_heap_of_the_plan_opens_as_a_recipe_and_nothing_is_lost() {
    let mut window = planned();
    window.harness.state_mut().bench.project.title = "My own".to_owned();
    window.run();
    window.press("Bay 1 in October");
    // The same words stand in the plan above and in the menu.
    let words = "Open the October heap of Bay 1";
    window
        .harness
        .get_all_by_label(words)
        .last()
        .unwrap()
        .click();
    window.run();
    assert!(window.shows("Unsaved changes"));
    window.press("Cancel");
    assert_eq!(window.app().project.title, "My own");
    ask(&mut window, YearAction::OpenHeap(0));
    window.press("Discard");
    let app = window.app();
    assert_eq!(app.project.title, "October heap, Bay 1");
    assert_eq!(app.project.place, "Bay 1");
    assert_eq!(app.state.view, View::Mix);
    assert!(app.is_unsaved(), "it is in no file yet");
    assert_eq!(app.project.mix, plan(&window).heaps[0].mix);
    assert!(!app.project.heap.plan.events.is_empty());
    assert!(!app.year.is_unsaved(), "the year itself has not changed");
}

#[test]
fn page_and_dates_are_written() {
    let folder = tempfile::tempdir().unwrap();
    let chosen = folder.path().join("garden");
    let mut window = planned_in(window_in(folder, None, dialog_that_answers(chosen.clone())));
    for (button, ending, begins) in [
        ("Print on a page…", "pdf", "%PDF"),
        ("Dates for a calendar…", "ics", "BEGIN:VCALENDAR"),
    ] {
        window.press(button);
        window.wait_for_dialog();
        let path = chosen.with_extension(ending);
        let begun = Instant::now();
        while !path.exists() {
            window.harness.step();
            std::thread::sleep(Duration::from_millis(5));
            assert!(
                begun.elapsed() < Duration::from_secs(60),
                "no {ending} came"
            );
        }
        let written = std::fs::read(&path).unwrap();
        assert!(written.starts_with(begins.as_bytes()), "{ending}");
        window.run();
    }
}

#[test]
fn an_empty_year_says_what_to_do_first() {
    let mut window = window();
    ask(&mut window, YearAction::New);
    window.wait_for_year();
    assert!(window.shows("add a material and say how much of it comes in each month"));
    tab(&mut window, YearTab::Bays);
    window.press("Remove bay 1");
    assert!(window.shows("add a bay"));
    tab(&mut window, YearTab::Plan);
    window.wait_for_year();
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}
