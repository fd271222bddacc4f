//! Fields for numbers: what is typed in the unit shown is kept in SI, and within its bound.

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::quantity::{Bound, UnitSystem};
use heapwright::window::widgets::quantity_field::{QuantityField, ShownUnit};

const BOUND: Bound = Bound {
    name: "temperature",
    low: -20.0,
    high: 40.0,
    unit: "degC",
};

fn field(unit: ShownUnit, value: f64) -> Harness<'static, f64> {
    Harness::new_ui_state(
        move |ui, value: &mut f64| {
            QuantityField::within("Field", BOUND)
                .unit(unit)
                .decimals(1)
                .show(ui, value);
        },
        value,
    )
}

fn type_into(harness: &mut Harness<'static, f64>, text: &str) {
    let find = |harness: &Harness<'static, f64>| {
        harness
            .get_by_role_and_label(Role::SpinButton, "Field")
            .click();
    };
    find(harness);
    harness.run();
    harness
        .get_by_role_and_label(Role::SpinButton, "Field")
        .type_text(text);
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn a_number_typed_in_the_unit_shown_is_kept_in_si() {
    for (unit, typed, kept) in [
        (ShownUnit::temperature(UnitSystem::Metric), "21.5", 21.5),
        (ShownUnit::temperature(UnitSystem::UsCustomary), "50", 10.0),
        (
            ShownUnit::temperature_difference(UnitSystem::UsCustomary),
            "18",
            10.0,
        ),
        (ShownUnit::length(UnitSystem::UsCustomary), "10", 3.048),
        (ShownUnit::PERCENT, "57", 0.57),
    ] {
        let mut harness = field(unit, 5.0);
        type_into(&mut harness, typed);
        let value = *harness.state();
        assert!(
            (value - kept).abs() < 1e-12,
            "{typed} {}: {value}",
            unit.sign
        );
    }
}

#[test]
fn a_number_beyond_the_bound_is_the_bound() {
    let mut harness = field(ShownUnit::temperature(UnitSystem::UsCustomary), 5.0);
    type_into(&mut harness, "500");
    assert_eq!(*harness.state(), 40.0);
}

#[test]
fn what_is_only_looked_at_stays_the_same_to_the_last_digit() {
    for units in [UnitSystem::Metric, UnitSystem::UsCustomary] {
        let value = 10.0 / 3.0;
        let mut harness = field(ShownUnit::temperature(units), value);
        harness.run();
        harness
            .get_by_role_and_label(Role::SpinButton, "Field")
            .hover();
        harness.run();
        assert_eq!(harness.state().to_bits(), value.to_bits());
    }
}

#[test]
fn a_screen_reader_meets_name_value_and_ends_in_the_unit_shown() {
    let harness = field(ShownUnit::temperature(UnitSystem::UsCustomary), 10.0);
    let node = harness.get_by_role_and_label(Role::SpinButton, "Field");
    let node = node.accesskit_node();
    assert_eq!(node.numeric_value(), Some(50.0));
    assert_eq!(node.min_numeric_value(), Some(-4.0));
    assert_eq!(node.max_numeric_value(), Some(104.0));
}
