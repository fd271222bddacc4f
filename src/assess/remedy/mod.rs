//! What is wrong with a heap, and the smallest cure: causes tried one by one, cures simulated in pairs.
//!
//! In: a [`Question`]: a mix, a heap, symptoms, readings, what a diary says and taught. Out: a [`Diagnosis`], at once from the heap's own numbers
//! ([`Question::at_once`]), then step by step from the simulation ([`Question::answer`]).
//!
//! Chapter: `diagnosis` is the question and its answer, `mend` takes one cause away, `counter` measures what that gains,
//! `cure` finds the smallest step against a cause, `step` does it, `offer` is a cure, `prepared` puts cures together and
//! runs them, `sift` keeps those that are worth offering, `rough` builds a heap of which there is no recipe.
//!
//! A heap that stands is asked about as it was learnt: causes are weighed and cures simulated from the first open day on;
//! what lies behind stays. `diary_says` reads the last readings, `learnt_heap` holds what all of them taught, `about` asks
//! of a whole project.
//!
//! Not here: symptoms, causes and their order (`outcome::complaint`), words (`text::complaint`).
//!
//! Tested by: `tests/science/complaint.rs`, `tests/science/complaint_cures.rs`.

mod about;
mod counter;
mod cure;
mod diagnosis;
mod diary_says;
mod learnt_heap;
mod mend;
mod offer;
mod prepared;
mod rough;
mod sift;
mod step;

pub use cure::CAN_L;
pub use diagnosis::{Diagnosis, HeapAsked, Progress, Question};
pub use diary_says::{DiarySays, Found};
pub use learnt_heap::LearntHeap;
pub use offer::{Cure, Overflow, Relief};
pub use prepared::CURE_PAIRS;
pub use rough::{Built, Mostly, Rough, Size, Stands};
pub use step::{Origin, Step};

use std::sync::atomic::{AtomicBool, Ordering};

use crate::heap::Projection;
use crate::outcome::complaint::Goal;

use super::error::AssessError;
use counter::{Counterfactuals, counterfactuals, shortened};
use mend::{Stuff, wet};
use prepared::Prepared;

impl Question {
    /// The answer that needs no simulation: causes by the heap's own numbers.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a table is damaged.
    pub fn at_once(&self, projection: Option<&Projection>) -> Result<Diagnosis, AssessError> {
        Ok(Prepared::of(self)?.ranked(projection, &[], Progress::Read))
    }

    /// The whole answer; `on_news` hears of the causes once they are tried, and of every cure. `None` if `stop` called
    /// it off.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a table is damaged.
    pub fn answer(
        &self,
        stop: &AtomicBool,
        mut on_news: impl FnMut(&Diagnosis),
    ) -> Result<Option<Diagnosis>, AssessError> {
        let prepared = Prepared::of(self)?;
        let mut planned = shortened(&prepared.resolved.inputs(&self.heap), self.from_day);
        if let Some(moisture) = self.wetted_to() {
            wet(&mut planned, moisture);
        }
        let inputs = self.as_learnt(planned);
        let stuff = Stuff::of(&self.catalogue, prepared.beside.wet_to);
        let known = match self.known().squeeze {
            Some(_) => counter::Known::ByHand,
            None => counter::Known::ByRecipe,
        };
        let Counterfactuals { as_it_is, tried } = counterfactuals(
            (&inputs, self.from_day),
            &self.symptoms,
            &prepared.facts.faults,
            &stuff,
            known,
            stop,
        );
        if stop.load(Ordering::Relaxed) {
            return Ok(None);
        }
        let mut found = prepared.ranked(as_it_is.as_ref(), &tried, Progress::Curing(0, 0));
        let Some(base) = as_it_is else {
            found.progress = Progress::Done;
            return Ok(Some(found));
        };
        let base = self.open_part(base);
        found.not_shown = self
            .symptoms
            .iter()
            .copied()
            .filter(|it| Goal::of(*it).is_some_and(|goal| !goal.shows(&base)))
            // One that is near enough for mending to tell is explained by that.
            .filter(|it| !tried.iter().any(|one| one.symptom == *it && !one.put_in))
            .collect();
        let proposed = prepared.proposed(&found.ranked);
        let count = proposed.len();
        found.progress = Progress::Curing(0, count);
        on_news(&found);
        for (done, mut cure) in proposed.into_iter().enumerate() {
            prepared.simulate(&mut cure, stop);
            if stop.load(Ordering::Relaxed) {
                return Ok(None);
            }
            if cure.helps() && !sift::gains_less_than_a_part(&cure, &found.cures) {
                found.cures.push(cure);
                let effort = |cure: &Cure| cure.effort(found.numbers.volume_m3);
                found.cures.sort_by(|a, b| effort(a).total_cmp(&effort(b)));
            }
            found.progress = Progress::Curing(done + 1, count);
            on_news(&found);
        }
        sift::drop_misplaced(&mut found.cures, &found.ranked);
        found.progress = Progress::Done;
        Ok(Some(found))
    }
}
