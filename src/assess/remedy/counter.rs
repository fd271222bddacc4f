//! Counterfactuals: what each symptom gains when one cause after another is mended.
//!
//! In: what a run needs, symptoms, the table of faults. Out: [`Tried`], one a symptom and cause that could be tried, and
//! the projection of the heap as it is.
//!
//! A cause is mended first (alone) and last (all others mended before it); its gain is the mean of both, so that of two
//! causes that only help together (dry and short of nitrogen) neither is overlooked. Where the heap as written does not
//! show the symptom and no mending brings anything, causes are put in instead: something is then not as it is
//! written, and what would cost most is first to be checked. Runs are coarse and typical: an order is asked for, not a
//! likelihood.
//! Of a heap that stands, what is gained counts from the first open day on, by mends that go back to the start.
//! Not here: the mends themselves (`mend`), the order (`outcome::complaint::rank`).
//!
//! Tested by: `tests/science/complaint.rs`.

use std::sync::atomic::AtomicBool;

use rayon::prelude::*;

use crate::forecast::Inputs;
use crate::heap::{Operation, Projection, Resolution};
use crate::outcome::complaint::{Cause, Goal, Symptom, Tried};
use crate::outcome::smell::Fault;

use super::mend::{Stuff, mended, spoilt};

/// Days that are looked at: the hot phase and what follows it.
const LOOKED_AT_DAYS: f64 = 75.0;
/// Days ahead that are looked at of a heap that stands, at least (tuned: a cure shows within weeks).
const LEAST_AHEAD_DAYS: f64 = 30.0;
/// Gains below so many times what is noticed do not explain a symptom that the heap as written lacks.
const EXPLAINS: f64 = 5.0;
/// Losses beyond so many times what is noticed are harm.
const HARMS: f64 = 0.5;

/// How a heap is run for an order of causes: as a member of an ensemble.
pub(super) fn resolution() -> Resolution {
    Resolution::member()
}

/// The same over the days that are looked at, from the first open day on of a heap that stands.
pub(super) fn shortened(inputs: &Inputs, from_day: Option<f64>) -> Inputs {
    let mut new = inputs.clone();
    let adds = new.heap.plan.events.iter().filter_map(|event| {
        let is_add = matches!(event.operation, Operation::Add { .. });
        is_add.then(|| event.last_day())
    });
    let last = adds.fold(from_day.unwrap_or(0.0), f64::max);
    new.heap.days = (last + LOOKED_AT_DAYS).min(new.heap.days.max(LOOKED_AT_DAYS));
    if let Some(day) = from_day {
        // Something of it must still lie ahead.
        new.heap.days = new.heap.days.max(day + LEAST_AHEAD_DAYS);
    }
    new
}

/// A run as far as it counts: from the first open day on.
pub(super) fn open_part(run: Projection, from_day: Option<f64>) -> Projection {
    match from_day {
        Some(day) => run.from_day_on(day),
        None => run,
    }
}

/// How the moisture is known: one felt by hand is not put in question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Known {
    /// As written.
    ByRecipe,
    /// By a squeeze.
    ByHand,
}

/// What was tried.
#[derive(Debug)]
pub(super) struct Counterfactuals {
    /// The heap as it is; `None` if nothing rots.
    pub as_it_is: Option<Projection>,
    /// Gains.
    pub tried: Vec<Tried>,
}

/// The causes that belong to symptoms, each once.
fn causes(symptoms: &[Symptom], faults: &[Fault]) -> Vec<Cause> {
    let rows = faults
        .iter()
        .filter(|fault| fault.symptoms.iter().any(|it| symptoms.contains(it)));
    let mut all = Vec::new();
    for cause in rows.flat_map(|fault| &fault.blames) {
        if !all.contains(cause) {
            all.push(*cause);
        }
    }
    all
}

fn belongs(cause: Cause, symptom: Symptom, faults: &[Fault]) -> bool {
    let mut rows = faults.iter();
    rows.any(|fault| fault.symptoms.contains(&symptom) && fault.blames.contains(&cause))
}

/// The causes whose mending does not harm every symptom: a mend that harms alone mends nothing that is there, and among
/// the others it would only blur what they do.
fn helpful(
    alone: &[(Cause, Inputs)],
    runs: &[Option<Projection>],
    base: &Projection,
    symptoms: &[Symptom],
) -> Vec<Cause> {
    let harms = |goal: Goal, run: &Projection| match (goal.value(base), goal.value(run)) {
        (Some(now), Some(then)) => then < now - HARMS * goal.noticed(),
        _ => false,
    };
    let helps = |run: &Projection| {
        let mut goals = symptoms.iter().copied().filter_map(Goal::of);
        goals.any(|goal| !harms(goal, run))
    };
    let runs = alone.iter().zip(runs);
    let helpful = runs.filter(|(_, run)| run.as_ref().is_some_and(helps));
    helpful.map(|((cause, _), _)| *cause).collect()
}

/// Tries every cause of these symptoms.
pub(super) fn counterfactuals(
    (inputs, from_day): (&Inputs, Option<f64>),
    symptoms: &[Symptom],
    faults: &[Fault],
    stuff: &Stuff,
    known: Known,
    stop: &AtomicBool,
) -> Counterfactuals {
    let whole = |inputs: &Inputs| inputs.simulate(&resolution(), stop);
    let open_part = |run: Projection| open_part(run, from_day);
    let run = |inputs: &Inputs| whole(inputs).map(open_part);
    let causes = causes(symptoms, faults);
    let alone: Vec<(Cause, Inputs)> = causes
        .iter()
        .filter_map(|&cause| Some((cause, mended(cause, inputs, stuff)?)))
        .collect();
    let open = |cause: &&Cause| {
        known == Known::ByRecipe || !matches!(cause, Cause::TooDry | Cause::TooWet)
    };
    let spoils: Vec<(Cause, Inputs)> = causes
        .iter()
        .filter(open)
        .filter_map(|&cause| Some((cause, spoilt(cause, inputs)?)))
        .collect();
    let mut first = vec![inputs.clone()];
    first.extend(alone.iter().map(|(_, inputs)| inputs.clone()));
    let mut first: Vec<Option<Projection>> = first.par_iter().map(whole).collect();
    let as_it_is = first.remove(0);
    let first: Vec<Option<Projection>> = first.into_iter().map(|run| run.map(open_part)).collect();
    let Some(base) = as_it_is.clone().map(open_part) else {
        return Counterfactuals {
            as_it_is: None,
            tried: Vec::new(),
        };
    };
    let helpful = helpful(&alone, &first, &base, symptoms);
    let mend_all_but = |left: Option<Cause>| {
        let others = helpful.iter().copied();
        let others = others.filter(|cause| Some(*cause) != left);
        others.fold(inputs.clone(), |so_far, cause| {
            mended(cause, &so_far, stuff).unwrap_or(so_far)
        })
    };
    let mut last = vec![mend_all_but(None)];
    last.extend(alone.iter().map(|(cause, _)| mend_all_but(Some(*cause))));
    let last: Vec<Option<Projection>> = last.par_iter().map(run).collect();
    let mut tried = Vec::new();
    for &symptom in symptoms {
        let Some(goal) = Goal::of(symptom) else {
            continue;
        };
        let value = |run: &Option<Projection>| run.as_ref().and_then(|run| goal.value(run));
        let Some(now) = goal.value(&base) else {
            continue;
        };
        let all = value(&last[0]).unwrap_or(now);
        let gains: Vec<Tried> = alone
            .iter()
            .enumerate()
            .filter(|(_, (cause, _))| belongs(*cause, symptom, faults))
            .filter_map(|(at, (cause, _))| {
                let (first, without) = (&first[at], value(&last[1 + at])?);
                let alone = value(first)?;
                Some(Tried {
                    symptom,
                    cause: *cause,
                    gain: 0.5 * ((alone - now) + (all - without)),
                    peaks_c: (base.summary.peak_c, first.as_ref()?.summary.peak_c),
                    values: (now, alone),
                    put_in: false,
                })
            })
            .collect();
        let largest = gains.iter().map(|one| one.gain).fold(0.0, f64::max);
        if goal.shows(&base) || largest >= EXPLAINS * goal.noticed() {
            tried.extend(gains);
        } else {
            let costs = spoils.par_iter().filter_map(|(cause, inputs)| {
                if !belongs(*cause, symptom, faults) {
                    return None;
                }
                let run = run(inputs)?;
                let then = goal.value(&run)?;
                Some(Tried {
                    symptom,
                    cause: *cause,
                    gain: now - then,
                    peaks_c: (base.summary.peak_c, run.summary.peak_c),
                    values: (now, then),
                    put_in: true,
                })
            });
            tried.extend(costs.collect::<Vec<Tried>>());
        }
    }
    Counterfactuals { as_it_is, tried }
}
