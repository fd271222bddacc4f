//! The Heap view: its plan, as a list and as markers on the line of days.

use eframe::egui::{Key, Rect, accesskit::Role, pos2};
use egui_kittest::kittest::Queryable;
use heapwright::heap::{Cover, Event, Operation, Turning};
use heapwright::text::date::{MONTHS, day_of_year};
use heapwright::window::widgets::day_line::{DayScale, lanes, month_marks};
use proptest::prelude::*;

use super::heap::heap_window;
use super::support::{Window, window};

#[test]
fn a_turning_is_added_moved_and_taken_back() {
    let mut window = heap_window();
    let before = window.app().shown.curve.clone();
    window.press("+ Turn");
    let plan = window.app().project.heap.plan.clone();
    assert_eq!(plan.events.len(), 1);
    assert!(matches!(
        plan.events[0].operation,
        Operation::Turn {
            turning: Turning::Remix,
            wet_to: Some(_)
        }
    ));
    assert_ne!(
        window.app().shown.curve,
        before,
        "the curve follows the plan"
    );
    window.type_number("Day of entry 1: Turn", "21");
    assert_eq!(window.app().project.heap.plan.events[0].day, 21.0);
    window.press("Undo");
    assert_eq!(
        window.app().project.heap.plan.events[0].day,
        plan.events[0].day
    );
    window.press("Undo");
    assert!(window.app().project.heap.plan.events.is_empty());
    assert_eq!(window.app().shown.curve, before);
}

#[test]
fn an_entry_can_be_dropped() {
    let mut window = heap_window();
    window.press("+ Water");
    window.press("+ Cover with a sheet");
    assert_eq!(window.app().project.heap.plan.events.len(), 2);
    window.press("Remove entry 1");
    let events = &window.app().project.heap.plan.events;
    assert_eq!(events.len(), 1);
    assert_eq!(events[0].operation, Operation::Cover(Cover::Sheet));
}

/// Where the marker of this name stands.
fn marker(window: &Window, name: &str) -> Rect {
    window
        .harness
        .get_by_role_and_label(Role::Slider, name)
        .rect()
}

fn day_of(window: &Window, entry: usize) -> f64 {
    window.app().project.heap.plan.events[entry].day
}

#[test]
fn a_marker_is_dragged_and_the_curve_follows_while_it_moves() {
    let mut window = heap_window();
    window.press("+ Turn");
    let (day, curve) = (day_of(&window, 0), window.app().shown.curve.clone());
    let from = marker(&window, "Marker 1: Turn").center();
    window.harness.hover_at(from);
    window.run();
    window.harness.drag_at(from);
    window.run();
    let mut curves = vec![curve.clone()];
    for step in 1..=3 {
        window
            .harness
            .hover_at(pos2(from.x + 40.0 * step as f32, from.y));
        window.run();
        let now = window.app().shown.curve.clone();
        assert!(!curves.contains(&now), "step {step}");
        curves.push(now);
    }
    window.harness.drop_at(pos2(from.x + 120.0, from.y));
    window.run();
    let moved = day_of(&window, 0);
    assert!(moved > day + 5.0, "{moved}");
    assert_eq!(moved, moved.round(), "a marker stands on whole days");
    let stands = marker(&window, "Marker 1: Turn").center();
    assert!((stands.x - from.x - 120.0).abs() < 4.0, "under the pointer");
    // One drag is one step.
    window.press("Undo");
    assert_eq!(day_of(&window, 0), day);
    assert_eq!(window.app().shown.curve, curve);
}

#[test]
fn a_marker_is_moved_and_dropped_by_keyboard() {
    let mut window = heap_window();
    window.press("+ Turn inside out");
    let day = day_of(&window, 0);
    window
        .harness
        .get_by_role_and_label(Role::Slider, "Marker 1: Turn inside out")
        .focus();
    window.run();
    for (key, by) in [
        (Key::ArrowRight, 1.0),
        (Key::ArrowRight, 2.0),
        (Key::ArrowLeft, 1.0),
    ] {
        window.harness.key_press(key);
        window.run();
        assert_eq!(day_of(&window, 0), day + by);
    }
    window.harness.key_press(Key::Delete);
    window.run();
    assert!(window.app().project.heap.plan.events.is_empty());
    window.press("Undo");
    assert_eq!(window.app().project.heap.plan.events.len(), 1);
}

#[test]
fn a_screen_reader_moves_a_marker_but_not_past_the_ends() {
    let mut window = heap_window();
    window.press("+ Water");
    let days = window.app().project.heap.days;
    for (asked, got) in [(33.0, 33.0), (1e9, days), (-4.0, 0.0), (f64::NAN, 0.0)] {
        window.slide("Marker 1: Water", asked);
        assert_eq!(day_of(&window, 0), got, "{asked}");
    }
}

#[test]
fn fewer_days_to_project_leave_the_plan_alone() {
    let mut window = heap_window();
    window.press("+ Turn");
    window.type_number("Day of entry 1: Turn", "90");
    let plan = window.app().project.heap.plan.clone();
    window.type_number("Forecast length", "30");
    assert_eq!(window.app().project.heap.days, 30.0);
    assert_eq!(window.app().project.heap.plan, plan);
}

#[test]
fn the_day_line_stands_over_the_days_of_the_plot() {
    let mut window = heap_window();
    let days = window.app().project.heap.days;
    let day = (days / 2.0).round();
    window
        .harness
        .state_mut()
        .bench
        .project
        .heap
        .plan
        .events
        .push(Event {
            repeat: None,
            day,
            operation: Operation::Cover(Cover::Sheet),
        });
    window.run();
    let (left, right) = window.app().state.heap.day_span.unwrap();
    let stands = marker(&window, "Marker 1: Cover with a sheet").center().x;
    let wanted = left + (right - left) * (day / days) as f32;
    assert!((stands - wanted).abs() < 1.0);
}

#[test]
fn months_stand_where_the_calendar_has_them() {
    // From 9 July (day 190 of a common year): 1 August is 23 days on, 1 September 54 (any almanac).
    let marks = month_marks(day_of_year(6, 9), 60.0);
    assert_eq!(
        marks,
        vec![
            (0.0, "9 July".to_owned()),
            (23.0, MONTHS[7].to_owned()),
            (54.0, MONTHS[8].to_owned())
        ]
    );
}

proptest! {
    #[test]
    fn a_place_on_the_line_and_its_day_belong_together(
        days in 1.0..1500.0f64, left in 0.0..500.0f32, width in 50.0..2000.0f32, share in 0.0..=1.0f64,
    ) {
        let scale = DayScale { left, right: left + width, days };
        let day = (share * days).floor();
        // Half a day and the rounding of single precision.
        prop_assert!((scale.day(scale.x(day)) - day).abs() <= 0.5 + 1e-6 * days * f64::from(left + width));
        prop_assert!(scale.day(left - 99.0) == 0.0 && scale.day(left + width + 99.0) <= days);
    }

    #[test]
    fn two_markers_of_one_lane_hide_each_other_only_where_three_stand_close(
        places in prop::collection::vec(0.0..1000.0f32, 0..20),
    ) {
        let width = 22.0;
        let lanes = lanes(&places, width);
        for (i, a) in places.iter().enumerate() {
            for (j, b) in places.iter().enumerate().skip(i + 1) {
                if lanes[i] == lanes[j] && (a - b).abs() < width {
                    let close = places.iter().filter(|c| (*c - a).abs() < 2.0 * width).count();
                    prop_assert!(close >= 3);
                }
            }
        }
    }
}

#[test]
fn the_plan_adds_material_found_by_its_name() {
    use heapwright::heap::{Operation, Placing};
    let mut window = heap_window();
    let before = window.app().shown.stages.projection().unwrap().clone();
    window.press("+ Add material…");
    window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search materials")
        .type_text("horse manure");
    window.run();
    window.harness.key_press(eframe::egui::Key::Enter);
    window.run();
    let added = |window: &Window| match &window
        .app()
        .project
        .heap
        .plan
        .events
        .last()
        .unwrap()
        .operation
    {
        Operation::Add { mix, placing } => (mix.clone(), *placing),
        other => panic!("{other:?}"),
    };
    let (mix, placing) = added(&window);
    assert!(mix.ingredients[0].material.contains("horse"), "{mix:?}");
    assert_eq!(
        (mix.ingredients[0].amount.value, placing),
        (1.0, Placing::OnTop)
    );
    let one_bucket = window.app().shown.curve.clone();
    let material = heapwright::material::Catalogue::built_in().unwrap();
    let material = &material.find(&mix.ingredients[0].material).unwrap().name;
    window.type_number(&format!("{material} added later"), "6");
    assert_eq!(added(&window).0.ingredients[0].amount.value, 6.0);
    assert_ne!(window.app().shown.curve, one_bucket);
    // More nitrogen than without it.
    let nitrogen = |p: &heapwright::heap::Projection| p.records.last().unwrap().nitrogen_kg;
    let after = window.app().shown.stages.projection().unwrap().clone();
    assert!(nitrogen(&after) > nitrogen(&before));
    let entry = window.app().project.heap.plan.events.len();
    window
        .harness
        .get_by_role_and_label(Role::RadioButton, &format!("Entry {entry}: mixed in"))
        .click();
    window.run();
    assert_eq!(added(&window).1, Placing::MixedIn);
    window.press("Undo");
    assert_eq!(added(&window).1, Placing::OnTop);
}

#[test]
fn an_entry_is_done_again_a_week_later_and_every_week() {
    let mut window = window();
    let heap = &mut window.harness.state_mut().bench.project.heap;
    heap.days = 40.0;
    heap.plan.events = vec![heapwright::heap::Event {
        repeat: None,
        day: 7.0,
        operation: heapwright::heap::Operation::Water { wet_to: 0.55 },
    }];
    window.press("Heap");
    let days = |window: &Window| -> Vec<f64> {
        let all = window.app().project.heap.plan.in_order();
        all.iter().map(|due| due.day).collect()
    };
    window.press("Do entry 1 again");
    assert_eq!(days(&window), [7.0, 14.0]);
    window.press("Do entry 2 weekly");
    assert_eq!(days(&window), [7.0, 14.0, 21.0, 28.0, 35.0]);
    window.press("Undo");
    assert_eq!(days(&window), [7.0, 14.0]);
}

#[test]
fn an_addition_every_week_is_entered_by_keyboard_and_warms_the_heap() {
    let mut window = heap_window();
    let entry = window.app().project.heap.plan.events.len();
    let number = entry + 1;
    let heap = &mut window.harness.state_mut().bench.project.heap;
    let bucket = heapwright::mix::Ingredient::new(
        "veg_scraps",
        heapwright::quantity::Amount::new(1.0, heapwright::quantity::Measure::Bucket),
    );
    heap.plan.events.push(Event::once(
        7.0,
        Operation::Add {
            mix: heapwright::mix::Mix {
                ingredients: vec![bucket],
                added_water_l: 0.0,
            },
            placing: heapwright::heap::Placing::OnTop,
        },
    ));
    window.run();
    let of = |window: &Window| window.app().project.heap.plan.events[entry].clone();
    let nitrogen = |window: &Window| {
        let run = window.app().shown.stages.projection();
        run.unwrap().ledger.nitrogen_start_kg
    };
    let one = nitrogen(&window);
    window
        .harness
        .get_by_label(&format!("Do entry {number} weekly"))
        .focus();
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    assert!(of(&window).times() > 3, "{:?}", of(&window));
    window.type_number(&format!("Times of entry {number}: Add material"), "12");
    window.type_number(
        &format!("Days between times of entry {number}: Add material"),
        "3.5",
    );
    let days: Vec<f64> = of(&window).days().collect();
    assert_eq!((days.len(), days[1], days[11]), (12, 10.5, 45.5));
    // Twelve buckets bring twelve times what one brings.
    let scraps = {
        let event = of(&window);
        let Operation::Add { mix, .. } = &event.operation else {
            unreachable!("it adds")
        };
        let catalogue = heapwright::material::Catalogue::built_in().unwrap();
        let parts = mix.resolve(&catalogue).unwrap();
        heapwright::mix::blend(&parts, 0.0).totals.nitrogen_kg
    };
    let more = nitrogen(&window) - one;
    assert!((more / scraps - 11.0).abs() < 1e-6, "{}", more / scraps);
    window.press(&format!("Do entry {number} once"));
    assert_eq!(of(&window).times(), 1);
}
