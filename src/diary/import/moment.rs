//! A cell as a date, a time of day or both, by its parts; what day and hour they are is left to `jiff`.
//!
//! In: a cell. Out: [`Written`], whose date in figures needs a [`DateOrder`] to become a day; numbers that count days
//! or seconds.
//!
//! Understood: ISO 8601 with and without offset; figures in any order with `/`, `.` or `-`; months by their English
//! names; years of two figures by the rule of POSIX `strptime` (69 to 99 are 1969 to 1999); 12 hours with AM or PM;
//! hour 24 as the end of the day (ISO 8601:2004); days of a spreadsheet, counted from 1899-12-30; Unix seconds and
//! milliseconds.
//! Not here: time zones (`axis`), which column it is (`columns`).
//!
//! Tested by: `tests/document/logger.rs`.

use jiff::civil::{Date, DateTime, Time, date};
use jiff::{SignedDuration, Span, Timestamp};

use super::choices::DateOrder;

/// How moments are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MomentKind {
    /// As a date and a time.
    Written,
    /// As days of a spreadsheet.
    SpreadsheetDays,
    /// As seconds since 1970, UTC.
    UnixSeconds,
    /// As milliseconds since 1970, UTC.
    UnixMillis,
}

/// One number of a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
struct Figure {
    value: u32,
    digits: usize,
}

/// A date as it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct WrittenDate {
    figures: [Figure; 3],
    /// Which of the three is a month's name.
    named: Option<usize>,
}

/// A cell's date, time of day and offset from UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Written {
    pub date: Option<WrittenDate>,
    /// The time of day; `day_over`: it is the end of that day.
    pub time: Option<Time>,
    pub day_over: bool,
    /// Seconds east of UTC.
    pub offset_s: Option<i32>,
    pub twelve_hours: bool,
}

/// Longest cell that can be a moment, bytes.
const LONGEST: usize = 64;

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

impl WrittenDate {
    /// Whether figures alone do not tell day from month.
    pub fn needs_order(self) -> bool {
        self.named.is_none() && self.figures[0].digits != 4
    }

    /// First and second figure.
    pub fn first_two(self) -> (u32, u32) {
        (self.figures[0].value, self.figures[1].value)
    }

    /// The day it is; `None` where there is no such day.
    pub fn day(self, order: DateOrder) -> Option<Date> {
        let [a, b, c] = self.figures;
        let (year, month, day) = match self.named {
            Some(0) => (c, a, b),
            Some(1) if a.digits == 4 => (a, b, c),
            Some(1) => (c, b, a),
            Some(_) => return None,
            None if a.digits == 4 => (a, b, c),
            None => match order {
                DateOrder::DayFirst => (c, b, a),
                DateOrder::MonthFirst => (c, a, b),
                DateOrder::YearFirst => (a, b, c),
            },
        };
        let year = match (year.digits, year.value) {
            (4, value) => value,
            (2, value @ 0..=68) => 2000 + value,
            (2, value) => 1900 + value,
            _ => return None,
        };
        if month.digits > 2 || day.digits > 2 {
            return None;
        }
        let (year, month, day) = (
            i16::try_from(year).ok()?,
            i8::try_from(month.value).ok()?,
            i8::try_from(day.value).ok()?,
        );
        Date::new(year, month, day).ok()
    }
}

/// A day and an hour together.
pub(super) fn joined(day: Date, written: &Written) -> Option<DateTime> {
    let day = if written.day_over {
        day.tomorrow().ok()?
    } else {
        day
    };
    Some(day.to_datetime(written.time.unwrap_or(Time::midnight())))
}

/// Reads a cell; `None` where it is neither date nor time.
pub(super) fn read(cell: &str) -> Option<Written> {
    let cell = cell.trim_matches(|c: char| c.is_whitespace() || c == '"' || c == '\'');
    if cell.is_empty() || cell.len() > LONGEST {
        return None;
    }
    Reader {
        bytes: cell.as_bytes(),
        at: 0,
        figures: [Figure::default(); 3],
        count: 0,
        named: None,
        clock: None,
        afternoon: None,
        offset_s: None,
    }
    .whole()
}

/// Hour, minute, second and nanosecond as written.
type ClockParts = (u32, u32, u32, i32);

struct Reader<'a> {
    bytes: &'a [u8],
    at: usize,
    figures: [Figure; 3],
    count: usize,
    named: Option<usize>,
    clock: Option<ClockParts>,
    afternoon: Option<bool>,
    offset_s: Option<i32>,
}

impl Reader<'_> {
    fn peek(&self) -> u8 {
        self.bytes.get(self.at).copied().unwrap_or(0)
    }

    fn whole(mut self) -> Option<Written> {
        while self.at < self.bytes.len() {
            match self.peek() {
                b' ' | b',' | b'_' => self.at += 1,
                b'0'..=b'9' => self.number()?,
                b'+' | b'-' if self.clock.is_some() && self.offset_s.is_none() => self.offset()?,
                // A zone named behind an offset, as in RFC 9557.
                b'[' if self.offset_s.is_some() && self.bytes.ends_with(b"]") => {
                    self.at = self.bytes.len();
                }
                b'.' if self.count > 0 && self.clock.is_none() => self.at += 1,
                b'-' if self.count == 3 => self.at += 1,
                letter if letter.is_ascii_alphabetic() => self.word()?,
                _ => return None,
            }
        }
        self.finished()
    }

    fn finished(self) -> Option<Written> {
        let [first, second, third] = self.figures.map(|figure| figure.digits);
        let date = match self.count {
            0 => None,
            3 if first == 4 || matches!(third, 2 | 4) && first <= 2 && second <= 2 => {
                Some(WrittenDate {
                    figures: self.figures,
                    named: self.named,
                })
            }
            _ => return None,
        };
        let (mut time, mut day_over) = (None, false);
        if let Some((hour, minute, second, nano)) = self.clock {
            let hour = match (self.afternoon, hour) {
                (Some(_), 0 | 13..) => return None,
                (Some(false), 12) => 0,
                (Some(true), 1..=11) => hour + 12,
                _ => hour,
            };
            day_over = hour == 24;
            if day_over && (minute, second, nano) != (0, 0, 0) {
                return None;
            }
            let hour = if day_over { 0 } else { hour };
            // A leap second is the last one of its minute.
            let second = second.min(if second == 60 { 59 } else { 99 });
            let (hour, minute, second) = (
                i8::try_from(hour).ok()?,
                i8::try_from(minute).ok()?,
                i8::try_from(second).ok()?,
            );
            time = Some(Time::new(hour, minute, second, nano).ok()?);
        } else if self.afternoon.is_some() || self.offset_s.is_some() {
            return None;
        }
        (date.is_some() || time.is_some()).then_some(Written {
            date,
            time,
            day_over,
            offset_s: self.offset_s,
            twelve_hours: self.afternoon.is_some(),
        })
    }

    /// A run of digits; none where they make a number past 32 bits.
    fn digits(&mut self) -> Option<Figure> {
        let from = self.at;
        let mut value: u32 = 0;
        while self.peek().is_ascii_digit() {
            value = value
                .checked_mul(10)?
                .checked_add(u32::from(self.peek() - b'0'))?;
            self.at += 1;
        }
        let digits = self.at - from;
        (digits > 0).then_some(Figure { value, digits })
    }

    fn number(&mut self) -> Option<()> {
        let figure = self.digits()?;
        if self.peek() == b':' {
            return self.clock_from(figure);
        }
        if figure.digits == 8 && self.count == 0 {
            // 20241027
            let value = figure.value;
            self.figures = [
                (value / 10_000, 4),
                (value / 100 % 100, 2),
                (value % 100, 2),
            ]
            .map(|(value, digits)| Figure { value, digits });
            self.count = 3;
            return Some(());
        }
        if self.count == 3 {
            // 013000 behind a date
            let parts = match figure.digits {
                4 => (figure.value / 100, figure.value % 100, 0, 0),
                6 => (
                    figure.value / 10_000,
                    figure.value / 100 % 100,
                    figure.value % 100,
                    0,
                ),
                _ => return None,
            };
            return self.clock.is_none().then(|| self.clock = Some(parts));
        }
        self.figures[self.count] = figure;
        self.count += 1;
        if matches!(self.peek(), b'/' | b'-' | b'.') && self.count < 3 {
            self.at += 1;
        }
        Some(())
    }

    fn clock_from(&mut self, hour: Figure) -> Option<()> {
        if self.clock.is_some() || hour.digits > 2 {
            return None;
        }
        self.at += 1;
        let minute = self.digits().filter(|minute| minute.digits == 2)?;
        let mut second = Figure::default();
        let mut nano = 0;
        if self.peek() == b':' {
            self.at += 1;
            second = self.digits().filter(|second| second.digits == 2)?;
            if matches!(self.peek(), b'.' | b',') {
                self.at += 1;
                nano = self.fraction()?;
            }
        }
        self.clock = Some((hour.value, minute.value, second.value, nano));
        Some(())
    }

    /// Digits after the point of a second, ns.
    fn fraction(&mut self) -> Option<i32> {
        let (mut nano, mut place, mut any) = (0, 100_000_000, false);
        while self.peek().is_ascii_digit() {
            nano += i32::from(self.peek() - b'0') * place;
            place /= 10;
            any = true;
            self.at += 1;
        }
        any.then_some(nano)
    }

    fn offset(&mut self) -> Option<()> {
        let sign = if self.peek() == b'-' { -1 } else { 1 };
        self.at += 1;
        let first = self.digits()?;
        let (hours, minutes) = match first.digits {
            1 | 2 if self.peek() == b':' => {
                self.at += 1;
                (first.value, self.digits()?.value)
            }
            1 | 2 => (first.value, 0),
            4 => (first.value / 100, first.value % 100),
            _ => return None,
        };
        if hours > 24 || minutes > 59 {
            return None;
        }
        self.offset_s = Some(sign * i32::try_from(3600 * hours + 60 * minutes).ok()?);
        Some(())
    }

    fn word(&mut self) -> Option<()> {
        let from = self.at;
        while self.peek().is_ascii_alphabetic()
            || (self.peek() == b'.' && matches!(self.bytes[self.at - 1] | 32, b'a' | b'p' | b'm'))
        {
            self.at += 1;
        }
        let word: String = self.bytes[from..self.at]
            .iter()
            .filter(|byte| **byte != b'.')
            .map(|byte| char::from(byte.to_ascii_lowercase()))
            .collect();
        let start = word.get(..3).unwrap_or(&word);
        match word.as_str() {
            "t" if self.count == 3 && self.clock.is_none() => {}
            "z" | "utc" | "gmt" if self.clock.is_some() && self.offset_s.is_none() => {
                self.offset_s = Some(0);
            }
            "am" | "a" if self.clock.is_some() => self.afternoon = Some(false),
            "pm" | "p" if self.clock.is_some() => self.afternoon = Some(true),
            "st" | "nd" | "rd" | "th" if self.count > 0 => {}
            _ if self.named.is_none() && self.count < 3 && MONTHS.contains(&start) => {
                let month = MONTHS.iter().position(|name| *name == start)?;
                self.figures[self.count] = Figure {
                    value: u32::try_from(month).ok()? + 1,
                    digits: 2,
                };
                self.named = Some(self.count);
                self.count += 1;
                if matches!(self.peek(), b'/' | b'-') {
                    self.at += 1;
                }
            }
            _ if self.count == 0 && WEEKDAYS.contains(&start) => {}
            _ => return None,
        }
        Some(())
    }
}

/// What a number counts, if it can count days or seconds: 1954 to 2119, 2001 to 2103.
pub(super) fn counts(value: f64) -> Option<MomentKind> {
    match value {
        20_000.0..80_000.0 => Some(MomentKind::SpreadsheetDays),
        1.0e9..4.2e9 => Some(MomentKind::UnixSeconds),
        1.0e12..4.2e12 => Some(MomentKind::UnixMillis),
        _ => None,
    }
}

/// The moment of so many spreadsheet days, to the second.
pub(super) fn of_days(days: f64) -> Option<DateTime> {
    let seconds = (days * 86_400.0).round();
    let since = SignedDuration::try_from_secs_f64(seconds).ok()?;
    date(1899, 12, 30).at(0, 0, 0, 0).checked_add(since).ok()
}

/// The time of day of a share of a day, 0-1, to the second.
pub(super) fn of_share(share: f64) -> Option<Time> {
    if !(0.0..1.0).contains(&share) {
        return None;
    }
    let seconds = (share * 86_400.0).round() as i64;
    let span = Span::new().try_seconds(seconds).ok()?;
    Some(Time::midnight().wrapping_add(span))
}

/// The instant of so many Unix seconds, to the millisecond.
pub(super) fn of_seconds(seconds: f64) -> Option<Timestamp> {
    let millis = (seconds * 1000.0).round();
    // Beyond that no clock was set on purpose.
    (millis.abs() < 1e14).then_some(())?;
    Timestamp::from_millisecond(millis as i64).ok()
}
