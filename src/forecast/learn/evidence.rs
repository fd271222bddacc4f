//! Evidence: how likely what was measured is, if a heap were as a member says.
//!
//! In: values with their covariance, squeezes and smells; what a member says of each. Out: a log likelihood.
//!
//! Not here: how large the errors are (`errors`), what a member says (`member`).
//!
//! Tested by: `tests/science/learn_weights.rs` (scipy.stats.multivariate_normal, scipy.stats.norm).

use super::matrix::{Lower, Square};

/// Least chance of what was felt or smelt, whatever a member says: hands and noses err.
const LEAST_CHANCE: f64 = 0.02;

/// What was found without a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Soft {
    /// The value lies between two bounds, each soft by this standard deviation.
    Between {
        /// Lower bound, in the unit of the value.
        low: f64,
        /// Upper bound.
        high: f64,
        /// Standard deviation of either.
        error: f64,
    },
    /// Something was noticed: so likely where a member shows it (1) and where it does not (0).
    Noticed {
        /// Chance if the member shows it.
        if_shown: f64,
        /// Chance if it does not.
        if_not: f64,
    },
}

impl Soft {
    /// Chance of what was found, if a member says `predicted`.
    pub fn chance(self, predicted: f64) -> f64 {
        let chance = match self {
            Self::Between { low, high, error } => {
                below((high - predicted) / error) - below((low - predicted) / error)
            }
            Self::Noticed { if_shown, if_not } => {
                let shown = predicted.clamp(0.0, 1.0);
                shown * if_shown + (1.0 - shown) * if_not
            }
        };
        LEAST_CHANCE + (1.0 - LEAST_CHANCE) * chance
    }
}

/// Share of a standard normal distribution below a deviate, within 1e-7.
///
/// Source: Abramowitz and Stegun 1964, Handbook of Mathematical Functions, 26.2.17 (coefficients from memory).
/// Checked: `tests/science/learn_weights.rs`, scipy.stats.norm.cdf.
fn below(deviate: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * deviate.abs());
    let terms = [
        1.330_274_429,
        -1.821_255_978,
        1.781_477_937,
        -0.356_563_782,
        0.319_381_530,
    ];
    let series = terms.iter().fold(0.0, |sum, term| (sum + term) * t);
    let tail = (-0.5 * deviate * deviate).exp() / (2.0 * std::f64::consts::PI).sqrt() * series;
    if deviate < 0.0 { tail } else { 1.0 - tail }
}

/// What was found without a number, with the place of what members say of it, and what share of a finding it counts.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Weighted {
    place: usize,
    soft: Soft,
    share: f64,
}

/// All that was measured of one heap.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Places of the numbers among what members say, and the numbers.
    numbers: Vec<(usize, f64)>,
    covariance: Square,
    factor: Option<Lower>,
    soft: Vec<Weighted>,
}

impl Evidence {
    /// Numbers with their covariance, each at its place among what members say; `None` if that is no covariance.
    pub fn of(numbers: Vec<(usize, f64)>, covariance: Square) -> Option<Self> {
        if numbers.len() != covariance.size() {
            return None;
        }
        let factor = match numbers.len() {
            0 => None,
            _ => Some(covariance.lower()?),
        };
        Some(Self {
            numbers,
            covariance,
            factor,
            soft: Vec::new(),
        })
    }

    /// With something found without a number; it counts `share` of a finding of its own (below 1 where others say
    /// the same).
    #[must_use]
    pub fn with(mut self, place: usize, soft: Soft, share: f64) -> Self {
        self.soft.push(Weighted { place, soft, share });
        self
    }

    /// Measured less said, for every number.
    fn deviation(&self, predicted: &[f64]) -> Vec<f64> {
        let said = |place: usize| predicted.get(place).copied().unwrap_or(f64::NAN);
        let all = self.numbers.iter();
        all.map(|(place, value)| value - said(*place)).collect()
    }

    /// Logarithm of the likelihood of all that was measured, if the heap were as `predicted`; negative infinity where a
    /// member says nothing of something.
    pub fn log_likelihood(&self, predicted: &[f64]) -> f64 {
        let numbers = self
            .factor
            .as_ref()
            .map_or(0.0, |factor| factor.log_density(&self.deviation(predicted)));
        let soft = self.soft.iter().map(|found| {
            let said = predicted.get(found.place).copied().unwrap_or(f64::NAN);
            found.share * found.soft.chance(said).ln()
        });
        let log = numbers + soft.sum::<f64>();
        if log.is_nan() { f64::NEG_INFINITY } else { log }
    }

    /// The numbers, each with its place among what members say.
    pub(super) fn numbers(&self) -> &[(usize, f64)] {
        &self.numbers
    }

    /// Covariance of the numbers.
    pub(super) fn covariance(&self) -> &Square {
        &self.covariance
    }
}
