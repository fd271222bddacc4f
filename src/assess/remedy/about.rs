//! A question about the heap of a whole project, as it stands today.
//!
//! In: a project, a catalogue, today, what is noticed. Out: a [`Question`], of the learnt heap where the diary teaches.
//!
//! Not here: the window's question, which takes what was learnt already (`window::verbs::complaint`).
//!
//! Tested by: `tests/document/complaint.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use jiff::civil::DateTime;

use crate::assess::error::AssessError;
use crate::assess::resolved::Resolved;
use crate::document::Project;
use crate::forecast::learn::Learner;
use crate::material::Catalogue;
use crate::outcome::complaint::{Readings, Symptom};

use super::diagnosis::Question;
use super::diary_says::DiarySays;
use super::learnt_heap::LearntHeap;

impl Question {
    /// Asks about the heap of a project; `catalogue` holds the project's own materials. Learns from its diary first, which
    /// takes a few seconds.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known.
    pub fn about(
        project: &Project,
        catalogue: Arc<Catalogue>,
        now: DateTime,
        (symptoms, readings): (Vec<Symptom>, Readings),
    ) -> Result<Self, AssessError> {
        let from_day = project.diary.first_free_day(now);
        let mut learnt = None;
        if project.diary.teaches() {
            let resolved = Resolved::of(&project.mix, &project.heap, &catalogue)?;
            let inputs = resolved.inputs(&project.heap);
            let never = AtomicBool::new(false);
            let found = Learner::default().learn(&inputs, &project.diary, &never);
            learnt = found.ok().map(|found| LearntHeap::of(&found, from_day));
        }
        Ok(Self {
            mix: project.mix.clone(),
            heap: project.heap.clone(),
            symptoms,
            readings,
            catalogue,
            from_day,
            diary: DiarySays::of(&project.diary, &project.heap.plan, now.date()),
            learnt,
        })
    }
}
