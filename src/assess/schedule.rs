//! The next days with their dates.
//!
//! In: a project with its outcome, today's date. Out: [`Schedule`].
//!
//! A heap that stands is dated from the day in its diary, one that is only planned from its day of the year, the next
//! time that comes round.
//!
//! Not here: what is due (`outcome::next_days`), words (`text::next_days`), which day it is (`command`, `window`).
//!
//! Tested by: `tests/document/calendar.rs`.

use jiff::ToSpan;
use jiff::civil::{Date, DateTime};

use crate::diary::Diary;
use crate::document::{Project, coming};
use crate::heap::{Heap, Kinetics, Projection};
use crate::outcome::next_days::{Ahead, Due, NextDay, next_days};
use crate::outcome::{Facts, Outcome};

/// What is due on a date.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedDay {
    /// The date.
    pub date: Date,
    /// Days since the heap was built and what is due.
    pub next: NextDay,
}

/// A list of dates.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// When the heap was or would be built.
    pub built: Date,
    /// Whether it stands.
    pub stands: bool,
    /// What is due, earliest first.
    pub days: Vec<DatedDay>,
}

impl Schedule {
    /// The dates of a project from today on, by a projection of its heap and what is judged of it.
    pub fn of(
        project: &Project,
        projection: &Projection,
        outcome: &Outcome,
        facts: &Facts,
        today: Date,
    ) -> Self {
        let built = built(&project.diary, &project.heap, today);
        let stands = project.diary.built.is_some();
        // A heap that is entered as built tomorrow is not begun twice.
        let since = (today - built.date()).get_days().max(0);
        let ahead = Ahead {
            projection,
            plan: &project.heap.plan,
            finish: &outcome.finish,
            table: &facts.finish,
            troubles: &outcome.troubles,
            kinetics: &Kinetics::default(),
            today: stands.then_some(u32::try_from(since).unwrap_or(0)),
            built_at: share_of_day(built),
        };
        let dated = next_days(&ahead).into_iter().filter_map(|next| {
            let date = built.date().checked_add(i64::from(next.day).days()).ok()?;
            Some(DatedDay { date, next })
        });
        Self {
            built: built.date(),
            stands,
            days: dated.collect(),
        }
    }

    /// The first thing that is due, if anything is.
    pub fn first(&self) -> Option<(Date, Due)> {
        let day = self.days.first()?;
        Some((day.date, *day.next.due.first()?))
    }
}

/// When the heap was built, or the next time its day of the year comes round.
fn built(diary: &Diary, heap: &Heap, today: Date) -> DateTime {
    if let Some(built) = diary.built {
        return built;
    }
    coming(heap.start_day_of_year, today).at(0, 0, 0, 0)
}

/// How much of its day has passed at a moment, 0-1.
fn share_of_day(moment: DateTime) -> f64 {
    let time = moment.time();
    (f64::from(time.hour()) + f64::from(time.minute()) / 60.0) / 24.0
}
