//! The first wave: the members of the prior, asked for the values of a diary, and what evidence those values are.
//!
//! In: members that were run, values. Out: [`FirstWave`]: the prior forecast, errors of the values, the evidence.
//!
//! Not here: running members (`learner`), errors themselves (`errors`).
//!
//! Tested by: `tests/science/learn.rs`, `tests/science/learn_twins.rs`.

use std::sync::Arc;

use crate::forecast::{Forecast, Member};

use super::errors::{FAR, Spreads, covariance, shares, soft, whole};
use super::evidence::Evidence;
use super::matrix::Square;
use super::member::Look;
use super::observed::{Observation, Observations};
use super::sampler::{Tried, outermost};

/// The members of the prior, asked for the values of a diary.
#[derive(Debug, Clone)]
pub struct FirstWave {
    /// The values, and what was kept out.
    pub observations: Observations,
    /// The forecast that knows no reading.
    pub prior: Forecast,
    pub(super) look: Look,
    /// How steep the members are at every value: root mean squares.
    pub(super) spreads: Vec<Spreads>,
    pub(super) tried: Vec<Tried<Arc<Member>>>,
    pub(super) drawn: usize,
}

impl FirstWave {
    /// Members that were run to the end, beside the typical one: all of one weight.
    pub fn members(&self) -> &[Tried<Arc<Member>>] {
        &self.tried
    }

    /// The same with other values of the same times and places; those that are missing stay.
    #[must_use]
    pub fn with_values(mut self, values: &[f64]) -> Self {
        for (observation, value) in self.observations.values.iter_mut().zip(values) {
            observation.value = *value;
        }
        self
    }

    /// The places and values of the numbers, with the covariance of their errors.
    pub fn numbers(&self) -> (Vec<(usize, f64)>, Square) {
        let spreads = &self.spreads;
        let values = self.observations.values.iter().enumerate();
        let numbers: Vec<(usize, &Observation)> =
            values.filter(|(_, o)| o.what.is_number()).collect();
        let with: Vec<(Observation, Spreads)> = numbers
            .iter()
            .map(|(place, o)| (**o, spreads.get(*place).copied().unwrap_or_default()))
            .collect();
        let mut errors = covariance(&with);
        for (i, (o, spread)) in with.iter().enumerate() {
            let outermost = outermost(&self.tried, numbers[i].0);
            let beyond = outermost.map_or(0.0, |(low, high)| o.beyond(low, high));
            if beyond > FAR * whole(o, spread) {
                // It pulls no harder than a reading just so far from the nearest member.
                *errors.at(i, i) += (beyond / FAR).powi(2);
            }
        }
        (
            numbers.iter().map(|(place, o)| (*place, o.value)).collect(),
            errors,
        )
    }

    /// What is known of every value's error, for telling: one standard deviation of all errors together.
    pub(super) fn whole_errors(&self) -> Vec<f64> {
        let asked = self.look.asked.iter().zip(&self.spreads);
        asked.map(|(o, spread)| whole(o, spread)).collect()
    }

    pub(super) fn evidence(&self) -> Option<Evidence> {
        let (numbers, errors) = self.numbers();
        let mut evidence = Evidence::of(numbers, errors)?;
        let values = &self.observations.values;
        for (place, (o, share)) in values.iter().zip(shares(values)).enumerate() {
            if let Some(soft) = soft(o.what) {
                evidence = evidence.with(place, soft, share);
            }
        }
        Some(evidence)
    }
}
