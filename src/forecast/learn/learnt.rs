//! What was learnt: the forecast that follows the readings, beside the one that knew none.
//!
//! In: the first wave, all members with their shares. Out: [`Learnt`], typed.
//!
//! The learnt forecast holds equally weighted members, drawn by their shares, so bands, likelihoods and judgements are
//! made of it as of any other. The member nearest to its medians stands for it, where one heap is to be drawn or altered.
//! Not here: words (`text::learnt`).
//!
//! Tested by: `tests/science/learn.rs`, `tests/science/learn_twins.rs`.

use std::sync::Arc;

use crate::forecast::band::Gathered;
use crate::forecast::sequence::DIMENSIONS;
use crate::forecast::{Band, Forecast, Inputs, Member, Series, Unknown, quantile};
use crate::quantity::Range;

use super::errors::FAR;
use super::first::FirstWave;
use super::next::{NextReading, best};
use super::observed::{KeptOut, Observation, What};
use super::sampler::{Cloud, moments, outermost};
use super::weights::{effective, systematic};

/// Shift from which readings are said to speak of an input, prior standard deviations (tuned: a third of them by
/// chance would be at half).
const SHIFTED: f64 = 0.5;
/// Narrowing from which they are, ratio of standard deviations (tuned: as much information as such a shift).
const NARROWED: f64 = 0.75;
/// Correlation from which two inputs are told to be hard to tell apart (`common practice`).
const TIED: f64 = 0.5;

/// How a reading lies to the members: a squeeze by its interval, a smell by who has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// Among the likely ones, within its error; at least one in ten of them has the smell.
    Fits,
    /// Further from the likely ones than its error explains, but some member is like it.
    Far,
    /// Beyond every member that was tried; it was not followed all the way.
    OutsideAll,
}

/// A value beside what is expected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// The value: day, place, kind, number.
    pub observation: Observation,
    /// What the learnt members say: 10 %, median, 90 %; of a squeeze its moisture, of a smell the share that has it (all
    /// three alike).
    pub expected: Range,
    /// One standard deviation of the reading and the model together, in the unit of the value.
    pub error: f64,
    /// How it lies to them.
    pub told: Told,
}

impl Residual {
    /// Measured less the median expected, in the unit of the value.
    pub fn difference(&self) -> f64 {
        self.observation.value - self.expected.typical
    }
}

/// What readings say of one input.
#[derive(Debug, Clone, PartialEq)]
pub struct Shift {
    /// Which.
    pub unknown: Unknown,
    /// How far its mean moved, prior standard deviations; upward is more of it.
    pub shift: f64,
    /// Its spread now over that before, about 1 where readings say nothing.
    pub narrowing: f64,
    /// Inputs that it cannot well be told apart from: with more of the one goes more (positive) or less of the other.
    pub tied_to: Vec<(Unknown, f64)>,
}

impl Shift {
    /// Whether readings say anything of it.
    pub fn is_told(&self) -> bool {
        self.shift.abs() >= SHIFTED || self.narrowing <= NARROWED
    }
}

/// How much was learnt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gained {
    /// Mean width of the band of the centre from the last reading on, before, K.
    pub width_before_k: f64,
    /// The same now, K.
    pub width_after_k: f64,
    /// Information beyond the prior, bits.
    pub bits: f64,
}

/// What was learnt from a diary.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// The forecast that knew no reading.
    pub prior: Forecast,
    /// The forecast that follows them: equally weighted members, some more than once.
    pub forecast: Forecast,
    /// The member that stands for it: nearest to its medians.
    pub inputs: Inputs,
    /// Where that member lies, a deviate for each [`Unknown`].
    pub deviates: [f64; DIMENSIONS],
    /// Where the members of the learnt forecast lie, equally likely, some more than once.
    pub members: Vec<[f64; DIMENSIONS]>,
    /// Every value beside what is expected, in order of time.
    pub residuals: Vec<Residual>,
    /// What was kept out, and why.
    pub kept_out: Vec<KeptOut>,
    /// Members that were simulated.
    pub tried: usize,
    /// How many equally weighted members the learnt ones are worth.
    pub effective: f64,
    /// To which power likelihoods were taken; below 1 too few members were like the readings, which then count for less.
    pub power: f64,
    /// How much was learnt.
    pub gained: Gained,
    /// What readings say of each input, in the order of [`Unknown::ALL`].
    pub shifts: Vec<Shift>,
    /// What to measure next.
    pub next: Option<NextReading>,
}

/// What it is made of.
pub(super) struct Parts<'a> {
    pub first: &'a FirstWave,
    pub cloud: &'a Cloud<Arc<Member>>,
    pub members: usize,
    pub inputs_at: &'a dyn Fn(&[f64; DIMENSIONS]) -> Inputs,
}

impl Learnt {
    /// Inputs that the readings speak about, those they move most first.
    pub fn spoken_of(&self) -> Vec<&Shift> {
        let mut told: Vec<&Shift> = self.shifts.iter().filter(|shift| shift.is_told()).collect();
        told.sort_by(|a, b| b.shift.abs().total_cmp(&a.shift.abs()));
        told
    }

    /// Values that lie beyond every member.
    pub fn outside(&self) -> impl Iterator<Item = &Residual> {
        let all = self.residuals.iter();
        all.filter(|residual| residual.told == Told::OutsideAll)
    }

    pub(super) fn of(parts: Parts<'_>) -> Self {
        let Parts { first, cloud, .. } = parts;
        let drawn = systematic(&cloud.shares, parts.members, 0.5);
        let mut gathered = Gathered::new(first.look.grid_days.clone(), parts.members);
        for place in &drawn {
            gathered.take(Some(&cloud.tried[*place].kept));
        }
        let blank = first.prior.typical();
        let found = gathered.forecast(blank, parts.members);
        let nearest = nearest(&found, cloud, &drawn);
        let stands = &cloud.tried[nearest];
        let forecast = gathered.forecast(&stands.kept, parts.members);
        let last_day = first.observations.last_day();
        let width = |of: &Forecast| mean_width(of.band(Series::Centre), last_day);
        Self {
            gained: Gained {
                width_before_k: width(&first.prior),
                width_after_k: width(&forecast),
                bits: cloud.bits,
            },
            prior: first.prior.clone(),
            forecast,
            inputs: (parts.inputs_at)(&stands.deviates),
            deviates: stands.deviates,
            members: drawn
                .iter()
                .map(|place| cloud.tried[*place].deviates)
                .collect(),
            residuals: residuals(first, cloud, &drawn),
            kept_out: first.observations.kept_out.clone(),
            tried: cloud.tried.len(),
            effective: effective(&cloud.shares),
            power: cloud.power,
            shifts: shifts(cloud),
            next: best(first, cloud),
        }
    }
}

/// Mean width of a band from a day on, or over all of it where that is its end.
fn mean_width(band: &Band, from_day: f64) -> f64 {
    let widths = band.days.iter().zip(band.high.iter().zip(&band.low));
    let widths = widths.map(|(day, (high, low))| (*day, high - low));
    let later: Vec<f64> = widths
        .clone()
        .filter(|(day, _)| *day >= from_day)
        .map(|(_, width)| width)
        .collect();
    let all: Vec<f64> = if later.len() > 1 {
        later
    } else {
        widths.map(|(_, width)| width).collect()
    };
    all.iter().sum::<f64>() / all.len().max(1) as f64
}

/// The member drawn whose curves lie nearest to the medians.
fn nearest(found: &Forecast, cloud: &Cloud<Arc<Member>>, drawn: &[usize]) -> usize {
    // Temperatures in K, moisture in points: a K counts as much as a point.
    let scales = [
        (Series::Centre, 1.0),
        (Series::Middle, 1.0),
        (Series::Edge, 1.0),
        (Series::Moisture, 100.0),
    ];
    let distance = |member: &Member| {
        let of = |(series, scale): &(Series, f64)| {
            let curve = member.curve(*series).iter();
            let medians = found.band(*series).median.iter();
            let squares = curve.zip(medians).map(|(a, b)| (scale * (a - b)).powi(2));
            squares.sum::<f64>()
        };
        scales.iter().map(of).sum::<f64>()
    };
    let mut places = drawn.to_vec();
    places.dedup();
    let by_distance = places
        .into_iter()
        .map(|place| (distance(&cloud.tried[place].kept), place));
    let least = by_distance.min_by(|a, b| a.0.total_cmp(&b.0));
    least.map_or(0, |(_, place)| place)
}

fn residuals(first: &FirstWave, cloud: &Cloud<Arc<Member>>, drawn: &[usize]) -> Vec<Residual> {
    let errors = first.whole_errors();
    let one = |(place, o): (usize, &Observation)| {
        let mut said: Vec<f64> = drawn.iter().map(|i| cloud.tried[*i].said[place]).collect();
        said.sort_by(f64::total_cmp);
        let at = |share| quantile(&said, share);
        let likely = Range::new(at(0.1), at(0.5), at(0.9));
        let expected = if matches!(o.what, What::Smelt(_)) {
            let share = said.iter().sum::<f64>() / said.len().max(1) as f64;
            Range::new(share, share, share)
        } else {
            likely
        };
        let error = errors[place];
        let outside = |(low, high)| o.beyond(low, high) > FAR * error;
        let told = if outermost(&cloud.tried, place).is_none_or(outside) {
            Told::OutsideAll
        } else if outside((likely.low, likely.high)) {
            Told::Far
        } else {
            Told::Fits
        };
        Residual {
            observation: *o,
            expected,
            error,
            told,
        }
    };
    first
        .observations
        .values
        .iter()
        .enumerate()
        .map(one)
        .collect()
}

fn shifts(cloud: &Cloud<Arc<Member>>) -> Vec<Shift> {
    let (mean, covariance) = moments(&cloud.tried, &cloud.shares);
    let spread = |d: usize| covariance.get(d, d).max(0.0).sqrt();
    let tie =
        |d: usize, other: usize| covariance.get(d, other) / (spread(d) * spread(other)).max(1e-12);
    let all = Unknown::ALL.into_iter().enumerate();
    all.clone()
        .map(|(d, unknown)| Shift {
            unknown,
            shift: mean[d],
            narrowing: spread(d),
            tied_to: all
                .clone()
                .filter(|(other, _)| *other != d && tie(d, *other).abs() >= TIED)
                .map(|(other, unknown)| (unknown, tie(d, other)))
                .collect(),
        })
        .collect()
}
