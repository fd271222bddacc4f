//! What members are drawn from: a normal distribution in the space of deviates.
//!
//! In: mean, covariance. Out: points drawn, log densities.
//!
//! Not here: which mean and which covariance (`regress`, `sampler`).
//!
//! Tested by: `tests/science/learn_weights.rs`.

use super::matrix::{Lower, Square};
use crate::forecast::sequence::DIMENSIONS;

/// A point of the space of deviates.
pub(super) type Point = [f64; DIMENSIONS];

/// A normal distribution.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Normal {
    mean: Point,
    factor: Lower,
}

impl Normal {
    /// One with this mean and covariance; `None` if that is no covariance.
    pub fn new(mean: Point, covariance: &Square) -> Option<Self> {
        let factor = covariance.lower()?;
        (covariance.size() == DIMENSIONS).then_some(Self { mean, factor })
    }

    /// The prior: independent standard normal deviates.
    pub fn prior() -> Option<Self> {
        Self::new([0.0; DIMENSIONS], &Square::unit(DIMENSIONS))
    }

    /// Logarithm of its density.
    pub fn log_density(&self, point: &Point) -> f64 {
        let deviation: Point = std::array::from_fn(|i| point[i] - self.mean[i]);
        self.factor.log_density(&deviation)
    }

    /// One point for each of these independent standard deviates.
    pub fn draw(&self, deviates: &[Point]) -> Vec<Point> {
        let point = |deviate: &Point| {
            let step = self.factor.times(deviate);
            std::array::from_fn(|i| self.mean[i] + step[i])
        };
        deviates.iter().map(point).collect()
    }
}
