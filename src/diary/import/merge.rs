//! What was taken of a logger's file, put into a diary.
//!
//! In: an [`Imported`], a diary. Out: the diary with its probes; how many readings are new.
//!
//! A probe of the same name goes on where it is, and a stretch it already has is not doubled: a reading within half a
//! usual step of one that is there counts as that one. A diary without a day on which the heap was built gets that of
//! the file.
//! Not here: reading (`rows`), one step to undo it (`window`).
//!
//! Tested by: `tests/document/logger.rs`.

use thiserror::Error;

use super::choices::Place;
use super::imported::Imported;
use crate::diary::{Diary, Log, MOST_LOGGED};

/// Widest that one reading is taken for another, d: half an hour, since means of an hour lie an hour apart.
const WIDEST_D: f64 = 0.5 / 24.0;
/// Narrowest, d: what rounding to the second leaves.
const NARROWEST_D: f64 = 2e-5;

/// What came into a diary.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Merged {
    /// Readings that are new.
    pub added: usize,
    /// Readings that were there already.
    pub known: usize,
    /// Probes with new readings.
    pub probes: usize,
}

/// More readings than a diary keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error(
    "with these the diary has {found} readings of loggers, and at most {MOST_LOGGED} can be kept; take the mean of every hour, or fewer probes"
)]
pub struct TooManyReadings {
    /// How many there would be.
    pub found: usize,
}

/// Puts the probes that are taken into the diary; those in the air are not.
///
/// # Errors
/// [`TooManyReadings`], and then the diary is as it was.
pub fn merge(imported: &Imported, diary: &mut Diary) -> Result<Merged, TooManyReadings> {
    let mut changed = diary.clone();
    let built = *changed.built.get_or_insert(imported.built.value);
    // Of a file read with another day: from its day to the diary's.
    let shift = match built == imported.built.value {
        true => 0.0,
        false => changed.day_of(imported.built.value).unwrap_or(0.0),
    };
    let mut merged = Merged::default();
    for probe in imported.taken() {
        let Place::Heap(spot) = probe.place else {
            continue;
        };
        let points = probe.temperatures_c.iter();
        let points = points.map(|(day, value)| (day + shift, *value));
        let points: Vec<(f64, f64)> = points.filter(|(day, _)| *day >= 0.0).collect();
        let place = match changed.logs.iter().position(|log| log.name == probe.name) {
            Some(place) => place,
            None => {
                changed.logs.push(Log {
                    name: probe.name.clone(),
                    spot,
                    temperatures_c: Default::default(),
                });
                changed.logs.len() - 1
            }
        };
        let log = &mut changed.logs[place];
        log.spot = spot;
        let mut all = log.temperatures_c.to_vec();
        let new = join(&mut all, &points);
        log.temperatures_c = all.into_iter().collect();
        merged.added += new;
        merged.known += points.len() - new;
        merged.probes += usize::from(new > 0);
    }
    let found: usize = changed
        .logs
        .iter()
        .map(|log| log.temperatures_c.len())
        .sum();
    if found > MOST_LOGGED {
        return Err(TooManyReadings { found });
    }
    *diary = changed;
    Ok(merged)
}

/// Adds the points that are not there yet; how many those are. Both rise.
fn join(there: &mut Vec<(f64, f64)>, points: &[(f64, f64)]) -> usize {
    let near = near_d(there);
    let is_known = |day: f64| {
        let after = there.partition_point(|(other, _)| *other < day);
        let beside = [after.checked_sub(1), Some(after)];
        let beside = beside.into_iter().flatten().filter_map(|at| there.get(at));
        beside
            .into_iter()
            .any(|(other, _)| (other - day).abs() <= near)
    };
    let mut new: Vec<(f64, f64)> = points
        .iter()
        .filter(|(day, _)| !is_known(*day))
        .copied()
        .collect();
    // Two of the file that rounding has made one.
    new.dedup_by_key(|(day, _)| *day);
    let count = new.len();
    there.append(&mut new);
    there.sort_by(|a, b| a.0.total_cmp(&b.0));
    count
}

/// Half the usual step of a series, d, within bounds.
fn near_d(points: &[(f64, f64)]) -> f64 {
    let mut steps: Vec<f64> = points
        .windows(2)
        .map(|pair| pair[1].0 - pair[0].0)
        .collect();
    steps.sort_by(f64::total_cmp);
    let usual = steps.get(steps.len() / 2).copied().unwrap_or(0.0);
    (0.49 * usual).clamp(NARROWEST_D, WIDEST_D)
}
