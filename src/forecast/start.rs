//! Whether it starts at all, and how many pass 55 degC: what one line of a curve would hide.
//!
//! In: a [`Forecast`]. Out: [`Start`] and [`Share`], typed.
//!
//! Near the edge of what keeps warm the members part in two: some heat up, the others stay cold, and hardly any
//! lie between. A median says nothing of such a heap, so the share of the cold ones is told instead.
//! Not here: the words (`text::forecast`), how the members are made (`draw`).
//!
//! Tested by: `tests/science/forecast_line.rs`.

use super::band::{Forecast, quantile};

/// A member whose centre never reaches this has not started, degC: below it heat-loving microbes take no part
/// (`common practice`).
const STARTED_C: f64 = 40.0;
/// Median peak that those which start have at least, if there are two kinds of heaps and not one lukewarm kind, degC
/// (`common practice`: an active heap is above 50).
const HOT_C: f64 = 50.0;
/// The line that rules name, degC (40 CFR 503).
const PASSED_C: f64 = 55.0;
/// Shares of cold members between which the start is in doubt; beyond, nearly all do the same.
const DOUBT: (f64, f64) = (0.1, 0.9);
/// Members that a share is told of, at least: fewer say "1 in 10" by chance.
const ENOUGH: usize = 32;

/// Of ten published peaks and days, those that the 10-90 % band holds; eight if it were right. Checked, to one in ten:
/// `tests/science/forecast_coverage.rs`; the rest are stated in `tests/reports/band-coverage.md`.
pub const HELD_OF_TEN: u8 = 7;

/// A share of the members of a forecast, 0-1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share(pub f64);

/// Whether such a heap starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Start {
    /// Nearly all members do the same, or they lie about one line.
    Alike,
    /// Members part in two: so many never start, the rest heat up well.
    Doubtful {
        /// Members that never start.
        cold: Share,
    },
}

impl Forecast {
    /// Whether members part in those that start and those that do not; [`Start::Alike`] while there are few.
    pub fn start(&self) -> Start {
        let mut started: Vec<f64> = self.peaks().filter(|peak| *peak >= STARTED_C).collect();
        started.sort_by(f64::total_cmp);
        let all = self.members();
        let cold = (all - started.len()) as f64 / all.max(1) as f64;
        let in_doubt = (DOUBT.0..=DOUBT.1).contains(&cold);
        if all >= ENOUGH && in_doubt && quantile(&started, 0.5) >= HOT_C {
            Start::Doubtful { cold: Share(cold) }
        } else {
            Start::Alike
        }
    }

    /// Members whose centre reaches 55 degC; `None` while there are few.
    pub fn passes_55(&self) -> Option<Share> {
        let passed = self.likelihood(|summary| summary.peak_c >= PASSED_C);
        (self.members() >= ENOUGH).then_some(Share(passed))
    }
}
