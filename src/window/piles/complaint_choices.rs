//! What is ticked and answered in the sheet "What is wrong with my heap?", and what was found.
//!
//! In: ticks and answers. Out: [`ComplaintSheet`] and [`ComplaintShown`].
//!
//! Not here: the search (`jobs::complaint`), how it looks (`complaint_sheet`).
//!
//! Tested by: `tests/window/complaint.rs`.

use std::sync::Arc;

use crate::assess::remedy::{Built, Diagnosis, Mostly, Rough, Size, Stands};
use crate::outcome::complaint::{Readings, Squeeze, Symptom};

/// Which heap is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum AskedHeap {
    /// The one of the open recipe.
    #[default]
    Recipe,
    /// One without a recipe, from a few answers.
    Rough,
}

/// The sheet's answers. They stay when it is closed.
#[derive(Debug, Clone, PartialEq)]
pub struct ComplaintSheet {
    /// What is ticked, in the order of the list.
    pub symptoms: Vec<Symptom>,
    /// Which heap it is about.
    pub heap: AskedHeap,
    /// What was found by hand at the heap of the recipe.
    pub readings: Readings,
    /// The answers about a heap without a recipe.
    pub rough: Rough,
}

impl Default for ComplaintSheet {
    fn default() -> Self {
        Self {
            symptoms: Vec::new(),
            heap: AskedHeap::default(),
            readings: Readings::default(),
            rough: Rough {
                mostly: Mostly::Garden,
                some: None,
                size: Size::Bin,
                squeeze: Squeeze::Sponge,
                built: Built::BitByBit { weeks: 8 },
                start_day_of_year: 121.0,
                weeks_old: 12,
                stands: Stands::ClosedBin,
                covered: true,
            },
        }
    }
}

impl ComplaintSheet {
    /// Whether this is ticked.
    pub fn has(&self, symptom: Symptom) -> bool {
        self.symptoms.contains(&symptom)
    }

    /// Ticks it or takes the tick away; ticks stay in the order of the list.
    pub fn tick(&mut self, symptom: Symptom) {
        if self.has(symptom) {
            self.symptoms.retain(|it| *it != symptom);
        } else {
            self.symptoms.push(symptom);
            self.symptoms.sort();
        }
    }

    /// What was read by hand at the heap asked about.
    pub fn readings_now(&self) -> Readings {
        match self.heap {
            AskedHeap::Recipe => self.readings,
            AskedHeap::Rough => self.rough.readings(),
        }
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum ComplaintShown {
    /// Nothing is asked.
    #[default]
    Nothing,
    /// The newest answer.
    Found(Arc<Diagnosis>),
    /// There is none; one sentence says why.
    Problem(String),
}

impl ComplaintShown {
    /// The newest answer.
    pub fn found(&self) -> Option<&Arc<Diagnosis>> {
        match self {
            Self::Found(found) => Some(found),
            Self::Nothing | Self::Problem(_) => None,
        }
    }
}
