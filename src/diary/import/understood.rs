//! How a logger's file is understood: letters, columns, dates, units, probes; each with how it was found out.
//!
//! In: text, [`Choices`]. Out: [`Understood`].
//!
//! Not here: the rows themselves (`rows`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::collections::BTreeMap;

use jiff::tz::TimeZone;
use thiserror::Error;

use super::choices::{
    Choices, Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Guess, How, Place, Unit,
};
use super::heading;
use super::moment::{self, MomentKind};
use super::number::{self, Cell};
use super::table::{self, Layout};
use crate::diary::Spot;

/// Most rows of one file that are read.
pub const ROW_LIMIT: usize = 2_000_000;
/// Most probes told apart by a column of their names.
pub(super) const PROBE_LIMIT: usize = 64;
/// Rows looked at for the order of day and month.
const ORDER_ROWS: usize = 200_000;
/// Cells of a column shown as an example.
const EXAMPLES: usize = 3;

/// Why a file is not understood at all.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NotUnderstood {
    /// No row in it.
    #[error("there is no row in this file; export it again from the logger's program as CSV")]
    NoRows,
    /// More rows than are read.
    #[error(
        "this file has more than {ROW_LIMIT} rows; export a shorter time from the logger's program"
    )]
    TooManyRows,
    /// A zone that the database does not have.
    #[error("there is no time zone \"{0}\"; write it as in Europe/London, or leave it empty")]
    NoSuchZone(String),
}

/// What is still missing before rows can be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lack {
    /// No column holds dates.
    Moment,
    /// No column holds temperatures.
    Temperature,
}

/// One column of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading; empty where it has none.
    pub heading: String,
    /// What it holds.
    pub holds: Guess<ColumnUse>,
    /// Its first cells.
    pub examples: Vec<String>,
}

/// One probe.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// What it is called in the file: the key of its choices.
    pub key: String,
    /// What it is to be called.
    pub name: String,
    /// Which column its temperatures stand in.
    pub column: usize,
    /// Where it sits.
    pub place: Guess<Place>,
    /// What its temperatures are given in.
    pub unit: Guess<Unit>,
    /// Whether it is left out.
    pub left_out: bool,
}

/// A file as it is understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Understood {
    /// Letters.
    pub encoding: Guess<Encoding>,
    /// Between columns.
    pub delimiter: Guess<Delimiter>,
    /// Whether cells in quotes are read as such.
    pub quoted: bool,
    /// Rows before the headings that say something else.
    pub preamble: usize,
    /// Whether there are headings.
    pub has_headings: bool,
    /// Before tenths.
    pub decimal: Guess<DecimalSign>,
    /// Columns.
    pub columns: Vec<Column>,
    /// How moments are given.
    pub kind: MomentKind,
    /// Order of day and month; `None` where figures need none.
    pub order: Option<Guess<DateOrder>>,
    /// Whether moments bear their offset from UTC.
    pub has_offsets: bool,
    /// Whether hours are counted to twelve.
    pub twelve_hours: bool,
    /// Whether the newest row stands first.
    pub newest_first: bool,
    /// Whose clock.
    pub clock: Clock,
    /// Probes.
    pub probes: Vec<Probe>,
    /// What is missing.
    pub lack: Option<Lack>,
    pub(super) rows_before: usize,
    pub(super) zone: Option<TimeZone>,
}

impl Understood {
    /// The columns that hold this.
    pub(super) fn columns_of(&self, what: ColumnUse) -> impl Iterator<Item = usize> + '_ {
        let all = self.columns.iter().enumerate();
        all.filter(move |(_, column)| column.holds.value == what)
            .map(|(at, _)| at)
    }
}

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

/// The cells of one column among the first rows.
fn cells(layout: &Layout, at: usize) -> impl Iterator<Item = &str> {
    layout.sample.iter().filter_map(move |row| row.get(at))
}

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

/// What the first cells of a column are.
#[derive(Debug, Default)]
struct Tally {
    filled: usize,
    moments: usize,
    dates: usize,
    times: usize,
    numbers: usize,
    gaps: usize,
    counts: usize,
    shares: usize,
    first: Option<f64>,
    rises_by_one: usize,
    texts: BTreeMap<String, usize>,
}

fn tally(layout: &Layout, at: usize, decimal: DecimalSign) -> Tally {
    let mut all = Tally::default();
    let mut last = None;
    for cell in cells(layout, at) {
        if cell.trim().is_empty() {
            all.gaps += 1;
            continue;
        }
        all.filled += 1;
        match (number::read(cell, decimal), moment::read(cell)) {
            (_, Some(written)) => match (written.date, written.time) {
                (Some(_), Some(_)) => all.moments += 1,
                (Some(_), None) => all.dates += 1,
                (None, _) => all.times += 1,
            },
            (Cell::Number(value), None) => {
                all.numbers += 1;
                all.counts += usize::from(moment::counts(value).is_some());
                all.shares += usize::from((0.0..1.0).contains(&value));
                all.rises_by_one += usize::from(last.is_some_and(|last: f64| value - last == 1.0));
                all.first.get_or_insert(value);
                last = Some(value);
            }
            (Cell::Gap, None) => all.gaps += 1,
            // By the other decimal sign, which may have been chosen by mistake.
            (Cell::Other, None) if number::is_number(cell) => all.numbers += 1,
            (Cell::Other, None) => {
                if all.texts.len() <= PROBE_LIMIT {
                    *all.texts.entry(cell.trim().to_owned()).or_default() += 1;
                }
            }
        }
    }
    all
}

fn columns_of(layout: &Layout, decimal: DecimalSign, choices: &Choices) -> Vec<Column> {
    let heading = |at: usize| layout.headings.get(at).cloned().unwrap_or_default();
    let tallies: Vec<Tally> = (0..layout.columns)
        .map(|at| tally(layout, at, decimal))
        .collect();
    let mut guesses = guess_uses(&tallies, &heading);
    guess_names(&tallies, &heading, &mut guesses);
    (0..layout.columns)
        .map(|at| Column {
            heading: heading(at),
            holds: Guess::or(choices.columns.get(&at).copied(), || guesses[at]),
            examples: cells(layout, at)
                .take(EXAMPLES)
                .map(|cell| cell.trim().chars().take(40).collect())
                .collect(),
        })
        .collect()
}

/// Dates, times and temperatures.
fn guess_uses(tallies: &[Tally], heading: &impl Fn(usize) -> String) -> Vec<(ColumnUse, How)> {
    let most = |count: usize, all: &Tally| count > 0 && 2 * count >= all.filled;
    let mut uses = vec![(ColumnUse::Nothing, How::Assumed); tallies.len()];
    let find = |test: &dyn Fn(&Tally) -> bool| tallies.iter().position(test);
    let moment = find(&|all| most(all.moments, all));
    let date = find(&|all| most(all.dates, all));
    let time = find(&|all| most(all.times, all));
    let counted = find(&|all| all.numbers > 0 && all.counts == all.numbers);
    let mut serial = None;
    match (moment, date, time, counted) {
        (Some(at), ..) => uses[at] = (ColumnUse::Moment, How::Values),
        (None, Some(date), Some(time), _) => {
            uses[date] = (ColumnUse::Date, How::Values);
            uses[time] = (ColumnUse::Time, How::Values);
        }
        (None, Some(at), None, _) => uses[at] = (ColumnUse::Moment, How::Values),
        (None, None, _, Some(at)) => {
            uses[at] = (ColumnUse::Moment, How::Values);
            serial = Some(at);
        }
        _ => {}
    }
    // Days of a spreadsheet in one column, the share of the day in the next.
    if let Some(at) = serial {
        let next = at + 1;
        let is_share = tallies.get(next).is_some_and(|all| {
            all.numbers > 1 && all.shares == all.numbers && !heading(next).is_empty()
        });
        if is_share && heading(next).to_lowercase().contains("time") {
            uses[at].0 = ColumnUse::Date;
            uses[next] = (ColumnUse::Time, How::Heading);
        }
    }
    for (at, all) in tallies.iter().enumerate() {
        let free = uses[at].0 == ColumnUse::Nothing;
        let title = heading(at);
        let speaks = heading::place(&title).is_some() || heading::unit(&title).is_some();
        let counts_rows = !speaks
            && all.numbers > 2
            && all.rises_by_one + 1 == all.numbers
            && all.first.is_some_and(|first| first <= 1.0);
        let numeric = all.numbers > 0 && (speaks || 2 * (all.numbers + all.gaps) >= all.filled);
        if free && numeric && !heading::is_other_kind(&title) && !counts_rows {
            let how = match speaks {
                true => How::Heading,
                false => How::Values,
            };
            uses[at] = (ColumnUse::Temperature, how);
        }
    }
    uses
}

/// A column of probes' names: one column of temperatures, and beside it few texts that come again and again.
fn guess_names(
    tallies: &[Tally],
    heading: &impl Fn(usize) -> String,
    uses: &mut [(ColumnUse, How)],
) {
    let temperatures = uses
        .iter()
        .filter(|(what, _)| *what == ColumnUse::Temperature)
        .count();
    if temperatures != 1 {
        return;
    }
    let found = tallies.iter().enumerate().position(|(at, all)| {
        let texts: usize = all.texts.values().sum();
        let again = all.texts.values().filter(|count| **count > 1).count();
        let named = heading::names_probes(&heading(at));
        texts > 0
            && texts == all.filled
            && all.texts.len() <= PROBE_LIMIT
            && (named || all.texts.len() >= 2 && 2 * again > all.texts.len())
            && !heading::is_other_kind(&heading(at))
    });
    if let Some(at) = found {
        uses[at] = (ColumnUse::ProbeName, How::Values);
    }
}

/// Kind, order and direction of moments.
fn look_at_moments(text: &str, layout: &Layout, choices: &Choices, found: &mut Understood) {
    let at = found
        .columns_of(ColumnUse::Moment)
        .chain(found.columns_of(ColumnUse::Date))
        .next();
    let Some(at) = at else { return };
    let decimal = found.decimal.value;
    let mut needs_order = false;
    for cell in cells(layout, at) {
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
        let mut times = cells(layout, time).filter_map(moment::read);
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
        let mut places = cells(layout, at).filter_map(place);
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

fn probes_of(text: &str, layout: &Layout, choices: &Choices, found: &Understood) -> Vec<Probe> {
    let temperatures: Vec<usize> = found.columns_of(ColumnUse::Temperature).collect();
    let usual = unit_of_all(layout, &temperatures, found.decimal.value);
    let names = found.columns_of(ColumnUse::ProbeName).next();
    let mut keys: Vec<(String, usize)> = Vec::new();
    match (names, temperatures.first()) {
        (Some(names), Some(column)) => {
            for key in names_in(text, names, found) {
                keys.push((key, *column));
            }
        }
        _ => {
            for (number, at) in temperatures.into_iter().enumerate() {
                let heading = found.columns[at].heading.clone();
                let mut key = match heading.as_str() {
                    "" => format!("T{}", number + 1),
                    heading => heading.to_owned(),
                };
                if keys.iter().any(|(other, _)| *other == key) {
                    key = format!("{key} ({})", at + 1);
                }
                keys.push((key, at));
            }
        }
    }
    keys.into_iter()
        .map(|(key, column)| {
            let choice = choices.probes.get(&key);
            let heading = &found.columns[column].heading;
            let unit = Guess::or(choices.unit, || match heading::unit(heading) {
                Some(unit) => (unit, How::Heading),
                None => usual,
            });
            Probe {
                name: choice
                    .and_then(|choice| choice.name.clone())
                    .unwrap_or_else(|| key.clone()),
                column,
                place: Guess::or(
                    choice.and_then(|choice| choice.place),
                    || match heading::place(&key) {
                        Some(place) => (place, How::Heading),
                        None => (Place::Heap(Spot::CENTRE), How::Assumed),
                    },
                ),
                unit,
                left_out: choice.is_some_and(|choice| choice.left_out),
                key,
            }
        })
        .collect()
}

/// The names in a column of probes' names, in the order in which they come.
fn names_in(text: &str, at: usize, found: &Understood) -> Vec<String> {
    let mut rows = table::reader(text, found.delimiter.value, found.quoted);
    let mut row = csv::StringRecord::new();
    let mut names: Vec<String> = Vec::new();
    let mut seen = 0;
    while names.len() < PROBE_LIMIT && seen < ROW_LIMIT {
        if !rows.read_record(&mut row).unwrap_or(false) {
            break;
        }
        seen += 1;
        let name = row.get(at).unwrap_or_default().trim();
        if seen > found.rows_before && !name.is_empty() && !names.iter().any(|it| it == name) {
            names.push(name.to_owned());
        }
    }
    names
}

/// Above this no heap is in degC, and up to the other it can be in degF (steam at 100 degC; handbook heaps stay below
/// 80 degC, 176 degF).
const ONLY_FAHRENHEIT: std::ops::RangeInclusive<f64> = 95.0..=200.0;
/// No heap, no winter and no hot day is outside this, K.
const KELVINS: std::ops::Range<f64> = 230.0..380.0;
/// So many readings, and one in so many of all, tell a unit.
const UNIT_READINGS: usize = 3;
const UNIT_SHARE: usize = 50;

/// The unit of all temperatures whose own heading gives none: that of another heading, one behind the numbers, the
/// only one in which they can be, or degC.
fn unit_of_all(layout: &Layout, temperatures: &[usize], decimal: DecimalSign) -> (Unit, How) {
    let headings = temperatures
        .iter()
        .filter_map(|at| layout.headings.get(*at));
    if let Some(unit) = headings.into_iter().find_map(|title| heading::unit(title)) {
        return (unit, How::Heading);
    }
    let (mut all, mut fahrenheit, mut kelvin) = (0, 0, 0);
    for cell in temperatures.iter().flat_map(|at| cells(layout, *at)) {
        let Cell::Number(value) = number::read(cell, decimal) else {
            continue;
        };
        let small = cell.trim().to_lowercase();
        if let (_, Some(unit)) = number::split_unit(&small) {
            return (unit, How::Values);
        }
        all += 1;
        fahrenheit += usize::from(ONLY_FAHRENHEIT.contains(&value));
        kelvin += usize::from(KELVINS.contains(&value));
    }
    if 2 * kelvin > all {
        (Unit::Kelvin, How::Values)
    } else if fahrenheit >= UNIT_READINGS && UNIT_SHARE * fahrenheit >= all {
        (Unit::Fahrenheit, How::Values)
    } else {
        (Unit::Celsius, How::Assumed)
    }
}
