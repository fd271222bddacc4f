//! Everything computed of the open recipe, as the window shows it.
//!
//! In: a project, news of the jobs. Out: [`Shown`]: the stages of the calculation and what is drawn of them; beside
//! them the ghost, a balance, a plan, a trial.
//!
//! Not here: what is saved (`document`), what is chosen (`choices`), the calculation (`assess`), threads (`jobs`).
//!
//! Tested by: `tests/window/mix.rs`, `tests/window/heap_section.rs`, `tests/window/numbers.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::assess::remedy::DiarySays;
use crate::assess::{Stages, Subject};
use crate::forecast::Inputs;
use crate::heap::{Projection, Resolution};
use crate::mix::Gauges;
use crate::outcome::fed::FedOrSaved;
use crate::outcome::turns::TurnRow;

use crate::window::jobs::plan_search::Stage;
use crate::window::jobs::projecting::HeapNews;
use crate::window::piles::complaint_choices::ComplaintShown;
use crate::window::piles::curve::{Curve, MovingCurve};
use crate::window::piles::diary_shown::DiaryShown;
use crate::window::piles::import_choices::ImportShown;
use crate::window::piles::learnt_shown::Following;
use crate::window::piles::preview::Preview;
use crate::window::piles::recipe_cards::{Cards, ComparedShown};
use crate::window::piles::trial_shown::TrialShown;

/// A mix kept to compare against.
#[derive(Debug, Clone, PartialEq)]
pub struct Pinned {
    /// Its gauges.
    pub gauges: Gauges,
    /// Its heat.
    pub curve: Curve,
}

/// Everything computed.
#[derive(Debug, Default)]
pub struct Shown {
    /// Blend, projection, forecast, outcome and the like, each the newest there is.
    pub stages: Stages,
    /// The projected heat, for drawing.
    pub curve: Curve,
    /// What each further turning buys, once it has been counted.
    pub turnings: Vec<TurnRow>,
    /// Fed as planned and built at once, once both are simulated; `None` where nothing is fed.
    pub fed: Option<FedOrSaved>,
    /// The diary beside the projection.
    pub diary: DiaryShown,
    /// What was learnt of it, and whether that is followed.
    pub following: Following,
    /// The ghost.
    pub pinned: Option<Pinned>,
    /// A balance that waits to be taken or left.
    pub preview: Option<Preview>,
    /// How far the search for a plan is, while one is wished for.
    pub plan: Stage,
    /// What the diary says last of the heap, while something is asked of it.
    pub diary_says: DiarySays,
    /// What was found to be wrong, while it is asked.
    pub complaint: ComplaintShown,
    /// What was found in a logger's file, while one is looked at.
    pub import: ImportShown,
    /// The trial last run.
    pub trial: Option<TrialShown>,
    /// Trials run before anyone asked for them, for later.
    pub ahead: Vec<TrialShown>,
    /// What is known of kept recipes, for their cards.
    pub cards: Cards,
    /// Two recipes side by side, while they are compared.
    pub compared: ComparedShown,
    /// The curve of the Class view on its way to where it belongs.
    pub moving: Option<MovingCurve>,
    /// Whether the heap is left to the background.
    pub behind: bool,
    /// Whether nothing has changed for a while, so that slow work is worth while.
    pub at_rest: bool,
}

impl Shown {
    /// Brings everything up to date with a project, unless it is.
    ///
    /// The mix is calculated at once. So is the heap, unless it is left to the background; then the last curve and
    /// advice stay until its answer is there.
    pub fn refresh(&mut self, subject: &Subject<'_>) {
        if !self.stages.renew(subject) {
            return;
        }
        self.turnings.clear();
        self.fed = None;
        let Some(inputs) = self.stages.inputs().cloned() else {
            self.curve = Curve::default();
            return;
        };
        if !self.behind {
            let never = AtomicBool::new(false);
            let projection = inputs.simulate(&Resolution::coarse(), &never);
            self.take_projection(projection.map(Arc::new), &inputs, subject);
        }
    }

    /// Takes what the background has found.
    pub fn refine(&mut self, news: HeapNews, subject: &Subject<'_>) {
        match news {
            // What was learnt is the better forecast.
            HeapNews::Forecast(_) if self.follows_newest() => {}
            HeapNews::Forecast(forecast) => {
                self.curve.take_forecast(&forecast);
                self.stages.take_forecast(forecast);
            }
            HeapNews::Projected(projection, inputs) => {
                self.take_projection(projection.map(Arc::from), &inputs, subject);
            }
            HeapNews::Failed(_) => {}
        }
    }

    fn take_projection(
        &mut self,
        projection: Option<Arc<Projection>>,
        inputs: &Arc<Inputs>,
        subject: &Subject<'_>,
    ) {
        let drawn = projection.as_deref();
        self.curve = drawn
            .map(|projection| Curve::of(projection, &inputs.heap))
            .unwrap_or_default();
        self.stages.take_projection(projection, inputs, subject);
        let shown = self.following.followed_of(self.stages.inputs());
        if let Some(shown) = shown.cloned().filter(|_| self.curve.peak.is_some()) {
            self.curve.take_learnt(&shown.forecast, &shown.prior);
            self.stages.take_forecast(shown.forecast);
        }
    }

    /// Whether what was learnt is followed and belongs to the heap as it is.
    pub fn follows_newest(&self) -> bool {
        self.following.followed_of(self.stages.inputs()).is_some()
    }

    /// The inputs that are projected: what was learnt laid over the planned ones, where that is followed.
    pub fn inputs(&mut self) -> Option<Arc<Inputs>> {
        let planned = self.stages.inputs()?;
        Some(self.following.inputs(planned))
    }

    /// Whether the trial last run belongs to a recipe that is another by now.
    pub fn is_trial_stale(&self) -> bool {
        let trial = self.trial.as_ref();
        trial.is_some_and(|trial| !self.stages.is_newest(&trial.of))
    }

    /// The peak that was seen last, whole degC; a lukewarm one where there was none.
    pub fn last_peak_c(&self) -> f64 {
        self.curve.peak.map_or(50.0, |(peak_c, _)| peak_c).round()
    }

    /// The present state as something to compare against, if there is anything to see.
    pub fn to_pin(&self) -> Option<Pinned> {
        Some(Pinned {
            gauges: self.stages.blend()?.gauges?,
            // A band behind the live one would say more than it explains.
            curve: Curve {
                band: None,
                prior: None,
                ..self.curve.clone()
            },
        })
    }
}
