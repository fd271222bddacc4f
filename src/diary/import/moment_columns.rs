//! The moment of a row: from the one or two columns that hold it.
//!
//! In: a row, how the file is understood. Out: [`Given`], or why the row has no moment.
//!
//! Not here: one cell (`moment`), where the moment lies (`axis`).
//!
//! Tested by: `tests/document/logger.rs`.

use csv::StringRecord;
use jiff::Timestamp;

use super::axis::{Given, ms_of};
use super::choices::{ColumnUse, DateOrder, DecimalSign};
use super::imported::BadWhy;
use super::moment::{self, MomentKind, Written};
use super::number::{self, Cell};
use super::understood::Understood;

/// Which columns a moment stands in, and how it is given.
pub(super) struct MomentColumns {
    first: usize,
    time: Option<usize>,
    kind: MomentKind,
    order: DateOrder,
    decimal: DecimalSign,
}

impl MomentColumns {
    pub fn of(understood: &Understood) -> Self {
        let mut moments = understood.columns_of(ColumnUse::Moment);
        let mut dates = understood.columns_of(ColumnUse::Date);
        let mut times = understood.columns_of(ColumnUse::Time);
        let whole = moments.next();
        Self {
            first: whole.or_else(|| dates.next()).unwrap_or(0),
            time: times.next().filter(|_| whole.is_none()),
            kind: understood.kind,
            order: understood.order.map_or(DateOrder::YearFirst, |it| it.value),
            decimal: understood.decimal.value,
        }
    }

    /// The moment of a row, or why it has none.
    pub fn given(&self, row: &StringRecord) -> Result<Given, BadWhy> {
        let cell = row.get(self.first).unwrap_or_default();
        let time_cell = self.time.map(|at| row.get(at).unwrap_or_default());
        if cell.trim().is_empty() || time_cell.is_some_and(|cell| cell.trim().is_empty()) {
            return Err(BadWhy::NoMoment);
        }
        let found = if let Some(written) = moment::read(cell) {
            self.written(written, time_cell)
        } else if self.kind == MomentKind::Written {
            None
        } else {
            self.counted(cell, time_cell)
        };
        found.ok_or_else(|| {
            let text = match time_cell {
                Some(time) => format!("{} {}", cell.trim(), time.trim()),
                None => cell.trim().to_owned(),
            };
            BadWhy::NotAMoment(text.chars().take(40).collect())
        })
    }

    fn written(&self, mut written: Written, time_cell: Option<&str>) -> Option<Given> {
        if let Some(cell) = time_cell {
            let time = moment::read(cell).filter(|time| time.date.is_none())?;
            (written.time, written.day_over) = (time.time, time.day_over);
            written.offset_s = time.offset_s.or(written.offset_s);
        }
        let local = moment::joined(written.date?.day(self.order)?, &written)?;
        match written.offset_s {
            None => Some(Given::Local(local)),
            Some(seconds) => {
                let offset_ms = 1000 * i64::from(seconds);
                let instant = ms_of(local)?.checked_sub(offset_ms)?;
                let instant = Timestamp::from_millisecond(instant).ok()?;
                Some(Given::Instant(instant, offset_ms))
            }
        }
    }

    fn counted(&self, cell: &str, time_cell: Option<&str>) -> Option<Given> {
        let Cell::Number(value) = number::read(cell, self.decimal) else {
            return None;
        };
        match self.kind {
            MomentKind::Written => None,
            MomentKind::UnixSeconds => Some(Given::Instant(moment::of_seconds(value)?, 0)),
            MomentKind::UnixMillis => Some(Given::Instant(moment::of_seconds(value / 1000.0)?, 0)),
            MomentKind::SpreadsheetDays => {
                moment::counts(value).filter(|kind| *kind == MomentKind::SpreadsheetDays)?;
                let day = moment::of_days(value)?;
                let Some(cell) = time_cell else {
                    return Some(Given::Local(day));
                };
                let time = match (moment::read(cell), number::read(cell, self.decimal)) {
                    (Some(written), _) => written.time,
                    (None, Cell::Number(share)) => moment::of_share(share),
                    _ => None,
                };
                Some(Given::Local(day.date().to_datetime(time?)))
            }
        }
    }
}
