//! Units, measures and rounding against exact definitions.

use heapwright::quantity::{
    Amount, Extent, KG_PER_POUND, LITRE_PER_US_GALLON, Measure, Range, UnitSystem, bounds,
    celsius_from_fahrenheit, fahrenheit_from_celsius,
};
use heapwright::text::{amount, number};

/// Inch in metres, exact by the international yard and pound agreement of 1959.
const INCH_M: f64 = 0.0254;

fn litres(measure: &Measure) -> f64 {
    match measure.one() {
        Extent::VolumeM3(volume) => volume * 1000.0,
        Extent::MassKg(_) => panic!("{measure:?} is a mass"),
    }
}

fn kilograms(measure: &Measure) -> f64 {
    match measure.one() {
        Extent::MassKg(mass) => mass,
        Extent::VolumeM3(_) => panic!("{measure:?} is a volume"),
    }
}

fn close(found: f64, expected: f64) {
    // Exact definitions: only rounding of f64 is allowed.
    assert!(
        (found - expected).abs() <= 1e-14 * expected.abs(),
        "{found} against {expected}"
    );
}

#[test]
fn us_units_follow_from_the_inch_and_the_pound() {
    // NIST Handbook 44 (appendix C): gallon 231 in3, foot 12 in, yard 3 ft, pound 0.45359237 kg.
    close(LITRE_PER_US_GALLON, 231.0 * INCH_M.powi(3) * 1000.0);
    close(
        litres(&Measure::CubicFoot),
        (12.0 * INCH_M).powi(3) * 1000.0,
    );
    close(
        litres(&Measure::CubicYard),
        (36.0 * INCH_M).powi(3) * 1000.0,
    );
    close(
        litres(&Measure::Pail),
        5.0 * 231.0 * INCH_M.powi(3) * 1000.0,
    );
    close(kilograms(&Measure::Pound), 0.453_592_37);
    close(KG_PER_POUND, 0.453_592_37);
    close(kilograms(&Measure::Gram), 0.001);
}

#[test]
fn temperatures_meet_at_the_fixed_points() {
    // Freezing 32 degF, boiling 212 degF, and -40 the same on both scales.
    for (celsius, fahrenheit) in [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0), (55.0, 131.0)] {
        close(fahrenheit_from_celsius(celsius), fahrenheit);
        close(celsius_from_fahrenheit(fahrenheit), celsius);
    }
    assert_eq!(number::temperature(55.0, UnitSystem::UsCustomary), "131 °F");
    assert_eq!(number::temperature(55.4, UnitSystem::Metric), "55 °C");
}

#[test]
fn density_turns_into_pounds_per_cubic_yard() {
    // Cooperband 2002 gives 1000 lb/yd3 = 593 kg/m3 as the upper limit; printed to three digits.
    assert!((UnitSystem::UsCustomary.density(593.0) - 1000.0).abs() < 0.6);
    assert_eq!(UnitSystem::Metric.density(593.0), 593.0);
}

#[test]
fn a_cubic_yard_is_the_three_foot_bin() {
    // A bin of 3 ft each way holds 1 yd3, 0.765 m3 (geometry; three digits).
    assert!((litres(&Measure::CubicYard) - 765.0).abs() < 0.5);
}

#[test]
fn household_measures_lie_within_what_is_sold() {
    // Ranges of extension bucket methods and trade pages; `common practice`.
    for (measure, low, high) in [
        (Measure::Bucket, 10.0, 14.0),
        (Measure::Barrow, 90.0, 120.0),
        (Measure::Sack, 70.0, 90.0),
        (Measure::Caddy, 5.0, 7.0),
        (Measure::GrassBox, 30.0, 70.0),
        (Measure::Fork, 5.0, 8.0),
        // 0.9-1.0 x 0.45 x 0.35 m.
        (Measure::Bale, 141.0, 158.0),
        // 5 US gallons, printed as 18.9 L.
        (Measure::Pail, 18.85, 18.95),
    ] {
        let size = litres(&measure);
        assert!(size >= low && size <= high, "{measure:?} holds {size} L");
    }
}

#[test]
fn an_amount_says_the_same_in_every_measure() {
    let amount = Amount::new(2.5, Measure::Bucket);
    for measure in Measure::READY {
        let said = amount.said_in(measure.clone(), 210.0);
        assert_eq!(said.measure, measure);
        close(said.volume_m3(210.0), 0.030);
    }
    // Eawag (after Cooperband 2002): a 20 L bucket of 1 kg that weighs 10 kg full holds 450 kg/m3.
    let weighed = Amount::new(10.0 - 1.0, Measure::Kilogram);
    close(weighed.said_in(Measure::Litre, 450.0).value, 20.0);
}

#[test]
fn amounts_read_as_a_person_would_say_them() {
    for (value, measure, text) in [
        (2.5, Measure::Bucket, "2.5 buckets"),
        (1.0, Measure::Barrow, "1 barrow"),
        (1.001, Measure::Barrow, "1 barrow"),
        (0.5, Measure::Barrow, "0.5 barrows"),
        (300.0, Measure::Gram, "300 g"),
        (3.0, Measure::GrassBox, "3 grass boxes"),
        (2.0, Measure::Caddy, "2 caddies"),
        (2.0, Measure::CubicFoot, "2 cubic feet"),
        // Never "8.5 5 gal pails", which reads as one number.
        (8.5, Measure::Pail, "8.5 five-gallon pails"),
    ] {
        assert_eq!(amount::amount(&Amount::new(value, measure)), text);
    }
    let own = Measure::Own {
        name: "trug".into(),
        litres: 38.0,
    };
    // No rule makes several of any name a person gives.
    assert_eq!(amount::amount(&Amount::new(3.0, own.clone())), "3 × trug");
    assert_eq!(amount::amount(&Amount::new(1.0, own.clone())), "1 trug");
    assert_eq!(amount::holds(&own, UnitSystem::Metric), "38 L");
    assert_eq!(amount::holds(&Measure::Gram, UnitSystem::Metric), "1 g");
}

#[test]
fn rounding_keeps_three_digits_and_no_tail() {
    for (value, text) in [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.001, "0"),
        (0.25, "0.25"),
        (0.256, "0.26"),
        (1.0, "1"),
        (9.999, "10"),
        (12.5, "12.5"),
        (12.04, "12"),
        (99.96, "100"),
        (340.4, "340"),
        (100.0, "100"),
        (1000.0, "1000"),
        (-2.50, "-2.5"),
    ] {
        assert_eq!(number::rounded(value), text, "{value}");
    }
}

#[test]
fn volumes_and_masses_change_unit_by_system() {
    assert_eq!(number::volume(0.85, UnitSystem::Metric), "850 L");
    assert_eq!(number::volume(2.4, UnitSystem::Metric), "2.4 m³");
    // 850 L / 3.785411784 = 224.5 gal; 2.4 m3 / 0.764554858 = 3.139 yd3.
    assert_eq!(number::volume(0.85, UnitSystem::UsCustomary), "225 gal");
    assert_eq!(number::volume(2.4, UnitSystem::UsCustomary), "3.14 yd³");
    assert_eq!(number::mass(12.5, UnitSystem::Metric), "12.5 kg");
    // 12.5 / 0.45359237 = 27.56.
    assert_eq!(number::mass(12.5, UnitSystem::UsCustomary), "27.6 lb");
}

#[test]
fn bounds_refuse_what_is_not_a_number_in_one_sentence() {
    for bad in [f64::NAN, f64::INFINITY, -1.0, 1e300] {
        let text = bounds::AMOUNT.check(bad).unwrap_err().to_string();
        assert!(
            text.starts_with("an ingredient's amount must lie between 0 and 100000"),
            "{text}"
        );
        assert!(!text.contains("  ") && !text.contains(" ,"), "{text}");
    }
    assert_eq!(bounds::AMOUNT.check(0.0).unwrap(), 0.0);
    assert_eq!(
        bounds::HEAP_VOLUME.check(2000.0).unwrap_err().to_string(),
        "the heap's volume must lie between 0.01 and 1000 m3, found 2000"
    );
}

#[test]
fn ranges_keep_their_order_through_falling_formulas() {
    let range = Range::new(20.0, 25.0, 40.0);
    assert!(range.is_sound());
    let mapped = range.map(|cn| 1.0 / cn);
    assert_eq!(
        [mapped.low, mapped.typical, mapped.high],
        [0.025, 0.04, 0.05]
    );
    assert!(!Range::new(2.0, 1.0, 3.0).is_sound());
    assert!(!Range::new(f64::NAN, 1.0, 3.0).is_sound());
    assert!(!Range::new(0.0, 1.0, f64::INFINITY).is_sound());
    close(range.width(), 20.0);
}

#[test]
fn areas_and_depths_are_said_in_both_systems() {
    // International yard and pound agreement of 1959: 1 ft = 0.3048 m exactly, so 1 ft2 = 0.09290304 m2.
    let us = UnitSystem::UsCustomary;
    assert!((us.area(0.3048 * 0.3048) - 1.0).abs() < 1e-12);
    assert_eq!(number::area(0.3048 * 0.3048 * 100.0, us), "100 ft²");
    assert_eq!(number::area(14.0, UnitSystem::Metric), "14 m²");
    assert_eq!(number::depth(0.0127, us), "0.5 in");
    assert_eq!(number::depth(0.0127, UnitSystem::Metric), "13 mm");
}
