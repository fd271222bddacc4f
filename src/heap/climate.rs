//! The weather around a heap: air by month with day and night, rain.
//!
//! In: twelve monthly means. Out: air temperature and rain at any moment of the year.
//!
//! Between the middles of two months the mean runs in a straight line; the day swings as a sine,
//! warmest at 15 h (common practice).
//!
//! Held against: `tests/science/climate.rs`.

use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

/// Length of a year, d.
pub const DAYS_PER_YEAR: f64 = 365.0;
/// Length of a month in this model, d: a twelfth of the year.
const DAYS_PER_MONTH: f64 = DAYS_PER_YEAR / 12.0;
/// Hour of the day when the air is warmest (common practice).
const WARMEST_HOUR: f64 = 15.0;

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
}

impl Climate {
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
        Ok(())
    }

    /// Air temperature, degC, at a moment of the year (`day_of_year` 0.0 is the first midnight).
    pub fn air_c(&self, day_of_year: f64) -> f64 {
        let hour = 24.0 * day_of_year.rem_euclid(1.0);
        let swing =
            self.daily_swing_k * (std::f64::consts::TAU * (hour - WARMEST_HOUR) / 24.0).cos();
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

    /// Rain, mm per day, as the month's mean.
    pub fn rain_mm_per_day(&self, day_of_year: f64) -> f64 {
        let index = (day_of_year.rem_euclid(DAYS_PER_YEAR) / DAYS_PER_MONTH) as usize % 12;
        self.monthly_rain_mm[index] / DAYS_PER_MONTH
    }
}
