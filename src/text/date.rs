//! Dates as they are said: days of the year, days of a plan, months.
//!
//! In: a day of the year (1 January = 1), a day of a plan or a date of the calendar. Out: "22 October", "3 May 2026",
//! and month and day for entry. Without a calendar every year is a common one of 365 days; day 366 is 1 January again.
//!
//! Not here: clocks. Nothing asks what day it is; lengths of time (`number`).
//!
//! Tested by: `tests/science/words.rs`.

use jiff::civil::Date;

use super::number::rounded;

/// Days in a common year.
const YEAR_DAYS: f64 = 365.0;

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
pub fn month_and_day(day_of_year: f64) -> (usize, u32) {
    let mut left = (day_of_year.floor() - 1.0).rem_euclid(YEAR_DAYS) as u32;
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

/// A day of the year: "12 October".
pub fn date(day_of_year: f64) -> String {
    let (month, day) = month_and_day(day_of_year);
    format!("{day} {}", MONTHS[month])
}

/// A date of the calendar: "3 May 2026".
pub fn calendar_date(date: Date) -> String {
    let month = usize::try_from(date.month() - 1).unwrap_or_default();
    let month = MONTHS.get(month).copied().unwrap_or_default();
    format!("{} {month} {}", date.day(), date.year())
}

/// A day of a plan as its date: "22 October". Day 0 is the day the heap is built.
pub fn date_of_plan(start_day_of_year: f64, day: f64) -> String {
    date(start_day_of_year + day)
}

/// A day of a plan, the number first: "day 7, 22 October".
pub fn day_and_date(start_day_of_year: f64, day: f64) -> String {
    format!(
        "day {}, {}",
        rounded(day),
        date_of_plan(start_day_of_year, day)
    )
}

/// A day of a plan, the date first: "22 October (day 7)".
pub fn date_and_day(start_day_of_year: f64, day: f64) -> String {
    format!(
        "{} (day {})",
        date_of_plan(start_day_of_year, day),
        rounded(day)
    )
}
