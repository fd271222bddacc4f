//! The stages of a project that changes while it is looked at: the newest of each, and what is out of date.
//!
//! In: a [`Subject`] once a frame; projections, members and outcomes as they come. Out: [`Stages`].
//!
//! The blend follows at once. A projection, a forecast and an outcome stay until the next is there, so that nothing
//! on screen flickers; each says what it belongs to.
//! Not here: who simulates and judges, and where (`window::jobs`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/window/heap_section.rs`, `tests/window/results.rs`.

use std::sync::Arc;

use crate::forecast::{Forecast, Inputs};
use crate::garden::{TestResult, Use};
use crate::heap::Projection;
use crate::mix::balance::Fix;
use crate::mix::{Blend, Gauge};
use crate::outcome::cautions::Caution;
use crate::outcome::{Advice, Outcome};

use super::error::AssessError;
use super::key::Key;
use super::resolved::{Mixed, Resolved};
use super::steps::{PendingJudgement, advice, easiest_fixes, mix_cautions, weighed};
use super::subject::Subject;

/// What is judged of a projection, and what that belongs to.
#[derive(Debug, Default)]
struct Judged {
    /// What is judged or being judged.
    of: Option<(Arc<Projection>, Vec<Use>, Vec<TestResult>)>,
    /// Whether the answer to that is still out.
    pending: bool,
    /// As judged, without likelihoods.
    plain: Option<Arc<Outcome>>,
    /// With the likelihoods of this forecast.
    weighed_by: Option<Arc<Forecast>>,
    outcome: Option<Arc<Outcome>>,
}

/// The newest of each stage.
#[derive(Debug, Default)]
pub struct Stages {
    key: Option<Key>,
    revision: u64,
    problem: Option<AssessError>,
    blend: Option<Blend>,
    fixes: Vec<(Gauge, Fix)>,
    cautions: Vec<Caution>,
    inputs: Option<Arc<Inputs>>,
    projection: Option<Arc<Projection>>,
    projected_of: Option<Arc<Inputs>>,
    advice: Vec<Advice>,
    forecast: Option<Arc<Forecast>>,
    judged: Judged,
}

impl Stages {
    /// Counts up whenever mix, heap or materials are others; 0 before the first.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Why there is no blend or no outcome.
    pub fn problem(&self) -> Option<&AssessError> {
        self.problem.as_ref()
    }

    /// The mix, blended.
    pub fn blend(&self) -> Option<&Blend> {
        self.blend.as_ref()
    }

    /// The easiest change that brings each gauge that is off into its band.
    pub fn fixes(&self) -> &[(Gauge, Fix)] {
        &self.fixes
    }

    /// What to be careful with in the mix.
    pub fn cautions(&self) -> &[Caution] {
        &self.cautions
    }

    /// What a run of the heap needs.
    pub fn inputs(&self) -> Option<&Arc<Inputs>> {
        self.inputs.as_ref()
    }

    /// The newest projection, coarse or fine.
    pub fn projection(&self) -> Option<&Arc<Projection>> {
        self.projection.as_ref()
    }

    /// What to do next.
    pub fn advice(&self) -> &[Advice] {
        &self.advice
    }

    /// The members so far, of the heap that is projected.
    pub fn forecast(&self) -> Option<&Arc<Forecast>> {
        self.forecast.as_ref()
    }

    /// What is judged, with the likelihoods there are; `None` before the first is there.
    pub fn outcome(&self) -> Option<&Arc<Outcome>> {
        self.judged.outcome.as_ref()
    }

    /// Whether the newest projection is still to be judged.
    pub fn is_judging(&self) -> bool {
        self.judged.pending
    }

    /// Whether the newest projection was judged in vain: the judgement broke down.
    pub fn could_not_be_judged(&self) -> bool {
        self.judged.of.is_some() && !self.judged.pending && self.judged.plain.is_none()
    }

    /// Takes a subject: what no longer belongs to it is blended anew. Whether inputs are others than before.
    pub fn renew(&mut self, subject: &Subject<'_>) -> bool {
        let Some(key) = &self.key else {
            return self.resolve(subject);
        };
        if key.has_heap_of(subject) {
            let (of, aimed) = (key.is_of(subject), key.has_aim_of(subject));
            if !of || !aimed {
                if !of {
                    self.renew_cautions(subject);
                }
                if !aimed {
                    self.advise(subject);
                }
                self.key = Some(Key::of(subject));
            }
            return false;
        }
        self.resolve(subject)
    }

    /// Resolves and blends anew.
    fn resolve(&mut self, subject: &Subject<'_>) -> bool {
        self.key = Some(Key::of(subject));
        self.revision += 1;
        (self.problem, self.inputs) = (None, None);
        let resolved = match Resolved::of(subject.mix, subject.heap, subject.catalogue) {
            Ok(resolved) => resolved,
            Err(problem) => {
                *self = Self {
                    key: self.key.take(),
                    revision: self.revision,
                    problem: Some(problem.into()),
                    ..Self::default()
                };
                return true;
            }
        };
        self.inputs = Some(Arc::new(resolved.inputs(subject.heap)));
        self.fixes = easiest_fixes(subject);
        self.take_cautions(mix_cautions(subject, &resolved));
        self.blend = Some(resolved.mixed.blend);
        true
    }

    fn take_cautions(&mut self, found: Result<Vec<Caution>, AssessError>) {
        match found {
            Ok(cautions) => self.cautions = cautions,
            Err(problem) => self.problem = Some(problem),
        }
    }

    fn renew_cautions(&mut self, subject: &Subject<'_>) {
        if let Ok(resolved) = Resolved::of(subject.mix, subject.heap, subject.catalogue) {
            self.take_cautions(mix_cautions(subject, &resolved));
        }
    }

    /// Takes a projection of the newest inputs, of some shortly before them or of what a diary taught of them; `None` where
    /// nothing rots. Advice is given anew, so that it says the same numbers as the curve.
    pub fn take_projection(
        &mut self,
        projection: Option<Arc<Projection>>,
        inputs: &Arc<Inputs>,
        subject: &Subject<'_>,
    ) {
        self.projection = projection;
        self.projected_of = Some(Arc::clone(inputs));
        self.forecast = None;
        self.advise(subject);
        if self.projection.is_none() {
            self.judged = Judged::default();
        }
    }

    fn advise(&mut self, subject: &Subject<'_>) {
        let mixed = Mixed::of(subject.mix, subject.catalogue);
        if let Ok(mixed) = mixed {
            self.advice = advice(subject, &mixed, self.projection.as_deref());
        }
    }

    /// Takes the members so far.
    pub fn take_forecast(&mut self, forecast: Arc<Forecast>) {
        self.forecast = Some(forecast);
    }

    /// The judgement that is due, if projection, uses or field tests are others than those judged last; it is then taken as
    /// begun, and its answer belongs to [`Stages::take_outcome`].
    pub fn judgement_due(&mut self, subject: &Subject<'_>) -> Option<PendingJudgement> {
        let projection = self.projection.as_ref()?;
        let inputs = self.projected_of.as_ref()?;
        let of = &self.judged.of;
        if of.as_ref().is_some_and(|(judged, uses, tests)| {
            Arc::ptr_eq(judged, projection) && uses == subject.uses && tests == subject.tests
        }) {
            return None;
        }
        self.judged.of = Some((
            Arc::clone(projection),
            subject.uses.to_vec(),
            subject.tests.to_vec(),
        ));
        self.judged.pending = true;
        Some(PendingJudgement {
            key: Key::of(subject),
            projection: Arc::clone(projection),
            inputs: Arc::clone(inputs),
            advice: self.advice.clone(),
        })
    }

    /// Takes the answer to the last judgement; without one nothing is shown, since what was is not true any more.
    pub fn take_outcome(&mut self, outcome: Option<Outcome>) {
        self.judged.pending = false;
        self.judged.plain = outcome.map(Arc::new);
        self.judged.outcome.clone_from(&self.judged.plain);
        self.judged.weighed_by = None;
    }

    /// Gives the outcome the likelihoods of the members so far. They belong to what is being judged, so nothing is
    /// done while that is pending.
    ///
    /// # Errors
    /// [`AssessError::Table`] if a built-in table is damaged.
    pub fn weigh(&mut self) -> Result<(), AssessError> {
        let judged = &mut self.judged;
        let same = match (&judged.weighed_by, &self.forecast) {
            (Some(by), Some(newest)) => Arc::ptr_eq(by, newest),
            (None, None) => true,
            _ => false,
        };
        if same || judged.pending {
            return Ok(());
        }
        judged.weighed_by.clone_from(&self.forecast);
        judged.outcome = match (&judged.plain, &self.forecast) {
            (Some(plain), Some(forecast)) => Some(Arc::new(weighed(plain, forecast)?)),
            (plain, _) => plain.clone(),
        };
        Ok(())
    }

    /// Whether a key belongs to the same mix, heap and materials as the newest.
    pub fn is_newest(&self, key: &Key) -> bool {
        let newest = self.key.as_ref();
        newest.is_some_and(|newest| newest.has_heap_of(&key.subject()))
    }

    /// The key of the newest subject.
    pub fn key(&self) -> Option<&Key> {
        self.key.as_ref()
    }

    /// Forgets what it belongs to, so that everything is made anew.
    pub fn forget(&mut self) {
        self.key = None;
    }
}
