//! What is due in the next days, as text or as a calendar.
//!
//! In: a project file, the day from which dates are told. Out: text, or an iCalendar file.
//!
//! Not here: what is due (`outcome::next_days`), dates (`assess::schedule`), the format (`export::calendar`).
//!
//! Tested by: `tests/document/calendar.rs`, `tests/document/command.rs`.

use std::io::Write;
use std::path::Path;

use jiff::ZonedDateTime;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;

use crate::assess::Schedule;
use crate::document::{replace, shown};
use crate::export::{Assessment, CalendarFile, calendar, calendar_name};
use crate::material::Catalogue;
use crate::outcome::shared;
use crate::quantity::UnitSystem;
use crate::text::error::{self, Joint, WrittenOut};
use crate::text::next_days::{SaidOf, as_text};

use super::failure::{Failure, bad};
use super::files::{open, refuse_project_as_target};

/// The day from which dates are told, and when that is written down: by the clock where one is asked.
pub(super) struct Moment {
    today: Date,
    written: DateTime,
}

impl Moment {
    /// A day that was given, from its beginning on, or now.
    pub(super) fn of(today: Option<Date>) -> Self {
        match today {
            Some(today) => Self {
                today,
                written: today.at(0, 0, 0, 0),
            },
            None => {
                let now = ZonedDateTime::now();
                Self {
                    today: now.date(),
                    written: now.with_time_zone(TimeZone::UTC).datetime(),
                }
            }
        }
    }
}

/// The moment a heap is looked at: the beginning of a day that was given, or now by the clock of this place.
pub(super) fn seen_at(today: Option<Date>) -> DateTime {
    today.map_or_else(
        || ZonedDateTime::now().datetime(),
        |today| today.at(0, 0, 0, 0),
    )
}

/// Tells what is due in the next days of one project, or writes it as a calendar.
pub(super) fn dates(
    path: &Path,
    target: Option<&Path>,
    (when, units): (Moment, UnitSystem),
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::as_learnt(&project, catalogue).map_err(bad)?;
    let (Some(projection), Some(outcome)) = (&assessment.projection, &assessment.outcome) else {
        let remark = assessment.remark().unwrap_or(error::NOT_PROJECTED);
        let sentence = error::about_file(&remark, &shown(path), Joint::Sentence);
        return Err(Failure::BadInput(sentence));
    };
    let facts = shared().map_err(bad)?;
    let schedule = Schedule::of(&project, projection, outcome, facts, when.today);
    let of = SaidOf {
        project: &project,
        catalogue: &assessment.catalogue,
        units,
    };
    let Some(target) = target else {
        return Ok(write!(out, "{}", as_text(&schedule, &of))?);
    };
    let text = calendar(&CalendarFile {
        schedule: &schedule,
        of,
        name: &calendar_name(path),
        written: when.written,
    });
    if target == Path::new("-") {
        return Ok(out.write_all(text.as_bytes())?);
    }
    refuse_project_as_target(path, target, WrittenOut::Calendar)?;
    replace(target, text.as_bytes()).map_err(bad)
}
