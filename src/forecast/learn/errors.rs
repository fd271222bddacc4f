//! How far a measured value may lie from a heap that is as a member says.
//!
//! In: values, and how steep members are where and when they were measured ([`Spreads`]). Out: the covariance of all numbers,
//! the intervals of squeezes, the chances of smells.
//!
//! A difference is the sum of four: the instrument, new with every reading; the place of its tip, new with every reading by hand
//! and the same for all rows of a probe that stays in; the model, whose error is alike for days and from place to place; and
//! the time of the model, which rises or falls somewhat early or late. So a hundred thousand rows of a probe weigh about
//! as much as a reading of it every few days.
//!
//! Not here: how steep members are (`member`), what follows (`evidence`).
//!
//! Tested by: `tests/science/learn_weights.rs`, `tests/science/learn_twins.rs`.

use crate::diary::Smell;

use super::evidence::Soft;
use super::matrix::Square;
use super::observed::{Observation, Source, What, squeezed};

/// A thermometer with a long stem, K (`common practice`: one degree either way).
const THERMOMETER_K: f64 = 1.0;
/// Where its tip really is, m (`common practice`: a hand's width either way is the worst).
pub(super) const TIP_M: f64 = 0.05;
/// The model's temperature, K. No model that was reviewed met 5 K at the peak (Mason 2006, Waste Management 26:3-21,
/// abstract read): taken as two standard deviations.
const MODEL_K: f64 = 2.5;
/// The model's time, d. Published peaks are met to a day either way at best (the same): taken as two.
pub(super) const MODEL_DAYS: f64 = 0.5;
/// How long the model's error is alike, d (tuned: a heap's hot phase lasts about twice that; the twins' bands hold what
/// they should).
const ALIKE_DAYS: f64 = 5.0;
/// How far in the heap the model's error is alike, share of the cross-section (tuned: core and skin err apart).
const ALIKE_SHARE: f64 = 0.5;
/// A probe for moisture, wet basis (`common practice`: five points).
const PROBE: f64 = 0.05;
/// Drying in an oven, wet basis: what one sample differs from its surroundings (`common practice`).
const OVEN: f64 = 0.03;
/// The model's moisture at a place, wet basis (tuned: the published cores and skins of chips are met to four points).
const MODEL_MOISTURE: f64 = 0.04;
/// A hand that squeezes, wet basis (`common practice`: two people differ by about one class in five).
const HAND: f64 = 0.04;
/// A probe for oxygen, share of the air (`common practice`: one point).
const OXYGEN: f64 = 0.01;
/// The model's oxygen at a place, share of the air (tuned: half of what pores differ by within a hand's width).
const MODEL_OXYGEN: f64 = 0.03;
/// A rod against a heap that is not flat, share of the height (`common practice`).
const ROD: f64 = 0.05;
/// The model's height, share of the height (tuned: slump is known to a third).
const MODEL_HEIGHT: f64 = 0.05;
/// Chance that a person notices a smell that is there and names it so, and that one names it that is not (tuned: weak
/// on purpose, three to one; noses differ, and which smell is which is easily mixed up).
const NOSE: (f64, f64) = (0.6, 0.2);

/// Standard deviations from which a value is far from what members say (`common practice`: one in twenty by chance).
pub(super) const FAR: f64 = 2.0;

/// How steep members are where a value was measured: root mean squares over the members.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spreads {
    /// Change with the place of the tip, unit of the value.
    pub place: f64,
    /// Change with the model's time, unit of the value.
    pub time: f64,
}

/// What a squeeze or a smell is worth as evidence; `None` for a number.
pub(super) fn soft(what: What) -> Option<Soft> {
    match what {
        What::Squeezed(squeeze) => {
            let (low, high) = squeezed(squeeze);
            Some(Soft::Between {
                low,
                high,
                error: HAND.hypot(MODEL_MOISTURE),
            })
        }
        What::Smelt(Smell::Earthy | Smell::Ammonia | Smell::Sour | Smell::Rotten) => {
            Some(Soft::Noticed {
                if_shown: NOSE.0,
                if_not: NOSE.1,
            })
        }
        What::Temperature | What::Moisture { .. } | What::Oxygen | What::Height => None,
    }
}

/// What share of a finding of its own each counts: those of one kind within [`ALIKE_DAYS`] share one.
pub(super) fn shares(values: &[Observation]) -> Vec<f64> {
    let kind = |o: &Observation| match o.what {
        What::Squeezed(_) => 1,
        What::Smelt(_) => 2,
        _ => 0,
    };
    let likeness = |a: &Observation, b: &Observation| {
        if kind(a) == kind(b) { alike(a, b) } else { 0.0 }
    };
    let others = |a| values.iter().map(|b| likeness(a, b)).sum::<f64>();
    values.iter().map(|a| 1.0 / others(a).max(1.0)).collect()
}

/// How far the model errs alike in two values, 0-1.
fn alike(a: &Observation, b: &Observation) -> f64 {
    let days = (a.day - b.day).abs() / ALIKE_DAYS;
    let away = if a.what.has_spot() {
        (a.spot.out - b.spot.out).hypot(a.spot.up - b.spot.up) / ALIKE_SHARE
    } else {
        0.0
    };
    (-days - away).exp()
}

/// Standard deviation of the instrument and of the model, in the unit of the value.
fn errors(observation: &Observation) -> (f64, f64) {
    match observation.what {
        What::Temperature => (THERMOMETER_K, MODEL_K),
        What::Moisture { oven: false } => (PROBE, MODEL_MOISTURE),
        What::Moisture { oven: true } => (OVEN, MODEL_MOISTURE),
        What::Oxygen => (OXYGEN, MODEL_OXYGEN),
        What::Height => (ROD * observation.value, MODEL_HEIGHT * observation.value),
        What::Squeezed(_) | What::Smelt(_) => (HAND, MODEL_MOISTURE),
    }
}

/// Standard deviation of one value about a heap that is as a member says, all four errors together.
pub(super) fn whole(observation: &Observation, spread: &Spreads) -> f64 {
    let (instrument, model) = errors(observation);
    instrument
        .hypot(model)
        .hypot(spread.place)
        .hypot(spread.time)
}

/// Covariance of numbers about a heap that is as a member says; `spreads` beside each.
pub fn covariance(numbers: &[(Observation, Spreads)]) -> Square {
    let mut covariance = Square::zero(numbers.len());
    let kind = |o: &Observation| match o.what {
        What::Moisture { .. } => What::Moisture { oven: false },
        other => other,
    };
    for (i, (a, a_spread)) in numbers.iter().enumerate() {
        for (j, (b, b_spread)) in numbers.iter().enumerate().take(i + 1) {
            if kind(a) != kind(b) {
                continue;
            }
            let ((_, a_model), (_, b_model)) = (errors(a), errors(b));
            let times = a_spread.time * b_spread.time;
            let mut value = (a_model * b_model + times) * alike(a, b);
            if i == j {
                let (instrument, _) = errors(a);
                value += instrument * instrument / a.count as f64;
            }
            let stays = match (a.source, b.source) {
                (Source::Row { log: a, .. }, Source::Row { log: b, .. }) => a == b,
                _ => i == j,
            };
            if stays {
                value += a_spread.place * b_spread.place;
            }
            *covariance.at(i, j) = value;
            *covariance.at(j, i) = value;
        }
    }
    covariance
}
