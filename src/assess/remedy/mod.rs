//! What is wrong with a heap, and the smallest cure: causes tried one by one, cures simulated in pairs.
//!
//! In: a [`Question`]: a mix, a heap, symptoms, readings. Out: a [`Diagnosis`], at once from the heap's own numbers
//! ([`Question::at_once`]), then step by step from the simulation ([`Question::answer`]).
//!
//! Chapter: `mend` takes one cause away, `counter` measures what that gains, `cure` finds the smallest step against a
//! cause, `step` does it, `offer` is a cure, `sift` keeps cures
//! that are worth offering, `rough` builds a heap of which there is no recipe. A cure's effect is the difference over
//! pairs of members, so it is as sure as its spread.
//!
//! Not here: symptoms, causes and their order (`outcome::complaint`), words (`text::complaint`).
//!
//! Tested by: `tests/science/complaint.rs`, `tests/science/complaint_cures.rs`.

mod counter;
mod cure;
mod mend;
mod offer;
mod rough;
mod sift;
mod step;

pub use offer::{Cure, Overflow, Relief};
pub use rough::{Built, Mostly, Rough, Size, Stands};
pub use step::{Origin, Step};

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::assess::resolved::Resolved;
use crate::assess::trial::TrialCase;
use crate::forecast::{Inputs, Pairs};
use crate::heap::{Heap, Projection};
use crate::material::Catalogue;
use crate::mix::Mix;
use crate::outcome::complaint::{
    Cause, Goal, HeapSeen, Numbers, Ranked, Readings, Squeeze, Symptom, Tried, numbers, rank,
    standing,
};
use crate::outcome::smell::{Beware, Fault};
use crate::outcome::{Facts, shared};

use super::error::AssessError;
use counter::{Counterfactuals, counterfactuals, resolution, shortened};
use cure::{Beside, WATER_TO, is_mixed_in, step_against, too_dry};
use mend::{Stuff, each, wet, whole};

/// Pairs a cure is run in: a share of them is then right to about one in ten.
pub const CURE_PAIRS: usize = 24;
/// Most causes that are given a cure of their own.
const MOST_CURED: usize = 4;
/// Most causes that are cured together.
const MOST_TOGETHER: usize = 3;
/// Share by which a smaller cure may be less sure than the surest (two in ten: hardly told apart in so few pairs).
const NEARLY_AS_SURE: f64 = 0.2;
/// Least weight of a cause that is worth a cure, of the weightiest (tuned).
const WORTH_A_CURE: f64 = 0.15;

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
}

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
}

impl Diagnosis {
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
        let rows = facts
            .faults
            .iter()
            .filter(|fault| fault.symptoms.iter().any(|it| self.symptoms.contains(it)));
        rows.flat_map(|fault| &fault.beware).collect()
    }

    /// The row of the table of faults behind a cause.
    pub fn fault<'a>(&self, ranked: &Ranked, facts: &'a Facts) -> Option<&'a Fault> {
        facts.faults.get(ranked.row)
    }
}

/// Share of the volume that is a material which a row names.
fn named_share(fault: &Fault, seen: &HeapSeen<'_>) -> f64 {
    let rows = seen.parts.iter().zip(seen.shares);
    let named = rows.filter(|(part, _)| fault.materials.contains(&part.material.id));
    named.map(|(_, share)| share.volume).sum()
}

/// First day of the month two before the warmest: spring is early enough and long enough.
fn spring_day(heap: &Heap) -> f64 {
    let means = &heap.climate.monthly_mean_c;
    let warmest = (0..12_usize).max_by(|a, b| means[*a].total_cmp(&means[*b]));
    let month = (warmest.unwrap_or(6) + 10) % 12;
    1.0 + 30.4 * month as f64
}

/// A question with everything found and blended.
struct Prepared<'a> {
    question: &'a Question,
    facts: &'static Facts,
    resolved: Resolved<'a>,
    case: TrialCase,
    beside: Beside,
}

impl Question {
    /// The answer that needs no simulation: causes by the heap's own numbers.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a table is damaged.
    pub fn at_once(&self, projection: Option<&Projection>) -> Result<Diagnosis, AssessError> {
        Ok(self.prepared()?.ranked(projection, &[], Progress::Read))
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
        let prepared = self.prepared()?;
        let mut inputs = shortened(&prepared.resolved.inputs(&self.heap));
        if let Some(squeeze) = self.readings.squeeze {
            wet(&mut inputs, squeeze.moisture());
        }
        let stuff = Stuff::of(&self.catalogue);
        let known = match self.readings.squeeze {
            Some(_) => counter::Known::ByHand,
            None => counter::Known::ByRecipe,
        };
        let Counterfactuals { as_it_is, tried } = counterfactuals(
            &inputs,
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

    /// Whether it is wet to who stands beside it.
    fn is_wet(&self) -> bool {
        let by_hand = matches!(
            self.readings.squeeze,
            Some(Squeeze::Trickles | Squeeze::Soggy)
        );
        let wet = |it: &Symptom| matches!(it, Symptom::Soggy | Symptom::BlackJuice);
        by_hand || self.symptoms.iter().any(wet)
    }

    fn prepared(&self) -> Result<Prepared<'_>, AssessError> {
        let facts = shared().map_err(AssessError::Table)?;
        let case = TrialCase::of(&self.mix, &self.heap);
        let resolved = Resolved::of(&self.mix, &self.heap, &self.catalogue)?;
        let mut beside = Beside {
            spring_day: spring_day(&self.heap),
            missing_l: 0.0,
            wet_to: (!self.is_wet()).then_some(WATER_TO),
        };
        if let Some(squeeze) = self.readings.squeeze {
            let whole = whole(&resolved.inputs(&self.heap));
            let moisture = squeeze.moisture();
            beside.missing_l = whole.water_kg - whole.dry_kg * moisture / (1.0 - moisture);
        }
        Ok(Prepared {
            question: self,
            facts,
            resolved,
            case,
            beside,
        })
    }
}

impl Prepared<'_> {
    fn ranked(
        &self,
        projection: Option<&Projection>,
        tried: &[Tried],
        progress: Progress,
    ) -> Diagnosis {
        let question = self.question;
        let blend = &self.resolved.mixed.blend;
        let seen = HeapSeen {
            parts: &self.resolved.mixed.parts,
            shares: &blend.shares,
            totals: &blend.totals,
            additions: &self.resolved.additions,
            heap: &question.heap,
            projection,
            readings: question.readings,
        };
        let numbers = numbers(&seen);
        let ranked = rank(
            &question.symptoms,
            &self.facts.faults,
            tried,
            |cause, row| standing(cause, &numbers, named_share(row, &seen)),
        );
        Diagnosis {
            symptoms: question.symptoms.clone(),
            numbers,
            peak_c: projection.map(|projection| projection.summary.peak_c),
            not_shown: Vec::new(),
            ranked,
            cures: Vec::new(),
            progress,
        }
    }

    /// A cure for each of the weightiest causes, then for two and three of them together; the smallest first.
    fn proposed(&self, ranked: &[Ranked]) -> Vec<Cure> {
        let least = WORTH_A_CURE * ranked.first().map_or(0.0, |first| first.weight);
        let worth: Vec<Cause> = ranked
            .iter()
            .filter(|one| one.weight > 0.0 && one.weight >= least && !one.is_a_guess())
            .map(|one| one.cause)
            .collect();
        let mut curable = Vec::new();
        let mut all = Vec::new();
        for cause in worth {
            if let Some(cure) = self.cure(&[cause])
                && curable.len() < MOST_CURED
                && all.iter().all(|known: &Cure| known.steps != cure.steps)
            {
                curable.push(cause);
                all.push(cure);
            }
        }
        for together in 2..=curable.len().min(MOST_TOGETHER) {
            let cure = self.cure(&curable[..together]);
            all.extend(cure.filter(|cure| cure.steps.len() >= 2));
        }
        all
    }

    /// One step against each cause, each measured on the heap after the one before.
    fn cure(&self, against: &[Cause]) -> Option<Cure> {
        let catalogue = &self.question.catalogue;
        let mut case = self.case.clone();
        let mut steps = Vec::new();
        for &cause in against {
            if is_mixed_in(cause) && !steps.contains(&Step::InOneGo) {
                // What is mixed into a heap built bit by bit is mixed into all of it.
                let anew = step_against(Cause::BitByBit, &case, catalogue, self.beside);
                if let Some(anew) = anew {
                    anew.take(&mut case, catalogue).ok()?;
                    steps.push(anew);
                }
            }
            let Some(step) = step_against(cause, &case, catalogue, self.beside) else {
                continue;
            };
            if steps.contains(&step) {
                continue;
            }
            step.take(&mut case, catalogue).ok()?;
            sift::push_merged(&mut steps, step, catalogue);
        }
        if against.iter().copied().any(is_mixed_in)
            && !against.contains(&Cause::TooDry)
            && too_dry(&case, catalogue, self.beside)
            && let Some(water) = step_against(Cause::TooDry, &case, catalogue, self.beside)
        {
            // Whatever is mixed in, a mix below what works is watered as it is mixed.
            water.take(&mut case, catalogue).ok()?;
            steps.push(water);
        }
        // Taking it apart alone is a cure of its own.
        if steps == [Step::InOneGo] && !against.contains(&Cause::BitByBit) {
            return None;
        }
        (!steps.is_empty()).then(|| Cure {
            against: against.to_vec(),
            steps,
            relief: Vec::new(),
            comparison: None,
            overflow: sift::overflow(&self.case, &case, catalogue),
            then: (case.mix, case.heap),
        })
    }

    /// Runs a cure beside the heap as it is.
    fn simulate(&self, cure: &mut Cure, stop: &AtomicBool) {
        let catalogue = &self.question.catalogue;
        let then = TrialCase::of(&cure.then.0, &cure.then.1);
        let (Ok(now), Ok(then)) = (self.case.inputs(catalogue), then.inputs(catalogue)) else {
            return;
        };
        let lacking = |mut inputs: Inputs| {
            let water = whole(&inputs).water_kg;
            let has = (water - self.beside.missing_l).max(0.0) / water.max(1e-9);
            each(&mut inputs, |totals| totals.water_kg *= has);
            shortened(&inputs)
        };
        let (now, then) = (lacking(now), lacking(then));
        let run = |inputs: &Inputs| inputs.simulate(&resolution(), stop);
        let (Some(before), Some(after)) = (run(&now), run(&then)) else {
            return;
        };
        let pairs = Pairs {
            count: CURE_PAIRS,
            resolution: resolution(),
            ..Pairs::default()
        };
        let comparison = pairs.run((&now, &then), stop, |_| {});
        cure.relief = self
            .question
            .symptoms
            .iter()
            .filter_map(|&symptom| {
                let goal = Goal::of(symptom)?;
                let values = (goal.value(&before)?, goal.value(&after)?);
                let second = comparison.as_ref().map(|both| &both.second);
                Some(Relief {
                    symptom,
                    values,
                    shown: goal.shows(&before),
                    noticed: values.1 - values.0 >= goal.noticed(),
                    gone: !goal.shows(&after),
                    gone_share: second
                        .filter(|_| goal.told_by_summary())
                        .map(|second| second.likelihood(|summary| !goal.shows_in(summary))),
                })
            })
            .collect();
        cure.comparison = comparison.map(Arc::new);
    }
}
