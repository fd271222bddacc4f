//! The judgements behind the Spread view: reckoned when it is looked at, and only when something has changed.
//!
//! In: the projection that is shown, its mix and heap, the members of the ensemble so far. Out: the outcome, each
//! line with its likelihood once there are members.
//!
//! Not here: the judging (`outcome`), the likelihoods (`forecast`), drawing (`outcome_list`).
//!
//! Held against: `tests/window/spread.rs`.

use std::sync::Arc;

use crate::document::Project;
use crate::forecast::{Forecast, weigh};
use crate::garden::Use;
use crate::heap::{Kinetics, Projection};
use crate::material::Catalogue;
use crate::mix::Blend;
use crate::outcome::cautions::{Caution, Place, Situation, that_apply};
use crate::outcome::{Advice, Case, Outcome, shared};
use crate::quantity::UnitSystem;

/// What is judged.
pub(super) struct Subject<'a> {
    pub(super) project: &'a Project,
    pub(super) catalogue: &'a Catalogue,
    pub(super) projection: &'a Arc<Projection>,
    pub(super) blend: &'a Blend,
    pub(super) advice: &'a [Advice],
    pub(super) forecast: Option<&'a Arc<Forecast>>,
    pub(super) units: UnitSystem,
}

/// The outcome with what it belongs to.
#[derive(Debug, Clone, Default)]
pub struct Judging {
    /// As judged, without likelihoods.
    plain: Option<Outcome>,
    /// With the likelihoods there are.
    outcome: Option<Outcome>,
    of: Option<(Arc<Projection>, Vec<Use>, UnitSystem)>,
    weighed_by: Option<Arc<Forecast>>,
}

impl Judging {
    /// What is judged; `None` before it is asked for or where there is nothing to judge.
    pub fn outcome(&self) -> Option<&Outcome> {
        self.outcome.as_ref()
    }

    /// Judges anew where projection, uses or units are others, weighs anew where members have come.
    pub(super) fn refresh(&mut self, subject: &Subject<'_>) {
        let uses = &subject.project.uses;
        let fresh = self.of.as_ref().is_some_and(|(projection, of, units)| {
            Arc::ptr_eq(projection, subject.projection) && of == uses && *units == subject.units
        });
        if !fresh {
            self.plain = judged(subject);
            self.outcome.clone_from(&self.plain);
            self.weighed_by = None;
            let projection = Arc::clone(subject.projection);
            self.of = Some((projection, uses.clone(), subject.units));
        }
        let same = match (&self.weighed_by, subject.forecast) {
            (Some(by), Some(now)) => Arc::ptr_eq(by, now),
            (None, None) => true,
            _ => false,
        };
        if same {
            return;
        }
        self.weighed_by = subject.forecast.cloned();
        self.outcome.clone_from(&self.plain);
        if let (Some(outcome), Some(forecast), Some(facts)) =
            (&mut self.outcome, subject.forecast, shared())
        {
            weigh(outcome, forecast, facts);
        }
    }
}

fn judged(subject: &Subject<'_>) -> Option<Outcome> {
    let parts = subject.project.all_parts(subject.catalogue).ok()?;
    let case = Case {
        projection: subject.projection,
        heap: &subject.project.heap,
        totals: &subject.blend.totals,
        parts: &parts,
        advice: subject.advice,
        uses: &subject.project.uses,
        units: subject.units,
        kinetics: &Kinetics::default(),
    };
    Outcome::of(&case, shared()?)
}

/// What to be careful with in the mix itself.
pub(super) fn mix_cautions(
    project: &Project,
    catalogue: &Catalogue,
    blend: &Blend,
    projection: Option<&Projection>,
) -> Vec<Caution> {
    let (Ok(parts), Some(facts)) = (project.all_parts(catalogue), shared()) else {
        return Vec::new();
    };
    let now = Situation {
        parts: &parts,
        totals: &blend.totals,
        heap: &project.heap,
        projection,
        uses: &project.uses,
    };
    that_apply(&facts.cautions, &now)
        .into_iter()
        .filter(|caution| matches!(caution.place, Place::Material | Place::Mix))
        .cloned()
        .collect()
}
