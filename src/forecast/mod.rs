//! The forecast: the same heap many times over, each time with other values of what is not well known.
//!
//! In: the sums of a mix, a heap. Out: [`Forecast`], a median and a 10-90 % band of the centre's temperature
//! and the spread of the few numbers of a run.
//!
//! Members are drawn by a low-discrepancy sequence (`draw`), so a few dozen already fill the ranges evenly;
//! member 0 holds the typical values. Members are independent and kept by their number, so the result is the
//! same for any number of threads.
//!
//! Not here: one run (`heap`), judgements (`outcome`).
//!
//! Held against: `tests/science/forecast.rs`.

mod band;
mod draw;

pub use band::{Band, quantile};
pub use draw::{Member, WIDTHS, Widths, deviate, member, point};

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::channel;

use crate::heap::{Addition, Heap, Settings, Summary, simulate_with};
use crate::mix::Totals;

/// Time between the points of a member's curve, d.
pub const SPACING_DAYS: f64 = 0.5;

/// What one member did.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Temperature of the centre at every [`SPACING_DAYS`], degC.
    pub centre_c: Vec<f32>,
    /// Its few numbers.
    pub summary: Summary,
}

/// Runs of an ensemble by their number; those still missing are `None`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    runs: Vec<Option<Run>>,
}

/// What a forecast is made of.
#[derive(Debug, Clone, Copy)]
pub struct Question<'a> {
    /// Sums of the mix.
    pub totals: &'a Totals,
    /// Sums of what the plan adds.
    pub additions: &'a [Addition],
    /// The heap.
    pub heap: &'a Heap,
    /// How many members.
    pub count: usize,
    /// Shifts the whole sequence.
    pub seed: u64,
}

impl Forecast {
    /// Runs all members on `threads` threads; `arrived` hears of the forecast after every `every` members.
    ///
    /// `stop` ends it early; what has arrived by then is kept.
    pub fn of(
        question: &Question<'_>,
        threads: usize,
        stop: &AtomicBool,
        every: usize,
        mut arrived: impl FnMut(&Self),
    ) -> Self {
        let mut forecast = Self {
            runs: vec![None; question.count],
        };
        let next = AtomicUsize::new(0);
        let (sender, answers) = channel();
        std::thread::scope(|scope| {
            for _ in 0..threads.max(1) {
                let (sender, next) = (sender.clone(), &next);
                scope.spawn(move || {
                    loop {
                        let number = next.fetch_add(1, Ordering::Relaxed);
                        if number >= question.count || stop.load(Ordering::Relaxed) {
                            break;
                        }
                        if sender.send((number, run(question, number, stop))).is_err() {
                            break;
                        }
                    }
                });
            }
            drop(sender);
            let mut count = 0;
            for (number, run) in answers {
                forecast.runs[number] = run;
                count += 1;
                if count % every.max(1) == 0 {
                    arrived(&forecast);
                }
            }
        });
        forecast
    }

    /// Members that have arrived.
    pub fn runs(&self) -> impl Iterator<Item = &Run> {
        self.runs.iter().flatten()
    }

    /// Median and 10-90 % band of the centre's temperature; `None` before the first member.
    pub fn centre_band(&self) -> Option<Band> {
        let curves: Vec<&[f32]> = self.runs().map(|run| run.centre_c.as_slice()).collect();
        Band::of(&curves, SPACING_DAYS)
    }

    /// A quantile of one of the few numbers; `None` before the first member.
    pub fn quantile(&self, share: f64, number: impl Fn(&Summary) -> f64) -> Option<f64> {
        let mut all: Vec<f64> = self.runs().map(|run| number(&run.summary)).collect();
        all.sort_by(f64::total_cmp);
        (!all.is_empty()).then(|| quantile(&all, share))
    }

    /// Share of the members for which something holds, 0-1.
    pub fn likelihood(&self, holds: impl Fn(&Summary) -> bool) -> f64 {
        let count = self.runs().count();
        let yes = self.runs().filter(|run| holds(&run.summary)).count();
        if count > 0 {
            yes as f64 / count as f64
        } else {
            0.0
        }
    }
}

/// One member; `None` if it cannot be simulated or was called off.
fn run(question: &Question<'_>, number: usize, stop: &AtomicBool) -> Option<Run> {
    let Member {
        totals,
        heap,
        kinetics,
    } = member(question.totals, question.heap, number, question.seed);
    let how = (&Settings::member(), stop);
    let projection = simulate_with(&totals, question.additions, &heap, &kinetics, how)?;
    if stop.load(Ordering::Relaxed) {
        return None;
    }
    let points = (heap.days / SPACING_DAYS).floor() as usize;
    let mut centre_c = Vec::with_capacity(points + 1);
    let mut after = 0;
    let records = &projection.records;
    for index in 0..=points {
        let day = index as f64 * SPACING_DAYS;
        while after + 1 < records.len() && records[after].day < day {
            after += 1;
        }
        let (a, b) = (&records[after.saturating_sub(1)], &records[after]);
        let length = b.day - a.day;
        let share = if length > 0.0 {
            ((day - a.day) / length).clamp(0.0, 1.0)
        } else {
            1.0
        };
        centre_c.push((a.centre_c * (1.0 - share) + b.centre_c * share) as f32);
    }
    Some(Run {
        centre_c,
        summary: projection.summary,
    })
}
