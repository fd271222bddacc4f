//! What members are drawn from: a mixture of normal distributions of one covariance in the space of deviates.
//!
//! In: means with their weights, a covariance. Out: points drawn, log densities.
//!
//! Not here: which means and which covariance (`regress`, `sampler`).
//!
//! Tested by: `tests/science/learn_weights.rs` (scipy.stats.multivariate_normal).

use super::matrix::{Lower, Square};
use super::weights::{log_sum, systematic};
use crate::forecast::sequence::DIMENSIONS;

/// A point of the space of deviates.
pub(super) type Point = [f64; DIMENSIONS];

/// Normal distributions of one covariance.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Mixture {
    means: Vec<Point>,
    weights: Vec<f64>,
    factor: Lower,
}

impl Mixture {
    /// A mixture; `None` if the covariance is none.
    pub fn new(means: Vec<Point>, weights: Vec<f64>, covariance: &Square) -> Option<Self> {
        let factor = covariance.lower()?;
        (!means.is_empty() && means.len() == weights.len() && covariance.size() == DIMENSIONS)
            .then_some(Self {
                means,
                weights,
                factor,
            })
    }

    /// The prior: independent standard normal deviates.
    pub fn prior() -> Option<Self> {
        Self::new(
            vec![[0.0; DIMENSIONS]],
            vec![1.0],
            &Square::unit(DIMENSIONS),
        )
    }

    /// Logarithm of its density.
    pub fn log_density(&self, point: &Point) -> f64 {
        let parts: Vec<f64> = self
            .means
            .iter()
            .zip(&self.weights)
            .filter(|(_, weight)| **weight > 0.0)
            .map(|(mean, weight)| {
                let deviation: Point = std::array::from_fn(|i| point[i] - mean[i]);
                weight.ln() + self.factor.log_density(&deviation)
            })
            .collect();
        log_sum(parts.iter().copied())
    }

    /// One point for each of these independent standard deviates; every mean gets as many as its weight asks.
    pub fn draw(&self, deviates: &[Point]) -> Vec<Point> {
        let means = systematic(&self.weights, deviates.len(), 0.5);
        let pairs = means.into_iter().zip(deviates);
        pairs
            .map(|(mean, deviate)| {
                let step = self.factor.times(deviate);
                std::array::from_fn(|i| self.means[mean][i] + step[i])
            })
            .collect()
    }
}
