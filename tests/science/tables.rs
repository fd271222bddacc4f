//! The tables of a run against the functions they stand for.

use heapwright::heap::tables::Tables;
use heapwright::heap::{Kinetics, moist_air as air, rot};

use crate::bench::near;
use crate::support::heap_math::ammonia_in_gas_kg_per_m3;

/// Temperatures from low to high, off the entries of the table.
fn between(low: f64, high: f64) -> impl Iterator<Item = f64> {
    let count = ((high - low) * 37.0) as usize;
    (0..count).map(move |i| low + (high - low) * (i as f64 + 0.37) / count as f64)
}

#[test]
fn values_lie_within_the_error_of_a_straight_line() {
    // A line over a step h is off by at most h^2 / 8 of the second derivative: 2e-4 of the humidity ratio from 0 to 60 degC,
    // 4e-4 in frost and 8e-4 at 90, where it runs up to boiling.
    let cardinal = Kinetics::default().cardinal_c;
    let tables = Tables::new(cardinal);
    for t in between(-40.0, 90.0) {
        let at = tables.at(t);
        let w = air::humidity_over_matter(t);
        let allowed = match t {
            ..0.0 => 4e-4,
            ..60.0 => 2e-4,
            _ => 8e-4,
        };
        near(&format!("humidity at {t}"), at.humidity, w, allowed * w);
        near(
            &format!("rot at {t}"),
            at.rot,
            rot::temperature_factor(t, cardinal),
            2e-3,
        );
        let density = air::density_kg_per_m3(t, w);
        near(
            &format!("density at {t}"),
            at.density,
            density,
            1e-4 * density,
        );
        let ammonium = 10f64.powf(rot::ammonia_pka(t) - 8.0);
        near(
            &format!("ammonium at {t}"),
            at.ammonium,
            ammonium,
            0.03 * ammonium,
        );
    }
}

#[test]
fn ammonia_is_right_in_the_mean() {
    // Steps of half a degree: 3 % off at the ends of an entry, but neither way on the whole.
    let tables = Tables::new(Kinetics::default().cardinal_c);
    let (mut sum, mut count) = (0.0, 0.0);
    for t in between(10.0, 75.0) {
        let at = tables.at(t);
        let got = at.volatility / (1.0 + at.ammonium);
        let wanted = ammonia_in_gas_kg_per_m3(1e-3, t, 8.0);
        assert!((got / wanted - 1.0).abs() < 0.035, "at {t}: {got} {wanted}");
        sum += got / wanted - 1.0;
        count += 1.0;
    }
    near("mean error", sum / count, 0.0, 1e-3);
}

#[test]
fn slopes_are_those_of_the_table_itself() {
    // The implicit step needs the slope of the function used, to rounding.
    let tables = Tables::new(Kinetics::default().cardinal_c);
    for t in [-20.1, 3.2, 25.05, 55.3, 71.7, 88.2] {
        let (a, b) = (tables.at(t), tables.at(t + 0.1));
        near(
            "humidity",
            (b.humidity - a.humidity) / 0.1,
            a.humidity_slope,
            1e-12,
        );
        near("rot", (b.rot - a.rot) / 0.1, a.rot_slope, 1e-12);
    }
}

#[test]
fn beyond_its_ends_a_table_keeps_its_ends() {
    let tables = Tables::new(Kinetics::default().cardinal_c);
    for t in [-1e9, -60.1, 99.6, 1e9, f64::NAN, f64::INFINITY] {
        let at = tables.at(t);
        assert!(at.humidity.is_finite() && at.density.is_finite() && at.rot.is_finite());
        assert!(
            at.humidity >= 0.0 && (0.0..=1.0).contains(&at.rot),
            "at {t}: {at:?}"
        );
    }
}
