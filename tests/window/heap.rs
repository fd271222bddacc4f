//! The Heap view: plan, place, cross-section.

use egui_kittest::kittest::Queryable;
use heapwright::heap::{Cover, Deed, Field, SectionGrid, Turning};
use heapwright::window::section::{Raster, Shows};

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
        plan.events[0].deed,
        Deed::Turn {
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
    window.press("Drop entry 1");
    let events = &window.app().project.heap.plan.events;
    assert_eq!(events.len(), 1);
    assert_eq!(events[0].deed, Deed::Cover(Cover::Sheet));
}

#[test]
fn the_section_says_the_day_and_what_it_shows() {
    let mut window = heap_window();
    window.type_number("Day of the cross-section", "12");
    assert_eq!(window.app().state.heap.day, 12.0);
    let projection = window.app().shown.projection.clone().unwrap();
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
    assert_eq!(window.app().state.heap.shows, Shows::Moisture);
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
    window.harness.state_mut().project.mix.ingredients.clear();
    window.run();
    assert!(window.shows("Nothing to show yet: put something into the mix."));
}

/// A field that rises in a straight line with height, over a real grid.
fn risen() -> (SectionGrid, Field) {
    let window = window();
    let projection = window.app().shown.projection.clone().unwrap();
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
fn at_rest_the_projection_becomes_the_fine_one() {
    use heapwright::heap::{Settings, simulate};
    let mut window = heap_window();
    let inputs = window.app().shown.inputs.clone().unwrap();
    let never = std::sync::atomic::AtomicBool::new(false);
    let fine = simulate(&inputs.totals, &[], &inputs.heap, &Settings::fine(), &never).unwrap();
    window.harness.state_mut().refines = true;
    let begun = std::time::Instant::now();
    while window.app().shown.projection.as_ref().unwrap().steps != fine.steps {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 60, "no fine projection came");
    }
    assert_eq!(**window.app().shown.projection.as_ref().unwrap(), fine);
    while window.app().shown.curve.band.is_none() {
        window.harness.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 120, "no band came");
    }
    // A change goes back to the coarse one in the same frame.
    window.press("+ Turn");
    assert_ne!(
        window.app().shown.projection.as_ref().unwrap().steps,
        fine.steps
    );
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
    window.harness.get_by_label("Numbers of the place").click();
    window.run();
    window.type_number("Mean air temperature in January", "-20");
    assert_eq!(window.app().project.heap.climate.monthly_mean_c[0], -20.0);
    window.press("Undo");
    window.press("Undo");
    assert_eq!(window.app().project.heap.climate, before);
}
