//! What each column of a logger's file holds: dates, times, temperatures, names of probes.
//!
//! In: headings and first rows. Out: [`Column`]s, each with how its use was found out.
//!
//! Not here: what a heading says (`heading`), day and month (`dates`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::collections::BTreeMap;

use super::choices::{Choices, ColumnUse, DecimalSign, Guess, How};
use super::number::{self, Cell};
use super::table::Layout;
use super::understood::{Column, PROBE_LIMIT};
use super::{heading, moment};

/// Cells of a column shown as an example.
const EXAMPLES: usize = 3;

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
    for cell in layout.cells(at) {
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

/// The columns of a file, and what each holds.
pub(super) fn columns_of(layout: &Layout, decimal: DecimalSign, choices: &Choices) -> Vec<Column> {
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
            examples: layout
                .cells(at)
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
