//! Whether the numbers of a diary can be.
//!
//! In: a diary. Out: nothing, or the first number that cannot be, with its entry and a remedy.
//!
//! A reading from before the heap was built can be: whoever corrects that day loses nothing. It is not learnt from.
//!
//! Not here: its texts (`document`), whether a reading fits what is known of the heap (`forecast`).
//!
//! Tested by: `tests/document/diary.rs`.

use thiserror::Error;

use super::{Diary, Log, Reading, Wetness};
use crate::quantity::{OutOfRange, bounds};

/// Most readings by hand that one diary keeps.
pub const MOST_READINGS: usize = 5_000;
/// Most probes of loggers that one diary keeps.
pub const MOST_LOGS: usize = 64;
/// Most logged temperatures of one diary, all probes together: five years of four probes, every hour.
pub const MOST_LOGGED: usize = 200_000;
/// Years in which a heap can have been built.
const YEARS: (i16, i16) = (1900, 2200);

/// Why a diary cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DiaryError {
    /// Something was measured of a heap that does not stand.
    #[error(
        "something was measured, but the day the heap was built is missing; say when it was built"
    )]
    NotBuilt,
    /// A year that nobody means.
    #[error("the heap was built in the year {year}, but the year must lie between {} and {}; correct it", YEARS.0, YEARS.1)]
    Year {
        /// The year.
        year: i16,
    },
    /// More entries than are kept.
    #[error("there are {found} {what}, and at most {limit} can be kept; remove some")]
    TooMany {
        /// Of what.
        what: &'static str,
        /// Most allowed.
        limit: usize,
        /// How many there are.
        found: usize,
    },
    /// A number of a reading.
    #[error("reading {entry}: {problem}; correct that number")]
    Reading {
        /// Which reading, from 1.
        entry: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// A number of a probe.
    #[error("probe {log}: {problem}; correct that number")]
    Probe {
        /// Which probe, from 1.
        log: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// A number of what a probe recorded.
    #[error("probe {log}, temperature {entry}: {problem}; correct that number")]
    Logged {
        /// Which probe, from 1.
        log: usize,
        /// Which of its temperatures, from 1.
        entry: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
    /// Days of a probe that do not rise.
    #[error(
        "probe {log}, temperature {entry}: its day is not after the one before; put them in order and leave out what stands twice"
    )]
    Order {
        /// Which probe, from 1.
        log: usize,
        /// Which of its temperatures, from 1.
        entry: usize,
    },
    /// The day of something that was done.
    #[error("entry {entry} of what was done: {problem}; correct that number")]
    Done {
        /// Which entry, from 1.
        entry: usize,
        /// What is wrong.
        problem: OutOfRange,
    },
}

fn count(what: &'static str, found: usize, limit: usize) -> Result<(), DiaryError> {
    if found > limit {
        return Err(DiaryError::TooMany { what, limit, found });
    }
    Ok(())
}

impl Diary {
    /// Checks every number.
    ///
    /// # Errors
    /// [`DiaryError`] names the first entry that cannot be.
    pub fn check(&self) -> Result<(), DiaryError> {
        count("readings", self.readings.len(), MOST_READINGS)?;
        count("probes", self.logs.len(), MOST_LOGS)?;
        let logged = self.logs.iter().map(|log| log.temperatures_c.len()).sum();
        count("logged temperatures", logged, MOST_LOGGED)?;
        count("entries of what was done", self.done.len(), MOST_READINGS)?;
        let Some(built) = self.built else {
            return if self.is_empty() {
                Ok(())
            } else {
                Err(DiaryError::NotBuilt)
            };
        };
        let year = built.year();
        if !(YEARS.0..=YEARS.1).contains(&year) {
            return Err(DiaryError::Year { year });
        }
        for (entry, reading) in (1..).zip(&self.readings) {
            let day = self.day_of(reading.at).unwrap_or(f64::NAN);
            bounds::DAY_OF_READING
                .check(day)
                .and_then(|_| reading.check_numbers())
                .map_err(|problem| DiaryError::Reading { entry, problem })?;
        }
        for (log, it) in (1..).zip(&self.logs) {
            it.check(log)?;
        }
        for (entry, day) in (1..).zip(&self.done) {
            bounds::DAY_OF_PLAN
                .check(*day)
                .map_err(|problem| DiaryError::Done { entry, problem })?;
        }
        Ok(())
    }
}

impl Reading {
    /// Checks place and measured values, whenever it was taken.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first number that cannot be.
    pub fn check_numbers(&self) -> Result<(), OutOfRange> {
        self.spot.check()?;
        let wetness = match self.wetness {
            Some(Wetness::Probe(share) | Wetness::Oven(share)) => Some(share),
            Some(Wetness::Squeezed(_)) | None => None,
        };
        for (bound, value) in [
            (&bounds::READ_TEMPERATURE, self.temperature_c),
            (&bounds::READ_MOISTURE, wetness),
            (&bounds::READ_OXYGEN, self.oxygen),
            (&bounds::READ_HEIGHT, self.height_m),
        ] {
            if let Some(value) = value {
                bound.check(value)?;
            }
        }
        Ok(())
    }
}

impl Log {
    /// Checks it as the probe of this number, from 1.
    fn check(&self, log: usize) -> Result<(), DiaryError> {
        self.spot
            .check()
            .map_err(|problem| DiaryError::Probe { log, problem })?;
        let mut before = f64::NEG_INFINITY;
        for (entry, &(day, degrees)) in (1..).zip(&self.temperatures_c) {
            bounds::DAY_OF_READING
                .check(day)
                .and_then(|_| bounds::READ_TEMPERATURE.check(degrees))
                .map_err(|problem| DiaryError::Logged {
                    log,
                    entry,
                    problem,
                })?;
            if day <= before {
                return Err(DiaryError::Order { log, entry });
            }
            before = day;
        }
        Ok(())
    }
}
