//! Trials: two heaps that differ in one thing.
//!
//! In: RON, from `assets/trials.ron` or a person's own. Out: what is claimed, what differs, what is known.
//!
//! A trial has a `common` start for both heaps (none: the heap at hand) and a `change` for the second.
//! One without a change cannot be run: it carries evidence alone. Numbers are SI, amounts in household
//! measures. Its words are ours. The answer rests on what is published; verdicts are calculated, never written down.
//! Not here: what an alteration does (`case`), running (`forecast::Pairs`).
//!
//! Tested by: `tests/science/trial_files.rs`.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::document::CLASS_LIMIT_BYTES;
use crate::forecast::Inputs;
use crate::material::Catalogue;

use super::alteration::Alteration;
use super::case::{CaseError, TrialCase};

const TRIALS_RON: &str = include_str!("../../../assets/trials.ron");
/// Longest text of a trial, bytes.
pub const TEXT_LIMIT: usize = CLASS_LIMIT_BYTES as usize;
/// Most trials of one file.
const TRIAL_LIMIT: usize = 200;

/// How far a piece of evidence is to be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum HowKnown {
    /// The source was read.
    Read,
    /// Read about at second hand.
    SecondHand,
    /// Calculated from figures given with it.
    #[serde(alias = "Reckoned")]
    Calculated,
    /// From memory; nobody has looked it up.
    Recalled,
}

/// Something published.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Published {
    /// What was found, in our words.
    pub finding: String,
    /// Who, when, where.
    pub source: String,
    /// How far it is to be trusted.
    pub mark: HowKnown,
}

/// Two heaps that differ in one thing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Trial {
    /// Its name in files; small letters, digits and "_".
    pub id: String,
    /// What it is called.
    pub title: String,
    /// What is claimed.
    pub claim: String,
    /// What is right, in a sentence or two, from what is published; empty where nobody has written one.
    #[serde(default)]
    pub answer: String,
    /// Other words by which a person may look for it.
    #[serde(default)]
    pub words: Vec<String>,
    /// What differs, to be read out before the run.
    pub differs: String,
    /// Both heaps begin with this done to the heap at hand.
    pub common: Vec<Alteration>,
    /// What is done to the second alone; empty where no model can tell.
    pub change: Vec<Alteration>,
    /// What has been published.
    pub evidence: Vec<Published>,
    /// What the model cannot tell.
    pub cannot_tell: String,
}

/// Why trials cannot be used.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TrialError {
    /// Not RON, or not a list of trials.
    #[error("the trials cannot be read at line {line}: {problem}; correct that line")]
    NotReadable {
        /// Line, from 1.
        line: usize,
        /// What is wrong.
        problem: String,
    },
    /// Too long a text, or too many trials.
    #[error(
        "there is too much: at most {TEXT_LIMIT} bytes and {TRIAL_LIMIT} trials can be kept; remove some"
    )]
    TooMuch,
    /// A trial without a name, or with one taken.
    #[error(
        "the id \"{0}\" is empty, taken or holds more than small letters, digits and \"_\"; choose another"
    )]
    Id(String),
    /// A trial that cannot be.
    #[error("trial \"{id}\": {problem}")]
    Case {
        /// Which trial.
        id: String,
        /// What cannot be.
        problem: CaseError,
    },
}

impl Trial {
    /// Whether the model can run it.
    pub fn can_be_run(&self) -> bool {
        !self.change.is_empty()
    }

    /// Both heaps of it, begun from the heap at hand.
    ///
    /// # Errors
    /// [`CaseError`] names the first alteration that cannot be done.
    pub fn cases(
        &self,
        at_hand: &TrialCase,
        catalogue: &Catalogue,
    ) -> Result<(TrialCase, TrialCase), CaseError> {
        let mut first = at_hand.clone();
        for alteration in &self.common {
            first.alter(alteration, catalogue)?;
        }
        let mut second = first.clone();
        for alteration in &self.change {
            second.alter(alteration, catalogue)?;
        }
        Ok((first, second))
    }

    /// What runs of both heaps need, begun from the heap at hand.
    ///
    /// # Errors
    /// [`CaseError`] names the first alteration that cannot be done, or what cannot be resolved.
    pub fn inputs(
        &self,
        at_hand: &TrialCase,
        catalogue: &Catalogue,
    ) -> Result<(Inputs, Inputs), CaseError> {
        let (first, second) = self.cases(at_hand, catalogue)?;
        Ok((first.inputs(catalogue)?, second.inputs(catalogue)?))
    }

    /// The ready trials.
    ///
    /// # Errors
    /// [`TrialError`] only if the built-in file is damaged, which `tests/science/trial_files.rs` rules out.
    pub fn ready() -> Result<Vec<Self>, TrialError> {
        Self::read(TRIALS_RON)
    }

    /// The trials of a text in RON: a list of trials.
    ///
    /// # Errors
    /// [`TrialError`] says where the text is wrong.
    pub fn read(text: &str) -> Result<Vec<Self>, TrialError> {
        if text.len() > TEXT_LIMIT {
            return Err(TrialError::TooMuch);
        }
        let text = text.trim_start_matches('\u{feff}');
        let trials: Vec<Self> = ron::from_str(text).map_err(|error| TrialError::NotReadable {
            line: error.span.start.line,
            problem: error.code.to_string(),
        })?;
        if trials.len() > TRIAL_LIMIT {
            return Err(TrialError::TooMuch);
        }
        let mut seen = BTreeSet::new();
        for trial in &trials {
            if !is_id(&trial.id) || !seen.insert(trial.id.as_str()) {
                return Err(TrialError::Id(trial.id.clone()));
            }
        }
        Ok(trials)
    }

    /// Checks that both heaps of every trial can be built from the heap at hand.
    ///
    /// # Errors
    /// [`TrialError::Case`] names the first trial that cannot.
    pub fn check_all(
        trials: &[Self],
        at_hand: &TrialCase,
        catalogue: &Catalogue,
    ) -> Result<(), TrialError> {
        for trial in trials {
            let at = |problem| TrialError::Case {
                id: trial.id.clone(),
                problem,
            };
            trial.inputs(at_hand, catalogue).map_err(at)?;
        }
        Ok(())
    }
}

/// Small letters, digits and "_", at least one.
pub(super) fn is_id(id: &str) -> bool {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    !id.is_empty() && id.len() <= 60 && id.chars().all(fits)
}
