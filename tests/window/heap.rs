//! The Heap view: plan, place, cross-section.

use eframe::egui::{Key, Rect, accesskit::Role, pos2};
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::heap::SectionValue;
use heapwright::heap::{Board, Cover, Event, Field, Lid, Operation, SectionGrid, Shape, Turning};
use heapwright::text::date::{MONTHS, day_of_year};
use heapwright::text::page::section_value_label;
use heapwright::window::heap::HeapRegions;
use heapwright::window::section::{Extent, Raster};
use heapwright::window::theme::{Shade, Theme};
use heapwright::window::widgets::day_line::{DayScale, lanes, month_marks};
use heapwright::window::widgets::shape_picker::CHOICES;
use proptest::prelude::*;

use super::support::{Window, window};

fn heap_window() -> Window {
    let mut window = window();
    window.press("Heap");
    window
}

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

#[test]
fn the_section_says_the_day_and_what_it_shows() {
    let mut window = heap_window();
    window.type_number("Day of the cross-section", "12");
    assert_eq!(window.app().state.heap.day, 12.0);
    let projection = window.app().shown.stages.projection().unwrap().clone();
    let record = projection.at(12.0).unwrap();
    let words = format!(
        "Cross-section on day 12: temperature. Centre {:.0} °C",
        record.centre_c
    );
    assert!(
        window
            .harness
            .query_all_by_label_contains(&words)
            .next()
            .is_some(),
        "{words}"
    );
    window.press("Moisture");
    assert_eq!(window.app().state.heap.shows, SectionValue::Moisture);
    let words = "Cross-section on day 12: moisture.";
    assert!(
        window
            .harness
            .query_all_by_label_contains(words)
            .next()
            .is_some()
    );
}

#[test]
fn an_empty_mix_shows_no_section_and_no_panic() {
    let mut window = heap_window();
    window
        .harness
        .state_mut()
        .bench
        .project
        .mix
        .ingredients
        .clear();
    window.run();
    assert!(window.shows("Nothing to show yet: put something into the mix."));
}

/// A field that rises in a straight line with height, over a real grid.
fn risen() -> (SectionGrid, Field) {
    let window = window();
    let projection = window.app().shown.stages.projection().unwrap().clone();
    let grid = projection.grids[0].clone();
    let mut field = projection.fields[0].clone();
    for (value, &(_, row)) in field.temperature_c.iter_mut().zip(&grid.places) {
        let middle = 0.5 * (grid.edges_up_m[row] + grid.edges_up_m[row + 1]);
        *value = (100.0 * middle / grid.edges_up_m.last().unwrap()) as f32;
    }
    (grid, field)
}

#[test]
fn a_straight_line_stays_one_between_centres_and_the_halves_mirror() {
    // Bilinear interpolation is exact for a field that is linear in height.
    let (grid, field) = risen();
    let raster = Raster::of(&grid, &field.temperature_c, 64, 50);
    for down in [0.2, 0.5, 0.8] {
        let value = raster.at(0.5, down).unwrap();
        assert!(
            (value - 100.0 * (1.0 - down)).abs() < 1.5,
            "{down}: {value}"
        );
        for across in [0.05, 0.3, 0.45] {
            assert_eq!(
                raster.at(across, down),
                raster.at(1.0 - across - 1e-6, down)
            );
        }
    }
}

#[test]
fn an_isoline_lies_where_its_value_is() {
    let (grid, field) = risen();
    let raster = Raster::of(&grid, &field.temperature_c, 64, 50);
    let pieces = raster.isoline(55.0);
    assert!(pieces.len() > 50, "it crosses the whole width");
    for point in pieces.iter().flatten() {
        assert!((point.1 - 0.45).abs() < 0.02, "{point:?}");
    }
    assert!(raster.isoline(500.0).is_empty());
}

#[test]
fn the_slope_of_an_open_heap_is_drawn_straight() {
    // A cone: half the width at half the height. Tolerance: a point of the raster at each side.
    let mut window = heap_window();
    pick(&mut window, "open heap");
    let projection = window.app().shown.stages.projection().unwrap().clone();
    let grid = &projection.grids[0];
    let raster = Raster::of(grid, &projection.fields[0].temperature_c, 200, 100);
    let mut before = 0;
    for row in 0..raster.height {
        let values = &raster.values[row * raster.width..(row + 1) * raster.width];
        let filled = values.iter().filter(|value| !value.is_nan()).count();
        let share = filled as f64 / raster.width as f64;
        let wanted = (row as f64 + 0.5) / raster.height as f64;
        assert!(
            (share - wanted).abs() <= 2.0 / raster.width as f64,
            "{row}: {share} {wanted}"
        );
        assert!(filled >= before && filled <= before + 4, "no steps");
        before = filled;
    }
}

#[test]
fn the_section_sinks_as_the_heap_settles() {
    // Definition: volume over ground. In a bay the ground stays, so the height is the volume over it; a fresh heap that is
    // held looser than its buckets stands as built.
    let window = heap_window();
    let projection = window.app().shown.stages.projection().unwrap().clone();
    let ground_m2: f64 = {
        let grid = &projection.grids[0];
        grid.volume_m3.iter().sum::<f64>() / grid.edges_up_m.last().unwrap()
    };
    let built = Extent::on_day(&projection, 0.0).unwrap();
    let last_day = projection.records.last().unwrap().day;
    let mut before = f64::INFINITY;
    for day in [0.0, 10.0, 30.0, 60.0, last_day] {
        let stands = Extent::on_day(&projection, day).unwrap();
        let wanted = projection.at(day).unwrap().volume_m3 / ground_m2;
        assert!(
            (stands.height_m - wanted.min(built.height_m)).abs() < 1e-9,
            "{day}"
        );
        assert!(
            stands.height_m <= before,
            "nothing turns it, so it never rises"
        );
        assert_eq!(stands.width_m, built.width_m);
        before = stands.height_m;
    }
    assert!(
        before < 0.8 * built.height_m,
        "it settles where one can see it"
    );
    assert!(window.shows("Settled to"));
}

#[test]
fn an_addition_leaves_the_scale_of_the_days_before_it() {
    // One frame for the whole run: it is that of the day on which the heap is largest, before and after the addition.
    use heapwright::heap::{Addition, Placing, Resolution, simulate};
    let mut window = heap_window();
    pick(&mut window, "open heap");
    let inputs = window.app().shown.stages.inputs().unwrap().clone();
    let mut heap = inputs.heap.clone();
    let addition = Operation::Add {
        mix: heapwright::mix::Mix {
            ingredients: vec![heapwright::mix::Ingredient::new(
                "grass_fresh",
                heapwright::quantity::Amount::new(8.0, heapwright::quantity::Measure::Barrow),
            )],
            added_water_l: 0.0,
        },
        placing: Placing::MixedIn,
    };
    heap.days = 40.0;
    heap.plan.events.push(Event {
        day: 10.0,
        operation: addition,
    });
    let catalogue = heapwright::material::Catalogue::built_in().unwrap();
    let added: Vec<Addition> = heap.plan.additions(&catalogue).unwrap();
    let never = std::sync::atomic::AtomicBool::new(false);
    let coarse = Resolution::coarse();
    let projection = simulate(&inputs.totals, &added, &heap, &coarse, &never).unwrap();
    let frame = Extent::largest(&projection).unwrap();
    let [day_9, day_11] = [9.0, 11.0].map(|day| Extent::on_day(&projection, day).unwrap());
    for record in &projection.records {
        let stands = Extent::on_day(&projection, record.day).unwrap();
        assert!(stands.width_m <= frame.width_m && stands.height_m <= frame.height_m);
    }
    assert!(
        day_11.height_m > day_9.height_m,
        "it grows by what is added"
    );
    assert_eq!(frame.width_m, day_9.width_m.max(day_11.width_m));
}

#[test]
fn a_thin_layer_says_that_it_is_drawn_higher_than_it_is() {
    let mut window = heap_window();
    pick(&mut window, "layer on the ground");
    assert!(window.shows("Height drawn"));
    pick(&mut window, "slatted bay");
    assert!(!window.shows("Height drawn"));
}

#[test]
fn at_rest_the_projection_becomes_the_fine_one() {
    use heapwright::heap::{Resolution, simulate};
    let mut window = heap_window();
    let inputs = window.app().shown.stages.inputs().unwrap().clone();
    let never = std::sync::atomic::AtomicBool::new(false);
    let fine = simulate(
        &inputs.totals,
        &[],
        &inputs.heap,
        &Resolution::fine(),
        &never,
    )
    .unwrap();
    window.harness.state_mut().bench.refines = true;
    let begun = std::time::Instant::now();
    while window.app().shown.stages.projection().unwrap().steps != fine.steps {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 60, "no fine projection came");
    }
    assert_eq!(**window.app().shown.stages.projection().unwrap(), fine);
    while window.app().shown.curve.band.is_none() {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 120, "no band came");
    }
    // A change goes back to the coarse one.
    window.press("+ Turn");
    let inputs = window.app().shown.stages.inputs().unwrap().clone();
    let coarse = simulate(
        &inputs.totals,
        &[],
        &inputs.heap,
        &Resolution::coarse(),
        &never,
    )
    .unwrap();
    while **window.app().shown.stages.projection().unwrap() != coarse {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 180, "no coarse projection came");
    }
}

#[test]
fn the_picture_moves_while_the_mix_changes_in_every_frame() {
    let mut window = heap_window();
    window.harness.state_mut().bench.refines = true;
    let begun = std::time::Instant::now();
    let mut seen = vec![window.app().shown.stages.projection().unwrap().clone()];
    while seen.len() < 5 {
        window.harness.state_mut().bench.project.mix.added_water_l += 0.01;
        window.harness.step();
        let now = window.app().shown.stages.projection().unwrap().clone();
        if !std::sync::Arc::ptr_eq(&now, &seen[seen.len() - 1]) {
            seen.push(now);
        }
        assert!(begun.elapsed().as_secs() < 60, "the picture stands still");
    }
    assert_ne!(seen[1].records, seen[4].records);
}

#[test]
fn a_climate_is_picked_and_its_numbers_are_changed() {
    let mut window = heap_window();
    let before = window.app().project.heap.climate.clone();
    window.harness.get_by_label("Climate").click();
    window.run();
    window.harness.get_by_label("Dfc, subarctic").click();
    window.run();
    assert_eq!(window.app().project.heap.climate.monthly_mean_c[0], -14.0);
    window
        .harness
        .get_by_label("Your own weather numbers")
        .click();
    window.run();
    window.type_number("Mean air temperature in January", "-20");
    assert_eq!(window.app().project.heap.climate.monthly_mean_c[0], -20.0);
    window.press("Undo");
    window.press("Undo");
    assert_eq!(window.app().project.heap.climate, before);
}

/// Picks a drawing by its name.
fn pick(window: &mut Window, name: &str) {
    window
        .harness
        .get_by_role_and_label(Role::RadioButton, name)
        .click();
    window.run();
}

#[test]
fn every_drawing_can_be_picked_by_name_and_changes_the_projection() {
    let mut window = heap_window();
    let before = window.app().project.clone();
    let mut curves = Vec::new();
    for choice in &CHOICES {
        pick(&mut window, choice.name);
        let shape = &window.app().project.heap.shape;
        assert_eq!(heapwright::text::heap::shape(shape), choice.name);
        curves.push(window.app().shown.curve.clone());
        assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    }
    for (index, curve) in curves.iter().enumerate() {
        assert!(!curves[..index].contains(curve), "{}", CHOICES[index].name);
    }
    while window.app().facts().undo.is_some() {
        window.press("Undo");
    }
    assert_eq!(window.app().project, before);
}

#[test]
fn the_picked_drawing_says_that_it_is_picked() {
    let mut window = heap_window();
    pick(&mut window, "wire cylinder");
    let chosen = |window: &Window, name: &str| {
        let node = window
            .harness
            .get_by_role_and_label(Role::RadioButton, name);
        node.accesskit_node().toggled() == Some(eframe::egui::accesskit::Toggled::True)
    };
    assert!(chosen(&window, "wire cylinder"));
    assert!(!chosen(&window, "slatted bay"));
}

#[test]
fn a_closed_bin_has_a_lid_and_walls() {
    let mut window = heap_window();
    pick(&mut window, "closed bin");
    let is = |window: &Window, wanted: Lid| matches!(&window.app().project.heap.shape, Shape::SolidBin { lid, board: Board::Plastic, .. } if *lid == wanted);
    assert!(is(&window, Lid::Closed));
    window
        .harness
        .get_by_role_and_label(Role::CheckBox, "lid")
        .click();
    window.run();
    assert!(is(&window, Lid::Open));
    // Picking what is already there leaves the lid as it is.
    pick(&mut window, "closed bin");
    assert!(is(&window, Lid::Open));
    assert!(window.shows("Walls of the bin"));
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
fn the_section_speaks_another_day_after_the_slider_moved() {
    let mut window = heap_window();
    let spoken = |window: &Window| {
        let image = window
            .harness
            .root()
            .children_recursive()
            .map(|node| node.accesskit_node())
            .find(|node| node.role() == Role::Image)
            .unwrap();
        image.label().unwrap()
    };
    window.slide("Day of the cross-section", 3.0);
    let early = spoken(&window);
    window.slide("Day of the cross-section", 30.0);
    let late = spoken(&window);
    assert!(early.starts_with("Cross-section on day 3:"), "{early}");
    assert!(late.starts_with("Cross-section on day 30:"), "{late}");
    for shows in SectionValue::ALL {
        window.press(section_value_label(shows));
        let words = spoken(&window);
        assert!(
            words.contains("Centre ") && words.contains("edge "),
            "{words}"
        );
    }
}

#[test]
fn the_days_run_while_playing_and_stand_still_when_paused() {
    let mut window = heap_window();
    window.slide("Day of the cross-section", 5.0);
    window
        .harness
        .get_by_role_and_label(Role::Button, "Play")
        .click();
    window.harness.run_steps(4);
    let playing = window.app().state.heap.day;
    assert!(playing > 5.0);
    window
        .harness
        .get_by_role_and_label(Role::Button, "Pause")
        .click();
    window.harness.run_steps(3);
    let paused = window.app().state.heap.day;
    // `run` panics if anything still asks for frames.
    window.run();
    assert_eq!(window.app().state.heap.day, paused);
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

#[test]
fn regions_of_the_heap_view_lie_beside_each_other_at_every_size() {
    let theme = Theme::built_in().unwrap();
    for (width, height) in [(876.0, 500.0), (1256.0, 700.0), (1896.0, 980.0)] {
        let whole = Rect::from_min_max(pos2(12.0, 80.0), pos2(12.0 + width, 80.0 + height));
        let regions = HeapRegions::of(whole, theme.look(Shade::Light));
        let all = [regions.place, regions.inside, regions.heat];
        for (index, region) in all.iter().enumerate() {
            assert!(whole.contains_rect(*region));
            assert!(region.width() > 300.0 && region.height() > 200.0);
            for other in &all[index + 1..] {
                assert!(!region.shrink(0.5).intersects(*other));
            }
        }
    }
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
fn no_button_or_list_says_centimetres_or_litres_in_us_units() {
    let mut window = heap_window();
    window.command_shift(Key::U);
    window.harness.get_by_label("+ Cover with straw").hover();
    window.run();
    assert!(window.shows("Lays 4 in of straw"));
    window.press("Mix");
    window
        .harness
        .get_all_by_role(Role::ComboBox)
        .find(|node| {
            let label = node.accesskit_node().label();
            label.is_some_and(|label| label.starts_with("Measure of"))
        })
        .unwrap()
        .click();
    window.run();
    assert!(window.shows("bucket (3.17 gal)"));
    assert!(!window.shows(" L)"));
}

#[test]
fn an_entry_is_done_again_a_week_later_and_every_week() {
    let mut window = window();
    let heap = &mut window.harness.state_mut().bench.project.heap;
    heap.days = 40.0;
    heap.plan.events = vec![heapwright::heap::Event {
        day: 7.0,
        operation: heapwright::heap::Operation::Water { wet_to: 0.55 },
    }];
    window.press("Heap");
    let days = |window: &Window| -> Vec<f64> {
        let events = &window.app().project.heap.plan.events;
        events.iter().map(|event| event.day).collect()
    };
    window.press("Do entry 1 again");
    assert_eq!(days(&window), [7.0, 14.0]);
    window.press("Do entry 1 weekly");
    assert_eq!(days(&window), [7.0, 14.0, 21.0, 28.0, 35.0]);
    window.press("Undo");
    assert_eq!(days(&window), [7.0, 14.0]);
}
