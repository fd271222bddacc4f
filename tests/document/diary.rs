//! The diary: days since the heap was built, by the calendar (Gregorian; leap days as in ISO 8601).

use heapwright::diary::{Diary, Reading, Spot};
use jiff::civil::date;

#[test]
fn days_are_counted_from_the_building_of_the_heap() {
    let built = date(2024, 2, 27).at(18, 0, 0, 0);
    let diary = Diary {
        built: Some(built),
        ..Diary::default()
    };
    // 2024 is a leap year: 28 and 29 February lie between.
    assert_eq!(diary.day_of(date(2024, 3, 1).at(6, 0, 0, 0)), Some(2.5));
    assert_eq!(diary.day_of(date(2024, 2, 27).at(12, 0, 0, 0)), Some(-0.25));
    assert_eq!(diary.moment_of(2.5), Some(date(2024, 3, 1).at(6, 0, 0, 0)));
    assert_eq!(diary.moment_of(f64::NAN), None);
    assert_eq!(diary.moment_of(1e12), None);
    assert_eq!(Diary::default().day_of(built), None);
    assert!(Diary::default().is_empty() && !diary.is_empty());
}

#[test]
fn a_place_outside_the_heap_is_refused() {
    assert!(Spot::CENTRE.check().is_ok());
    for spot in [
        Spot { out: 1.01, up: 0.5 },
        Spot { out: 0.5, up: -0.1 },
        Spot {
            out: f64::NAN,
            up: 0.5,
        },
    ] {
        assert!(spot.check().is_err(), "{spot:?}");
    }
}

#[test]
fn a_temperature_by_itself_says_nothing_else() {
    let reading = Reading::temperature(date(2025, 6, 1).at(8, 0, 0, 0), Spot::CENTRE, 61.5);
    assert_eq!(reading.temperature_c, Some(61.5));
    assert!(reading.wetness.is_none() && reading.smell.is_none() && reading.oxygen.is_none());
}
