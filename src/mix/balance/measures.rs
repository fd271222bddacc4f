//! What has been settled, in measures that people handle, and how the blend of it stands.
//!
//! In: handfuls as calculated. Out: handfuls in measures.
//!
//! Not here: the search among neighbours (`round`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::mix::{Blend, Gauge};

use super::least::smallest;
use super::round::rounded;
use super::task::{Demand, Task};
use super::tiers::{Settled, Tier};
use super::{BandEnd, Goal, Limit, Rounding};

/// How far inside a limit amounts that cannot be rounded are put, of the limit itself, so that a
/// gauge reads inside its band.
const INSET: f64 = 1e-4;
/// Share of a limit by which amounts as calculated may miss it, where they cannot be put inside.
const REACH: f64 = 1e-6;
/// Share of a band's ends by which a value at its end may lie outside.
const EDGE: f64 = 1e-9;

/// Whole measures, or, where none keep the demands, the amounts as calculated, a little inside.
pub(super) fn in_measures(task: &Task<'_>, settled: &Settled) -> (Vec<f64>, Rounding) {
    let (handfuls, rounding) = rounded(task, &settled.handfuls, (&settled.demands, &settled.musts));
    if rounding != Rounding::AsCalculated || matches!(settled.tier, Tier::Nearest(_)) {
        return (handfuls, rounding);
    }
    let inside: Vec<Demand> = settled
        .demands
        .iter()
        .map(|demand| {
            let by = INSET * demand.bound.abs();
            let bound = match demand.side {
                BandEnd::Low => demand.bound + by,
                BandEnd::High => demand.bound - by,
            };
            Demand { bound, ..*demand }
        })
        .collect();
    let handfuls = smallest(task, &inside).unwrap_or(handfuls);
    (handfuls, rounding)
}

/// Limits of what works that a blend breaks, by the gauges themselves; without dry matter it has no
/// nitrogen either. Empty: it works.
pub(super) fn short_of(task: &Task<'_>, goal: &Goal, after: &Blend) -> Vec<Limit> {
    let broken = |gauge: Gauge, side: BandEnd| Limit::Gauge {
        gauge,
        side,
        broken: true,
    };
    let Some(gauges) = &after.gauges else {
        return vec![broken(Gauge::CarbonNitrogen, BandEnd::High)];
    };
    let mut short = Vec::new();
    for gauge in Gauge::ALL {
        let (value, (low, high)) = (gauges.value(gauge), task.band(&goal.bands, gauge).works);
        if low.is_finite() && value < low - REACH * low.abs() {
            short.push(broken(gauge, BandEnd::Low));
        } else if high.is_finite() && value > high + REACH * high.abs() {
            short.push(broken(gauge, BandEnd::High));
        }
    }
    short
}

/// Gauges of a blend that are not in the best part of their band, by the gauges themselves.
pub(super) fn beyond_best(task: &Task<'_>, goal: &Goal, after: &Blend) -> Vec<Gauge> {
    let outside = |gauge: &Gauge| {
        let (low, high) = task.band(&goal.bands, *gauge).best;
        let value = after.gauges.as_ref().map(|gauges| gauges.value(*gauge));
        // An end counts as inside, whatever the last bit says.
        let reach = EDGE * (low.abs() + if high.is_finite() { high.abs() } else { 0.0 });
        value.is_none_or(|value| value < low - reach || value > high + reach)
    };
    Gauge::ALL.into_iter().filter(outside).collect()
}
