//! Waves of members, weighed together.
//!
//! In: a first wave drawn from the prior, the evidence, how further members are run. Out: a [`Cloud`]: all members tried,
//! with their shares.
//!
//! Not here: running members (`learner`), what becomes of the cloud (`learnt`).
//!
//! Tested by: `tests/science/learn_weights.rs` (a straight Gaussian case in closed form; a curved case on scipy's grid),
//! `tests/science/learn_twins.rs`.

use super::evidence::Evidence;
use super::matrix::Square;
use super::proposal::{Normal, Point};
use super::regress::updated;
use super::weights::{effective, log_sum, power_for, tempered};
use crate::forecast::sequence::{DIMENSIONS, Sequence, deviate};

/// How much less than in full the readings narrow what is drawn from, factor (tuned: what is drawn from has to reach
/// beyond what it is to find; where readings say nothing it stays the prior).
const INFLATED: f64 = 2.0;
/// Apart by this, seeds of waves give points that have nothing to do with each other.
const SEED_STEP: u64 = 0x51_7C_C1_B7;

/// A member that was tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried<K> {
    /// Where it lies.
    pub deviates: Point,
    /// What it says of every value.
    pub said: Vec<f64>,
    /// What else is kept of it.
    pub kept: K,
}

/// How waves are made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sampler {
    /// Waves after the first.
    pub waves: usize,
    /// Members of each.
    pub members: usize,
    /// Members that have to count before readings count in full.
    pub least: f64,
    /// Members that have to count in the end, else readings count for less.
    pub least_in_the_end: f64,
    /// Shifts all draws.
    pub seed: u64,
}

impl Default for Sampler {
    /// Two waves of 64: about a second on two threads.
    fn default() -> Self {
        Self {
            waves: 2,
            members: 64,
            least: 40.0,
            least_in_the_end: 12.0,
            seed: 1,
        }
    }
}

/// All members tried.
#[derive(Debug, Clone, PartialEq)]
pub struct Cloud<K> {
    /// The members, in the order in which they were drawn.
    pub tried: Vec<Tried<K>>,
    /// What share each has, together 1.
    pub shares: Vec<f64>,
    /// To which power likelihoods were taken: 1 unless too few members were likely.
    pub power: f64,
    /// How much was learnt: the information that the shares hold beyond the prior, bits.
    pub bits: f64,
}

/// What was drawn from, and how many.
struct Drawn {
    from: Normal,
    count: usize,
}

/// Logarithms per member: prior over what was drawn from, and likelihood.
struct Logs {
    base: Vec<f64>,
    likelihood: Vec<f64>,
}

impl Sampler {
    /// Weighs a first wave of the prior, of which `drawn` members were drawn, and runs further waves with `run`, which
    /// leaves out members that fail; `None` if it gives none because it was called off, or there is no member at all.
    pub fn weigh<K>(
        &self,
        (first, drawn): (Vec<Tried<K>>, usize),
        evidence: &Evidence,
        run: impl Fn(&[Point]) -> Option<Vec<Tried<K>>>,
    ) -> Option<Cloud<K>> {
        let mut tried = first;
        let mut all = vec![Drawn {
            from: Normal::prior()?,
            count: drawn,
        }];
        for wave in 0..self.waves {
            if tried.is_empty() {
                return None;
            }
            let logs = logs(&tried, &all, evidence);
            let next = self.next(&tried, &logs, evidence)?;
            let sequence = Sequence::shifted(
                self.seed
                    .wrapping_add((wave as u64 + 1).wrapping_mul(SEED_STEP)),
            );
            let points: Vec<Point> = (0..self.members)
                .map(|number| sequence.point(number as u32).map(deviate))
                .collect();
            tried.extend(run(&next.draw(&points))?);
            all.push(Drawn {
                from: next,
                count: self.members,
            });
        }
        self.cloud(tried, &all, evidence)
    }

    /// What the next wave is drawn from.
    fn next<K>(&self, tried: &[Tried<K>], logs: &Logs, evidence: &Evidence) -> Option<Normal> {
        let power = power_for(&logs.base, &logs.likelihood, self.least);
        let shares = tempered(&logs.base, &logs.likelihood, power);
        let members = tried.iter().zip(&shares);
        let members: Vec<_> = members
            .map(|(member, share)| (&member.deviates, member.said.as_slice(), *share))
            .collect();
        let straight = updated(&members, evidence, INFLATED);
        let (mean, covariance) = straight.unwrap_or_else(|| held(tried, &shares));
        Normal::new(mean, &covariance)
    }

    fn cloud<K>(
        &self,
        tried: Vec<Tried<K>>,
        all: &[Drawn],
        evidence: &Evidence,
    ) -> Option<Cloud<K>> {
        if tried.is_empty() {
            return None;
        }
        let logs = logs(&tried, all, evidence);
        let power = power_for(&logs.base, &logs.likelihood, self.least_in_the_end);
        let shares = tempered(&logs.base, &logs.likelihood, power);
        // Information beyond the prior: the mean log likelihood less the log of the evidence.
        let drawn: usize = all.iter().map(|drawn| drawn.count).sum();
        let likely = logs.likelihood.iter().map(|log| power * log);
        let mean: f64 = shares
            .iter()
            .zip(likely.clone())
            .filter(|(share, _)| **share > 0.0)
            .map(|(share, log)| share * log)
            .sum();
        let each = logs.base.iter().zip(likely).map(|(base, log)| base + log);
        let evidence = log_sum(each) - (drawn.max(1) as f64).ln();
        let bits = ((mean - evidence) / std::f64::consts::LN_2).max(0.0);
        Some(Cloud {
            tried,
            shares,
            power,
            bits: if bits.is_finite() { bits } else { 0.0 },
        })
    }
}

fn logs<K>(tried: &[Tried<K>], all: &[Drawn], evidence: &Evidence) -> Logs {
    let drawn: usize = all.iter().map(|drawn| drawn.count).sum();
    let base = tried.iter().map(|member| {
        let densities: Vec<f64> = all
            .iter()
            .map(|one| {
                let share = one.count as f64 / drawn as f64;
                share.ln() + one.from.log_density(&member.deviates)
            })
            .collect();
        // The first is the prior.
        let prior = all
            .first()
            .map(|one| one.from.log_density(&member.deviates));
        prior.unwrap_or(0.0) - log_sum(densities.iter().copied())
    });
    let likelihood = tried
        .iter()
        .map(|member| evidence.log_likelihood(&member.said));
    Logs {
        base: base.collect(),
        likelihood: likelihood.collect(),
    }
}

/// Least and most that members say of the value at a place; `None` if none says anything.
pub(super) fn outermost<K>(tried: &[Tried<K>], place: usize) -> Option<(f64, f64)> {
    let said = tried.iter().filter_map(|m| m.said.get(place).copied());
    said.filter(|said| said.is_finite())
        .map(|said| (said, said))
        .reduce(|(low, high), (said, _)| (low.min(said), high.max(said)))
}

/// Weighted mean and covariance of where members lie.
pub(super) fn moments<K>(tried: &[Tried<K>], shares: &[f64]) -> (Point, Square) {
    let mean: Point = std::array::from_fn(|d| {
        let parts = tried.iter().zip(shares);
        parts
            .map(|(member, share)| share * member.deviates[d])
            .sum()
    });
    let mut covariance = Square::zero(DIMENSIONS);
    for (member, share) in tried.iter().zip(shares) {
        let away: Point = std::array::from_fn(|d| member.deviates[d] - mean[d]);
        for i in 0..DIMENSIONS {
            for j in 0..DIMENSIONS {
                *covariance.at(i, j) += share * away[i] * away[j];
            }
        }
    }
    (mean, covariance)
}

/// Mean and covariance of where members lie, held towards the prior's the more the fewer count.
fn held<K>(tried: &[Tried<K>], shares: &[f64]) -> (Point, Square) {
    let (mean, spread) = moments(tried, shares);
    let held = DIMENSIONS as f64 / (effective(shares) + DIMENSIONS as f64);
    let mut covariance = spread.scaled(1.0 - held);
    for d in 0..DIMENSIONS {
        *covariance.at(d, d) += held;
    }
    (mean.map(|shift| (1.0 - held) * shift), covariance)
}
