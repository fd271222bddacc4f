//! The Results view: every line can be traced, beds share the compost out, nothing promises.

use std::collections::BTreeSet;

use eframe::egui::accesskit::Role;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::garden::{Bed, Need, Use};
use heapwright::heap::{Event, Operation, Turning};
use heapwright::outcome::headline::headline;
use heapwright::outcome::{Facts, Judgement, Outcome, shared};
use heapwright::quantity::UnitSystem;
use heapwright::text::outcome as words;
use heapwright::window::results::outcome_list::{
    EACH_RULE, NOT_IN_THIS_MIX, OTHER_RULES, TOPICS, spoken,
};
use heapwright::window::{Action, View};

use super::support::{Window, window};

fn spread_window() -> Window {
    let mut window = window();
    window.press("Results");
    window
}

fn outcome(window: &Window) -> Outcome {
    Outcome::clone(window.app().shown.stages.outcome().unwrap())
}

/// What a screen reader says of a line.
fn said(judgement: &Judgement<'_>) -> String {
    spoken(judgement, UnitSystem::Metric)
}

/// Every text on screen, as a screen reader finds it.
fn texts(window: &Window) -> BTreeSet<String> {
    let root = window.harness.root();
    let nodes = root.children_recursive().map(|node| node.accesskit_node());
    nodes
        .flat_map(|node| [node.label(), node.value()])
        .flatten()
        .map(|text| text.replace('\u{a0}', " "))
        .collect()
}

/// What the beds are said to get, in order.
fn gets(window: &Window) -> Vec<String> {
    let root = window.harness.root();
    let nodes = root.children_recursive().map(|node| node.accesskit_node());
    nodes
        .filter(|node| node.role() == Role::Label)
        .filter_map(|node| node.value().or_else(|| node.label()))
        .filter(|text| text.starts_with("gets "))
        .map(|text| text.replace('\u{a0}', " "))
        .collect()
}

/// Presses a control wherever it stands, in or out of sight.
fn press_anywhere(window: &mut Window, role: Role, name: &str) {
    window
        .harness
        .get_by_role_and_label(role, name)
        .click_accesskit();
    window.run();
}

/// Presses a header or button whose words begin so.
fn press_beginning(window: &mut Window, words: &str) {
    window
        .harness
        .get_all_by(|node| {
            let pressed = matches!(node.role(), Role::Button | Role::DisclosureTriangle);
            pressed && node.label().is_some_and(|label| label.starts_with(words))
        })
        .next()
        .unwrap_or_else(|| panic!("no button begins with {words}"))
        .click_accesskit();
    window.run();
}

/// Opens every topic, and what is folded inside it.
fn unfold(window: &mut Window) {
    for topic in TOPICS {
        let root = window.harness.root();
        let there = root
            .children_recursive()
            .any(|node| node.accesskit_node().label().as_deref() == Some(words::topic(topic)));
        if there {
            press_beginning(window, words::topic(topic));
        }
    }
    for inner in [NOT_IN_THIS_MIX, EACH_RULE, OTHER_RULES] {
        let many = window
            .harness
            .get_all_by(|node| node.label().as_deref() == Some(inner))
            .count();
        for place in 0..many {
            window
                .harness
                .get_all_by(|node| node.label().as_deref() == Some(inner))
                .nth(place)
                .unwrap()
                .click_accesskit();
            window.run();
        }
    }
}

#[test]
fn three_plain_lines_stand_first_and_the_rest_is_folded() {
    let mut window = spread_window();
    let outcome = outcome(&window);
    let facts = shared().unwrap();
    let judgements = outcome.judgements(facts);
    let first = words::first_lines(&headline(&outcome, facts, &judgements), UnitSystem::Metric);
    for line in &first {
        assert!(
            window.shows(line.asks) && window.shows(&line.answer),
            "{line:?}"
        );
    }
    let lines = |window: &Window| {
        let shown = texts(window);
        judgements
            .iter()
            .filter(|it| shown.contains(&said(it).replace('\u{a0}', " ")))
            .count()
    };
    assert_eq!(lines(&window), 0);
    unfold(&mut window);
    assert_eq!(lines(&window), judgements.len());
    // An open bay is held against no rule for vessels, halls or forced air.
    for (rule, got) in facts.rules.iter().zip(&outcome.rules) {
        let row = words::rule_row(rule, got, UnitSystem::Metric);
        let in_table = window.shows(&format!("{}: {}", row.name, row.asks));
        assert_eq!(in_table, got.process_fits, "{}", rule.id);
    }
}

#[test]
fn every_line_opens_to_its_numbers_and_its_source() {
    let mut window = spread_window();
    unfold(&mut window);
    let outcome = outcome(&window);
    let judgements = outcome.judgements(shared().unwrap());
    assert!(judgements.len() > 20, "there are lines");
    assert!(
        judgements.iter().all(|it| TOPICS.contains(&it.id.topic())),
        "every topic is shown"
    );
    for judgement in &judgements {
        press_anywhere(&mut window, Role::Button, &said(judgement));
        assert_eq!(window.app().state.open_judgement, Some(judgement.id));
        let all = texts(&window);
        let shown = |text: &str| all.contains(&text.replace('\u{a0}', " "));
        let id = words::id(&judgement.finding);
        assert!(shown(&words::source(&judgement.finding)), "{id}");
        assert!(shown(words::trust(judgement.trust())), "{id}");
        for number in words::numbers(judgement, UnitSystem::Metric) {
            let (name, value) = (&number.name, &number.value);
            assert!(shown(name) && shown(value), "{name}: {value}");
        }
    }
}

#[test]
fn a_line_opens_and_folds_by_the_keyboard() {
    let mut window = spread_window();
    unfold(&mut window);
    let outcome = outcome(&window);
    let judgements = outcome.judgements(shared().unwrap());
    let mut first = judgements.iter().filter(|it| it.id.topic() == TOPICS[0]);
    let first = said(first.next().unwrap());
    for open in [true, false] {
        window
            .harness
            .get_by_role_and_label(Role::Button, &first)
            .focus();
        window.run();
        window.harness.key_press(eframe::egui::Key::Enter);
        window.run();
        assert_eq!(window.app().state.open_judgement.is_some(), open);
    }
}

#[test]
fn adding_a_bed_shares_the_compost_out_anew_and_undo_takes_it_back() {
    let mut window = spread_window();
    let facts = Facts::built_in().unwrap();
    let outcome = outcome(&window);
    let volume_m3 = outcome.produce.volume_m3.typical;
    // A first bed that takes all there is, then a second one above nothing: it gets nothing.
    window.harness.state_mut().bench.project.beds = vec![Bed {
        name: "all of it".to_owned(),
        area_m2: 1000.0,
        need: Need::High,
    }];
    window.run();
    let alone = gets(&window);
    assert_eq!(alone.len(), 1);
    window.press("+ Add bed");
    assert_eq!(window.app().project.beds.len(), 2);
    let both = gets(&window);
    assert_eq!(both[0], alone[0], "who comes first is served first");
    assert!(both[1].starts_with("gets nothing"), "{}", both[1]);
    // With a smaller first bed there is some left for the second; all of it together is what there is.
    window.type_number("Area of bed 1", "10");
    let given = facts.usage.dress(
        &outcome.produce,
        outcome.feeding.kind,
        &window.app().project.beds,
    );
    let litres: f64 = given.iter().map(|dressing| dressing.litres).sum();
    assert!(litres <= 1000.0 * volume_m3 + 1e-6);
    assert!(given[1].depth_m > 0.0);
    let now = gets(&window);
    assert_ne!(now[0], alone[0], "the depth follows the area");
    assert!(!now[1].starts_with("gets nothing"), "{}", now[1]);
    assert!(window.app().facts().undo.is_some());
    window.press("Undo");
    assert_eq!(window.app().project.beds[0].area_m2, 1000.0);
    window.press("Undo");
    assert_eq!(window.app().project.beds.len(), 1);
    assert_eq!(gets(&window), alone);
}

#[test]
fn a_hungrier_bed_gets_more_until_the_yearly_most() {
    // Minnesota Extension: about an inch (25 mm) or less a year.
    let mut window = spread_window();
    let depth = |window: &mut Window, need| {
        window.harness.state_mut().bench.project.beds = vec![Bed {
            name: String::new(),
            area_m2: 1.0,
            need,
        }];
        window.run();
        let text = gets(window).remove(0);
        let number = text.trim_start_matches("gets ").split(' ').next().unwrap();
        number.parse::<f64>().unwrap()
    };
    let low = depth(&mut window, Need::Low);
    let high = depth(&mut window, Need::High);
    assert!(low <= high && high <= 25.0, "{low} {high}");
    assert!(low > 0.0);
}

#[test]
fn what_it_is_for_decides_the_cautions() {
    let mut window = spread_window();
    window.harness.state_mut().bench.project.uses.clear();
    window.run();
    let near_water = |window: &Window| {
        outcome(window)
            .cautions
            .iter()
            .any(|caution| caution.id == "near_water")
    };
    assert!(!near_water(&window));
    press_anywhere(&mut window, Role::CheckBox, "near water");
    assert_eq!(window.app().project.uses, [Use::NearWater]);
    assert!(near_water(&window));
    assert!(window.shows("Keep 10 m from a watercourse and 50 m from a spring"));
    window.press("Undo");
    assert!(window.app().project.uses.is_empty());
}

#[test]
fn a_result_of_a_field_test_is_noted_dropped_and_taken_back() {
    let mut window = spread_window();
    press_beginning(&mut window, "Bag test");
    assert!(window.shows("Open it and smell."));
    press_beginning(&mut window, "sour or rotten");
    let noted = window.app().project.field_tests.clone();
    assert_eq!(noted.len(), 1);
    assert_eq!((noted[0].test.as_str(), noted[0].result), ("bag", 1));
    window
        .harness
        .get_by_role_and_label(Role::SpinButton, "Day of test result 1")
        .scroll_to_me();
    window.run();
    window.type_number("Day of test result 1", "95");
    assert_eq!(window.app().project.field_tests[0].day, 95.0);
    press_anywhere(&mut window, Role::Button, "Remove test result 1");
    assert!(window.app().project.field_tests.is_empty());
    window.press("Undo");
    assert_eq!(window.app().project.field_tests.len(), 1);
}

#[test]
fn a_result_of_a_test_that_is_not_known_is_kept_and_shown() {
    let mut window = spread_window();
    window.harness.state_mut().bench.project.field_tests = vec![heapwright::garden::TestResult {
        test: "tasting".to_owned(),
        day: 3.0,
        result: 99,
        note: String::new(),
    }];
    window.run();
    assert!(window.shows("of an unknown test, \"tasting\""));
    window.harness.state_mut().bench.project.field_tests[0].test = "bag".to_owned();
    window.run();
    press_beginning(&mut window, "Bag test");
    assert!(window.shows("a result that this program does not know"));
}

#[test]
fn no_word_promises_and_every_list_has_names() {
    // House rule: nothing is called by the word that promises.
    let mut window = spread_window();
    let headers = [
        "Phosphate and salt",
        "Pots, seedlings, mulch, new beds",
        "Distances to water",
        "Bag test",
        "Radish test",
        "Self-heating (Dewar) test",
        "Bean test",
    ];
    for header in headers {
        press_beginning(&mut window, header);
    }
    unfold(&mut window);
    for use_of_it in Use::ALL {
        if !window.app().project.uses.contains(&use_of_it) {
            window
                .harness
                .state_mut()
                .bench
                .project
                .uses
                .push(use_of_it);
        }
    }
    window.run();
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    let outcome = outcome(&window);
    for judgement in outcome.judgements(shared().unwrap()) {
        window.harness.state_mut().bench.state.open_judgement = Some(judgement.id);
        window.run();
        for text in texts(&window) {
            let promised = text.to_lowercase().replace("safety notes", "");
            assert!(!promised.contains("safe"), "{text}");
        }
    }
}

#[test]
fn seedy_weeds_are_answered_with_a_share_and_a_way_to_the_plan() {
    let mut window = spread_window();
    let share = |window: &Window| {
        let ordinary = Facts::built_in().unwrap();
        let place = ordinary
            .kill
            .plants()
            .position(|class| class.id == "seeds_ordinary");
        outcome(window).plants[place.unwrap()].share
    };
    let left_alone = share(&window);
    unfold(&mut window);
    assert!(window.shows("Ordinary seeds: "));
    press_anywhere(&mut window, Role::Button, "Plan turnings");
    assert_eq!(window.app().state.view, View::Heap);
    // Whatever the plan says is judged when one comes back.
    let turn = |day| Event {
        repeat: None,
        day,
        operation: Operation::Turn {
            turning: Turning::InsideOut,
            wet_to: Some(0.58),
        },
    };
    let mut shares = Vec::new();
    for first in [4.0, 8.0, 12.0] {
        window.harness.state_mut().bench.project.heap.plan.events = [0.0, 8.0, 16.0, 24.0]
            .map(|after| turn(first + after))
            .to_vec();
        window.harness.state_mut().ask(Action::Show(View::Results));
        window.run();
        window.run();
        shares.push(share(&window));
    }
    println!("{left_alone} {shares:?}");
    // `common practice`: turning brings the cool skin inside, so with well chosen days more of the heap gets enough.
    let best = shares.iter().copied().fold(0.0, f64::max);
    assert!(best > left_alone, "{best} {left_alone}");
}

#[test]
fn an_empty_mix_is_told_and_does_no_harm() {
    let mut window = spread_window();
    window.empty_the_mix();
    assert!(window.shows("Nothing to judge yet"));
    assert!(window.app().shown.stages.outcome().is_none());
}

#[test]
fn the_background_brings_likelihoods_and_what_each_turning_buys() {
    let mut window = window();
    window.harness.state_mut().bench.refines = true;
    window.press("Results");
    for _ in 0..1200 {
        window.harness.step();
        let weighed = window
            .app()
            .shown
            .stages
            .outcome()
            .is_some_and(|outcome| outcome.weighed.values().any(|it| it.likely.is_some()));
        if weighed && !window.app().shown.turnings.is_empty() {
            window.run();
            press_beginning(&mut window, words::topic(TOPICS[0]));
            assert!(window.shows("of 10"));
            // What each turning buys: none, then one to four.
            let rows = &window.app().shown.turnings;
            let counts: Vec<usize> = rows.iter().map(|row| row.turnings).collect();
            assert_eq!(counts, [0, 1, 2, 3, 4]);
            assert!(window.shows("had enough, simulated"));
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(25));
    }
    panic!("no likelihood or no turnings ever came");
}
