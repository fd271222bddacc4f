//! Numbers, dates and lists as they are said.
//!
//! In: values. Out: their text.
//!
//! Not here: that no other room makes text (`words_live_in_text`).
//!
//! Tested by: itself.

use heapwright::outcome::finish::Stage;
use heapwright::outcome::nutrient::{CompostKind, Dressing, Feeding};
use heapwright::quantity::UnitSystem::{Metric, UsCustomary};
use heapwright::text::material::settles_by;
use heapwright::text::outcome::{bed_gets, in_units, rise_in_units};
use heapwright::text::{date, list, number};

#[test]
fn numbers_keep_about_three_digits_and_no_idle_zeros() {
    for (value, text) in [
        (0.25, "0.25"),
        (12.5, "12.5"),
        (340.4, "340"),
        (3.0, "3"),
        (-0.001, "0"),
        (30.04, "30"),
    ] {
        assert_eq!(number::rounded(value), text);
    }
}

#[test]
fn days_are_one_day_or_several() {
    for (days, text) in [
        (0.5, "0.5 days"),
        (1.0, "1 day"),
        (1.04, "1 day"),
        (8.34, "8.3 days"),
        (12.4, "12 days"),
        (120.0, "120 days"),
    ] {
        assert_eq!(number::days(days), text);
    }
    for (days, text) in [
        (0.01, "14 minutes"),
        (1.0 / 24.0, "1 hour"),
        (0.2, "5 hours"),
        (1.0, "1 day"),
        (9.54, "9.5 days"),
    ] {
        assert_eq!(number::time(days), text);
    }
}

#[test]
fn both_systems_of_units_name_their_unit() {
    let both = |say: &dyn Fn(_) -> String| [say(Metric), say(UsCustomary)];
    for (said, expected) in [
        (both(&|u| number::temperature(55.0, u)), ["55 °C", "131 °F"]),
        (
            both(&|u| number::temperature_difference(20.0, u)),
            ["20 °C", "36 °F"],
        ),
        (
            both(&|u| number::temperature_span(0.0, 40.0, u)),
            ["0 to 40 °C", "32 to 104 °F"],
        ),
        (both(&|u| number::volume(0.85, u)), ["850 L", "225 gal"]),
        (both(&|u| number::volume(2.4, u)), ["2.4 m³", "3.14 yd³"]),
        (
            both(&|u| number::small_volume(2.4, u)),
            ["2400 L", "634 gal"],
        ),
        (both(&|u| number::mass(12.5, u)), ["12.5 kg", "27.6 lb"]),
        (both(&|u| number::small_mass(0.05, u)), ["50 g", "0.11 lb"]),
        (
            both(&|u| number::density(450.0, u)),
            ["450 kg/m³", "758 lb/yd³"],
        ),
        (both(&|u| number::area(14.0, u)), ["14 m²", "151 ft²"]),
        (both(&|u| number::length(1.2, u)), ["1.2 m", "3.94 ft"]),
        (both(&|u| number::thickness(0.1, u)), ["10 cm", "4 in"]),
        (both(&|u| number::depth(0.012, u)), ["12 mm", "0.47 in"]),
    ] {
        assert_eq!(said, expected);
    }
}

#[test]
fn ratios_shares_and_counts() {
    assert_eq!(number::ratio(30.66), "30.7");
    assert_eq!(number::ratio(25.0), "25.0");
    assert_eq!(number::percent(0.584), "58 %");
    assert_eq!(number::percent_span(0.4, 0.65), "40 to 65 %");
    assert_eq!(number::count(1, "entry", "entries"), "1 entry");
    assert_eq!(number::count(3, "entry", "entries"), "3 entries");
}

#[test]
fn days_of_a_plan_are_dates() {
    assert_eq!(date::date(288.0), "15 October");
    assert_eq!(date::date_of_plan(288.0, 7.0), "22 October");
    assert_eq!(date::day_and_date(288.0, 7.0), "day 7, 22 October");
    assert_eq!(date::date_and_day(288.0, 100.0), "23 January (day 100)");
    assert_eq!(date::date(366.0), "1 January");
    for day in 1..=365 {
        let (month, of_month) = date::month_and_day(f64::from(day));
        assert_eq!(date::day_of_year(month, of_month), f64::from(day));
    }
}

#[test]
fn figures_in_texts_are_said_in_the_units_read() {
    // Exact: an inch is 25.4 mm, a foot 0.3048 m; 60 degC is 140 degF and a rise of 10 K one of 18 degF. Rounded to quarters
    // below one, to halves below ten, to whole numbers from there on, as such figures are meant.
    let us = |text| in_units(text, UsCustomary).into_owned();
    assert_eq!(us("lay 25 to 75 mm of it"), "lay 1 to 3 in of it");
    assert_eq!(
        us("Keep 10 m away, 50 m from a well."),
        "Keep 33 ft away, 164 ft from a well."
    );
    assert_eq!(us("mesh of 6 mm"), "mesh of 0.25 in");
    assert_eq!(us("rows of 1.8 m by 3 m"), "rows of 6 ft by 10 ft");
    assert_eq!(
        us("turn above 70\u{a0}°C; at 60 °C, not"),
        "turn above 158\u{a0}°F; at 140\u{a0}°F, not"
    );
    assert_eq!(
        us("1,648 trials of 455 µg/kg, 4 dS/m, 72 h, Brinton 1995"),
        "1,648 trials of 455 µg/kg, 4 dS/m, 72 h, Brinton 1995"
    );
    assert_eq!(
        rise_in_units("10 to 20 °C", UsCustomary),
        "18 to 36\u{a0}°F"
    );
    for text in ["25 to 75 mm", "70 °C", "nothing"] {
        assert_eq!(in_units(text, Metric), text);
    }
}

#[test]
fn lists_end_in_and() {
    assert_eq!(list::<&str>(&[]), "");
    assert_eq!(list(&["a"]), "a");
    assert_eq!(list(&["a", "b", "c"]), "a, b and c");
}

#[test]
fn what_a_bed_gets_and_what_would_do_are_never_the_same_number() {
    let dressing = |depth_m: f64| Dressing {
        bed: 0,
        wanted_depth_m: 0.025,
        depth_m,
        litres: 120.0,
        mass_kg: 50.0,
        nitrogen_g_per_m2: [0.0; 5],
        phosphate_g_per_m2: 0.0,
        phosphate_years: 0.0,
        held_by_most: false,
    };
    let feeding = Feeding {
        kind: CompostKind::Plant,
        stage: Stage::Mature,
        leaves: false,
        nitrogen_kg: [0.1; 5],
        hungry: false,
        covers_at_1_cm_m2: 100.0,
    };
    for units in [Metric, UsCustomary] {
        assert!(bed_gets(&dressing(0.020), &feeding, units).contains("would do"));
        assert!(!bed_gets(&dressing(0.0248), &feeding, units).contains("would do"));
    }
}

#[test]
fn the_height_of_a_pile_is_said_in_the_units_shown() {
    assert_eq!(settles_by(Metric), "Piled 1 m high it settles by");
    assert_eq!(settles_by(UsCustomary), "Piled 3.28 ft high it settles by");
}

#[test]
fn a_number_is_not_parted_from_the_sign_of_its_unit() {
    use heapwright::text::number::unparted;
    for (text, on_screen) in [
        ("moisture 64 % now", "moisture 64\u{a0}% now"),
        ("never at 40 °C, never", "never at 40\u{a0}°C, never"),
        ("(1.2 m³)", "(1.2\u{a0}m³)"),
        ("½ L of it", "½\u{a0}L of it"),
        ("63 to 80 °F.", "63 to 80\u{a0}°F."),
        ("450 kg/m³; wet", "450\u{a0}kg/m³; wet"),
        ("day 4 Leaves", "day 4 Leaves"),
        ("3 grass boxes, 2 d", "3 grass boxes, 2\u{a0}d"),
        ("no 7  %", "no 7  %"),
        ("", ""),
    ] {
        assert_eq!(unparted(text), on_screen);
        // The words stay the same.
        assert_eq!(unparted(text).replace('\u{a0}', " "), text);
    }
}
