//! Days of the year as dates, for entry and display.
//!
//! In: a day of the year, 1 January = 1. Out: month and day of the month, and back, in a common
//! year of 365 days.
//!
//! Not here: clocks. Nothing in the window asks what day it is.
//!
//! Tested by: `tests/window/heat_plot.rs`.

/// Length of each month of a common year, d.
const MONTH_DAYS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Names of the months.
pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Days a month has, 0 being January.
pub fn days_in_month(month: usize) -> u32 {
    MONTH_DAYS[month.min(11)]
}

/// Month (0 is January) and day of the month of a day of the year; any number of years ahead.
pub fn date_of(day_of_year: f64) -> (usize, u32) {
    let mut left = (day_of_year.floor() - 1.0).rem_euclid(365.0) as u32;
    for (month, days) in MONTH_DAYS.into_iter().enumerate() {
        if left < days {
            return (month, left + 1);
        }
        left -= days;
    }
    (11, 31)
}

/// Day of the year of a date; a day the month has not is its last one.
pub fn day_of_year(month: usize, day: u32) -> f64 {
    let month = month.min(11);
    let before: u32 = MONTH_DAYS[..month].iter().sum();
    f64::from(before + day.clamp(1, days_in_month(month)))
}

/// "12 October".
pub fn date_text(day_of_year: f64) -> String {
    let (month, day) = date_of(day_of_year);
    format!("{day} {}", MONTHS[month])
}
