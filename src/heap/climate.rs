//! The weather around a heap: air by month with day and night, rain.
//!
//! In: twelve monthly means. Out: air temperature and rain at any moment of the year.
//!
//! Between the middles of two months the mean runs in a straight line; the day swings as a sine,
//! warmest at 15 h (common practice).
//!
//! Not here: sun, ground and what lies over the heap (`outside`).
//!
//! Tested by: `tests/science/climate.rs`.

use std::f64::consts::{PI, TAU};

use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

/// Length of a year, d.
pub const DAYS_PER_YEAR: f64 = 365.0;
/// Length of a month in this model, d: a twelfth of the year.
const DAYS_PER_MONTH: f64 = DAYS_PER_YEAR / 12.0;
/// Hour of the day when the air is warmest (common practice).
const WARMEST_HOUR: f64 = 15.0;

/// Depth over which the yearly wave falls to 1/e in soil of 0.5e-6 m2/s, m.
const YEARLY_DAMPING_DEPTH_M: f64 = 2.24;
/// Solar constant, W/m2 (0.0820 MJ/m2 min; FAO 56).
const SOLAR_CONSTANT_W_PER_M2: f64 = 1366.7;
/// Share of the sun that passes the air and clouds.
const CLEARNESS: f64 = 0.45;

const CLIMATES_RON: &str = include_str!("../../assets/climates.ron");

/// Monthly means of a place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Climate {
    /// What the place is called.
    pub name: String,
    /// Mean air temperature of each month, January first, degC.
    pub monthly_mean_c: [f64; 12],
    /// Half the difference between the warmest and the coldest hour of a day, K.
    pub daily_swing_k: f64,
    /// Rain of each month, January first, mm.
    pub monthly_rain_mm: [f64; 12],
    /// Mean relative humidity of the air, 0-1.
    pub relative_humidity: f64,
    /// Mean wind at the heap, m/s; 1.5 is a sheltered garden.
    pub wind_m_per_s: f64,
    /// Latitude, degrees north; drives the sun.
    pub latitude_deg: f64,
}

impl Climate {
    /// Climates to begin with, by class of the Koeppen-Geiger system (values rounded, from memory).
    ///
    /// Empty only if the built-in table is damaged, which `tests/science/climate.rs` rules out.
    pub fn ready() -> Vec<Self> {
        ron::from_str(CLIMATES_RON).unwrap_or_default()
    }

    /// Checks every number.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first number outside its bound.
    pub fn check(&self) -> Result<(), OutOfRange> {
        for mean in self.monthly_mean_c {
            bounds::AIR_TEMPERATURE.check(mean)?;
        }
        for rain in self.monthly_rain_mm {
            bounds::RAIN.check(rain)?;
        }
        bounds::DAILY_SWING.check(self.daily_swing_k)?;
        bounds::SHARE.check(self.relative_humidity)?;
        bounds::WIND.check(self.wind_m_per_s)?;
        bounds::LATITUDE.check(self.latitude_deg)?;
        Ok(())
    }

    /// Air temperature, degC, at a moment of the year (`day_of_year` 0.0 is the first midnight).
    pub fn air_c(&self, day_of_year: f64) -> f64 {
        let hour = 24.0 * day_of_year.rem_euclid(1.0);
        let swing = self.daily_swing_k * (TAU * (hour - WARMEST_HOUR) / 24.0).cos();
        self.daily_mean_c(day_of_year) + swing
    }

    /// Mean air temperature of the day, degC.
    pub fn daily_mean_c(&self, day_of_year: f64) -> f64 {
        let months = day_of_year.rem_euclid(DAYS_PER_YEAR) / DAYS_PER_MONTH - 0.5;
        let before = months.floor();
        let share = months - before;
        let index = before.rem_euclid(12.0) as usize % 12;
        self.monthly_mean_c[index] * (1.0 - share) + self.monthly_mean_c[(index + 1) % 12] * share
    }

    /// Mean air temperature between two moments, degC: the swing is averaged over the step, so long
    /// steps see the right mean.
    pub fn mean_air_c(&self, from_day: f64, to_day: f64) -> f64 {
        let length = to_day - from_day;
        let angle = |day: f64| TAU * (day - WARMEST_HOUR / 24.0);
        let swing = if length > 1e-9 {
            self.daily_swing_k * (angle(to_day).sin() - angle(from_day).sin()) / (TAU * length)
        } else {
            self.daily_swing_k * angle(from_day).cos()
        };
        self.daily_mean_c(0.5 * (from_day + to_day)) + swing
    }

    /// The yearly wave of the air: the first harmonic of the monthly means.
    pub fn yearly_wave(&self) -> YearlyWave {
        let mut wave = YearlyWave::default();
        for (month, value) in self.monthly_mean_c.iter().enumerate() {
            let angle = TAU * (month as f64 + 0.5) / 12.0;
            wave.mean_c += value / 12.0;
            wave.cosine_k += value * angle.cos() / 6.0;
            wave.sine_k += value * angle.sin() / 6.0;
        }
        wave
    }

    /// Undisturbed ground temperature at a depth, degC: that of the yearly wave.
    pub fn ground_c(&self, day_of_year: f64, depth_m: f64) -> f64 {
        self.yearly_wave().ground_c(day_of_year, depth_m)
    }

    /// Sun on level ground, mean over the day, W/m2, under average cloud.
    ///
    /// Extraterrestrial daily irradiation (FAO Irrigation and Drainage Paper 56, eqs. 21-25) times 0.45
    /// (`common practice` for a cloudy temperate climate).
    pub fn sun_w_per_m2(&self, day_of_year: f64) -> f64 {
        let year = TAU * day_of_year / DAYS_PER_YEAR;
        let distance = 1.0 + 0.033 * year.cos();
        let declination = 0.409 * (year - 1.39).sin();
        let latitude = self.latitude_deg.to_radians();
        let sunset = (-latitude.tan() * declination.tan())
            .clamp(-1.0, 1.0)
            .acos();
        let daily = SOLAR_CONSTANT_W_PER_M2 / PI
            * distance
            * (sunset * latitude.sin() * declination.sin()
                + latitude.cos() * declination.cos() * sunset.sin());
        CLEARNESS * daily.max(0.0)
    }

    /// Rain, mm per day, as the month's mean.
    pub fn rain_mm_per_day(&self, day_of_year: f64) -> f64 {
        let index = (day_of_year.rem_euclid(DAYS_PER_YEAR) / DAYS_PER_MONTH) as usize % 12;
        self.monthly_rain_mm[index] / DAYS_PER_MONTH
    }
}

/// A year's mean and its first harmonic.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct YearlyWave {
    /// Mean of the year, degC.
    mean_c: f64,
    /// Part that is greatest at the turn of the year, K.
    cosine_k: f64,
    /// Part that is greatest a quarter of a year later, K.
    sine_k: f64,
}

impl YearlyWave {
    /// Undisturbed ground temperature at a depth, degC.
    ///
    /// Source: Kusuda and Achenbach 1965, as documented in the EnergyPlus engineering reference, with a diffusivity of
    /// 0.5e-6 m2/s (damping depth 2.24 m).
    pub fn ground_c(&self, day_of_year: f64, depth_m: f64) -> f64 {
        let depth = depth_m / YEARLY_DAMPING_DEPTH_M;
        let angle = TAU * day_of_year / DAYS_PER_YEAR - depth;
        let swing = self.cosine_k * angle.cos() + self.sine_k * angle.sin();
        self.mean_c + (-depth).exp() * swing
    }
}
