//! Two heaps run side by side, member by member with the same draws.
//!
//! In: [`Inputs`] of both. Out: a [`Comparison`]: the forecasts of both, and the effects of the pairs.
//!
//! Member `n` of both heaps takes the same point of the sequence: the same weather, the same microbes, the
//! same luck. Differences of a pair are then due to the change alone, and their spread is far narrower
//! than that of two forecasts. Pairs are taken in order, so the result is the same for any threads.
//! Not here: what differs (`assess::trial`), verdicts (`effect`), the threads (`crew`).
//!
//! Tested by: `tests/science/trials.rs`.

use std::sync::atomic::AtomicBool;

use crate::heap::{Ended, Resolution, Summary};
use crate::outcome::finish::finished_day;
use crate::outcome::shared;

use super::band::{Forecast, Gathered, Member, Series, grid_days_of};
use super::crew::{Gather, Run, run_all};
use super::draw::{Draws, WIDTHS, Widths};
use super::effect::{Effect, Measured};
use super::sequence::DIMENSIONS;
use super::{Inputs, MEMBERS};

/// Most pairs.
const MOST_PAIRS: usize = 100_000;

/// How pairs are run.
#[derive(Debug, Clone, Copy)]
pub struct Pairs {
    /// How many beside the typical one. Default [`MEMBERS`].
    pub count: usize,
    /// Shifts all draws. Default 1, as in a forecast.
    pub seed: u64,
    /// How uncertain each input is. Default [`WIDTHS`].
    pub widths: Widths,
    /// How finely a member is simulated. Default [`Resolution::member`].
    pub resolution: Resolution,
    /// Day from which peaks and days of heat count; `None` for the whole run. Default `None`.
    pub from_day: Option<f64>,
}

impl Default for Pairs {
    fn default() -> Self {
        Self {
            count: MEMBERS,
            seed: 1,
            widths: WIDTHS,
            resolution: Resolution::member(),
            from_day: None,
        }
    }
}

/// Two heaps side by side, so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The first heap; its bands hold the first of every pair.
    pub first: Forecast,
    /// The second.
    pub second: Forecast,
    /// What the change does, in the order of [`Measured::ALL`], where at least half the pairs tell.
    pub effects: Vec<Effect>,
}

impl Comparison {
    /// Pairs in it.
    pub fn pairs(&self) -> usize {
        self.first.members()
    }

    /// The effect on one thing; `None` where no pair has it.
    pub fn effect(&self, measured: Measured) -> Option<&Effect> {
        self.effects.iter().find(|e| e.measured == measured)
    }
}

/// Both members of a pair.
type Pair = (Member, Member);

impl Pairs {
    /// Runs all pairs on the threads of the present rayon pool; `None` if one of the two has nothing to rot
    /// or it was called off before the typical pair was done.
    ///
    /// `on_progress` hears of 8, 16, 32 and so on pairs and of the last, from any thread, one call at a
    /// time. `stop` calls it off; the comparison then has fewer pairs.
    pub fn run(
        &self,
        pair: (&Inputs, &Inputs),
        stop: &AtomicBool,
        on_progress: impl FnMut(&Comparison) + Send,
    ) -> Option<Comparison> {
        self.run_of(pair, stop, on_progress, &|draws, number| {
            draws.member(number)
        })
    }

    /// The same with what is not well known drawn from a list of equally likely deviates, one of which stands for all: the
    /// typical pair takes that, the others are spread evenly over the list. `None` also for an empty list.
    pub fn run_among(
        &self,
        pair: (&Inputs, &Inputs),
        (stands, likely): (&[f64; DIMENSIONS], &[[f64; DIMENSIONS]]),
        stop: &AtomicBool,
    ) -> Option<Comparison> {
        if likely.is_empty() {
            return None;
        }
        let count = self.count.clamp(1, MOST_PAIRS);
        let place = |number: u32| (number as usize - 1) * likely.len() / count;
        self.run_of(pair, stop, |_| {}, &|draws, number| match number {
            0 => draws.at(stands),
            number => draws.at(&likely[place(number).min(likely.len() - 1)]),
        })
    }

    fn run_of(
        &self,
        (first, second): (&Inputs, &Inputs),
        stop: &AtomicBool,
        on_progress: impl FnMut(&Comparison) + Send,
        drawn: &(dyn Fn(&Draws<'_>, u32) -> Inputs + Sync),
    ) -> Option<Comparison> {
        let count = self.count.min(MOST_PAIRS);
        let days = grid_days_of(&[&first.heap, &second.heap]);
        let draws = [first, second].map(|inputs| Draws::new(inputs, &self.widths, self.seed));
        let both = Both {
            wanted: count,
            gathered: [0, 1].map(|_| Gathered::new(days.clone(), count)),
            differences: std::array::from_fn(|_| Vec::with_capacity(count)),
            on_progress,
        };
        let one = |number| {
            let pair = [0, 1].map(|which: usize| drawn(&draws[which], number));
            self.run_pair(&pair, &days, stop)
        };
        let (typical, both) = run_all(count, stop, one, both)?;
        Some(both.comparison(&typical))
    }

    fn run_pair(&self, pair: &[Inputs; 2], days: &[f64], stop: &AtomicBool) -> Run<Box<Pair>> {
        let mut short = false;
        let mut members = Vec::with_capacity(2);
        for inputs in pair {
            let projection = inputs.simulate(&self.resolution, stop);
            let Some(projection) = projection else {
                return Run::Nothing;
            };
            match projection.ended {
                Ended::Finished => {}
                Ended::Stopped { .. } => short = true,
                Ended::Cancelled { .. } => return Run::CalledOff,
            }
            let mut member = Member::of(&projection, days);
            if let Some(day) = self.from_day {
                member.summary = projection.summary_from(day);
            }
            // Of the judgement only the finish is asked for here.
            member.brief.finished_day = shared()
                .ok()
                .and_then(|facts| finished_day(&projection, &facts.finish, &inputs.kinetics));
            members.push(member);
        }
        let (Some(second), Some(first)) = (members.pop(), members.pop()) else {
            return Run::Nothing;
        };
        let both = Box::new((first, second));
        if short {
            Run::Short(both)
        } else {
            Run::Whole(both)
        }
    }
}

/// Pairs gathered into bands and differences.
struct Both<F> {
    wanted: usize,
    gathered: [Gathered; 2],
    differences: [Vec<f64>; Measured::ALL.len()],
    on_progress: F,
}

impl<F: FnMut(&Comparison)> Gather<Box<Pair>> for Both<F> {
    fn take(&mut self, pair: Option<&Box<Pair>>) {
        self.gathered[0].take(pair.map(|pair| &pair.0));
        self.gathered[1].take(pair.map(|pair| &pair.1));
        let Some((first, second)) = pair.map(AsRef::as_ref) else {
            return;
        };
        for (measured, differences) in Measured::ALL.into_iter().zip(&mut self.differences) {
            if let (Some(a), Some(b)) = (value(measured, first), value(measured, second)) {
                differences.push(b - a);
            }
        }
    }

    fn tell(&mut self, typical: &Box<Pair>) {
        let comparison = self.comparison(typical);
        (self.on_progress)(&comparison);
    }
}

impl<F> Both<F> {
    fn comparison(&self, (first, second): &Pair) -> Comparison {
        let pairs = self.gathered[0].count();
        // What fewer than half the pairs have (both finished within the run) stands for nothing.
        let enough = |all: &Vec<f64>| 2 * all.len() >= pairs;
        let effects = Measured::ALL.into_iter().zip(&self.differences);
        let effects = effects.filter(|(_, all)| enough(all));
        Comparison {
            first: self.gathered[0].forecast(first, self.wanted),
            second: self.gathered[1].forecast(second, self.wanted),
            effects: effects
                .filter_map(|(measured, all)| Effect::of(measured, all.clone()))
                .collect(),
        }
    }
}

/// What a member did in one respect; `None` for the finish of one that is still at work.
fn value(measured: Measured, member: &Member) -> Option<f64> {
    let summary: &Summary = &member.summary;
    Some(match measured {
        Measured::Peak => summary.peak_c,
        Measured::DaysAbove40 => summary.days_above_40,
        Measured::DaysAbove55 => summary.days_above_55,
        Measured::Finish => return member.brief.finished_day,
        Measured::NitrogenLost => summary.nitrogen_lost_share,
        Measured::Airless => summary.airless_share,
        Measured::DryMatterLost => summary.dry_matter_lost_share,
        Measured::EdgePeak => {
            let edge = member.curve(Series::Edge).iter().copied();
            edge.fold(f64::NEG_INFINITY, f64::max)
        }
    })
}
