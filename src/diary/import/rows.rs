//! The rows of a logger's file, taken: one rising series for each probe, bad rows listed, nothing else lost.
//!
//! In: bytes, [`Choices`]. Out: [`Import`].
//!
//! A row is good if at least one temperature was taken of it and nothing in it was bad; a gap if nothing was measured;
//! else bad, though its good cells are taken all the same. Good, bad and gaps together are all rows.
//! Moments are counted in milliseconds on one axis: of UTC where a zone is named, else of the clock as it is written
//! (moments with an offset: of the first row's clock).
//! Not here: guessing (`understand`), which moment a row is of (`moment_columns`), what looks odd (`flags`), the diary (`merge`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::collections::HashMap;

use csv::StringRecord;
use jiff::civil::DateTime;

use super::axis::{Axis, DAY_MS, Given, HOUR_MS};
use super::choices::{Choices, ColumnUse, DecimalSign, Guess, How, Keep, Place, Spikes, Unit};
use super::flags::{self, Odd};
use super::imported::{
    BAD_ROWS_KEPT, BadRow, BadWhy, FirstRow, Import, Imported, ImportedProbe, RowCounts,
};
use super::moment_columns::MomentColumns;
use super::number::{self, Cell};
use super::understand::understand;
use super::understood::{NotUnderstood, Probe, ROW_LIMIT, Understood};
use super::{encoding, table};
use crate::quantity::{bounds, celsius_from_fahrenheit};

/// First rows shown as they would be taken.
const FIRST_ROWS: usize = 8;
/// While a probe has no more readings than this, every one is kept unless a person chooses.
const FEW: usize = 5000;
/// Most readings of one file that are kept one by one; beyond it the hour's mean stands for them, so that a project
/// with them can still be saved.
const EVERY_LIMIT: usize = 100_000;
/// degC at 0 K.
const ZERO_KELVIN_C: f64 = -273.15;

/// Reads a file's bytes.
///
/// # Errors
/// [`NotUnderstood`] where there is no row, too many of them, or no such time zone.
pub fn import(bytes: &[u8], choices: &Choices) -> Result<Import, NotUnderstood> {
    let (text, encoding) = encoding::text_of(bytes, choices.encoding);
    let understood = understand(&text, encoding, choices)?;
    let imported = match understood.lack {
        Some(_) => None,
        None => Some(take(&text, &understood, choices)?),
    };
    Ok(Import {
        understood,
        imported,
    })
}

/// One probe while rows are taken.
struct Series {
    points: Vec<(i64, f64)>,
    last: Option<i64>,
}

struct Taking<'a> {
    probes: &'a [Probe],
    names: Option<(usize, HashMap<&'a str, usize>)>,
    decimal: DecimalSign,
    series: Vec<Series>,
    axis: Axis,
    built: Guess<Option<DateTime>>,
    built_ms: Option<i64>,
    rows: RowCounts,
    bad: Vec<BadRow>,
    first: Vec<FirstRow>,
}

fn take(text: &str, understood: &Understood, choices: &Choices) -> Result<Imported, NotUnderstood> {
    let probes = &understood.probes;
    let names = understood.columns_of(ColumnUse::ProbeName).next();
    let places = probes.iter().enumerate();
    let by_name = places.map(|(at, probe)| (probe.key.as_str(), at)).collect();
    let mut taking = Taking {
        probes,
        names: names.map(|column| (column, by_name)),
        decimal: understood.decimal.value,
        series: probes
            .iter()
            .map(|_| Series {
                points: Vec::new(),
                last: None,
            })
            .collect(),
        axis: Axis::new(understood.zone.clone(), understood.newest_first),
        built: Guess::or(choices.built.map(Some), || (None, How::Values)),
        built_ms: None,
        rows: RowCounts::default(),
        bad: Vec::new(),
        first: Vec::new(),
    };
    let moments = MomentColumns::of(understood);
    match choices.built {
        Some(built) => taking.built_ms = taking.axis.of_built(built),
        None if understood.newest_first => taking.build_at(earliest(text, understood, &moments)),
        None => {}
    }
    let mut reader = table::reader(text, understood.delimiter.value, understood.quoted);
    let mut row = StringRecord::new();
    let mut seen = 0;
    while reader.read_record(&mut row).unwrap_or(false) {
        seen += 1;
        if seen <= understood.rows_before {
            continue;
        }
        if taking.rows.all == ROW_LIMIT {
            return Err(NotUnderstood::TooManyRows);
        }
        taking.row(&row, text, &moments);
    }
    Ok(taking.finish(choices))
}

/// Where the earliest moment lies of a file whose newest row stands first.
fn earliest(text: &str, understood: &Understood, moments: &MomentColumns) -> Option<i64> {
    let mut axis = Axis::new(understood.zone.clone(), understood.newest_first);
    let mut reader = table::reader(text, understood.delimiter.value, understood.quoted);
    let rows = reader.records().map_while(Result::ok);
    let rows = rows.skip(understood.rows_before).take(ROW_LIMIT);
    let given = rows.filter_map(|row| moments.given(&row).ok());
    given.filter_map(|given| axis.place(&given, None)).min()
}

impl Taking<'_> {
    /// Says where the day lies on which the heap was built, by the file.
    fn build_at(&mut self, at_ms: Option<i64>) {
        self.built_ms = at_ms;
        self.built.value = at_ms.map(|at_ms| self.axis.local(at_ms));
    }

    /// Takes one row and counts it.
    fn row(&mut self, row: &StringRecord, text: &str, moments: &MomentColumns) {
        self.rows.all += 1;
        if row.iter().all(|cell| cell.trim().is_empty()) {
            self.rows.gaps += 1;
            return;
        }
        match self.cells(row, text, moments) {
            Ok(0) => self.rows.gaps += 1,
            Ok(_) => self.rows.good += 1,
            Err(why) => {
                self.rows.bad += 1;
                if self.bad.len() < BAD_ROWS_KEPT {
                    let line = table::line_of(row, text);
                    self.bad.push(BadRow { line, why });
                }
            }
        }
    }

    /// Takes the cells of a row; how many temperatures it held, or what is bad in it.
    fn cells(
        &mut self,
        row: &StringRecord,
        text: &str,
        moments: &MomentColumns,
    ) -> Result<usize, BadWhy> {
        let given = moments.given(row)?;
        let only = match &self.names {
            None => None,
            Some((column, by_name)) => {
                let name = row.get(*column).unwrap_or_default().trim();
                Some(*by_name.get(name).ok_or(BadWhy::NoProbe)?)
            }
        };
        let at_ms = self.place(&given, only.unwrap_or(0))?;
        let mut shown = (self.first.len() < FIRST_ROWS).then(|| FirstRow {
            line: table::line_of(row, text),
            at: self.axis.local(at_ms),
            temperatures_c: vec![None; self.probes.len()],
        });
        let mut taken = 0;
        let mut bad = None;
        for (at, probe) in self.probes.iter().enumerate() {
            if probe.left_out || only.is_some_and(|only| only != at) {
                continue;
            }
            let cell = row.get(probe.column).unwrap_or_default();
            match temperature_of(cell, self.decimal, probe.unit.value, at) {
                Ok(Some(value)) => {
                    taken += 1;
                    self.series[at].points.push((at_ms, value));
                    if let Some(shown) = &mut shown {
                        shown.temperatures_c[at] = Some(value);
                    }
                }
                Ok(None) => {}
                Err(why) => {
                    bad.get_or_insert(why);
                }
            }
        }
        self.first.extend(shown);
        bad.map_or(Ok(taken), Err)
    }

    /// Where a row lies on the axis, if the heap stood then.
    fn place(&mut self, given: &Given, of: usize) -> Result<i64, BadWhy> {
        let last = self.series.get(of).and_then(|series| series.last);
        let nowhere = || BadWhy::NotAMoment(String::new());
        let at_ms = self.axis.place(given, last).ok_or_else(nowhere)?;
        if self.built_ms.is_none() {
            self.build_at(Some(at_ms));
        }
        if let Some(built_ms) = self.built_ms {
            if at_ms < built_ms {
                return Err(BadWhy::BeforeBuilt(self.axis.local(at_ms)));
            }
            if (at_ms - built_ms) as f64 > bounds::DAY_OF_READING.high * DAY_MS as f64 {
                return Err(BadWhy::TooLate(self.axis.local(at_ms)));
            }
        }
        if let Some(series) = self.series.get_mut(of) {
            series.last = Some(at_ms);
        }
        Ok(at_ms)
    }

    /// Puts every series in order, looks for what is odd, and counts in days.
    fn finish(self, choices: &Choices) -> Imported {
        let mut series: Vec<Vec<(i64, f64)>> = self
            .series
            .into_iter()
            .map(|series| series.points)
            .collect();
        if self.axis.newest_first() {
            series.iter_mut().for_each(|points| points.reverse());
        }
        let read: Vec<usize> = series.iter().map(Vec::len).collect();
        let mut odd = Odd::new(&self.axis);
        odd.clock_changes(self.axis.twice(), self.axis.skipped());
        let in_heap: Vec<bool> = self
            .probes
            .iter()
            .map(|probe| probe.place.value != Place::Air && !probe.left_out)
            .collect();
        let leave_out = choices.spikes == Spikes::LeftOut;
        flags::look_at(&mut series, &in_heap, leave_out, &mut odd);
        let longest = series.iter().map(Vec::len).max().unwrap_or(0);
        let all: usize = series.iter().map(Vec::len).sum();
        let keep = Guess::or(
            choices
                .keep
                .filter(|keep| *keep == Keep::Hourly || all <= EVERY_LIMIT),
            || match longest > FEW {
                true => (Keep::Hourly, How::Assumed),
                false => (Keep::Every, How::Assumed),
            },
        );
        let built_ms = self.built_ms.unwrap_or(0);
        let probes = self.probes.iter().zip(series).zip(read);
        let probes = probes.map(|((probe, points), read)| ImportedProbe {
            name: probe.name.clone(),
            place: probe.place.value,
            left_out: probe.left_out,
            read,
            temperatures_c: in_days(&points, keep.value, built_ms),
        });
        let probes = probes.collect();
        let (flags, more_flags) = odd.told();
        Imported {
            built: Guess {
                value: self.built.value.unwrap_or_default(),
                how: self.built.how,
            },
            probes,
            rows: self.rows,
            bad: self.bad,
            flags,
            more_flags,
            keep,
            first: self.first,
        }
    }
}

/// The temperature of a cell, degC; `None` where nothing was measured.
fn temperature_of(
    cell: &str,
    decimal: DecimalSign,
    unit: Unit,
    probe: usize,
) -> Result<Option<f64>, BadWhy> {
    let value = match number::read(cell, decimal) {
        Cell::Number(value) => value,
        Cell::Gap => return Ok(None),
        Cell::Other => {
            return Err(BadWhy::NotANumber {
                probe,
                text: cell.trim().chars().take(40).collect(),
            });
        }
    };
    let found_c = match unit {
        Unit::Celsius => value,
        Unit::Fahrenheit => celsius_from_fahrenheit(value),
        Unit::Kelvin => value + ZERO_KELVIN_C,
    };
    match bounds::READ_TEMPERATURE.check(found_c) {
        Ok(found_c) => Ok(Some(found_c)),
        Err(_) => Err(BadWhy::OutOfRange { probe, found_c }),
    }
}

/// A series in days since the heap was built: to the second, and to a thousandth of a degree.
fn in_days(points: &[(i64, f64)], keep: Keep, built_ms: i64) -> Vec<(f64, f64)> {
    let day = |ms: f64| ((ms - built_ms as f64) / DAY_MS as f64 * 1e5).round() / 1e5;
    let degree = |value: f64| (value * 1000.0).round() / 1000.0;
    match keep {
        Keep::Every => points
            .iter()
            .map(|(at_ms, value)| (day(*at_ms as f64), degree(*value)))
            .collect(),
        Keep::Hourly => points
            .chunk_by(|a, b| a.0.div_euclid(HOUR_MS) == b.0.div_euclid(HOUR_MS))
            .map(|hour| {
                let count = hour.len() as f64;
                let sum: f64 = hour.iter().map(|(_, value)| value).sum();
                // From the first of them, so that the sum stays small.
                let start = hour[0].0;
                let late: i64 = hour.iter().map(|(at_ms, _)| at_ms - start).sum();
                (day(start as f64 + late as f64 / count), degree(sum / count))
            })
            .collect(),
    }
}
