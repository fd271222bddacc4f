//! The Heap view: the cross-section, its scale, its isolines, its day.

use eframe::egui::accesskit::Role;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::heap::SectionValue;
use heapwright::heap::{Event, Field, Operation, SectionGrid};
use heapwright::text::page::section_value_label;
use heapwright::window::section::{Extent, Raster};

use super::heap::{heap_window, pick};
use super::support::{Window, window};

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
    window.empty_the_mix();
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
        repeat: None,
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
