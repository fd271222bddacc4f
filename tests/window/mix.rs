//! The Mix view: rows, water, buckets, measures, heap row.

use eframe::egui::{Rect, accesskit::Role, pos2};
use egui_kittest::kittest::Queryable;
use heapwright::document::Project;
use heapwright::heap::{Board, Lid, Shape};
use heapwright::material::{Catalogue, Side};
use heapwright::quantity::{Amount, Extent, Measure, UnitSystem};
use heapwright::text::advice::sentence;
use heapwright::window::Action;
use heapwright::window::mix::MixRegions;
use heapwright::window::theme::{Shade, Theme};
use heapwright::window::verbs::mix::plus_bucket;
use heapwright::window::widgets::amount_control::{first_top, grown_top};
use heapwright::window::widgets::heap_kind::HeapKind;

use super::support::window;

const GRASS: &str = "Grass clippings, fresh and loose";

/// Wet mass of an ingredient, kg.
fn mass_kg(project: &Project, row: usize) -> f64 {
    let catalogue = Catalogue::built_in().unwrap();
    let ingredient = &project.mix.ingredients[row];
    let density = catalogue
        .find(&ingredient.material)
        .unwrap()
        .bulk_density
        .typical;
    match ingredient.amount.extent() {
        Extent::MassKg(mass) => mass,
        Extent::VolumeM3(volume) => volume * density,
    }
}

#[test]
fn moving_a_slider_moves_the_project_and_the_gauge() {
    let mut window = window();
    let before = window.gauge("Moisture");
    window.slide(GRASS, 2.0);
    assert_eq!(window.app().project.mix.ingredients[1].amount.value, 2.0);
    let after = window.gauge("Moisture");
    assert_ne!(before, after, "less wet grass must be drier");
    assert!(window.app().is_unsaved());
}

#[test]
fn the_gauge_follows_within_the_same_frame() {
    let mut window = window();
    let before = window.gauge("C:N");
    window
        .harness
        .get_by_role_and_label(Role::Slider, GRASS)
        .set_value_accesskit(0.0);
    // Exactly one frame.
    window.harness.step();
    assert_ne!(before, window.gauge("C:N"));
}

#[test]
fn a_typed_number_is_taken_and_nonsense_is_not() {
    let mut window = window();
    window.type_number(GRASS, "3.5");
    assert_eq!(window.app().project.mix.ingredients[1].amount.value, 3.5);
    window.type_number(GRASS, "a few");
    assert_eq!(window.app().project.mix.ingredients[1].amount.value, 3.5);
    for text in ["NaN", "-7", "1e300", "inf"] {
        window.type_number(GRASS, text);
        let value = window.app().project.mix.ingredients[1].amount.value;
        assert!((0.0..=100_000.0).contains(&value), "{text} became {value}");
    }
}

#[test]
fn an_amount_is_typed_as_people_say_it() {
    let mut window = window();
    let amount =
        |window: &super::support::Window| window.app().project.mix.ingredients[1].amount.clone();
    let present = amount(&window).measure;
    for (text, value, measure) in [
        ("2,5", 2.5, present.clone()),
        ("1/2", 0.5, present.clone()),
        ("1 1/2", 1.5, present),
        ("2 sacks", 2.0, Measure::Sack),
        ("2 sacks", 2.0, Measure::Sack),
        ("200 L", 200.0, Measure::Litre),
        ("3 barrows", 3.0, Measure::Barrow),
    ] {
        window.type_number(GRASS, text);
        assert_eq!(amount(&window), Amount::new(value, measure), "{text}");
    }
    for text in ["a few", "2 pints", "1,000", "-7"] {
        window.type_number(GRASS, text);
        assert_eq!(amount(&window), Amount::new(3.0, Measure::Barrow), "{text}");
        assert!(window.shows("Nothing was changed."), "{text}");
    }
}

#[test]
fn looking_at_an_amount_does_not_change_it() {
    let mut window = window();
    let third = 1.0 / 3.0;
    window.harness.state_mut().bench.project.mix.ingredients[1]
        .amount
        .value = third;
    window.run();
    window
        .harness
        .get_by_role_and_label(Role::SpinButton, GRASS)
        .click();
    window.run();
    window.harness.key_press(eframe::egui::Key::Enter);
    window.run();
    let value = window.app().project.mix.ingredients[1].amount.value;
    assert_eq!(value.to_bits(), third.to_bits());
}

#[test]
fn what_there_is_is_typed_in_place_in_any_measure() {
    let mut window = window();
    let stock = |window: &super::support::Window| window.app().project.mix.ingredients[1].stock;
    window
        .harness
        .state_mut()
        .ask(Action::SetMeasure(1, Measure::Bucket));
    window.run();
    let name = format!("Stock of {GRASS}");
    window.type_number(&name, "3 barrows");
    // 300 L in buckets of 12 L.
    let there = stock(&window).unwrap();
    assert!((there - 25.0).abs() < 1e-9, "{there}");
    window.type_number(&name, "any");
    assert_eq!(stock(&window), None);
}

#[test]
fn another_measure_keeps_the_stuff() {
    let mut window = window();
    let before = mass_kg(&window.app().project, 1);
    for measure in [Measure::Kilogram, Measure::Pail, Measure::Barrow] {
        window
            .harness
            .state_mut()
            .ask(Action::SetMeasure(1, measure.clone()));
        window.run();
        let project = &window.app().project;
        assert_eq!(project.mix.ingredients[1].amount.measure, measure);
        let after = mass_kg(project, 1);
        // Only rounding of a few multiplications lies between.
        assert!((after - before).abs() <= 1e-12 * before, "{before} {after}");
    }
}

#[test]
fn a_measure_too_small_for_the_amount_is_refused_not_cut() {
    // 168 kg would be 168 000 g, more than the 100 000 an amount may be.
    let mut window = window();
    let before = window.app().project.clone();
    window
        .harness
        .state_mut()
        .ask(Action::SetMeasure(1, Measure::Gram));
    window.run();
    assert_eq!(window.app().project, before);
    assert!(window.shows("Change rejected: ingredient 2"));
}

#[test]
fn the_measure_can_be_chosen_from_its_list() {
    let mut window = window();
    let name = format!("Measure of {GRASS}");
    window
        .harness
        .get_by_role_and_label(Role::ComboBox, &name)
        .click();
    window.run();
    window.harness.get_by_label("kg (1 kg)").click();
    window.run();
    let amount = &window.app().project.mix.ingredients[1].amount;
    assert_eq!(amount.measure, Measure::Kilogram);
}

#[test]
fn the_bucket_buttons_add_twelve_litres() {
    let mut window = window();
    let before = mass_kg(&window.app().project, 1);
    window.press(&format!("+1 bucket {GRASS}"));
    let catalogue = Catalogue::built_in().unwrap();
    let density = catalogue.find("grass_fresh").unwrap().bulk_density.typical;
    let gained = mass_kg(&window.app().project, 1) - before;
    assert!((gained - 0.012 * density).abs() < 1e-9);
    assert_eq!(window.app().project.mix.ingredients.len(), 3);
}

#[test]
fn a_bucket_of_something_new_makes_a_row() {
    let mut window = window();
    let state = window.harness.state_mut();
    state.ask(Action::ChooseBucket(Side::Brown, "straw_wheat".to_owned()));
    state.ask(Action::AddBucket(Side::Brown));
    window.run();
    let last = window.app().project.mix.ingredients.last().unwrap();
    assert_eq!(last.material, "straw_wheat");
    assert_eq!(last.amount, Amount::new(1.0, Measure::Bucket));
}

#[test]
fn a_bucket_is_twelve_litres_in_any_measure() {
    for measure in Measure::READY {
        let amount = Amount::new(2.0, measure);
        let more = plus_bucket(&amount, 400.0);
        let gained = more.volume_m3(400.0) - amount.volume_m3(400.0);
        assert!((gained - 0.012).abs() < 1e-12, "{amount:?}");
    }
}

#[test]
fn removing_and_locking_work_by_name() {
    let mut window = window();
    window.press(&format!("Lock {GRASS}"));
    assert!(window.app().project.mix.ingredients[1].locked);
    window.press(&format!("Remove {GRASS}"));
    assert_eq!(window.app().project.mix.ingredients.len(), 2);
    assert!(
        window
            .harness
            .query_by_role_and_label(Role::Slider, GRASS)
            .is_none()
    );
}

#[test]
fn two_rows_of_one_material_have_two_names() {
    let mut window = window();
    window
        .harness
        .state_mut()
        .ask(Action::AddMaterial("grass_fresh".to_owned()));
    window.run();
    window.slide(&format!("{GRASS} (row 4)"), 5.0);
    assert_eq!(window.app().project.mix.ingredients[3].amount.value, 5.0);
    assert_eq!(window.app().project.mix.ingredients[1].amount.value, 8.0);
}

#[test]
fn water_is_entered_in_the_shown_unit() {
    let mut window = window();
    window.slide("Added water", 20.0);
    assert_eq!(window.app().project.mix.added_water_l, 20.0);
    window.harness.state_mut().bench.state.settings.units = UnitSystem::UsCustomary;
    window.run();
    assert_eq!(
        window.app().project.mix.added_water_l,
        20.0,
        "looking at it in gallons must not change it"
    );
    window.type_number("Added water", "10");
    // 10 US gallons are 37.854 117 84 L (exact by definition).
    assert!((window.app().project.mix.added_water_l - 37.854_117_84).abs() < 1e-9);
}

#[test]
fn a_sliders_end_grows_with_its_value() {
    assert_eq!(grown_top(10.0, 9.0), 10.0);
    assert_eq!(grown_top(10.0, 9.6), 20.0);
    assert_eq!(grown_top(10.0, 70.0), 80.0);
    assert_eq!(grown_top(10.0, f64::INFINITY), 10.0);
    for measure in Measure::READY {
        assert!(first_top(&measure) > 0.0);
    }
}

#[test]
fn an_empty_heap_is_no_error() {
    let mut window = window();
    for _ in 0..3 {
        window.harness.state_mut().ask(Action::Remove(0));
        window.run();
    }
    assert!(window.shows("An empty heap"));
    assert!(window.shows("Nothing to assess yet"));
    assert!(window.shows("Nothing to project yet"));
}

#[test]
fn pinning_shows_a_ghost_and_unpinning_takes_it_away() {
    let mut window = window();
    assert!(!window.gauge("C:N").contains("pinned"));
    window.press("Pin this mix");
    window.slide(GRASS, 2.0);
    assert!(window.gauge("C:N").contains("pinned 29.3"));
    assert!(window.shows("pinned mix"));
    window.press("Unpin the ghost");
    assert!(!window.gauge("C:N").contains("pinned"));
}

#[test]
fn the_shape_of_the_heap_can_be_chosen() {
    let mut window = window();
    window
        .harness
        .get_by_role_and_label(Role::ComboBox, "Shape of the heap")
        .click();
    window.run();
    window.harness.get_by_label("closed bin with lid").click();
    window.run();
    let shape = window.app().project.heap.shape.clone();
    assert_eq!(
        shape,
        Shape::SolidBin {
            width_m: 1.2,
            length_m: 1.2,
            height_m: 1.0,
            lid: Lid::Closed,
            board: Board::Plastic,
        }
    );
}

#[test]
fn every_shape_turns_into_every_other_and_stays_possible() {
    for from in HeapKind::ALL {
        for to in HeapKind::ALL {
            let shape = to.shape_like(&from.shape_like(&Shape::OpenHeap));
            assert_eq!(HeapKind::of(&shape), to);
            shape.check().unwrap();
        }
    }
}

#[test]
fn a_room_that_cannot_be_is_refused_and_nothing_is_lost() {
    let mut window = window();
    for name in ["Width", "Length", "Height"] {
        window.type_number(&format!("{name} of the heap"), "150");
    }
    let project = &window.app().project;
    project.check_alone().unwrap();
    assert!(window.shows("Change rejected"));
}

#[test]
fn regions_lie_inside_and_beside_each_other_at_every_size() {
    let theme = Theme::built_in().unwrap();
    for (width, height) in [
        (876.0, 500.0),
        (1256.0, 700.0),
        (1896.0, 980.0),
        (3000.0, 1500.0),
    ] {
        for rows in [0, 3, 30] {
            let whole = Rect::from_min_max(pos2(12.0, 80.0), pos2(12.0 + width, 80.0 + height));
            let regions = MixRegions::of(whole, rows, theme.look(Shade::Light));
            let all = [regions.rows, regions.gauges, regions.heat, regions.advice];
            for (index, region) in all.iter().enumerate() {
                assert!(whole.contains_rect(*region), "{width}x{height}: {index}");
                assert!(region.width() > 150.0 && region.height() > 150.0);
                for other in &all[index + 1..] {
                    assert!(!region.shrink(0.5).intersects(*other));
                }
            }
        }
    }
}

#[test]
fn advice_stands_at_the_right_and_can_be_followed() {
    let mut window = window();
    window.slide(GRASS, 0.0);
    let advice = window.app().shown.stages.advice().to_vec();
    assert!((1..=3).contains(&advice.len()));
    for advice in &advice {
        let text = sentence(advice, UnitSystem::Metric);
        assert!(window.shows(&text), "{text}");
    }
    let change = advice.iter().find_map(|advice| advice.change.clone());
    let mut wanted = window.app().project.mix.clone();
    change.unwrap().apply(&mut wanted);
    window.press("Do this");
    assert_eq!(window.app().project.mix, wanted);
    window.press("Undo");
    assert_eq!(window.app().project.mix.ingredients[1].amount.value, 0.0);
}

#[test]
fn an_aim_is_chosen_kept_and_answered() {
    let mut window = window();
    window
        .harness
        .get_by_role_and_label(Role::ComboBox, "Aim")
        .click();
    window.run();
    window.harness.get_by_label("weed seeds killed").click();
    window.run();
    let aim = window.app().project.aim;
    assert_eq!(aim, Some(heapwright::garden::Aim::SeedsKilled));
    assert!(window.app().is_unsaved());
    window.press("Undo");
    assert_eq!(window.app().project.aim, None);
}

#[test]
fn a_row_is_moved_among_the_others() {
    let mut window = window();
    let order = |window: &super::support::Window| -> Vec<String> {
        let rows = &window.app().project.mix.ingredients;
        rows.iter().map(|row| row.material.clone()).collect()
    };
    let before = order(&window);
    let handle = window
        .harness
        .get_by_label(&format!("Drag {GRASS}"))
        .rect()
        .center();
    let above = pos2(handle.x, handle.y - 60.0);
    window.harness.drag_at(handle);
    window.harness.step();
    window.harness.hover_at(above);
    window.harness.step();
    window.harness.drop_at(above);
    window.run();
    let mut moved = before.clone();
    moved.swap(0, 1);
    assert_eq!(order(&window), moved);
}

#[test]
fn a_measure_of_ones_own_is_kept_and_used() {
    let mut window = window();
    let own = heapwright::quantity::OwnMeasure {
        name: "my barrow".to_owned(),
        litres: 85.0,
    };
    window
        .harness
        .state_mut()
        .bench
        .project
        .measures
        .push(own.clone());
    window.run();
    window.type_number(GRASS, "2 my barrows");
    let amount = window.app().project.mix.ingredients[1].amount.clone();
    assert_eq!(amount, Amount::new(2.0, own.measure()));
}
