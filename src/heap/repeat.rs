//! Entries of a plan, and those that repeat: "every week, 12 times".
//!
//! In: an operation with its days. Out: each time that it is done, and parts of it.
//!
//! Not here: what an operation is (`operation`), a plan of them (`plan`), words (`text::plan`).
//!
//! Tested by: `tests/science/plan.rs`, `tests/science/ledgers.rs`.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

use super::operation::Operation;

/// An operation with its day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Event {
    /// Days after the heap was built; of one that repeats, the first.
    pub day: f64,
    /// What is done.
    #[serde(rename = "deed", alias = "operation")]
    pub operation: Operation,
    /// How it is done again; `None`: it is done once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeat: Option<Repeat>,
}

/// The same again at even distances.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Repeat {
    /// Days from one time to the next.
    pub every_days: f64,
    /// How many times in all, the first counted.
    pub times: u32,
}

/// One time that an entry of a plan is done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Occurrence<'a> {
    /// Place of its entry in the plan's list.
    pub entry: usize,
    /// Days after the heap was built.
    pub day: f64,
    /// What is done.
    pub operation: &'a Operation,
}

impl Occurrence<'_> {
    /// Whether another plan of turnings replaces it: it turns or waters, and its day is still to come.
    ///
    /// `from_day` is the first day that is still open; `None`: the heap does not stand yet, and every day is.
    pub fn is_replaced(&self, from_day: Option<f64>) -> bool {
        self.operation.turns_or_waters() && from_day.is_none_or(|from| self.day >= from)
    }
}

impl Event {
    /// Done once.
    pub fn once(day: f64, operation: Operation) -> Self {
        Self {
            day,
            operation,
            repeat: None,
        }
    }

    /// How many times it is done.
    pub fn times(&self) -> u32 {
        self.repeat.map_or(1, |repeat| repeat.times)
    }

    /// The days on which it is done, rising.
    pub fn days(&self) -> impl Iterator<Item = f64> + use<> {
        let every_days = self.repeat.map_or(0.0, |repeat| repeat.every_days);
        let first = self.day;
        (0..self.times()).map(move |time| first + every_days * f64::from(time))
    }

    /// The day of its last time.
    pub fn last_day(&self) -> f64 {
        self.days().last().unwrap_or(self.day)
    }

    /// Those of its times alone, from 0; `None` where there are none.
    pub fn part(&self, times: Range<u32>) -> Option<Self> {
        let day = self.days().nth(times.start as usize)?;
        let count = times.end.min(self.times()).checked_sub(times.start)?;
        let again = self.repeat.filter(|_| count > 1);
        (count > 0).then(|| Self {
            day,
            operation: self.operation.clone(),
            repeat: again.map(|repeat| Repeat {
                times: count,
                ..repeat
            }),
        })
    }

    /// What another plan of turnings leaves of it: all of an addition or a cover, of turnings and waterings those that
    /// lie before the first open day; nothing of a heap that does not stand yet.
    pub fn kept_beside(&self, from_day: Option<f64>) -> Option<Self> {
        if !self.operation.turns_or_waters() {
            return Some(self.clone());
        }
        let from_day = from_day?;
        let before = self.days().take_while(|day| *day < from_day).count();
        self.part(0..before as u32)
    }

    /// Checks its repeat.
    pub(super) fn check_repeat(&self) -> Result<(), OutOfRange> {
        let Some(repeat) = self.repeat else {
            return Ok(());
        };
        bounds::REPEAT_DAYS.check(repeat.every_days)?;
        bounds::REPEAT_TIMES.check(f64::from(repeat.times))?;
        bounds::DAY_OF_PLAN.check(self.last_day()).map(|_| ())
    }
}
