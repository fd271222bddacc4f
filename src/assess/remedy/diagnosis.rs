//! What is asked of a heap, and what is answered.
//!
//! In: a mix, a heap, symptoms, readings; causes in order, cures with what came of them. Out: [`Question`],
//! [`Diagnosis`], which of its cures to begin with, what to beware of.
//!
//! Not here: finding it (`mod`, `prepared`).
//!
//! Tested by: `tests/science/complaint.rs`, `tests/science/complaint_cures.rs`.

use std::sync::Arc;

use crate::forecast::Inputs;
use crate::heap::{Heap, Projection};
use crate::material::Catalogue;
use crate::mix::Mix;
use crate::outcome::Facts;
use crate::outcome::complaint::{Cause, LEAST_WEIGHT, Numbers, Ranked, Readings, Squeeze, Symptom};
use crate::outcome::smell::{Beware, Fault};

use super::counter::open_part;
use super::diary_says::DiarySays;
use super::learnt_heap::LearntHeap;
use super::offer::Cure;

/// Share by which a smaller cure may be less sure than the surest (two in ten: hardly told apart in so few pairs).
const NEARLY_AS_SURE: f64 = 0.2;

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// What went in.
    pub mix: Mix,
    /// Where and how it stands.
    pub heap: Heap,
    /// What is noticed, at least one.
    pub symptoms: Vec<Symptom>,
    /// What was found out by hand.
    pub readings: Readings,
    /// All materials.
    pub catalogue: Arc<Catalogue>,
    /// First day that is still open; `None`: the heap does not stand yet.
    pub from_day: Option<f64>,
    /// What the diary says last of it; what the person answers goes before.
    pub diary: DiarySays,
    /// The heap as its diary taught it; `None`: as written.
    pub learnt: Option<LearntHeap>,
}

/// Most causes that are told.
const MOST_CAUSES: usize = 6;

/// How far the answer is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Progress {
    /// Causes as read off the heap; they are being tried.
    Read,
    /// Causes are tried; so many cures of so many are simulated.
    Curing(usize, usize),
    /// All is done.
    Done,
}

/// Which heap was asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeapAsked {
    /// One that is to be built.
    Planned,
    /// One that stands, as written: cures begin with the first open day.
    Stands,
    /// One that stands, as its diary taught it.
    Learnt,
}

/// Causes in order, and cures.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnosis {
    /// What was asked.
    pub symptoms: Vec<Symptom>,
    /// The heap's numbers.
    pub numbers: Numbers,
    /// Peak of the heap as written, degC; `None` before it was run or where nothing rots.
    pub peak_c: Option<f64>,
    /// Symptoms that the heap as written would not show.
    pub not_shown: Vec<Symptom>,
    /// Causes, the weightiest first.
    pub ranked: Vec<Ranked>,
    /// Cures that help, the smallest first.
    pub cures: Vec<Cure>,
    /// How far it is.
    pub progress: Progress,
    /// What the diary said that counted.
    pub diary: DiarySays,
    /// Which heap was asked about.
    pub of: HeapAsked,
}

impl Question {
    /// What is known by hand: what the person answered, filled up from the diary and with what was learnt.
    pub(super) fn known(&self) -> Readings {
        Readings {
            learnt_moisture: self.learnt.as_ref().and_then(|it| it.moisture_now),
            ..self.diary.fill(self.readings)
        }
    }

    /// The moisture to which the heap as built is put for the runs, wet basis; `None` where it stays as it is. A learnt
    /// heap follows the squeezes of its diary already.
    pub(super) fn wetted_to(&self) -> Option<f64> {
        let squeeze = match &self.learnt {
            Some(_) => self.readings.squeeze,
            None => self.known().squeeze,
        };
        squeeze.map(Squeeze::moisture)
    }

    /// Inputs of a run with what was learnt laid over them.
    pub(super) fn as_learnt(&self, inputs: Inputs) -> Inputs {
        match &self.learnt {
            Some(learnt) => learnt.laid_over(&inputs),
            None => inputs,
        }
    }

    /// A run as far as it counts: from the first open day on.
    pub(super) fn open_part(&self, run: Projection) -> Projection {
        open_part(run, self.from_day)
    }
}

impl Diagnosis {
    /// The causes that are worth telling, the weightiest first; none where the numbers speak against all of them.
    pub fn told(&self) -> impl Iterator<Item = &Ranked> {
        let worth = self.ranked.iter().filter(|one| one.weight >= LEAST_WEIGHT);
        worth.take(MOST_CAUSES)
    }

    /// The smallest cure that mends the weightiest cause and cures nearly as surely as the surest: every symptom gone,
    /// in as many of the pairs but for two in ten. Where none does, the one that eases
    /// most symptoms, and of those the first most.
    pub fn best_cure(&self) -> Option<&Cure> {
        let surest = self.cures.iter().map(Cure::gone_share).fold(0.0, f64::max);
        let sure = |cure: &&Cure| cure.cures_all() && cure.gone_share() >= surest - NEARLY_AS_SURE;
        let most = |cure: &&Cure| {
            let better = cure.relief.iter().filter(|it| it.noticed).count();
            let first = cure.relief.first();
            (better, first.map_or(0.0, |it| it.values.1 - it.values.0))
        };
        // Of equals the smaller, which stands first.
        let by_most = |a: &&Cure, b: &&Cure| {
            let (a, b) = (most(a), most(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        };
        let mends = |cause: Cause| {
            let against = move |cure: &&Cure| cure.against.contains(&cause);
            self.cures.iter().filter(against)
        };
        let mut causes = self.ranked.iter().map(|ranked| ranked.cause);
        let first = causes.find(|cause| mends(*cause).next().is_some());
        let mut of_first = first.into_iter().flat_map(mends);
        of_first
            .find(sure)
            .or_else(|| self.cures.iter().find(sure))
            .or_else(|| self.cures.iter().rev().max_by(by_most))
    }

    /// What may hurt someone who deals with what was ticked, each once.
    pub fn beware<'a>(&self, facts: &'a Facts) -> Vec<&'a Beware> {
        self.rows(facts).flat_map(|fault| &fault.beware).collect()
    }

    /// The rows of the table of faults for what was ticked.
    pub fn rows<'a>(&self, facts: &'a Facts) -> impl Iterator<Item = &'a Fault> {
        let ticked = |fault: &&Fault| fault.symptoms.iter().any(|it| self.symptoms.contains(it));
        facts.faults.iter().filter(ticked)
    }

    /// The row of the table of faults behind a cause.
    pub fn fault<'a>(&self, ranked: &Ranked, facts: &'a Facts) -> Option<&'a Fault> {
        facts.faults.get(ranked.row)
    }
}
