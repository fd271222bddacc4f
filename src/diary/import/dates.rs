//! How the dates of a logger's file are given: their kind, day or month first, newest or oldest row first.
//!
//! In: first rows, and all of them where day and month are told apart by how they follow each other. Out: the same,
//! in [`Understood`].
//!
//! Not here: one cell (`moment`), time zones (`axis`).
//!
//! Tested by: `tests/document/logger.rs`.

use super::choices::{Choices, ColumnUse, DateOrder, Guess, How};
use super::moment::{self, MomentKind};
use super::number::{self, Cell};
use super::table::{self, Layout};
use super::understood::Understood;

/// Rows looked at for the order of day and month.
const ORDER_ROWS: usize = 200_000;

/// Kind, order and direction of moments.
pub(super) fn look_at_moments(
    text: &str,
    layout: &Layout,
    choices: &Choices,
    found: &mut Understood,
) {
    let at = found
        .columns_of(ColumnUse::Moment)
        .chain(found.columns_of(ColumnUse::Date))
        .next();
    let Some(at) = at else { return };
    let decimal = found.decimal.value;
    let mut needs_order = false;
    for cell in layout.cells(at) {
        if let Some(written) = moment::read(cell) {
            found.has_offsets |= written.offset_s.is_some();
            found.twelve_hours |= written.twelve_hours;
            needs_order |= written.date.is_some_and(|date| date.needs_order());
        } else if let Cell::Number(value) = number::read(cell, decimal)
            && let Some(kind) = moment::counts(value)
        {
            found.kind = kind;
        }
    }
    let time = found.columns_of(ColumnUse::Time).next();
    if let Some(time) = time {
        let mut times = layout.cells(time).filter_map(moment::read);
        found.twelve_hours |= times.any(|written| written.twelve_hours);
    }
    if needs_order {
        found.kind = MomentKind::Written;
        found.order = Some(Guess::or(choices.order, || order_of(text, at, found)));
    } else if let Some(value) = choices.order {
        found.order = Some(Guess {
            value,
            how: How::Chosen,
        });
    }
    let order = found
        .order
        .map_or(DateOrder::YearFirst, |order| order.value);
    let first_and_last = {
        let number = |cell: &str| match number::read(cell, decimal) {
            Cell::Number(value) => Some(value),
            _ => None,
        };
        let place = |cell: &str| match moment::read(cell) {
            Some(written) => {
                let day = moment::joined(written.date?.day(order)?, &written)?;
                let start = jiff::civil::date(2000, 1, 1).at(0, 0, 0, 0);
                Some(start.duration_until(day).as_secs_f64())
            }
            None => number(cell),
        };
        let mut places = layout.cells(at).filter_map(place);
        places.next().zip(places.last())
    };
    found.newest_first = first_and_last.is_some_and(|(first, last)| last < first);
}

/// Day or month first, by the values; by how the days follow each other; or as is usual.
fn order_of(text: &str, at: usize, found: &Understood) -> (DateOrder, How) {
    let mut rows = table::reader(text, found.delimiter.value, found.quoted);
    let mut row = csv::StringRecord::new();
    let (mut first_high, mut second_high) = (0_usize, 0_usize);
    let mut seen = 0;
    // Steps from day to day in either order, d.
    let mut walked = [0.0_f64; 3];
    let mut last = [None; 3];
    let mut last_date = None;
    let mut impossible = [0_usize; 3];
    while seen < ORDER_ROWS && rows.read_record(&mut row).unwrap_or(false) {
        seen += 1;
        if seen <= found.rows_before {
            continue;
        }
        let date = row.get(at).and_then(moment::read).and_then(|it| it.date);
        let Some(date) = date.filter(|date| date.needs_order() && last_date != Some(*date)) else {
            continue;
        };
        last_date = Some(date);
        let (first, second) = date.first_two();
        first_high += usize::from(first > 12);
        second_high += usize::from(second > 12);
        for (which, order) in DateOrder::ALL.into_iter().enumerate() {
            let Some(day) = date.day(order) else {
                impossible[which] += 1;
                continue;
            };
            if let Some(last) = last[which].replace(day) {
                walked[which] += f64::from(day.since(last).map_or(0, |span| span.get_days()).abs());
            }
        }
    }
    let [by_day, by_month, by_year] = impossible;
    if first_high > 0 && by_day > by_year && by_month > by_year {
        return (DateOrder::YearFirst, How::Values);
    }
    if first_high != second_high {
        let order = if first_high > second_high {
            DateOrder::DayFirst
        } else {
            DateOrder::MonthFirst
        };
        return (order, How::Values);
    }
    let steps = last_date.is_some() && walked[0] != walked[1];
    match (steps, walked[0] < walked[1]) {
        (true, true) => (DateOrder::DayFirst, How::Sequence),
        (true, false) => (DateOrder::MonthFirst, How::Sequence),
        _ => (DateOrder::DayFirst, How::Assumed),
    }
}
