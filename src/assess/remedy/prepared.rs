//! A question with everything found and blended: its causes put in order, cures for them proposed and run.
//!
//! In: a [`Question`]. Out: a [`Diagnosis`] without cures, [`Cure`]s not yet run, what came of one.
//!
//! A cure's effect is the difference over pairs of members, so it is as sure as its spread.
//! Not here: the order in which all this is done (`mod`), single steps (`cure`), which cures stay (`sift`).
//!
//! Tested by: `tests/science/complaint.rs`, `tests/science/complaint_cures.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::assess::error::AssessError;
use crate::assess::resolved::Resolved;
use crate::assess::trial::TrialCase;
use crate::forecast::{Inputs, Pairs};
use crate::heap::{Heap, Projection};
use crate::mix::{Totals, bands};
use crate::outcome::complaint::{
    Cause, Goal, HeapSeen, Ranked, Squeeze, Symptom, Tried, numbers, rank, standing,
};
use crate::outcome::smell::Fault;
use crate::outcome::{Facts, shared};

use super::counter::{resolution, shortened};
use super::cure::{Beside, WATER_TO, is_mixed_in, step_against, too_dry};
use super::diagnosis::{Diagnosis, HeapAsked, Progress, Question};
use super::diary_says::DiarySays;
use super::mend::{self, each, whole};
use super::offer::{Cure, Relief};
use super::sift;
use super::step::Step;

/// Pairs a cure is run in: a share of them is then right to about one in ten.
pub const CURE_PAIRS: usize = 24;
/// Most causes that are given a cure of their own.
const MOST_CURED: usize = 4;
/// Most causes that are cured together.
const MOST_TOGETHER: usize = 3;
/// Least weight of a cause that is worth a cure, of the weightiest (tuned).
const WORTH_A_CURE: f64 = 0.15;

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
pub(super) struct Prepared<'a> {
    pub question: &'a Question,
    pub facts: &'static Facts,
    pub resolved: Resolved<'a>,
    pub case: TrialCase,
    /// What a run of the heap as it is needs, as it was learnt.
    pub inputs: Inputs,
    pub beside: Beside,
}

/// Whether it needs no water: by a squeeze or else by the recipe, or to who stands beside it.
fn is_wet(question: &Question, whole: &Totals) -> bool {
    let known = question.known();
    let squeezed = known.squeeze.map(Squeeze::moisture);
    let squeezed = squeezed.or(known.learnt_moisture);
    let wet = |it: &Symptom| matches!(it, Symptom::Soggy | Symptom::BlackJuice);
    squeezed.unwrap_or(whole.moisture()) > bands::MOISTURE.works.1
        || question.symptoms.iter().any(wet)
}

impl<'a> Prepared<'a> {
    /// Finds and blends everything.
    ///
    /// # Errors
    /// [`AssessError`] if a material is not known or a table is damaged.
    pub fn of(question: &'a Question) -> Result<Self, AssessError> {
        let facts = shared().map_err(AssessError::Table)?;
        let mut case = TrialCase::of(&question.mix, &question.heap);
        case.from_day = question.from_day;
        let resolved = Resolved::of(&question.mix, &question.heap, &question.catalogue)?;
        let planned = resolved.inputs(&question.heap);
        let whole = whole(&planned);
        let inputs = question.as_learnt(planned);
        let as_it_is = mend::whole(&inputs);
        let mut beside = Beside {
            spring_day: spring_day(&question.heap),
            missing_l: 0.0,
            wet_to: (!is_wet(question, &as_it_is)).then_some(WATER_TO),
        };
        let known = question.known();
        let moisture = known.squeeze.map(Squeeze::moisture);
        if let Some(moisture) = moisture.or(known.learnt_moisture) {
            beside.missing_l = whole.water_kg - whole.dry_kg * moisture / (1.0 - moisture);
        } else if question.learnt.is_some() {
            beside.missing_l = whole.water_kg - as_it_is.water_kg;
        }
        Ok(Self {
            question,
            facts,
            resolved,
            case,
            inputs,
            beside,
        })
    }

    /// The causes in order, without cures.
    pub fn ranked(
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
            totals: &self.inputs.totals,
            additions: &self.inputs.additions,
            heap: &question.heap,
            projection,
            readings: question.known(),
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
            diary: DiarySays {
                squeeze: question
                    .diary
                    .squeeze
                    .filter(|_| question.readings.squeeze.is_none()),
                ..question.diary
            },
            of: match (question.from_day, &question.learnt) {
                (None, _) => HeapAsked::Planned,
                (Some(_), None) => HeapAsked::Stands,
                (Some(_), Some(_)) => HeapAsked::Learnt,
            },
        }
    }

    /// A cure for each of the weightiest causes, then for two and three of them together; the smallest first.
    pub fn proposed(&self, ranked: &[Ranked]) -> Vec<Cure> {
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
        // What is simulated and put into the recipe is what the steps say.
        let mut case = self.case.clone();
        // Turnings first: they take the place of whatever is poured from then on.
        let turns = |step: &&Step| matches!(step, Step::Turn { .. });
        let (turnings, others): (Vec<&Step>, Vec<&Step>) = steps.iter().partition(turns);
        for step in turnings.into_iter().chain(others) {
            step.take(&mut case, catalogue).ok()?;
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
    pub fn simulate(&self, cure: &mut Cure, stop: &AtomicBool) {
        let catalogue = &self.question.catalogue;
        let then = TrialCase::of(&cure.then.0, &cure.then.1);
        let (Ok(now), Ok(then)) = (self.case.inputs(catalogue), then.inputs(catalogue)) else {
            return;
        };
        let question = self.question;
        // What a learnt heap lacks is in what was learnt of it.
        let lacks = question.wetted_to().map_or(0.0, |_| self.beside.missing_l);
        let lacking = |mut inputs: Inputs| {
            let water = whole(&inputs).water_kg;
            let has = (water - lacks).max(0.0) / water.max(1e-9);
            each(&mut inputs, |totals| totals.water_kg *= has);
            shortened(&inputs, question.from_day)
        };
        let (now, then) = (lacking(now), lacking(then));
        let run = |inputs: &Inputs| {
            let run = question.as_learnt(inputs.clone());
            let run = run.simulate(&resolution(), stop)?;
            Some(question.open_part(run))
        };
        let (Some(before), Some(after)) = (run(&now), run(&then)) else {
            return;
        };
        let pairs = Pairs {
            count: CURE_PAIRS,
            from_day: question.from_day,
            ..Pairs::default()
        };
        let comparison = match &question.learnt {
            Some(learnt) => {
                let likely = (&learnt.stands, learnt.members.as_slice());
                pairs.run_among((&now, &then), likely, stop)
            }
            None => pairs.run((&now, &then), stop, |_| {}),
        };
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
