//! Times of year: which one a date lies in, and when a day of the year comes.
//!
//! In: a date, a latitude. Out: [`Season`], dates.
//!
//! Seasons are those of meteorology, whole months (spring: March to May, on the southern half September to November).
//! Not here: what seasons are called (`text::garden`).
//!
//! Tested by: `tests/document/again.rs`.

use jiff::ToSpan;
use jiff::civil::{Date, date};
use serde::{Deserialize, Serialize};

/// Days of a common year.
const YEAR_DAYS: f64 = 365.0;
/// A common year, to tell month and day of a day of the year.
const COMMON_YEAR: i16 = 2023;
/// Day of the month in the middle of a season.
const MIDDLE_DAY: i8 = 15;
/// No season is longer, d.
const SEASON_DAYS: i64 = 92;

/// Time of year a recipe is filed under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Season {
    /// Spring.
    Spring,
    /// Summer.
    Summer,
    /// Autumn.
    Autumn,
    /// Winter.
    Winter,
}

impl Season {
    /// All four, in order.
    pub const ALL: [Self; 4] = [Self::Spring, Self::Summer, Self::Autumn, Self::Winter];

    /// The season of a month, 1 is January, at a latitude, degrees, negative on the southern half.
    pub fn of_month(month: u8, latitude_deg: f64) -> Self {
        match (month + half_a_year(latitude_deg)) % 12 {
            3..=5 => Self::Spring,
            6..=8 => Self::Summer,
            9..=11 => Self::Autumn,
            _ => Self::Winter,
        }
    }

    /// The season of a date at a latitude.
    pub fn of(date: Date, latitude_deg: f64) -> Self {
        Self::of_month(date.month().unsigned_abs(), latitude_deg)
    }

    /// The season of a day of the year (1 January = 1) at a latitude.
    pub fn of_day(day_of_year: f64, latitude_deg: f64) -> Self {
        Self::of(day_in(COMMON_YEAR, day_of_year), latitude_deg)
    }

    /// A day of the year in the middle of the season at a latitude.
    fn middle(self, latitude_deg: f64) -> f64 {
        let month = match self {
            Self::Spring => 4,
            Self::Summer => 7,
            Self::Autumn => 10,
            Self::Winter => 1,
        };
        // From 1 to 12.
        let month = (month - 1 + half_a_year(latitude_deg)) % 12 + 1;
        day_of_year(date(COMMON_YEAR, month.cast_signed(), MIDDLE_DAY))
    }

    /// When a heap of this season that was built on `day_of_year` is built the next time, today or later: on the same
    /// day; today where that day has passed in a season that still lasts; in the middle of the season where the day does
    /// not lie in it.
    pub fn next_start(self, day_of_year: f64, latitude_deg: f64, today: Date) -> Date {
        let usual = if Self::of_day(day_of_year, latitude_deg) == self {
            day_of_year
        } else {
            self.middle(latitude_deg)
        };
        let next = coming(usual, today);
        let this_time = next <= today.saturating_add(SEASON_DAYS.days());
        if !this_time && Self::of(today, latitude_deg) == self {
            today
        } else {
            next
        }
    }
}

/// Months by which the seasons of the southern half are off.
fn half_a_year(latitude_deg: f64) -> u8 {
    if latitude_deg < 0.0 { 6 } else { 0 }
}

/// A day of a common year (1 January = 1) in a year: in a leap year the same day and month.
pub fn day_in(year: i16, day_of_year: f64) -> Date {
    let place = (day_of_year.floor() - 1.0).rem_euclid(YEAR_DAYS) as i64;
    let common = date(COMMON_YEAR, 1, 1).saturating_add(place.days());
    Date::new(year, common.month(), common.day()).unwrap_or(common)
}

/// The next time a day of the year comes, today or later.
pub fn coming(day_of_year: f64, today: Date) -> Date {
    let this_year = day_in(today.year(), day_of_year);
    if this_year < today {
        day_in(today.year().saturating_add(1), day_of_year)
    } else {
        this_year
    }
}

/// The day of a common year that a date is; 29 February is 28 February.
pub fn day_of_year(of: Date) -> f64 {
    let common = Date::new(COMMON_YEAR, of.month(), of.day());
    f64::from(
        common
            .unwrap_or_else(|_| date(COMMON_YEAR, 2, 28))
            .day_of_year(),
    )
}
