//! What a diary teaches, for a whole project: the learnt members, and everything judged of the heap that stands for them.
//!
//! In: a project with its inputs, its diary or another. Out: [`Learning`], and the learnt heap with its outcome.
//!
//! Units are no part of it: a reading is in degC, whatever it was typed in.
//! Not here: the method (`forecast::learn`), words (`text::learnt`).
//!
//! Tested by: `tests/document/learn.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::diary::Diary;
use crate::document::{CheckError, Project};
use crate::forecast::Inputs;
use crate::forecast::learn::{Learner, Learnt, NotLearnt};
use crate::heap::{Projection, Resolution};
use crate::material::Catalogue;
use crate::outcome::Outcome;

use super::error::AssessError;
use super::resolved::Resolved;
use super::steps::{advice, judged, weighed};
use super::subject::Subject;

/// What came of learning.
#[derive(Debug, Clone, PartialEq)]
pub enum Learning {
    /// The heap as it is learnt.
    Learnt(Box<Learnt>),
    /// Nothing, and why.
    Not(NotLearnt),
}

impl Learning {
    /// What was learnt, if anything.
    pub fn learnt(&self) -> Option<&Learnt> {
        match self {
            Self::Learnt(learnt) => Some(learnt),
            Self::Not(_) => None,
        }
    }
}

/// The heap that stands for the learnt ones, and what is judged of it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LearntHeap {
    /// On the fine grid.
    pub projection: Projection,
    /// Weighed by the learnt members; `None` where the projection holds no records.
    pub outcome: Option<Outcome>,
}

/// Learns from a diary, and judges the heap that is learnt; no heap where nothing can be learnt.
///
/// # Errors
/// [`AssessError`] if a material is not known or a built-in table is damaged.
pub(super) fn learn(
    learner: &Learner,
    project: &Project,
    built_in: &Catalogue,
    (inputs, diary): (&Inputs, &Diary),
) -> Result<(Learning, Option<LearntHeap>), AssessError> {
    let never = AtomicBool::new(false);
    let learnt = match learner.learn(inputs, diary, &never) {
        Ok(learnt) => learnt,
        Err(why) => return Ok((Learning::Not(why), None)),
    };
    let mut heap = None;
    if let Some(projection) = learnt.inputs.simulate(&Resolution::fine(), &never) {
        let own = built_in.with_own(&project.own_materials);
        let catalogue = Arc::new(own.map_err(CheckError::OwnMaterial)?);
        let subject = Subject::of(project, &catalogue);
        let resolved = Resolved::of(subject.mix, subject.heap, &catalogue)?;
        let advice = advice(&subject, &resolved.mixed, Some(&projection));
        let as_learnt = (&projection, &learnt.inputs);
        let plain = judged(&subject, &resolved, as_learnt, &advice)?;
        let outcome = plain.map(|plain| weighed(&plain, &learnt.forecast));
        heap = Some(LearntHeap {
            outcome: outcome.transpose()?,
            projection,
        });
    }
    Ok((Learning::Learnt(Box::new(learnt)), heap))
}
