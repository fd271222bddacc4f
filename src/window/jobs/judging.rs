//! The judgements behind the Results view: calculated while it is looked at, only when something has changed, and in
//! the background, since a fine run takes longer to judge than a frame lasts.
//!
//! In: the projection that is shown, its mix and heap, the members of the ensemble so far. Out: the outcome, each
//! line with its likelihood once there are members. The last one stays until the next is there.
//!
//! Not here: the judging (`outcome`), the likelihoods (`forecast`), drawing (`outcome_list`).
//!
//! Tested by: `tests/window/results.rs`.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use crate::document::Project;
use crate::forecast::{Forecast, weigh};
use crate::garden::Use;
use crate::heap::{Kinetics, Projection};
use crate::material::Catalogue;
use crate::mix::Blend;
use crate::outcome::cautions::{Caution, CautionPlace, Situation, that_apply};
use crate::outcome::{Advice, Case, Outcome, shared};

/// Called from the thread when an outcome is there.
pub(in crate::window) type Wake = Box<dyn Fn() + Send>;

/// What is judged, and what is known besides.
pub(in crate::window) struct Subject<'a> {
    pub(in crate::window) project: &'a Project,
    pub(in crate::window) catalogue: &'a Catalogue,
    pub(in crate::window) projection: &'a Arc<Projection>,
    pub(in crate::window) blend: &'a Blend,
    pub(in crate::window) advice: &'a [Advice],
    pub(in crate::window) forecast: Option<&'a Arc<Forecast>>,
}

/// The outcome with what it belongs to.
#[derive(Debug, Default)]
pub struct Judging {
    /// As judged, without likelihoods.
    plain: Option<Outcome>,
    /// With the likelihoods there are.
    outcome: Option<Outcome>,
    of: Option<(Arc<Projection>, Vec<Use>)>,
    weighed_by: Option<Arc<Forecast>>,
    /// Where the thread's answer comes.
    answer: Option<Receiver<Option<Outcome>>>,
}

impl Judging {
    /// What is judged; `None` before the first is there or where there is nothing to judge.
    pub fn outcome(&self) -> Option<&Outcome> {
        self.outcome.as_ref()
    }

    /// Judges anew where projection or uses are others, weighs anew where members have come.
    ///
    /// In the background where there is a `wake`, else at once.
    pub(in crate::window) fn refresh(&mut self, subject: &Subject<'_>, wake: Option<Wake>) {
        self.take_answer();
        let uses = &subject.project.uses;
        let fresh = self.of.as_ref().is_some_and(|(projection, of)| {
            Arc::ptr_eq(projection, subject.projection) && of == uses
        });
        if !fresh {
            let projection = Arc::clone(subject.projection);
            self.of = Some((projection, uses.clone()));
            self.answer = wake.and_then(|wake| start(Work::of(subject), wake));
            if self.answer.is_none() {
                self.take(Work::of(subject).judged());
            }
        }
        // Likelihoods belong to what is being judged, not to what is still shown.
        if self.answer.is_none() {
            self.weigh(subject.forecast);
        }
    }

    fn take_answer(&mut self) {
        match self.answer.as_ref().map(Receiver::try_recv) {
            Some(Ok(outcome)) => {
                self.answer = None;
                self.take(outcome);
            }
            // The thread broke down: what was shown is not true any more.
            Some(Err(TryRecvError::Disconnected)) => {
                self.answer = None;
                self.take(None);
            }
            Some(Err(TryRecvError::Empty)) | None => {}
        }
    }

    fn take(&mut self, outcome: Option<Outcome>) {
        self.outcome.clone_from(&outcome);
        self.plain = outcome;
        self.weighed_by = None;
    }

    fn weigh(&mut self, forecast: Option<&Arc<Forecast>>) {
        let same = match (&self.weighed_by, forecast) {
            (Some(by), Some(now)) => Arc::ptr_eq(by, now),
            (None, None) => true,
            _ => false,
        };
        if same {
            return;
        }
        self.weighed_by = forecast.cloned();
        self.outcome.clone_from(&self.plain);
        if let (Some(outcome), Some(forecast), Some(facts)) =
            (&mut self.outcome, forecast, shared())
        {
            weigh(outcome, forecast, facts);
        }
    }
}

/// Judges on a thread of its own; `None` where the system has none to give.
fn start(work: Work, wake: Wake) -> Option<Receiver<Option<Outcome>>> {
    let (sender, receiver) = channel();
    let thread = std::thread::Builder::new().name("judging".to_owned());
    let judge = move || {
        // Nobody listens any more when the receiver is gone; there is nothing to do about it.
        let _ = sender.send(work.judged());
        wake();
    };
    thread.spawn(judge).ok()?;
    Some(receiver)
}

/// What a thread needs of its own to judge.
struct Work {
    project: Project,
    catalogue: Catalogue,
    projection: Arc<Projection>,
    blend: Blend,
    advice: Vec<Advice>,
}

impl Work {
    fn of(subject: &Subject<'_>) -> Self {
        Self {
            project: subject.project.clone(),
            catalogue: subject.catalogue.clone(),
            projection: Arc::clone(subject.projection),
            blend: subject.blend.clone(),
            advice: subject.advice.to_vec(),
        }
    }

    fn judged(&self) -> Option<Outcome> {
        let parts = self.project.all_parts(&self.catalogue).ok()?;
        let case = Case {
            projection: &self.projection,
            heap: &self.project.heap,
            totals: &self.blend.totals,
            parts: &parts,
            advice: &self.advice,
            uses: &self.project.uses,
            kinetics: &Kinetics::default(),
        };
        Outcome::of(&case, shared()?)
    }
}

/// What to be careful with in the mix itself; what only a projection can tell is left to the outcome, so that
/// this costs nothing while something is dragged.
pub(in crate::window) fn mix_cautions(
    project: &Project,
    catalogue: &Catalogue,
    blend: &Blend,
) -> Vec<Caution> {
    let (Ok(parts), Some(facts)) = (project.all_parts(catalogue), shared()) else {
        return Vec::new();
    };
    let now = Situation {
        parts: &parts,
        totals: &blend.totals,
        heap: &project.heap,
        projection: None,
        uses: &project.uses,
    };
    that_apply(&facts.cautions, &now)
        .into_iter()
        .filter(|caution| matches!(caution.place, CautionPlace::Material | CautionPlace::Mix))
        .cloned()
        .collect()
}
