//! The weather's clock.

use crate::support::heaps::even_climate;
use crate::support::{close, within};

#[test]
fn the_middle_of_a_month_has_its_mean_and_the_year_wraps() {
    let mut climate = even_climate(0.0);
    climate.monthly_mean_c = std::array::from_fn(|month| month as f64);
    let month = 365.0 / 12.0;
    for (index, mean) in climate.monthly_mean_c.into_iter().enumerate() {
        within(
            "mean",
            climate.daily_mean_c((index as f64 + 0.5) * month) - mean,
            -1e-9..=1e-9,
        );
    }
    // Halfway between mid-December (11) and mid-January (0), from either end of the year.
    close("new year", climate.daily_mean_c(0.0), 5.5, 1e-9);
    close("a year later", climate.daily_mean_c(365.0), 5.5, 1e-9);
    close("before", climate.daily_mean_c(-365.0), 5.5, 1e-9);
}

#[test]
fn the_day_is_warmest_at_15_h_and_its_mean_is_the_daily_mean() {
    let climate = even_climate(12.0);
    close("15 h", climate.air_c(40.0 + 15.0 / 24.0), 16.0, 1e-9);
    close("3 h", climate.air_c(40.0 + 3.0 / 24.0), 8.0, 1e-9);
    let mean: f64 = (0..24)
        .map(|hour| climate.air_c(40.0 + f64::from(hour) / 24.0))
        .sum::<f64>()
        / 24.0;
    close("mean", mean, 12.0, 1e-9);
}

#[test]
fn twelve_months_of_rain_add_to_the_year() {
    let mut climate = even_climate(12.0);
    climate.monthly_rain_mm = std::array::from_fn(|month| 10.0 * month as f64);
    let hours = 365 * 24;
    let sum: f64 = (0..hours)
        .map(|h| climate.rain_mm_per_day(f64::from(h) / 24.0) / 24.0)
        .sum();
    close("year", sum, 660.0, 1e-3);
}

#[test]
fn a_number_outside_its_bound_is_named() {
    let mut climate = even_climate(12.0);
    climate.monthly_mean_c[3] = f64::NAN;
    assert!(
        climate
            .check()
            .unwrap_err()
            .to_string()
            .contains("monthly mean temperature")
    );
    climate.monthly_mean_c[3] = -61.0;
    assert!(climate.check().is_err());
}
