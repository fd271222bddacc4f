//! Text as rows of cells: what stands between columns, whether quotes count, where headings and rows begin.
//!
//! In: text, maybe a choice. Out: [`Layout`], and a reader over the rows that knows their line numbers.
//!
//! The reading of quotes and line breaks is the `csv` crate's (RFC 4180).
//! Not here: what a column holds (`columns`).
//!
//! Tested by: `tests/document/logger.rs`.

use csv::{Reader, ReaderBuilder, StringRecord};

use super::choices::{Delimiter, Guess, How};
use super::{heading, moment, number};

/// Rows looked at to find out how a file is written.
pub(super) const SAMPLE_ROWS: usize = 400;
/// Columns looked at; what stands further right is not read.
pub(super) const COLUMN_LIMIT: usize = 256;
/// Most lines that one quoted cell may run over; beyond that a quote is a stray one.
const QUOTED_LINES: usize = 20;
/// Longest title of a column, or name of a probe in one, that is kept, characters.
const HEADING_LIMIT: usize = 60;

/// How a table is written.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layout {
    pub delimiter: Guess<Delimiter>,
    /// Whether a cell may stand in quotes.
    pub quoted: bool,
    /// Rows before the first one of data, and how many of those are headings.
    pub rows_before: usize,
    pub preamble: usize,
    /// Headings, one for each column; empty where the file has none.
    pub headings: Vec<String>,
    pub columns: usize,
    /// The first rows of data.
    pub sample: Vec<StringRecord>,
}

impl Layout {
    /// The cells of one column among the first rows.
    pub fn cells(&self, at: usize) -> impl Iterator<Item = &str> {
        self.sample.iter().filter_map(move |row| row.get(at))
    }
}

/// A reader over all rows of a text.
pub(super) fn reader(text: &str, delimiter: Delimiter, quoted: bool) -> Reader<&[u8]> {
    ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter.byte())
        .quoting(quoted)
        .from_reader(text.as_bytes())
}

/// The line a row begins on, from 1. The reader's own is that of the row's end before it: a second letter of a line's end
/// and blank lines are still to come.
pub(super) fn line_of(row: &StringRecord, text: &str) -> u64 {
    let Some(position) = row.position() else {
        return 0;
    };
    let start = usize::try_from(position.byte()).unwrap_or(usize::MAX);
    let rest = text.as_bytes().get(start..).unwrap_or_default();
    let ends = rest.iter().take_while(|byte| matches!(byte, b'\r' | b'\n'));
    let passed = ends.filter(|byte| **byte == b'\n').count();
    position.line() + passed as u64
}

/// How this text is written; `None` where it holds no row at all.
pub(super) fn layout(text: &str, chosen: Option<Delimiter>) -> Option<Layout> {
    let quoted = quotes_close(text);
    let delimiter = Guess::or(chosen, || (delimiter_of(text, quoted), How::Values));
    let rows = first_rows(text, delimiter.value, quoted, 2 * SAMPLE_ROWS);
    if rows.is_empty() {
        return None;
    }
    let moments = rows.iter().any(has_moment);
    let is_data = |row: &StringRecord| {
        let filled = row.iter().filter(|cell| number::is_number(cell)).count();
        if moments {
            has_moment(row) && row.iter().any(number::is_measured)
        } else {
            filled >= 2 || filled == row.len()
        }
    };
    let first = rows
        .iter()
        .position(is_data)
        .unwrap_or(1.min(rows.len() - 1));
    let sample: Vec<StringRecord> = rows[first..].iter().take(SAMPLE_ROWS).cloned().collect();
    let columns = sample.iter().map(StringRecord::len).max().unwrap_or(0);
    let columns = columns.min(COLUMN_LIMIT);
    let (headings, heading_rows) = headings_above(&rows[..first], columns);
    Some(Layout {
        delimiter,
        quoted,
        rows_before: first,
        preamble: first - heading_rows,
        headings,
        columns,
        sample,
    })
}

fn first_rows(text: &str, delimiter: Delimiter, quoted: bool, most: usize) -> Vec<StringRecord> {
    let mut reader = reader(text, delimiter, quoted);
    let rows = reader.records().map_while(Result::ok);
    rows.take(most).collect()
}

fn has_moment(row: &StringRecord) -> bool {
    let cells = row.iter().take(COLUMN_LIMIT);
    cells
        .filter_map(moment::read)
        .any(|written| written.date.is_some())
}

/// The headings right above the data, and how many rows they take.
fn headings_above(above: &[StringRecord], columns: usize) -> (Vec<String>, usize) {
    let fits = |row: &StringRecord| {
        let filled = row.iter().filter(|cell| !cell.trim().is_empty()).count();
        // One title may stand over one column only; a sentence over a table is no heading.
        filled >= 2.min(columns) && row.len() + 1 >= columns && row.len() <= columns + 1
    };
    let Some(last) = above.last() else {
        return (Vec::new(), 0);
    };
    let names = |row: &StringRecord| -> Vec<String> {
        let cell = |at: usize| row.get(at).unwrap_or_default();
        (0..columns).map(|at| shortened(cell(at))).collect()
    };
    let over = above.len().checked_sub(2).and_then(|at| above.get(at));
    if heading::are_units(last.iter())
        && let Some(over) = over.filter(|row| fits(row))
    {
        let units = names(last);
        let joined = names(over)
            .into_iter()
            .zip(units)
            .map(|(name, unit)| format!("{name} {unit}").trim().to_owned());
        return (joined.collect(), 2);
    }
    if fits(last) {
        (names(last), 1)
    } else {
        (Vec::new(), 0)
    }
}

/// A title on one line, not longer than a list can show.
pub(super) fn shortened(title: &str) -> String {
    let words: Vec<&str> = title.split_whitespace().collect();
    let letters = words.join(" ");
    let shown = letters.chars().filter(|letter| !letter.is_control());
    shown.take(HEADING_LIMIT).collect()
}

/// The delimiter that makes most cells whole: dates, numbers or nothing.
fn delimiter_of(text: &str, quoted: bool) -> Delimiter {
    let score = |delimiter: &Delimiter| -> i64 {
        let rows = first_rows(text, *delimiter, quoted, SAMPLE_ROWS);
        let of_row = |row: &StringRecord| {
            let cells = row.iter().take(COLUMN_LIMIT);
            let whole = cells.filter(|cell| is_whole(cell)).count();
            let all = row.len().min(COLUMN_LIMIT);
            if all < 2 {
                0
            } else {
                (2 * whole as i64 - all as i64).max(0)
            }
        };
        rows.iter().map(of_row).sum()
    };
    let mut best = (Delimiter::Comma, 0);
    for delimiter in Delimiter::ALL {
        let found = score(&delimiter);
        if found > best.1 {
            best = (delimiter, found);
        }
    }
    best.0
}

fn is_whole(cell: &str) -> bool {
    number::is_number(cell) || moment::read(cell).is_some()
}

/// Whether every quote that opens a cell is closed again within a few lines; otherwise one stray quote would swallow
/// the rest of the file.
fn quotes_close(text: &str) -> bool {
    let mut open_for = None;
    for line in text.split('\n') {
        let odd = line.bytes().filter(|byte| *byte == b'"').count() % 2 == 1;
        open_for = match (open_for, odd) {
            (None, false) | (Some(_), true) => None,
            (None, true) => Some(0),
            (Some(lines), false) => Some(lines + 1),
        };
        if open_for.is_some_and(|lines| lines > QUOTED_LINES) {
            return false;
        }
    }
    open_for.is_none()
}
