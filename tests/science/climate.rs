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

#[test]
fn the_ready_climates_belong_to_their_koeppen_classes() {
    // Koeppen-Geiger (Peel, Finlayson and McMahon 2007, table 1): thresholds of each class that monthly means
    // can show.
    let ready = heapwright::heap::Climate::ready();
    assert_eq!(ready.len(), 12);
    for climate in ready {
        climate.check().unwrap();
        let t = climate.monthly_mean_c;
        let (hot, cold) = (
            t.iter().fold(f64::MIN, |a, b| a.max(*b)),
            t.iter().fold(f64::MAX, |a, b| a.min(*b)),
        );
        let warm_months = t.iter().filter(|mean| **mean >= 10.0).count();
        let driest = climate
            .monthly_rain_mm
            .iter()
            .fold(f64::MAX, |a, b| a.min(*b));
        let year: f64 = climate.monthly_rain_mm.iter().sum();
        let name = climate.name.as_str();
        let fits = match &name[..3] {
            "Af," => cold >= 18.0 && driest >= 60.0,
            "Am," => cold >= 18.0 && driest < 60.0 && driest >= 100.0 - year / 25.0,
            "Aw," => cold >= 18.0 && driest < 60.0 && driest < 100.0 - year / 25.0,
            "BWh" => year < 200.0 && t.iter().sum::<f64>() / 12.0 >= 18.0,
            "BSk" => t.iter().sum::<f64>() / 12.0 < 18.0 && (150.0..600.0).contains(&year),
            "Csa" | "Cfa" => hot >= 22.0 && cold > 0.0 && cold < 18.0,
            "Csb" | "Cfb" => hot < 22.0 && warm_months >= 4 && cold > 0.0,
            "Dfa" => cold <= 0.0 && hot >= 22.0,
            "Dfb" => cold <= 0.0 && hot < 22.0 && warm_months >= 4,
            "Dfc" => cold <= 0.0 && cold > -38.0 && (1..4).contains(&warm_months),
            other => panic!("no class {other}"),
        };
        assert!(fits, "{name}");
    }
}

#[test]
fn the_sun_is_fao_56_times_the_clear_share() {
    // FAO Irrigation and Drainage Paper 56, example 8: 20 degrees south, 3 September, Ra 32.2 MJ/m2 d; 45 %.
    let mut climate = even_climate(10.0);
    climate.latitude_deg = -20.0;
    close(
        "sun",
        climate.sun_w_per_m2(246.0),
        0.45 * 32.2e6 / 86_400.0,
        5e-3,
    );
}

#[test]
fn the_yearly_wave_falls_to_a_third_in_its_damping_depth() {
    // Kusuda and Achenbach 1965: amplitude exp(-z / d), d = sqrt(alpha tau / pi) = 2.24 m for 0.5e-6 m2/s.
    let mut climate = even_climate(10.0);
    climate.monthly_mean_c = std::array::from_fn(|m| {
        10.0 - 8.0 * (std::f64::consts::TAU * (m as f64 + 0.5) / 12.0).cos()
    });
    let swing = |depth: f64| {
        let all: Vec<f64> = (0..365)
            .map(|day| climate.ground_c(f64::from(day), depth))
            .collect();
        all.iter().fold(f64::MIN, |a, b| a.max(*b)) - all.iter().fold(f64::MAX, |a, b| a.min(*b))
    };
    close("at the top", swing(0.0), 16.0, 1e-3);
    close(
        "damping depth",
        swing(2.24),
        16.0 / std::f64::consts::E,
        1e-3,
    );
}

#[test]
fn a_long_step_sees_the_mean_of_the_air() {
    // The mean over a step is the integral of the sine: a mean of many moments.
    let climate = even_climate(12.0);
    let (from, to) = (100.3, 100.55);
    let moments = 2000;
    let sum: f64 = (0..moments)
        .map(|i| climate.air_c(from + (to - from) * (f64::from(i) + 0.5) / f64::from(moments)))
        .sum();
    close(
        "mean",
        climate.mean_air_c(from, to),
        sum / f64::from(moments),
        1e-6,
    );
}
