//! What a parcel has been through: time in a band of temperature, longest spell, lethality.
//!
//! In: its moments, straight lines between them. Out: days, and integrals of `10^((T - ref) / z)`, exact
//! for straight lines.
//!
//! A stretch counts only where its mean moisture is at or above a floor: dry heat kills little.
//! Not here: what is enough (`sanitation`, `kill`).
//!
//! Tested by: `tests/science/outcome_kill.rs` (closed forms), `tests/science/outcome_sanitation.rs`.

use serde::Deserialize;

use crate::heap::Moment;

/// Slack on times, d: a thousandth of a second.
const SLACK_DAYS: f64 = 1e-8;

/// A temperature that must be held for a time.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hold {
    /// Least temperature, degC.
    pub at_c: f64,
    /// Time above it stops counting beyond this, degC; `None` without a ceiling.
    pub below_c: Option<f64>,
    /// How long, d.
    pub days: f64,
    /// Whether in one piece; otherwise all such time counts together.
    pub unbroken: bool,
}

/// A stretch of a course inside a band of temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Day it begins.
    pub from_day: f64,
    /// How long, d.
    pub days: f64,
    /// Temperature at its beginning, degC.
    pub from_c: f64,
    /// Temperature at its end, degC.
    pub to_c: f64,
}

/// The stretches of a course between two temperatures, at a moisture of at least `floor`.
pub fn stretches(
    course: &[Moment],
    (low_c, high_c): (f64, f64),
    floor: f64,
) -> impl Iterator<Item = Stretch> + '_ {
    course.windows(2).filter_map(move |pair| {
        let (a, b) = (pair[0], pair[1]);
        let length = b.day - a.day;
        // The middle alone decides: a stretch that dries through the floor counts by half on average.
        if length <= 0.0 || 0.5 * (a.moisture + b.moisture) < floor {
            return None;
        }
        let (from, to) = inside(a.temperature_c, b.temperature_c, low_c, high_c)?;
        let at = |share: f64| a.temperature_c + share * (b.temperature_c - a.temperature_c);
        Some(Stretch {
            from_day: a.day + from * length,
            days: (to - from) * length,
            from_c: at(from),
            to_c: at(to),
        })
    })
}

/// Which part of a straight line from `a` to `b` lies between `low` and `high`, as shares of it.
fn inside(a: f64, b: f64, low: f64, high: f64) -> Option<(f64, f64)> {
    if a == b {
        return (low <= a && a <= high).then_some((0.0, 1.0));
    }
    let (one, other) = ((low - a) / (b - a), (high - a) / (b - a));
    let (from, to) = (one.min(other).max(0.0), one.max(other).min(1.0));
    (to > from).then_some((from, to))
}

/// All time at or above a temperature, d.
pub fn time_at(course: &[Moment], low_c: f64, floor: f64) -> f64 {
    stretches(course, (low_c, f64::INFINITY), floor)
        .map(|stretch| stretch.days)
        .sum()
}

/// Spells: stretches that follow on each other without a gap, as from and to day.
pub fn spells(course: &[Moment], band_c: (f64, f64), floor: f64) -> Vec<(f64, f64)> {
    let mut found: Vec<(f64, f64)> = Vec::new();
    for stretch in stretches(course, band_c, floor) {
        let end = stretch.from_day + stretch.days;
        match found.last_mut() {
            Some(last) if stretch.from_day - last.1 <= SLACK_DAYS => last.1 = end,
            _ => found.push((stretch.from_day, end)),
        }
    }
    found
}

impl Hold {
    /// How much of the time asked for a course has, d; unbroken if that is asked.
    pub fn got_days(&self, course: &[Moment], floor: f64) -> f64 {
        let band = (self.at_c, self.below_c.unwrap_or(f64::INFINITY));
        if self.unbroken {
            spells(course, band, floor)
                .iter()
                .fold(0.0, |longest, (from, to)| longest.max(to - from))
        } else {
            stretches(course, band, floor)
                .map(|stretch| stretch.days)
                .sum()
        }
    }

    /// Whether a course has enough.
    pub fn is_met(&self, course: &[Moment], floor: f64) -> bool {
        self.got_days(course, floor) >= self.days - SLACK_DAYS
    }
}

/// A temperature scale of killing: `10^((T - ref) / z)`.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KillScale {
    /// Temperature at which a day counts as a day, degC.
    pub ref_c: f64,
    /// Degrees that make it ten times as fast, K.
    pub z_k: f64,
}

impl KillScale {
    /// `integral of 10^((T - ref) / z) dt` over a stretch, d: `dt z / (ln 10 (T2 - T1)) (10^.. - 10^..)`.
    pub fn of_stretch(&self, stretch: &Stretch) -> f64 {
        let at = |t: f64| 10f64.powf((t - self.ref_c) / self.z_k);
        let rise = std::f64::consts::LN_10 * (stretch.to_c - stretch.from_c) / self.z_k;
        // Near level the difference of powers loses its digits; the middle is then exact to 1e-10.
        if rise.abs() < 1e-4 {
            return stretch.days * at(0.5 * (stretch.from_c + stretch.to_c));
        }
        stretch.days * (at(stretch.to_c) - at(stretch.from_c)) / rise
    }

    /// Days at the reference temperature that a course is worth; what lies below `above_c` counts nothing.
    pub fn days_worth(&self, course: &[Moment], above_c: f64, floor: f64) -> f64 {
        stretches(course, (above_c, f64::INFINITY), floor)
            .map(|stretch| self.of_stretch(&stretch))
            .sum()
    }
}
