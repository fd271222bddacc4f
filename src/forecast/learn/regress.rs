//! Where likely members lie, by a straight line: what members say, regressed on their deviates.
//!
//! In: points with their weights, what they say, the evidence. Out: mean and covariance of the normal distribution that
//! Bayes' rule gives if what is said went straight with the deviates.
//!
//! What the line leaves over counts as a further error. The regression is held back a little (ridge), so that few
//! members do not make steep lines. It is only drawn from; weights make good what it misses.
//! Not here: weighing (`sampler`).
//!
//! Tested by: `tests/science/learn_weights.rs` (exact where it is straight).

use super::evidence::Evidence;
use super::matrix::Square;
use super::proposal::Point;
use crate::forecast::sequence::DIMENSIONS;

/// How far the regression is held back, as a share of a member's spread.
const RIDGE: f64 = 0.02;

/// Mean and covariance of what is likely, the covariance as of readings that say so many times less; `None` if members are too few or say nothing.
pub(super) fn updated(
    members: &[(&Point, &[f64], f64)],
    evidence: &Evidence,
    inflated: f64,
) -> Option<(Point, Square)> {
    let numbers = evidence.numbers();
    if numbers.is_empty() {
        return None;
    }
    let usable = |said: &[f64]| {
        let at = |(place, _): &(usize, f64)| said.get(*place).is_some_and(|v| v.is_finite());
        numbers.iter().all(at)
    };
    let members: Vec<_> = members
        .iter()
        .filter(|(_, said, weight)| *weight > 0.0 && usable(said))
        .collect();
    let all: f64 = members.iter().map(|member| member.2).sum();
    if members.len() < 2 || all <= 0.0 {
        return None;
    }
    let mean_of = |value: &dyn Fn(&Point, &[f64]) -> f64| {
        let parts = members.iter().map(|(x, said, w)| w * value(x, said));
        parts.sum::<f64>() / all
    };
    let middle: Point = std::array::from_fn(|d| mean_of(&|x, _| x[d]));
    let said: Vec<f64> = numbers
        .iter()
        .map(|(place, _)| mean_of(&|_, said| said[*place]))
        .collect();
    // Normal equations, about the means.
    let mut squares = Square::unit(DIMENSIONS).scaled(RIDGE);
    let mut sides = vec![[0.0; DIMENSIONS]; numbers.len()];
    for (x, says, weight) in &members {
        let share = weight / all;
        let away: Point = std::array::from_fn(|d| x[d] - middle[d]);
        for i in 0..DIMENSIONS {
            for j in 0..DIMENSIONS {
                *squares.at(i, j) += share * away[i] * away[j];
            }
        }
        for (k, (place, _)) in numbers.iter().enumerate() {
            let above = share * (says[*place] - said[k]);
            for d in 0..DIMENSIONS {
                sides[k][d] += above * away[d];
            }
        }
    }
    let factor = squares.lower()?;
    let slopes: Vec<Vec<f64>> = sides.iter().map(|side| factor.solved(side)).collect();
    let dot = |slope: &[f64], x: &Point| slope.iter().zip(x).map(|(a, b)| a * b).sum::<f64>();
    // What the lines leave over, all values together.
    let mut errors = evidence.covariance().clone();
    for (x, says, weight) in &members {
        let away: Point = std::array::from_fn(|d| x[d] - middle[d]);
        let rest = |k: usize| says[numbers[k].0] - said[k] - dot(&slopes[k], &away);
        let rests: Vec<f64> = (0..numbers.len()).map(rest).collect();
        for i in 0..rests.len() {
            for j in 0..rests.len() {
                *errors.at(i, j) += weight / all * rests[i] * rests[j];
            }
        }
    }
    let errors = errors.lower()?;
    let column = |d: usize| slopes.iter().map(|slope| slope[d]).collect::<Vec<f64>>();
    let white: Vec<Vec<f64>> = (0..DIMENSIONS)
        .map(|d| errors.whitened(&column(d)))
        .collect();
    // Measured less what the line says of the typical member.
    let above: Vec<f64> = numbers
        .iter()
        .enumerate()
        .map(|(k, (_, value))| value - said[k] + dot(&slopes[k], &middle))
        .collect();
    let above = errors.whitened(&above);
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let mut precision = Square::unit(DIMENSIONS);
    for i in 0..DIMENSIONS {
        for j in 0..DIMENSIONS {
            *precision.at(i, j) += product(&white[i], &white[j]);
        }
    }
    let pull: Vec<f64> = white.iter().map(|w| product(w, &above)).collect();
    let mean = precision.lower()?.solved(&pull);
    let mean: Point = std::array::from_fn(|d| mean[d]);
    let finite = mean.iter().all(|value| value.is_finite());
    let mut wide = Square::unit(DIMENSIONS);
    for i in 0..DIMENSIONS {
        for j in 0..DIMENSIONS {
            *wide.at(i, j) += product(&white[i], &white[j]) / inflated;
        }
    }
    finite.then_some((mean, wide.inverse()?))
}
