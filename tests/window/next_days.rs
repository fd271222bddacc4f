//! The next days in the Results view: the next thing due in the heading, the list below it, dated by the clock handed in.

use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::garden::TestResult;
use heapwright::outcome::shared;
use heapwright::window::verbs::Clock;
use jiff::civil::date;

use super::support::{Window, window};

/// The Results view of the demo, as seen on a day.
fn seen_on(day: jiff::civil::DateTime, built: Option<jiff::civil::DateTime>) -> Window {
    let mut window = window();
    window.harness.state_mut().bench.clock = Clock::Stands(day);
    window.harness.state_mut().bench.project.diary.built = built;
    window.run();
    window.press("Results");
    window
}

fn texts(window: &Window) -> Vec<String> {
    let root = window.harness.root();
    let nodes = root.children_recursive().map(|node| node.accesskit_node());
    nodes
        .flat_map(|node| [node.label(), node.value()])
        .flatten()
        .collect()
}

fn open(window: &mut Window) {
    window
        .harness
        .get_all_by(|node| {
            node.label()
                .is_some_and(|label| label.starts_with("Next days: "))
        })
        .next()
        .unwrap()
        .click_accesskit();
    window.run();
}

#[test]
fn the_next_thing_due_stands_in_the_heading_and_the_rest_below_it() {
    let mut window = seen_on(date(2027, 3, 1).at(9, 0, 0, 0), None);
    // The demo is built on 25 October (day 298 of a common year).
    let heading = "Next days: Mon 25 October 2027, build the heap";
    assert!(texts(&window).iter().any(|text| text == heading));
    open(&mut window);
    let all = texts(&window);
    let has = |words: &str| all.iter().any(|text| text.contains(words));
    assert!(has("does not stand yet"), "{all:?}");
    assert!(has("Read the thermometer"));
    assert!(has("Save dates as calendar"));
    assert!(has("Cornell Composting"), "the rules name their source");
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn a_heap_that_stands_is_dated_from_its_diary() {
    let built = date(2026, 10, 25).at(10, 0, 0, 0);
    let mut window = seen_on(date(2026, 11, 2).at(9, 0, 0, 0), Some(built));
    open(&mut window);
    let all = texts(&window);
    assert!(
        all.iter()
            .any(|text| text.contains("from the day it was built, Sun 25 October 2026"))
    );
    let past = |text: &String| text.contains("October 2026") && !text.contains("built");
    assert!(!all.iter().any(past), "nothing in the past: {all:?}");
}

#[test]
fn a_failed_field_test_changes_the_answer_to_when() {
    let mut window = window();
    window.press("Results");
    let cress = shared()
        .unwrap()
        .finish
        .tests
        .iter()
        .find(|it| it.id == "cress")
        .unwrap();
    let failed = cress
        .results
        .iter()
        .position(|it| it.seen.starts_with("less"))
        .unwrap();
    window
        .harness
        .state_mut()
        .bench
        .project
        .field_tests
        .push(TestResult {
            test: cress.id.clone(),
            day: 110.0,
            result: failed,
            note: String::new(),
        });
    for _ in 0..200 {
        window.run();
        if window.shows("says not for seedlings and pots") {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    panic!("the test was not heard: {:?}", texts(&window));
}
