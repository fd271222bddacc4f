//! What was learnt, as the window follows it: the inputs that are projected, the band, the forecast.
//!
//! In: a [`Learnt`] with the inputs it belongs to. Out: [`Following`]: which inputs to project for any state of the heap.
//!
//! Where the plan is changed, what was learnt of the heap still holds: the same deviates are laid over the new inputs, so
//! that the curve does not jump back to what nobody believes any more. The band waits for the next learning.
//!
//! Not here: learning (`jobs::learning`), words (`text`).
//!
//! Tested by: `tests/window/diary_learnt.rs`.

use std::sync::Arc;

use crate::forecast::learn::{Learnt, NotLearnt};
use crate::forecast::{Band, Draws, Forecast, Inputs, Series, WIDTHS};

use crate::window::piles::diary_choices::Followed;

/// What was learnt last.
#[derive(Debug, Clone)]
pub struct LearntShown {
    /// The inputs it was learnt of.
    pub of: Arc<Inputs>,
    /// All of it.
    pub learnt: Arc<Learnt>,
    /// Its forecast.
    pub forecast: Arc<Forecast>,
    /// The band of the centre that knew no reading.
    pub prior: Band,
}

/// Whether and what of it is followed.
#[derive(Debug, Clone, Default)]
pub struct Following {
    /// What was learnt last; `None`: nothing yet.
    pub learnt: Option<LearntShown>,
    /// Why nothing was learnt last; `None` where something was.
    pub why_not: Option<NotLearnt>,
    /// Whether something is being learnt.
    pub busy: bool,
    /// What the person wants.
    wanted: Followed,
    /// Counts up whenever other inputs are to be projected for the same heap.
    turns: u64,
    /// The learnt inputs for the newest heap.
    laid_over: Option<(Arc<Inputs>, Arc<Inputs>)>,
}

impl Following {
    /// What the person wants to be followed.
    pub fn want(&mut self, wanted: Followed) {
        if self.wanted != wanted {
            self.wanted = wanted;
            self.turn();
        }
    }

    /// Takes what was learnt.
    pub fn take(&mut self, learnt: Learnt, of: Arc<Inputs>) {
        let learnt = Arc::new(learnt);
        self.learnt = Some(LearntShown {
            of,
            forecast: Arc::new(learnt.forecast.clone()),
            prior: learnt.prior.band(Series::Centre).clone(),
            learnt,
        });
        self.why_not = None;
        self.turn();
    }

    /// Lets go what was learnt; `why` nothing was.
    pub fn drop_learnt(&mut self, why: Option<NotLearnt>) {
        self.why_not = why;
        if self.learnt.take().is_some() {
            self.turn();
        }
    }

    fn turn(&mut self) {
        self.turns += 1;
        self.laid_over = None;
    }

    /// Counts up whenever other inputs are to be projected for the same heap.
    pub fn turns(&self) -> u64 {
        self.turns
    }

    /// What was learnt, if it is followed.
    pub fn followed(&self) -> Option<&LearntShown> {
        let follows = self.wanted == Followed::Learnt;
        self.learnt.as_ref().filter(|_| follows)
    }

    /// The same, if it belongs to these inputs to the last number.
    pub fn followed_of(&self, inputs: Option<&Arc<Inputs>>) -> Option<&LearntShown> {
        let inputs = inputs?;
        self.followed().filter(|it| Arc::ptr_eq(&it.of, inputs))
    }

    /// The inputs to be projected for these planned ones.
    pub fn inputs(&mut self, planned: &Arc<Inputs>) -> Arc<Inputs> {
        let Some(deviates) = self.followed().map(|shown| shown.learnt.deviates) else {
            return Arc::clone(planned);
        };
        if let Some((of, laid)) = &self.laid_over
            && Arc::ptr_eq(of, planned)
        {
            return Arc::clone(laid);
        }
        let laid = Arc::new(Draws::new(planned, &WIDTHS, 0).at(&deviates));
        self.laid_over = Some((Arc::clone(planned), Arc::clone(&laid)));
        laid
    }
}
