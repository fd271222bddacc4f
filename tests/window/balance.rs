//! The balance on screen: looked at, used, left; fixes below the gauges.

use eframe::egui;
use heapwright::mix::{Fit, bands, blend};
use heapwright::quantity::Measure;
use heapwright::text::balance::way;
use heapwright::text::mix::fix_name;
use heapwright::window::action::Action;

use crate::support::{Window, window};

/// A window with an empty recipe in the bay of the demo (1.44 m3).
fn empty() -> Window {
    let mut window = window();
    window.harness.state_mut().bench.project.mix = Default::default();
    window.run();
    window
}

fn add(window: &mut Window, id: &str) {
    window
        .harness
        .state_mut()
        .ask(Action::AddMaterial(id.to_owned()));
    window.run();
}

#[test]
fn three_materials_and_one_press_fill_the_bay_in_whole_measures() {
    let mut window = empty();
    for id in ["leaves_mixed", "grass_fresh", "poultry_litter"] {
        add(&mut window, id);
    }
    let picked = window.app().project.mix.clone();
    window.press("Balance the mix");
    assert_eq!(window.app().project.mix, picked, "looking changes nothing");
    assert!(
        window.gauge("C:N").contains(", balanced "),
        "a ghost needle"
    );
    window.press("Use this mix");
    let app = window.app();
    let catalogue = heapwright::material::Catalogue::built_in().unwrap();
    let parts = app.project.mix.resolve(&catalogue).unwrap();
    let gauges = blend(&parts, app.project.mix.added_water_l).gauges.unwrap();
    let room_m3 = app.project.heap.shape.room_m3().unwrap();
    for (band, value) in [
        (bands::CN, gauges.cn.typical),
        (bands::MOISTURE, gauges.moisture.typical),
        (bands::volume(room_m3), gauges.volume_m3.typical),
    ] {
        assert_eq!(band.judge(value), Fit::Good, "{value} {band:?}");
    }
    for row in &app.project.mix.ingredients {
        let measure = match row.material.as_str() {
            "grass_fresh" => Measure::GrassBox,
            _ => Measure::Barrow,
        };
        assert_eq!(row.amount.measure, measure, "{row:?}");
        assert_eq!(row.amount.value.fract(), 0.0, "{row:?}");
    }
    window.press("Undo");
    assert_eq!(window.app().project.mix, picked, "one step back");
}

#[test]
fn leaves_alone_say_what_to_look_for() {
    let mut window = empty();
    add(&mut window, "leaves_mixed");
    window.press("Balance the mix");
    assert!(window.shows("It cannot be balanced with these materials"));
    assert!(window.shows("What would help"));
    let preview = window.app().shown.preview.clone().unwrap();
    let heapwright::mix::balance::Reached::Nearest { ways_out, .. } = &preview.balanced.verdict
    else {
        panic!("{preview:?}");
    };
    let first = way(&ways_out[0]);
    window.press(&first);
    window.press("Use this mix");
    assert_eq!(window.app().project.mix, ways_out[0].mix);
}

#[test]
fn a_balance_goes_with_the_mix_it_belongs_to_and_with_escape() {
    let mut window = window();
    window.press("Balance the mix");
    assert!(window.app().shown.preview.is_some());
    window.harness.state_mut().bench.project.mix.added_water_l += 7.0;
    window.run();
    assert!(window.app().shown.preview.is_none());
    window.press("Balance the mix");
    window.harness.key_press(egui::Key::Escape);
    window.run();
    assert!(window.app().shown.preview.is_none());
    assert!(window.shows("What to do next"));
}

#[test]
fn a_fix_below_a_gauge_mends_it_with_one_press() {
    let mut window = window();
    window.harness.state_mut().bench.project.mix.added_water_l = 400.0;
    window.run();
    let before = window.gauge("Moisture");
    assert!(before.contains("wet"), "{before}");
    let name = window
        .app()
        .shown
        .stages
        .fixes()
        .iter()
        .find(|(gauge, _)| *gauge == heapwright::mix::Gauge::Moisture)
        .map(|(gauge, fix)| fix_name(*gauge, &fix.step))
        .unwrap();
    window.press(&name);
    let after = window.gauge("Moisture");
    assert!(after.contains(", moist"), "{after}");
}

#[test]
fn a_bay_half_full_is_filled_up_with_what_there_is() {
    let mut window = window();
    for row in &mut window.harness.state_mut().bench.project.mix.ingredients {
        row.amount.value *= 0.5;
    }
    window.run();
    let before = window.app().project.mix.clone();
    window.press("Fill the bin");
    window.press("Use this mix");
    let after = &window.app().project.mix;
    for (row, then) in before.ingredients.iter().zip(&after.ingredients) {
        assert!(then.amount.value >= row.amount.value);
    }
    let volume = window.gauge("Volume");
    assert!(volume.contains(", full"), "{volume}");
}

#[test]
fn the_balance_never_takes_more_than_there_is_said_to_be() {
    let mut window = window();
    let row = window.app().project.mix.ingredients[0].clone();
    let name = {
        let catalogue = heapwright::material::Catalogue::built_in().unwrap();
        catalogue.find(&row.material).unwrap().name.clone()
    };
    let stock = |window: &Window| window.app().project.mix.ingredients[0].stock;
    assert_eq!(stock(&window), None);
    window.type_number(&format!("Stock of {name}"), "9");
    assert_eq!(stock(&window), Some(9.0));
    window.press("Balance the mix");
    window.press("Use this mix");
    assert!(window.app().project.mix.ingredients[0].amount.value <= 9.0);
    // Another measure says the stock as well.
    window
        .harness
        .state_mut()
        .ask(Action::SetMeasure(0, Measure::Litre));
    window.run();
    let litres = stock(&window).unwrap();
    let heapwright::quantity::Extent::VolumeM3(barrow_m3) = Measure::Barrow.one() else {
        panic!("a barrow is a volume");
    };
    assert!((litres - 9.0 * 1000.0 * barrow_m3).abs() < 1e-6, "{litres}");
}
