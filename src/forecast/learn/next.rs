//! Where and when to measure next: the reading that would teach most.
//!
//! In: the members with their shares, what they say of places within reach in the coming days. Out: [`NextReading`].
//!
//! A reading teaches by what it has in common with what is still to come: the share of the spread of the centre, over the
//! rest of the run, that a reading with its error would take away if all went straight,
//! `sum cov(reading, centre)^2 / (var(reading) + error^2)` over `sum var(centre)` (the expected reduction of variance in
//! Gaussian regression; Cohn et al. 1996, JAIR 4:129-145, from memory). A reading that all members agree on, or that
//! is worse known than they are, teaches nothing.
//!
//! Not here: words (`text::learnt`).
//!
//! Tested by: `tests/science/learn.rs`.

use std::sync::Arc;

use crate::diary::Spot;
use crate::forecast::{Inputs, Member, Series};
use crate::quantity::Range;

use super::first::FirstWave;
use super::observed::{Observation, Source, What};
use super::sampler::Cloud;
use super::weights::systematic;

/// Days from now on which one might go and look.
const AHEAD_DAYS: [f64; 6] = [0.0, 1.0, 2.0, 3.0, 5.0, 7.0];
/// Depths below the side or the top that a thermometer reaches, m (`common practice`: stems are half a metre long, a
/// hand's breadth is the least that says more than the air).
const DEPTHS_M: [f64; 3] = [0.1, 0.25, 0.5];
/// Heights at which one goes in from the side, share of the height.
const HEIGHTS: [f64; 3] = [0.25, 0.5, 0.75];

/// A reading that is worth taking.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextReading {
    /// Day since the heap was built.
    pub day: f64,
    /// Where to put the thermometer.
    pub spot: Spot,
    /// Temperature that the learnt members expect there, degC.
    pub expected_c: Range,
    /// Share of the spread of the centre still to come that it would take away, 0-1.
    pub teaches: f64,
}

/// Readings that might be taken from a day on.
pub(super) fn candidates(inputs: &Inputs, now: f64) -> Vec<Observation> {
    let skin = inputs.heap.shape.skin(inputs.totals.volume_m3());
    let outline = skin.outline;
    let mut spots = Vec::new();
    for depth in DEPTHS_M {
        for up in HEIGHTS {
            let reach = if outline.upright { 1.0 } else { 1.0 - up };
            let out = (1.0 - depth / (outline.extent_m * reach)).max(0.0);
            spots.push(Spot { out, up });
        }
        let up = (1.0 - depth / outline.height_m).max(0.0);
        spots.push(Spot { out: 0.0, up });
    }
    spots.dedup();
    let days = AHEAD_DAYS.map(|ahead| now + ahead);
    let days = days.into_iter().filter(|day| *day <= inputs.heap.days);
    let at = |day| {
        spots.clone().into_iter().map(move |spot| Observation {
            day,
            spot,
            what: What::Temperature,
            value: f64::NAN,
            source: Source::Reading(usize::MAX),
            count: 1,
        })
    };
    days.flat_map(at).collect()
}

/// The best of them; `None` where the run ends, or nothing is left to learn.
pub(super) fn best(first: &FirstWave, cloud: &Cloud<Arc<Member>>) -> Option<NextReading> {
    let errors = first.whole_errors();
    let measured = first.observations.values.len();
    let now = first.observations.last_day();
    let ahead = |day: &f64| *day > now;
    let from = first.look.grid_days.iter().position(ahead)?;
    let centres: Vec<&[f64]> = cloud
        .tried
        .iter()
        .map(|member| member.kept.curve(Series::Centre))
        .map(|curve| curve.get(from..).unwrap_or_default())
        .collect();
    let points = centres.iter().map(|curve| curve.len()).min()?;
    let mean = |of: &dyn Fn(usize) -> f64| -> f64 {
        let shares = cloud.shares.iter().enumerate();
        shares
            .filter(|(_, s)| **s > 0.0)
            .map(|(i, s)| s * of(i))
            .sum()
    };
    let middles: Vec<f64> = (0..points).map(|p| mean(&|i| centres[i][p])).collect();
    let spread: f64 = (0..points)
        .map(|p| mean(&|i| (centres[i][p] - middles[p]).powi(2)))
        .sum();
    if spread <= 0.0 {
        return None;
    }
    let mut best: Option<(usize, f64)> = None;
    for place in measured..first.look.asked.len() {
        let said = |i: usize| cloud.tried[i].said[place];
        let middle = mean(&said);
        let own = mean(&|i| (said(i) - middle).powi(2));
        let error = errors.get(place).copied().unwrap_or(f64::INFINITY);
        let taken: f64 = (0..points)
            .map(|p| mean(&|i| (said(i) - middle) * (centres[i][p] - middles[p])).powi(2))
            .sum();
        let teaches = taken / (own + error * error) / spread;
        if teaches.is_finite() && best.is_none_or(|(_, most)| teaches > most) {
            best = Some((place, teaches));
        }
    }
    let (place, teaches) = best?;
    let candidate = first.look.asked[place];
    let mut said: Vec<f64> = systematic(&cloud.shares, cloud.tried.len(), 0.5)
        .into_iter()
        .map(|i| cloud.tried[i].said[place])
        .collect();
    said.sort_by(f64::total_cmp);
    let at = |share| crate::forecast::quantile(&said, share);
    Some(NextReading {
        day: candidate.day,
        spot: candidate.spot,
        expected_c: Range::new(at(0.1), at(0.5), at(0.9)),
        teaches: teaches.min(1.0),
    })
}
