//! The heat plot's pure half, and what it says.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{Resolution, simulate};
use heapwright::material::Catalogue;
use heapwright::mix::blend;
use heapwright::quantity::UnitSystem;
use heapwright::text::date::{date, day_of_year, month_and_day};
use heapwright::window::piles::curve::{CURVE_POINTS, Curve, Hover, hover_text, thinned};
use proptest::prelude::*;

use super::support::window;

fn demo_curve() -> (heapwright::heap::Projection, Curve) {
    let window = window();
    let project = &window.app().project;
    let catalogue = Catalogue::built_in().unwrap();
    let parts = project.mix.resolve(&catalogue).unwrap();
    let totals = blend(&parts, project.mix.added_water_l).totals;
    let never = AtomicBool::new(false);
    let projection = simulate(&totals, &[], &project.heap, &Resolution::coarse(), &never).unwrap();
    let curve = Curve::of(&projection, &project.heap);
    (projection, curve)
}

#[test]
fn a_thinned_curve_keeps_its_ends_and_its_peak() {
    let (projection, curve) = demo_curve();
    let hottest = |points: &mut dyn Iterator<Item = f64>| points.fold(f64::MIN, f64::max);
    let all = hottest(&mut projection.records.iter().map(|record| record.centre_c));
    let kept = hottest(&mut curve.heap_c.iter().map(|point| point[1]));
    assert_eq!(all, kept);
    assert!(curve.heap_c.len() <= CURVE_POINTS + 4);
    let ends = (curve.heap_c.first().unwrap(), curve.heap_c.last().unwrap());
    assert_eq!(ends.0[0], projection.records.first().unwrap().day);
    assert_eq!(ends.1[0], projection.records.last().unwrap().day);
}

#[test]
fn the_air_of_a_day_holds_all_its_readings() {
    let (projection, curve) = demo_curve();
    for record in &projection.records {
        let Some(air) = curve.air_at(record.day) else {
            assert_eq!(record.day, projection.records.last().unwrap().day);
            continue;
        };
        assert!(air.low_c <= record.ambient_c && record.ambient_c <= air.high_c);
        assert!(air.low_c <= air.mean_c && air.mean_c <= air.high_c);
    }
}

proptest! {
    #[test]
    fn thinning_never_invents_a_point_and_never_turns_back(
        heights in prop::collection::vec(-50.0..90.0f64, 1..4000),
        most in 4usize..1000,
    ) {
        let points: Vec<[f64; 2]> = heights
            .iter()
            .enumerate()
            .map(|(index, height)| [index as f64, *height])
            .collect();
        let kept = thinned(&points, most);
        prop_assert!(kept.len() <= points.len().min(most + 4).max(1));
        for pair in kept.windows(2) {
            prop_assert!(pair[0][0] < pair[1][0]);
        }
        for point in &kept {
            prop_assert_eq!(points[point[0] as usize], *point);
        }
    }
}

#[test]
fn dates_are_those_of_a_common_year() {
    // ISO 8601 ordinal dates of a common year, as printed in any almanac.
    for (day, month, of_month, text) in [
        (1.0, 0, 1, "1 January"),
        (59.0, 1, 28, "28 February"),
        (60.0, 2, 1, "1 March"),
        (285.0, 9, 12, "12 October"),
        (298.0, 9, 25, "25 October"),
        (365.0, 11, 31, "31 December"),
        (366.0, 0, 1, "1 January"),
    ] {
        assert_eq!(month_and_day(day), (month, of_month));
        assert_eq!(date(day), text);
    }
    for day in 1..=365 {
        let (month, of_month) = month_and_day(f64::from(day));
        assert_eq!(day_of_year(month, of_month), f64::from(day));
    }
}

#[test]
fn near_a_marked_line_the_pointer_tells_what_it_means() {
    let (_, curve) = demo_curve();
    let text = |near_mark, units| {
        let at = Hover {
            day: 7.5,
            near_mark,
        };
        hover_text(&curve, None, &at, 298.0, units).unwrap()
    };
    let plain = text(None, UnitSystem::Metric);
    assert!(plain.starts_with("day 7, 1 November"), "{plain}");
    assert!(!plain.contains("rules"));
    assert!(text(Some(0), UnitSystem::Metric).contains("40 °C: heat-loving"));
    // 55 degC is 131 degF, as 40 CFR 503 prints it.
    assert!(text(Some(1), UnitSystem::UsCustomary).contains("131 °F: held for days"));
}

#[test]
fn beyond_the_projection_the_pointer_tells_nothing() {
    let (_, curve) = demo_curve();
    let at = Hover {
        day: 4000.0,
        near_mark: None,
    };
    assert_eq!(hover_text(&curve, None, &at, 1.0, UnitSystem::Metric), None);
}

#[test]
fn the_plot_speaks_its_sentence() {
    let window = window();
    assert!(window.shows("Heat plot. Centre at most"));
}

#[test]
fn a_curve_on_its_way_lies_between_the_two() {
    let of = |at: f64| Curve {
        heap_c: vec![[0.0, 10.0], [10.0, at]],
        ..Curve::default()
    };
    let half = of(60.0).on_its_way_from(&of(20.0), 0.5);
    assert_eq!(half.heap_c, [[0.0, 10.0], [10.0, 40.0]]);
    assert_eq!(of(60.0).on_its_way_from(&of(20.0), 1.0), of(60.0));
    // Where the other has no such day it is there at once.
    assert_eq!(of(60.0).on_its_way_from(&Curve::default(), 0.0), of(60.0));
}
