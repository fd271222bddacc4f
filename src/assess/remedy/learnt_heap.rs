//! The heap asked about as its diary taught it.
//!
//! In: what was learnt, the first day that is still open. Out: [`LearntHeap`]; inputs with what was learnt laid over them.
//!
//! A cured heap takes the same deviates as the heap as it is, so that both are one heap in all that nobody alters.
//! Not here: learning (`forecast::learn`), what stands in the diary (`diary_says`).
//!
//! Tested by: `tests/document/complaint.rs`.

use crate::forecast::learn::Learnt;
use crate::forecast::sequence::DIMENSIONS;
use crate::forecast::{Draws, Inputs, Series, WIDTHS};

/// Seed of draws that are never drawn from: only given deviates are laid over.
const NO_SEED: u64 = 0;

/// What a diary taught of a heap, as far as a question needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct LearntHeap {
    /// Where the heap lies that stands for the likely ones, a deviate for each [`crate::forecast::Unknown`].
    pub stands: [f64; DIMENSIONS],
    /// Where the likely heaps lie.
    pub members: Vec<[f64; DIMENSIONS]>,
    /// Median moisture on the first open day, wet basis; `None` for a heap that does not stand.
    pub moisture_now: Option<f64>,
}

impl LearntHeap {
    /// What was learnt, seen from a day on.
    pub fn of(learnt: &Learnt, from_day: Option<f64>) -> Self {
        let band = learnt.forecast.band(Series::Moisture);
        let moisture = from_day.and_then(|day| {
            let after = band.days.partition_point(|at| *at <= day);
            band.median.get(after.saturating_sub(1)).copied()
        });
        Self {
            stands: learnt.deviates,
            members: learnt.members.clone(),
            moisture_now: moisture.filter(|share| (0.01..0.99).contains(share)),
        }
    }

    /// Inputs with the heap that stands for the likely ones laid over them.
    pub(super) fn laid_over(&self, inputs: &Inputs) -> Inputs {
        Draws::new(inputs, &WIDTHS, NO_SEED).at(&self.stands)
    }
}
