//! All stages of one project, run one after another: for a command, a page, a file.
//!
//! In: a project, the built-in catalogue. Out: [`Assessed`].
//!
//! Not here: a project that changes while it is looked at (`stages`), words (`text`, `export`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/document/command.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::diary::Diary;
use crate::document::{CheckError, Project};
use crate::forecast::learn::Learner;
use crate::forecast::{Forecast, Inputs, MEMBERS, ensemble};
use crate::heap::{Projection, Resolution};
use crate::material::Catalogue;
use crate::mix::Blend;
use crate::outcome::Outcome;

use super::error::AssessError;
use super::learning::{Learning, learn};
use super::resolved::Resolved;
use super::steps::{advice, judged, weighed};
use super::subject::Subject;

/// Everything calculated of one project.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessed {
    /// Loose density of each ingredient's material, kg/m3, in order.
    pub densities_kg_per_m3: Vec<f64>,
    /// The mix, blended.
    pub blend: Blend,
    /// What runs of the heap need.
    pub inputs: Inputs,
    /// What would become of the heap, on the fine grid; `None` if there is nothing to rot or far too little or
    /// too much.
    pub projection: Option<Projection>,
    /// How sure that is; `None` until [`Assessed::weigh`] and without a projection.
    pub forecast: Option<Forecast>,
    /// What is judged of the projection; `None` without one.
    pub outcome: Option<Outcome>,
    /// What a diary teaches; `None` until [`Assessed::learn`].
    pub learnt: Option<Learning>,
}

impl Assessed {
    /// Blends, simulates and judges a project; likelihoods are left to [`Assessed::weigh`].
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known, a number cannot be or a built-in table is damaged.
    pub fn of(project: &Project, built_in: &Catalogue) -> Result<Self, AssessError> {
        project.check(built_in)?;
        let own = built_in.with_own(&project.own_materials);
        let catalogue = Arc::new(own.map_err(CheckError::OwnMaterial)?);
        let subject = Subject::of(project, &catalogue);
        let resolved = Resolved::of(subject.mix, subject.heap, &catalogue)?;
        let inputs = resolved.inputs(subject.heap);
        let projection = inputs.simulate(&Resolution::fine(), &AtomicBool::new(false));
        let outcome = match &projection {
            Some(projection) => {
                let advice = advice(&subject, &resolved.mixed, Some(projection));
                judged(&subject, &resolved, (projection, &inputs), &advice)?
            }
            None => None,
        };
        let densities = resolved.mixed.parts.iter();
        Ok(Self {
            densities_kg_per_m3: densities
                .map(|part| part.material.bulk_density.typical)
                .collect(),
            blend: resolved.mixed.blend,
            inputs,
            projection,
            forecast: None,
            outcome,
            learnt: None,
        })
    }

    /// Runs the forecast with all its members and gives the outcome its likelihoods; nothing without a projection.
    ///
    /// # Errors
    /// [`AssessError::Table`] if a built-in table is damaged.
    pub fn weigh(&mut self) -> Result<(), AssessError> {
        if self.projection.is_none() {
            return Ok(());
        }
        let never = AtomicBool::new(false);
        self.forecast = ensemble(&self.inputs, MEMBERS, 1, &never, |_| {});
        if let (Some(outcome), Some(forecast)) = (&mut self.outcome, &self.forecast) {
            *outcome = weighed(outcome, forecast)?;
        }
        Ok(())
    }

    /// Learns from a diary of this heap, the project's own or another: the projection is then that of the member that
    /// stands for the learnt ones, on the fine grid, the forecast theirs, and the outcome judged of the one and weighed by
    /// the other. Nothing changes but [`Assessed::learnt`] where nothing can be learnt.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a built-in table is damaged.
    pub fn learn(
        &mut self,
        project: &Project,
        built_in: &Catalogue,
        diary: &Diary,
        today: f64,
    ) -> Result<(), AssessError> {
        let learner = Learner::on(today);
        let (learning, heap) = learn(&learner, project, built_in, (&self.inputs, diary))?;
        if let Some(heap) = heap {
            self.projection = Some(heap.projection);
            self.outcome = heap.outcome;
            self.forecast = learning.learnt().map(|learnt| learnt.forecast.clone());
        }
        self.learnt = Some(learning);
        Ok(())
    }
}
