//! The Diary view: a reading in two clicks, what was done, what was planned and has passed, how far off readings are.

use eframe::egui::{Key, accesskit::Role, pos2};
use egui_kittest::kittest::Queryable;
use heapwright::diary::{Diary, Log, Reading, Smell, Spot, Squeeze, Wetness};
use heapwright::heap::{Event, Operation, Place, Projection, SectionValue, Turning};
use heapwright::quantity::UnitSystem;
use heapwright::text::diary::{PLACES, SIGNS, expected_and_off, place};
use heapwright::text::typed_reading::{read_moment, read_number, read_temperature};
use heapwright::window::piles::diary_choices::NOON;
use heapwright::window::piles::diary_shown::Near;
use heapwright::window::verbs::Clock;
use jiff::civil::{DateTime, date};

use super::support::{Window, window};

/// The moment at which all these tests happen.
fn now() -> DateTime {
    date(2026, 11, 27).at(15, 30, 0, 0)
}

fn diary_window() -> Window {
    let mut window = window();
    window.harness.state_mut().bench.clock = Clock::Stands(now());
    window.press("Diary");
    window
}

/// A window whose heap was built on 1 November at noon.
fn built_window() -> Window {
    let mut window = diary_window();
    window.type_text("Built on", "2026-11-01");
    window
}

impl Window {
    /// Types into the field of this name and presses Enter.
    fn type_text(&mut self, name: &str, text: &str) {
        self.fill(name, text);
        self.harness.key_press(Key::Enter);
        self.run();
    }

    /// Puts a text into the field of this name, which then has the keyboard.
    fn fill(&mut self, name: &str, text: &str) {
        let field = self.harness.get_by_role_and_label(Role::TextInput, name);
        field.focus();
        self.run();
        self.harness
            .key_press_modifiers(eframe::egui::Modifiers::COMMAND, Key::A);
        self.run();
        let field = self.harness.get_by_role_and_label(Role::TextInput, name);
        field.type_text(text);
        self.run();
    }

    fn diary(&self) -> &Diary {
        &self.app().project.diary
    }

    fn projection(&self) -> &Projection {
        self.app().shown.stages.projection().unwrap()
    }
}

#[test]
fn a_heap_that_is_not_built_has_one_sentence_one_button_and_one_date() {
    let mut window = diary_window();
    assert!(window.shows("The heap is not built yet."));
    assert!(window.shows("The diary begins on the day"));
    assert!(!window.shows("New reading"));
    let before = window.app().project.clone();
    window.press("Built today");
    assert_eq!(window.diary().built, Some(now()));
    assert!(window.shows("Built on 27 November 2026; today is day 0."));
    // 27 November is day 331 of a common year (ISO 8601 calendar).
    assert_eq!(window.app().project.heap.start_day_of_year, 331.0);
    // Nothing else moved.
    let mut after = window.app().project.clone();
    after.diary = before.diary.clone();
    after.heap.start_day_of_year = before.heap.start_day_of_year;
    assert_eq!(after, before);
    window.press("Undo");
    assert_eq!(window.app().project, before);
}

#[test]
fn the_date_it_was_built_is_typed_and_corrected_but_not_to_come() {
    let mut window = built_window();
    let noon = date(2026, 11, 1).at(12, 0, 0, 0);
    assert_eq!(window.diary().built, Some(noon));
    assert!(window.shows("today is day 26."));
    window.type_text("Built on", "soon");
    assert!(window.shows("“soon” is no date"));
    assert_eq!(window.diary().built, Some(noon));
    window.type_text("Built on", "2026-12-24");
    assert!(window.shows("still to come"));
    assert_eq!(window.diary().built, Some(noon));
    window.type_text("Built on", "2 November 2026 08:15");
    assert_eq!(
        window.diary().built,
        Some(date(2026, 11, 2).at(8, 15, 0, 0))
    );
}

#[test]
fn a_reading_takes_two_clicks() {
    let mut window = built_window();
    let picture = window.harness.get_by_role(Role::Image).rect();
    // First click: a place in the heap, a little right of the middle.
    let at = pos2(picture.center().x + 40.0, picture.center().y);
    window.harness.hover_at(at);
    window.run();
    window.harness.drag_at(at);
    window.harness.drop_at(at);
    window.run();
    let spot = window.app().state.diary.form.spot;
    assert_ne!(spot, Spot::CENTRE);
    assert!((0.05..0.9).contains(&spot.out), "{spot:?}");
    // The keyboard is in the temperature already.
    window
        .harness
        .event(eframe::egui::Event::Text("58,5".to_owned()));
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    let taken = &window.diary().readings;
    assert_eq!(taken.len(), 1);
    assert_eq!(taken[0], Reading::temperature(now(), spot, 58.5));
    // The next one is typed at once.
    window
        .harness
        .event(eframe::egui::Event::Text("57".to_owned()));
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    assert!(window.shows("a reading of this minute at this place already"));
    assert_eq!(window.diary().readings.len(), 1);
    window.press("Undo");
    assert!(window.diary().readings.is_empty());
    window.press("Redo");
    assert_eq!(window.diary().readings.len(), 1);
}

/// A reading of this place, day of November and temperature, by keyboard alone.
fn take(window: &mut Window, place: &str, day: i8, text: &str) {
    window.press(&format!("Place: {place}"));
    window.fill(
        "When the reading was taken",
        &format!("2026-11-{day:02} 16:00"),
    );
    window.type_text("Temperature of the reading", text);
}

#[test]
fn the_expected_value_stands_beside_a_reading_with_how_far_off_it_is() {
    let mut window = built_window();
    take(&mut window, "halfway", 9, "51");
    let spot = Spot { out: 0.5, up: 0.5 };
    let day = 8.0 + 4.0 / 24.0;
    let place = Place { out: 0.5, up: 0.5 };
    let expected = window
        .projection()
        .value_at(SectionValue::Temperature, place, day)
        .unwrap();
    let shown = &window.app().shown.diary;
    assert_eq!(shown.dots.len(), 1);
    assert_eq!(shown.dots[0].off_k(), Some(51.0 - expected));
    assert_eq!(shown.dots[0].near, Near::Middle);
    assert_eq!(window.diary().readings[0].spot, spot);
    let words = expected_and_off(51.0, expected, UnitSystem::Metric);
    assert!(words.contains("expected"), "{words}");
    assert!(window.shows("halfway 51 °C") && window.shows(&words));
    assert!(window.shows("Measured less expected. 1 temperature"));
    // Another plan, another projection, another expectation.
    window.press("Heap");
    window.press("+ Turn");
    window.type_number("Day of entry 1: Turn", "3");
    window.press("Diary");
    let other = window.app().shown.diary.dots[0].expected_c.unwrap();
    assert_ne!(other, expected);
}

#[test]
fn thousands_of_readings_are_drawn_thinned_and_counted_whole() {
    let mut window = built_window();
    let many = 3_000;
    let mut diary = window.diary().clone();
    for number in 0..many {
        // Entered in no order, over 26 days; one spike by day 20.
        let day = 26.0 * f64::from((number * 7) % many) / f64::from(many);
        let spike = if number == 1_200 { 45.0 } else { 0.0 };
        let degrees = 30.0 + spike + f64::from(number % 7);
        let at = diary.moment_of(day).unwrap();
        let reading = Reading::temperature(at, Spot::CENTRE, degrees);
        diary.readings.push(reading);
    }
    window.harness.state_mut().bench.project.diary = diary;
    window.run();
    let shown = &window.app().shown.diary;
    assert_eq!((shown.dots.len(), shown.offs_k.len()), (3_000, 3_000));
    let [edge, middle, centre] = shown.drawn_dots.as_slice() else {
        panic!("one line for each curve");
    };
    assert!(edge.measured_c.is_empty() && middle.measured_c.is_empty());
    assert!((100..=260).contains(&centre.measured_c.len()));
    assert!(centre.measured_c.is_sorted_by(|a, b| a[0] <= b[0]));
    // What stands out stays.
    let hottest = centre.measured_c.iter().map(|it| it[1]);
    assert_eq!(hottest.fold(0.0, f64::max), 30.0 + 45.0 + 3.0);
    assert_eq!(shown.span_c, Some((30.0, 78.0)));
    assert!(shown.newest_first.is_sorted_by(|a, b| a.0 >= b.0));
    assert!(window.shows("3000 temperatures: off by"));
    assert!(window.shows("2960 older"));
    // What is shared with the steps of undo is told equal without a look at each.
    let kept = window.diary().clone();
    assert!(std::ptr::eq(
        kept.readings.as_ptr(),
        window.diary().readings.as_ptr()
    ));
}

#[test]
fn readings_are_listed_newest_first_changed_and_removed() {
    let mut window = built_window();
    take(&mut window, "middle", 5, "44");
    take(&mut window, "edge", 12, "33");
    take(&mut window, "top", 8, "55 C");
    let top_of = |window: &Window, day: &str| {
        let label = format!("{day} November, 16:00");
        window.harness.get_by_label(&label).rect().top()
    };
    assert!(top_of(&window, "12") < top_of(&window, "8"));
    assert!(top_of(&window, "8") < top_of(&window, "5"));
    window.press("Change reading 2");
    assert_eq!(window.app().state.diary.form.temperature, "33");
    window.type_text("Temperature of the reading", "35");
    assert_eq!(window.diary().readings[1].temperature_c, Some(35.0));
    assert_eq!(
        window.diary().readings[1].at,
        date(2026, 11, 12).at(16, 0, 0, 0)
    );
    assert_eq!(window.diary().readings.len(), 3);
    window.press("Remove reading 1");
    assert_eq!(window.diary().readings.len(), 2);
    window.press("Undo");
    window.press("Undo");
    assert_eq!(window.diary().readings[1].temperature_c, Some(33.0));
}

#[test]
fn further_parts_of_a_reading_are_in_a_fold() {
    let mut window = built_window();
    assert!(!window.shows("squeezed"));
    window
        .harness
        .get_by_label("More parts of a reading")
        .click();
    window.run();
    window.harness.get_by_label("Squeezed in the hand").click();
    window.run();
    window
        .harness
        .get_by_label("like a wrung-out sponge")
        .click();
    window.run();
    window.harness.get_by_label("Smell").click();
    window.run();
    window.harness.get_by_label("sharp, ammonia").click();
    window.run();
    window.fill("Oxygen", "12.5");
    window.fill("Height", "0,85");
    window.fill("Photo", "https://example.org/day 26.jpg");
    window.fill("Note", "steam in the morning");
    window.press("Enter it");
    let wanted = Reading {
        wetness: Some(Wetness::Squeezed(Squeeze::LikeWrungSponge)),
        oxygen: Some(0.125),
        height_m: Some(0.85),
        smell: Some(Smell::Ammonia),
        note: "steam in the morning".to_owned(),
        photo: "https://example.org/day 26.jpg".to_owned(),
        ..Reading::blank(now(), Spot::CENTRE)
    };
    assert_eq!(*window.diary().readings, [wanted]);
    window.fill("Moisture by probe", "56");
    window.type_text("Temperature of the reading", "61");
    // The same minute and place as the last.
    assert_eq!(window.diary().readings.len(), 1);
    window.press("Place: foot");
    window.press("Enter it");
    assert_eq!(
        window.diary().readings[1].wetness,
        Some(Wetness::Probe(0.56))
    );
}

#[test]
fn what_cannot_be_is_said_and_nothing_is_lost() {
    let mut window = built_window();
    for (text, words) in [
        ("900", "measured temperature must lie between -60 and 120"),
        ("warm", "Temperature: “warm” is no number"),
        ("NaN", "is no number"),
    ] {
        window.type_text("Temperature of the reading", text);
        assert!(window.shows(words), "{text}");
        assert!(window.diary().readings.is_empty(), "{text}");
        assert_eq!(window.app().state.diary.form.temperature, text);
    }
    window.fill("Temperature of the reading", "55");
    for (text, words) in [
        ("2026-10-31 12:00", "before the heap was built"),
        ("2026-11-28 12:00", "still to come"),
        ("3/5/2026", "is no date"),
    ] {
        window.type_text("When the reading was taken", text);
        assert!(window.shows(words), "{text}");
        assert!(window.diary().readings.is_empty(), "{text}");
    }
    window.type_text("When the reading was taken", "26.11.2026 08:00");
    assert_eq!(window.diary().readings.len(), 1);
    window.press("Enter it");
    assert!(window.shows("Nothing was entered"));
}

#[test]
fn what_was_done_goes_into_the_past_of_the_plan() {
    let mut window = built_window();
    let before = window.app().shown.curve.clone();
    window.fill("When it was done", "2026-11-10 12:00");
    window.press("Turned");
    window.fill("When it was done", "2026-11-11 12:00");
    window.press("Watered");
    let plan = &window.app().project.heap.plan.events;
    assert_eq!(
        plan[..],
        [
            Event {
                repeat: None,
                day: 9.0,
                operation: Operation::Turn {
                    turning: Turning::Remix,
                    wet_to: None
                }
            },
            Event {
                repeat: None,
                day: 10.0,
                operation: Operation::Pour { litres: 20.0 }
            },
        ]
    );
    assert_eq!(window.diary().done, [9.0, 10.0]);
    assert!(window.shows("Turned") && window.shows("Watered, 20 L"));
    assert_ne!(window.app().shown.curve, before);
    assert!(!window.shows("was it done?"), "nobody is asked about it");
    // Two buckets of a material, by the picker.
    window.type_number("Buckets added", "2");
    window.press("of…");
    window
        .harness
        .get_by_label("Search materials")
        .type_text("straw");
    window.run();
    window.harness.key_press(Key::Enter);
    window.run();
    let last = window.app().project.heap.plan.events.last().unwrap();
    let Operation::Add { mix, .. } = &last.operation else {
        panic!("{last:?}");
    };
    assert_eq!(mix.ingredients[0].amount.value, 2.0);
    assert!(window.shows("2 buckets of"));
    let entries = window.app().project.heap.plan.events.len();
    // It may lie further down than the view shows, where a pointer does not reach it.
    window
        .harness
        .get_by_label("Remove what was done, entry 1")
        .click_accesskit();
    window.run();
    assert_eq!(window.app().project.heap.plan.events.len(), entries - 1);
    assert_eq!(window.diary().done.len(), entries - 1);
}

#[test]
fn a_planned_entry_whose_day_has_passed_is_asked_about() {
    let mut window = diary_window();
    window.press("Heap");
    for (entry, day) in [(1, "5"), (2, "8"), (3, "60")] {
        window.press("+ Turn");
        window.type_number(&format!("Day of entry {entry}: Turn"), day);
    }
    window.press("Diary");
    assert!(
        !window.shows("were they done?"),
        "a heap that does not stand"
    );
    window.type_text("Built on", "2026-11-01");
    assert!(window.shows("2 things were planned"));
    window.fill("When entry 1 was done", "2026-11-07 18:00");
    window.press("Done: entry 1");
    let plan = &window.app().project.heap.plan.events;
    assert_eq!(plan[0].day, 6.25);
    assert_eq!(window.diary().done, [6.25]);
    assert!(window.shows("One thing was planned"));
    window.press("Not done: entry 2");
    assert_eq!(window.app().project.heap.plan.events.len(), 2);
    assert!(!window.shows("was it done?"));
    window.press("Undo");
    assert_eq!(window.app().project.heap.plan.events.len(), 3);
    assert!(window.shows("One thing was planned"));
}

#[test]
fn a_proposed_plan_begins_tomorrow() {
    let mut window = built_window();
    window.fill("When it was done", "2026-11-10 12:00");
    window.press("Turned");
    assert_eq!(window.diary().first_free_day(now()), Some(27.0));
    window.press("Heap");
    window.press("Propose a plan…");
    for _ in 0..4000 {
        window.harness.step();
        if window.app().shown.plan.found().is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    window.run();
    let found = window.app().shown.plan.found().unwrap().clone();
    let (past, open) = found.proposed.plan.events.split_first().unwrap();
    assert_eq!(past.day, 9.0);
    assert!(open.iter().all(|event| event.day >= 27.0), "{open:?}");
}

#[test]
fn the_keyboard_reaches_every_control() {
    let mut window = built_window();
    take(&mut window, "middle", 5, "44");
    window
        .harness
        .get_by_label("More parts of a reading")
        .click();
    window.run();
    window.assert_tab_reaches(
        90,
        &[
            "Built on",
            "Place: middle",
            "Place: foot",
            "Temperature of the reading",
            "When the reading was taken",
            "Enter it",
            "More parts of a reading",
            "Squeezed in the hand",
            "Moisture by probe",
            "Oxygen",
            "Height",
            "Smell",
            "Note",
            "Photo",
            "Turned",
            "Water poured",
            "Watered",
            "Buckets added",
            "of…",
            "When it was done",
            "Change reading 1",
            "Remove reading 1",
        ],
    );
}

#[test]
fn a_class_is_told_what_the_signs_mean_once_one_is_not_of_the_centre() {
    let mut window = built_window();
    take(&mut window, "middle", 5, "44");
    window.press("Class");
    assert!(!window.shows(SIGNS));
    window.press("Diary");
    take(&mut window, "edge", 6, "30");
    assert!(!window.shows(SIGNS), "the key says it here");
    window.press("Class");
    assert!(window.shows(SIGNS));
}

#[test]
fn a_long_log_is_thinned_for_drawing_and_can_be_removed() {
    let mut window = built_window();
    let hours = 5 * 365 * 24;
    let log = Log {
        name: "core (invented)".to_owned(),
        spot: Spot::CENTRE,
        temperatures_c: (0..hours)
            .map(|hour| (f64::from(hour) / 24.0, 20.0 + f64::from(hour % 24)))
            .collect(),
    };
    window
        .harness
        .state_mut()
        .bench
        .project
        .diary
        .logs
        .push(log);
    window.run();
    let shown = &window.app().shown.diary.logs[0];
    assert!(shown.measured_c.len() <= 410, "{}", shown.measured_c.len());
    // Thinning keeps the extremes.
    let highest = shown
        .measured_c
        .iter()
        .map(|point| point[1])
        .fold(0.0, f64::max);
    assert_eq!(highest, 43.0);
    assert!(window.shows("Probe core (invented) (middle): 43800 temperatures"));
    window.press("Remove probe 1");
    assert!(window.diary().logs.is_empty());
    assert_eq!(
        window.app().facts().undo.as_deref(),
        Some("removed a probe")
    );
}

#[test]
fn dates_and_numbers_are_read_as_people_type_them() {
    let noon = date(2026, 5, 3).at(12, 0, 0, 0);
    for text in [
        "2026-05-03",
        "3.5.2026",
        "03.05.2026",
        "3 May 2026",
        " 2026-05-03 12:00 ",
        "2026-05-03T12:00",
    ] {
        assert_eq!(read_moment(text, NOON), Some(noon), "{text}");
    }
    for text in [
        "",
        "3/5/2026",
        "2026-02-30",
        "May",
        "2026-05-03 25:00",
        "12",
    ] {
        assert_eq!(read_moment(text, NOON), None, "{text}");
    }
    for (text, value) in [
        ("58", 58.0),
        (" 58,5 ", 58.5),
        ("−3", -3.0),
        ("58.5 °C", 58.5),
        ("12 %", 12.0),
    ] {
        assert_eq!(read_number(text), Some(value), "{text}");
    }
    for text in ["", "warm", "1e400", "NaN", "5 8", "inf"] {
        assert_eq!(read_number(text), None, "{text}");
    }
    // 140 degF is 60 degC, whichever units are shown.
    let fahrenheit = read_temperature("140", UnitSystem::UsCustomary).unwrap();
    assert!((fahrenheit - 60.0).abs() < 1e-9);
    assert!((read_temperature("140 F", UnitSystem::Metric).unwrap() - 60.0).abs() < 1e-9);
    assert_eq!(
        read_temperature("60 °C", UnitSystem::UsCustomary),
        Some(60.0)
    );
    for known in PLACES {
        assert_eq!(place(known.spot), known.name);
    }
    assert_eq!(place(Spot { out: 0.3, up: 0.7 }), "30 % out, 70 % up");
}

#[test]
fn the_curve_nearest_to_a_place_is_found() {
    let near = |out, up| Near::of(Spot { out, up });
    assert_eq!(near(0.0, 0.5), Near::Centre);
    assert_eq!(near(0.5, 0.5), Near::Middle);
    assert_eq!(near(0.9, 0.5), Near::Edge);
    assert_eq!(near(0.0, 0.95), Near::Edge);
}
