//! A cure that may be offered, and what came of it.
//!
//! In: steps, what pairs of runs told. Out: [`Cure`], [`Relief`], [`Overflow`].
//!
//! Not here: finding it (`cure`), running it (`mod`), whether it is worth offering (`sift`).
//!
//! Tested by: `tests/science/complaint_cures.rs`.

use std::sync::Arc;

use crate::forecast::Comparison;
use crate::heap::Heap;
use crate::mix::Mix;
use crate::outcome::complaint::{Cause, Symptom};

use super::step::Step;

/// How far a heap outgrows what holds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overflow {
    /// Volume as built, m3.
    pub needs_m3: f64,
    /// What the bin or bay holds, m3.
    pub room_m3: f64,
}

/// What a cure does for one symptom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// The symptom.
    pub symptom: Symptom,
    /// Its goal without and with the cure, in the typical heap.
    pub values: (f64, f64),
    /// Whether the heap shows the symptom without the cure.
    pub shown: bool,
    /// Whether a person could notice the difference.
    pub noticed: bool,
    /// Whether the symptom is gone.
    pub gone: bool,
    /// Share of the pairs in which it is gone, where a summary tells.
    pub gone_share: Option<f64>,
}

/// A cure and what it brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Cure {
    /// The causes it mends.
    pub against: Vec<Cause>,
    /// What is done, in order.
    pub steps: Vec<Step>,
    /// What each symptom gains; empty until it has been simulated.
    pub relief: Vec<Relief>,
    /// The heap as it is beside the cured one, over pairs; `None` until it has been simulated.
    pub comparison: Option<Arc<Comparison>>,
    /// The mix and the heap with it.
    pub then: (Mix, Heap),
    /// How far the heap outgrows with it what holds it; `None` where it fits.
    pub overflow: Option<Overflow>,
}

impl Cure {
    /// How much work it is, in barrows wheeled, on a heap of this volume.
    pub(super) fn effort(&self, heap_m3: f64) -> f64 {
        self.steps.iter().map(|step| step.effort(heap_m3)).sum()
    }

    /// Whether any symptom gains by it what a person could notice.
    pub fn helps(&self) -> bool {
        self.relief.iter().any(|relief| relief.noticed)
    }

    /// Least share of the pairs in which a symptom is gone; 1 where only the typical heap tells.
    pub fn gone_share(&self) -> f64 {
        let shares = self.relief.iter().filter_map(|relief| relief.gone_share);
        shares.fold(1.0, f64::min)
    }

    /// Whether every symptom that a projection knows is gone with it.
    pub fn cures_all(&self) -> bool {
        !self.relief.is_empty() && self.relief.iter().all(|relief| relief.gone)
    }
}
