//! Weights: from logarithms to shares, how many members they leave, and drawing by them.
//!
//! In: logarithms of weights, known to a constant. Out: shares that come to one, their effective number, the power that
//! keeps so many, and places drawn.
//!
//! Not here: what the weights are of (`evidence`, `sampler`).
//!
//! Tested by: `tests/science/learn_weights.rs`.

/// Halvings in the search for a power: its last digit is then beyond what matters.
const HALVINGS: usize = 40;

/// Shares that come to 1, of logarithms; what is not a number counts as nothing. All alike if nothing counts.
pub fn normalised(logs: &[f64]) -> Vec<f64> {
    let usable = |log: &f64| {
        if log.is_nan() {
            f64::NEG_INFINITY
        } else {
            *log
        }
    };
    let most = logs.iter().map(usable).fold(f64::NEG_INFINITY, f64::max);
    if !most.is_finite() {
        return vec![1.0 / logs.len().max(1) as f64; logs.len()];
    }
    let mut shares: Vec<f64> = logs.iter().map(|log| (usable(log) - most).exp()).collect();
    let sum: f64 = shares.iter().sum();
    for share in &mut shares {
        *share /= sum;
    }
    shares
}

/// Logarithm of the sum of exponentials; negative infinity of none.
pub(super) fn log_sum(logs: impl Iterator<Item = f64> + Clone) -> f64 {
    let most = logs.clone().fold(f64::NEG_INFINITY, f64::max);
    if !most.is_finite() {
        return most;
    }
    most + logs.map(|log| (log - most).exp()).sum::<f64>().ln()
}

/// Effective number of members: 1 over the sum of the squares of the shares (Kong et al. 1994, JASA 89:278-288).
pub fn effective(shares: &[f64]) -> f64 {
    let squares: f64 = shares.iter().map(|share| share * share).sum();
    if squares > 0.0 { 1.0 / squares } else { 0.0 }
}

/// Shares of members that weigh so much without readings, with the likelihoods taken to a power.
pub(super) fn tempered(log_base: &[f64], log_likelihood: &[f64], power: f64) -> Vec<f64> {
    let logs = log_base.iter().zip(log_likelihood);
    // Nothing to the power of nothing is one: at power 0 readings do not count at all.
    let log = logs.map(|(base, likely)| {
        if power > 0.0 {
            base + power * likely
        } else {
            *base
        }
    });
    normalised(&log.collect::<Vec<f64>>())
}

/// The greatest power (at most 1) of the likelihoods at which at least so many members count, beside what they weigh
/// without; 0 if even that leaves fewer.
pub fn power_for(log_base: &[f64], log_likelihood: &[f64], least: f64) -> f64 {
    let count = |power: f64| effective(&tempered(log_base, log_likelihood, power));
    if count(1.0) >= least {
        return 1.0;
    }
    let (mut enough, mut too_much) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (enough + too_much);
        if count(middle) >= least {
            enough = middle;
        } else {
            too_much = middle;
        }
    }
    enough
}

/// `count` places drawn by their shares: the ladder of `count` even rungs, the first at `start` (0-1) of a rung, laid
/// against the shares in order. A share of s is drawn s count times, rounded down or up.
///
/// Source: Kitagawa 1996, JCGS 5:1-25 (systematic resampling).
pub fn systematic(shares: &[f64], count: usize, start: f64) -> Vec<usize> {
    let mut drawn = Vec::with_capacity(count);
    let (mut place, mut reached) = (0, shares.first().copied().unwrap_or(0.0));
    for rung in 0..count {
        let at = (rung as f64 + start.clamp(0.0, 1.0)) / count as f64;
        while reached <= at && place + 1 < shares.len() {
            place += 1;
            reached += shares[place];
        }
        drawn.push(place);
    }
    drawn
}
