//! Two heaps run side by side, member by member with the same draws.
//!
//! In: [`Inputs`] of both. Out: a [`Comparison`]: the forecasts of both, and the effects of the pairs.
//!
//! Member `n` of both heaps takes the same point of the sequence: the same weather, the same microbes, the
//! same luck. Differences of a pair are then due to the change alone, and their spread is far narrower
//! than that of two forecasts. Pairs are taken in order, so the result is the same for any threads.
//! Not here: what differs (`assess::trial`), verdicts (`effect`), the threads (`crew`), runs that are made once for
//! several comparisons (`kept`).
//!
//! Tested by: `tests/science/trials.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::heap::{Ended, Kinetics, Projection, Resolution, Summary};
use crate::outcome::finish::finished_day;
use crate::outcome::shared;

use super::band::{Forecast, Gathered, Member, Series, grid_days_of};
use super::crew::{Gather, Run, run_all};
use super::draw::{Draws, WIDTHS, Widths};
use super::effect::{Effect, Measured};
use super::kept::KeptRuns;
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
    /// How finely a member is simulated. Default [`Resolution::member`] without fields, which no pair is asked for.
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
            resolution: Resolution {
                field_hours: None,
                ..Resolution::member()
            },
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

/// The run of a member, with the kinetics it was drawn with.
type MemberRun = (Arc<Projection>, Kinetics);

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
        self.run_of(pair, stop, on_progress, |which, draws, number| {
            self.simulate(&draws[which].member(number), stop)
        })
    }

    /// The same with runs that another comparison has made, and that the next can take from here.
    pub fn run_keeping(
        &self,
        pair: (&Inputs, &Inputs),
        kept: &KeptRuns,
        stop: &AtomicBool,
        on_progress: impl FnMut(&Comparison) + Send,
    ) -> Option<Comparison> {
        let heaps = [pair.0, pair.1].map(|inputs| kept.heap(inputs));
        let found = self.run_of(pair, stop, on_progress, |which, draws, number| {
            let member = draws[which].member(number);
            let Some(heap) = heaps[which] else {
                return self.simulate(&member, stop);
            };
            let run = heap.member(number, || member.simulate(&self.resolution, stop))?;
            Some((run, member.kinetics))
        });
        for inputs in [pair.0, pair.1] {
            kept.done_with(inputs);
        }
        found
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
        self.run_of(
            pair,
            stop,
            |_| {},
            |which, draws, number| {
                let deviates = match number {
                    0 => stands,
                    number => &likely[place(number).min(likely.len() - 1)],
                };
                self.simulate(&draws[which].at(deviates), stop)
            },
        )
    }

    fn simulate(&self, member: &Inputs, stop: &AtomicBool) -> Option<MemberRun> {
        let run = member.simulate(&self.resolution, stop)?;
        Some((Arc::new(run), member.kinetics))
    }

    fn run_of(
        &self,
        (first, second): (&Inputs, &Inputs),
        stop: &AtomicBool,
        on_progress: impl FnMut(&Comparison) + Send,
        member: impl Fn(usize, &[Draws<'_>; 2], u32) -> Option<MemberRun> + Sync,
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
        let one = |number| self.run_pair(&|which| member(which, &draws, number), &days);
        let (typical, both) = run_all(count, stop, one, both)?;
        Some(both.comparison(&typical))
    }

    fn run_pair(&self, side: &dyn Fn(usize) -> Option<MemberRun>, days: &[f64]) -> Run<Box<Pair>> {
        let mut short = false;
        let mut members = Vec::with_capacity(2);
        for which in [0, 1] {
            let Some((projection, kinetics)) = side(which) else {
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
                .and_then(|facts| finished_day(&projection, &facts.finish, &kinetics));
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
