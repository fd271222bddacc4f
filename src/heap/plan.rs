//! What the gardener does to a heap, and when.
//!
//! In: dated operations. Out: the same, checked and in order.
//!
//! Not here: what an operation does to the cells (`event`), on which days an entry that repeats is done (`repeat`).
//!
//! Tested by: `tests/science/plan.rs`, `tests/science/events.rs`.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::material::Catalogue;
use crate::mix::{MixError, Totals, blend};
use crate::quantity::{OutOfRange, bounds};

use super::operation::Operation;
use super::repeat::{Event, Occurrence};

/// Two days nearer than this are the same, d.
const SAME_DAY_DAYS: f64 = 1e-9;

/// A mix that is added later: its place in the plan's list and its sums.
pub type Addition = (usize, Totals);

/// Most operations a plan may hold, every time of an entry that repeats counted.
pub const MOST_EVENTS: usize = 400;

/// Dated operations.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// The operations, in any order; equal days in the order given.
    pub events: Vec<Event>,
}

/// Why a plan cannot be carried out.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PlanError {
    /// A number is outside its bound.
    #[error("entry {entry} of the plan: {problem}")]
    Number {
        /// Which entry, from 1.
        entry: usize,
        /// Which bound.
        problem: OutOfRange,
    },
    /// Too many entries.
    #[error(
        "the plan has {count} entries and may have {MOST_EVENTS}; drop some, or repeat them less often"
    )]
    TooMany {
        /// How many, every time counted.
        count: usize,
    },
}

impl Plan {
    /// Checks every number.
    ///
    /// # Errors
    /// [`PlanError`] names the first entry that cannot be.
    pub fn check(&self) -> Result<(), PlanError> {
        for (index, event) in self.events.iter().enumerate() {
            let at = |problem| PlanError::Number {
                entry: index + 1,
                problem,
            };
            bounds::DAY_OF_PLAN.check(event.day).map_err(at)?;
            event.check_repeat().map_err(at)?;
            match &event.operation {
                Operation::Turn {
                    wet_to: Some(wet_to),
                    ..
                }
                | Operation::Water { wet_to } => {
                    bounds::WET_TO.check(*wet_to).map_err(at)?;
                }
                Operation::Pour { litres } => {
                    bounds::POURED_WATER.check(*litres).map_err(at)?;
                }
                Operation::Cover(cover) => cover.check().map_err(at)?,
                Operation::Turn { wet_to: None, .. } | Operation::Add { .. } => {}
            }
        }
        match self.times() {
            count if count > MOST_EVENTS => Err(PlanError::TooMany { count }),
            _ => Ok(()),
        }
    }

    /// Days of turning up to a day, rising.
    pub fn turning_days(&self, last_day: f64) -> Vec<f64> {
        self.in_order()
            .into_iter()
            .filter(|it| matches!(it.operation, Operation::Turn { .. }) && it.day <= last_day)
            .map(|it| it.day)
            .collect()
    }

    /// The sums of what each entry adds at one time, with its place in `events`.
    ///
    /// # Errors
    /// The place of the first addition that cannot be calculated, and why.
    pub fn additions(&self, catalogue: &Catalogue) -> Result<Vec<Addition>, (usize, MixError)> {
        let mut all = Vec::new();
        for (index, event) in self.events.iter().enumerate() {
            if let Operation::Add { mix, .. } = &event.operation {
                let parts = mix.resolve(catalogue).map_err(|error| (index, error))?;
                all.push((index, blend(&parts, mix.added_water_l).totals));
            }
        }
        Ok(all)
    }

    /// The sums of a mix with all that the plan adds to it, every time counted.
    pub fn whole(&self, mix: &Totals, additions: &[Addition]) -> Totals {
        additions.iter().fold(*mix, |sum, (entry, added)| {
            let times = self.events.get(*entry).map_or(1, Event::times);
            sum.plus_times(added, f64::from(times))
        })
    }

    /// Every time that something is done, by day; equal days in the order of the list.
    pub fn in_order(&self) -> Vec<Occurrence<'_>> {
        let times = |(entry, event)| {
            let event: &Event = event;
            event.days().map(move |day| Occurrence {
                entry,
                day,
                operation: &event.operation,
            })
        };
        let mut all: Vec<Occurrence<'_>> = self.events.iter().enumerate().flat_map(times).collect();
        all.sort_by(|a, b| a.day.total_cmp(&b.day));
        all
    }

    /// How many times something is done.
    pub fn times(&self) -> usize {
        let times = |event: &Event| event.times() as usize;
        self.events.iter().map(times).sum()
    }

    /// Makes the time of an entry that falls on this day an entry of its own, and gives back its place; what comes
    /// before and after it stays. The entry's own place where it is done once or never on that day.
    pub fn set_apart(&mut self, entry: usize, day: f64) -> usize {
        let Some(event) = self.events.get(entry) else {
            return entry;
        };
        let on_day = |at: f64| (at - day).abs() < SAME_DAY_DAYS;
        let Some(time) = event.days().position(on_day) else {
            return entry;
        };
        let (time, all) = (time as u32, event.times());
        let parts = [0..time, time..time + 1, time + 1..all];
        let parts: Vec<Event> = parts.into_iter().filter_map(|it| event.part(it)).collect();
        self.events.splice(entry..=entry, parts);
        entry + usize::from(time > 0)
    }
}
