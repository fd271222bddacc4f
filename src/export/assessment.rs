//! A project with everything that is calculated of it, and the names to say it with.
//!
//! In: a project, the built-in catalogue. Out: [`Assessment`], which reports, handout and JSON arrange.
//!
//! Not here: the calculation (`assess`), words (`text`).
//!
//! Tested by: `tests/document/export.rs`, `tests/document/assess.rs`.

use crate::assess::{AssessError, Assessed};
use crate::document::{CheckError, Project};
use crate::forecast::Forecast;
use crate::heap::Projection;
use crate::material::Catalogue;
use crate::mix::Blend;
use crate::outcome::Outcome;
use crate::outcome::cautions::{Caution, CautionPlace};
use crate::quantity::UnitSystem;
use crate::text::heap::remark;
use crate::text::mix::ingredient_name;
use crate::text::outcome::in_units;

/// Something to mind, and who says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedCaution {
    /// One line.
    pub line: String,
    /// Where it is from; may be empty.
    pub source: String,
}

/// A project with everything that is calculated from it, and the names to say it with.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment<'a> {
    /// The project.
    pub project: &'a Project,
    /// Name of each ingredient's material, in order.
    pub names: Vec<String>,
    /// The catalogue with the project's own materials laid over it.
    pub catalogue: Catalogue,
    /// Loose density of each ingredient's material, kg/m3, in order.
    pub densities_kg_per_m3: Vec<f64>,
    /// The mix, blended.
    pub blend: Blend,
    /// What would become of the heap; `None` if there is nothing to rot or far too little or too much.
    pub projection: Option<Projection>,
    /// How sure that is; `None` in [`Assessment::of`].
    pub forecast: Option<Forecast>,
    /// What is judged of that; `None` without a projection.
    pub outcome: Option<Outcome>,
}

impl<'a> Assessment<'a> {
    /// Calculates everything about a project but likelihoods.
    ///
    /// # Errors
    /// [`AssessError`] if a material is unknown, a number cannot be or a built-in table is damaged.
    pub fn of(project: &'a Project, catalogue: &Catalogue) -> Result<Self, AssessError> {
        Self::view(project, catalogue, Assessed::of(project, catalogue)?)
    }

    /// The same with the forecast and all likelihoods.
    ///
    /// # Errors
    /// As [`Assessment::of`].
    pub fn whole(project: &'a Project, catalogue: &Catalogue) -> Result<Self, AssessError> {
        let mut assessed = Assessed::of(project, catalogue)?;
        assessed.weigh()?;
        Self::view(project, catalogue, assessed)
    }

    /// The same of the heap as its diary teaches it; as planned where nothing can be learnt.
    ///
    /// # Errors
    /// As [`Assessment::of`].
    pub fn as_learnt(project: &'a Project, catalogue: &Catalogue) -> Result<Self, AssessError> {
        let mut assessed = Assessed::of(project, catalogue)?;
        if project.diary.teaches() {
            // Nothing here tells when to measure next.
            assessed.learn(project, catalogue, &project.diary, 0.0)?;
        }
        Self::view(project, catalogue, assessed)
    }

    /// What was calculated, with names to say it.
    fn view(
        project: &'a Project,
        catalogue: &Catalogue,
        assessed: Assessed,
    ) -> Result<Self, AssessError> {
        let known = catalogue.with_own(&project.own_materials);
        let catalogue = known.map_err(CheckError::OwnMaterial)?;
        let rows = project.mix.ingredients.iter();
        Ok(Self {
            project,
            names: rows.map(|row| ingredient_name(row, &catalogue)).collect(),
            catalogue,
            densities_kg_per_m3: assessed.densities_kg_per_m3,
            blend: assessed.blend,
            projection: assessed.projection,
            forecast: assessed.forecast,
            outcome: assessed.outcome,
        })
    }

    /// Cautions that apply, for the handout, those of the materials first: they are what a reader can still act on.
    pub fn cautions_in(&self, units: UnitSystem) -> Vec<PrintedCaution> {
        let cautions = self.outcome.iter().flat_map(|outcome| &outcome.cautions);
        let mut cautions: Vec<&Caution> = cautions.collect();
        cautions.sort_by_key(|caution| match caution.place {
            CautionPlace::Material => 0,
            CautionPlace::Mix => 1,
            CautionPlace::Heap => 2,
            CautionPlace::Use => 3,
        });
        cautions
            .into_iter()
            .map(|caution| PrintedCaution {
                line: in_units(&caution.text, units).into_owned(),
                source: caution.source.clone(),
            })
            .collect()
    }

    /// Why there are no gauges or no projection, in one sentence; `None` if there are both.
    pub fn remark(&self) -> Option<&'static str> {
        remark(&self.project.mix, &self.blend, self.projection.as_ref())
    }
}
