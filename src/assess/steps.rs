//! What is made of a blend and of a projection: advice, safety notes, judgements.
//!
//! In: a [`Subject`] with its parts and blend, a projection, a forecast. Out: advice, cautions, an [`Outcome`].
//!
//! The same functions serve the window, which calls them as answers come, and [`super::Assessed`], which calls them
//! one after another.
//! Not here: when they are due (`stages`), the judging itself (`outcome`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/window/results.rs`.

use std::sync::Arc;

use crate::forecast::{Forecast, Inputs, weigh};
use crate::garden::Aim;
use crate::heap::{Kinetics, Occurrence, Operation, Projection};
use crate::mix::Gauge;
use crate::mix::balance::{Fix, Goal, fixes};
use crate::outcome::advice::{AimCase, Effort, advise_within, aim_ahead};
use crate::outcome::cautions::{Caution, CautionPlace, Situation, that_apply};
use crate::outcome::finish::finished_day;
use crate::outcome::turns::seeds_treated;
use crate::outcome::{Advice, Case, Outcome, shared};

use super::error::AssessError;
use super::key::Key;
use super::resolved::{Mixed, Resolved};
use super::subject::Subject;

/// Most pieces of advice at a time.
const MOST_ADVICE: usize = 3;

/// What to do next, by the blend and, where there is one, the projection.
pub(super) fn advice(
    subject: &Subject<'_>,
    mixed: &Mixed<'_>,
    projection: Option<&Projection>,
) -> Vec<Advice> {
    let effort = match subject.aim {
        Some(Aim::LeastWork) => Effort::Least,
        _ => Effort::Any,
    };
    let of = (subject.mix, mixed.parts.as_slice(), &mixed.blend);
    let mut all = advise_within(effort, of, subject.room_m3(), projection);
    let ahead = projection.and_then(|projection| on_aim(subject, mixed, projection));
    if let Some(ahead) = ahead {
        // What is wanted comes first; where the heat is told in it, it is not told again.
        if ahead.tells_peak() {
            all.retain(|advice| !advice.tells_peak());
        }
        all.insert(0, ahead);
        all.truncate(MOST_ADVICE);
    }
    all
}

/// What the heap does for the aim, if there is one.
fn on_aim(subject: &Subject<'_>, mixed: &Mixed<'_>, projection: &Projection) -> Option<Advice> {
    let aim = subject.aim?;
    let facts = shared().ok()?;
    let dated = matches!(aim, Aim::FinishedBy { .. } | Aim::LeastWork);
    let finished = || finished_day(projection, &facts.finish, &Kinetics::default());
    let seeds = || seeds_treated(projection, &facts.kill);
    let turned = |due: &&Occurrence<'_>| matches!(due.operation, Operation::Turn { .. });
    aim_ahead(&AimCase {
        aim,
        totals: &mixed.blend.totals,
        room_m3: subject.room_m3(),
        summary: projection.summary,
        start_day_of_year: subject.heap.start_day_of_year,
        days: subject.heap.days,
        finished_day: dated.then(finished).flatten(),
        seeds_share: match aim {
            Aim::SeedsKilled => seeds().unwrap_or(0.0),
            _ => 0.0,
        },
        turnings: subject.heap.plan.in_order().iter().filter(turned).count(),
    })
}

/// The easiest change for every gauge that is off; a gauge without one has no entry.
pub(super) fn easiest_fixes(subject: &Subject<'_>) -> Vec<(Gauge, Fix)> {
    let goal = Goal::of_room(subject.room_m3());
    let easiest = |gauge: Gauge| {
        let found = fixes(subject.mix, subject.catalogue, &goal, gauge).ok()?;
        Some((gauge, found.into_iter().next()?))
    };
    Gauge::ALL.into_iter().filter_map(easiest).collect()
}

/// What to be careful with in the mix itself; what only a projection can tell is left to the outcome, so that this
/// costs nothing while something is dragged.
///
/// # Errors
/// [`AssessError::Table`] if a built-in table is damaged.
pub(super) fn mix_cautions(
    subject: &Subject<'_>,
    resolved: &Resolved<'_>,
) -> Result<Vec<Caution>, AssessError> {
    let facts = shared().map_err(AssessError::Table)?;
    let now = Situation {
        parts: &resolved.all_parts(),
        totals: &resolved.mixed.blend.totals,
        heap: subject.heap,
        projection: None,
        uses: subject.uses,
    };
    let all = that_apply(&facts.cautions, &now).into_iter();
    let of_mix =
        all.filter(|caution| matches!(caution.place, CautionPlace::Material | CautionPlace::Mix));
    Ok(of_mix.cloned().collect())
}

/// The outcome of a projection of these inputs, the recipe's own or as a diary taught them, without likelihoods; `None` if
/// the projection holds no records.
///
/// # Errors
/// [`AssessError::Table`] if a built-in table is damaged.
pub(super) fn judged(
    subject: &Subject<'_>,
    resolved: &Resolved<'_>,
    (projection, inputs): (&Projection, &Inputs),
    advice: &[Advice],
) -> Result<Option<Outcome>, AssessError> {
    let case = Case {
        projection,
        heap: &inputs.heap,
        totals: &inputs.totals,
        parts: &resolved.all_parts(),
        advice,
        uses: subject.uses,
        kinetics: &inputs.kinetics,
        tests: subject.tests,
    };
    Ok(Outcome::of(&case, shared().map_err(AssessError::Table)?))
}

/// The same outcome with the likelihoods and ranges of a forecast.
///
/// # Errors
/// [`AssessError::Table`] if a built-in table is damaged.
pub(super) fn weighed(plain: &Outcome, forecast: &Forecast) -> Result<Outcome, AssessError> {
    let mut outcome = plain.clone();
    weigh(
        &mut outcome,
        forecast,
        shared().map_err(AssessError::Table)?,
    );
    Ok(outcome)
}

/// A judgement to be made, with everything it needs, so that it can be made on another thread.
#[derive(Debug, Clone)]
pub struct PendingJudgement {
    pub(super) key: Key,
    pub(super) projection: Arc<Projection>,
    pub(super) inputs: Arc<Inputs>,
    pub(super) advice: Vec<Advice>,
}

impl PendingJudgement {
    /// Makes it; `None` if the projection holds no records.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a built-in table is damaged.
    pub fn outcome(&self) -> Result<Option<Outcome>, AssessError> {
        let subject = self.key.subject();
        let resolved = Resolved::of(subject.mix, subject.heap, subject.catalogue)?;
        let of = (self.projection.as_ref(), self.inputs.as_ref());
        judged(&subject, &resolved, of, &self.advice)
    }
}
