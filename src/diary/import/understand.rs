//! Finding out how a logger's file is written, from its first rows and what was chosen.
//!
//! In: text, [`Choices`]. Out: [`Understood`].
//!
//! Not here: what columns hold (`columns`), day and month (`dates`), probes and units (`probes`), the rows (`rows`).
//!
//! Tested by: `tests/document/logger.rs`.

use jiff::tz::TimeZone;

use super::choices::{Choices, Clock, ColumnUse, DecimalSign, Encoding, Guess, How};
use super::columns::columns_of;
use super::dates::look_at_moments;
use super::moment::{self, MomentKind};
use super::number;
use super::probes::probes_of;
use super::table::{self, Layout};
use super::understood::{Lack, NotUnderstood, Understood};

/// Understands a text.
pub(super) fn understand(
    text: &str,
    encoding: Guess<Encoding>,
    choices: &Choices,
) -> Result<Understood, NotUnderstood> {
    let zone = match &choices.clock {
        Clock::AtHeap => None,
        Clock::Zone(name) => {
            let zone = TimeZone::get(name.trim());
            Some(zone.map_err(|_| NotUnderstood::NoSuchZone(name.clone()))?)
        }
    };
    let layout = table::layout(text, choices.delimiter).ok_or(NotUnderstood::NoRows)?;
    let decimal = Guess::or(choices.decimal, || decimal_of(&layout));
    let columns = columns_of(&layout, decimal.value, choices);
    let mut found = Understood {
        encoding,
        delimiter: layout.delimiter,
        quoted: layout.quoted,
        preamble: layout.preamble,
        has_headings: !layout.headings.is_empty(),
        decimal,
        columns,
        kind: MomentKind::Written,
        order: None,
        has_offsets: false,
        twelve_hours: false,
        newest_first: false,
        clock: choices.clock.clone(),
        probes: Vec::new(),
        lack: None,
        rows_before: layout.rows_before,
        zone,
    };
    look_at_moments(text, &layout, choices, &mut found);
    found.probes = probes_of(text, &layout, choices, &found);
    found.lack = if found.columns_of(ColumnUse::Moment).next().is_none()
        && found.columns_of(ColumnUse::Date).next().is_none()
    {
        Some(Lack::Moment)
    } else if found.probes.is_empty() {
        Some(Lack::Temperature)
    } else {
        None
    };
    Ok(found)
}

/// The decimal sign, by the cells that are no dates.
fn decimal_of(layout: &Layout) -> (DecimalSign, How) {
    let (mut points, mut commas) = (0, 0);
    for row in &layout.sample {
        for cell in row.iter().take(table::COLUMN_LIMIT) {
            if moment::read(cell).is_some() {
                continue;
            }
            match number::decimal_of(cell) {
                Some(DecimalSign::Point) => points += 1,
                Some(DecimalSign::Comma) => commas += 1,
                None => {}
            }
        }
    }
    match (points, commas) {
        (0, 0) => (DecimalSign::Point, How::Assumed),
        _ if commas > points => (DecimalSign::Comma, How::Values),
        _ => (DecimalSign::Point, How::Values),
    }
}
