//! Trials run side by side, and what is known of beliefs.
//!
//! In: a project file, trials; words. Out: verdicts and answers as text.
//!
//! Not here: trials and their search (`assess::trial`).
//!
//! Tested by: `tests/document/command.rs`.

use std::io::Write;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use crate::assess::trial::{Trial, TrialCase, find, find_questions};
use crate::document::{class_text, shown};
use crate::export::{beliefs_list, beliefs_text, trial_text};
use crate::forecast::{KeptRuns, Pairs};
use crate::material::{Catalogue, MaterialQuestion, questions};
use crate::quantity::UnitSystem;
use crate::text::error::{self, Joint};
use crate::text::trial::under_way;

use super::failure::{Failure, bad};
use super::files::open;
use super::progress::Progress;

/// The trials asked for.
pub(super) fn trials_of(own: Option<&Path>, only: Option<&str>) -> Result<Vec<Trial>, Failure> {
    let mut trials = match own {
        None => Trial::ready().map_err(bad)?,
        Some(path) => {
            let text = class_text(path).map_err(bad)?;
            Trial::read(&text).map_err(|problem| {
                Failure::BadInput(error::about_file(&problem, &shown(path), Joint::Clause))
            })?
        }
    };
    if let Some(id) = only {
        trials.retain(|trial| trial.id == id);
        if trials.is_empty() {
            return Err(Failure::BadInput(error::no_such_trial(id)));
        }
    }
    Ok(trials)
}

/// Runs trials one after another and writes what came of each as soon as it is there; meanwhile standard error tells
/// how far it is.
pub(super) fn run_trials(
    path: &Path,
    trials: &[Trial],
    pairs: u32,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let catalogue = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let at_hand = TrialCase::of(&project.mix, &project.heap);
    Trial::check_all(trials, &at_hand, &catalogue).map_err(bad)?;
    let how = Pairs {
        count: pairs as usize,
        ..Pairs::default()
    };
    let mut heaps = Vec::with_capacity(trials.len());
    for trial in trials {
        heaps.push(if trial.can_be_run() {
            Some(trial.inputs(&at_hand, &catalogue).map_err(bad)?)
        } else {
            None
        });
    }
    let kept = KeptRuns::of(heaps.iter().flatten().flat_map(|(a, b)| [a, b]));
    let progress = Progress::new();
    for (place, (trial, pair)) in trials.iter().zip(&heaps).enumerate() {
        let told = |pairs| progress.tell(&under_way(trial, (place + 1, trials.len()), pairs));
        let comparison = pair.as_ref().and_then(|(first, second)| {
            told(0);
            let never = AtomicBool::new(false);
            how.run_keeping((first, second), &kept, &never, |so_far| {
                told(so_far.pairs());
            })
        });
        let text = trial_text(trial, comparison.as_ref(), UnitSystem::Metric);
        progress.clear();
        writeln!(out, "{text}")?;
    }
    Ok(())
}

/// Most beliefs, and most questions about materials, told at once.
const MOST_TOLD: (usize, usize) = (3, 2);

/// Tells what is known of the beliefs that fit the words best.
pub(super) fn tell_beliefs(words: &str, out: &mut impl Write) -> Result<(), Failure> {
    let trials = Trial::ready().map_err(bad)?;
    if words.trim().is_empty() {
        return Ok(write!(out, "{}", beliefs_list(&trials))?);
    }
    let questions = questions().map_err(bad)?;
    let beliefs: Vec<&Trial> = find(&trials, words)
        .into_iter()
        .take(MOST_TOLD.0)
        .filter_map(|place| trials.get(place))
        .collect();
    let asked: Vec<&MaterialQuestion> = find_questions(&questions, words)
        .into_iter()
        .take(MOST_TOLD.1)
        .filter_map(|place| questions.get(place))
        .collect();
    Ok(write!(out, "{}", beliefs_text(&beliefs, &asked))?)
}
