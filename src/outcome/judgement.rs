//! The judgements of an outcome one by one: each result beside the row of the table that it stands on.
//!
//! In: an [`Outcome`](super::Outcome), the facts. Out: [`Judgement`]s, typed, by topic.
//!
//! Not here: the judging (one module a subject), their sentences (`text::outcome`), likelihoods (`forecast`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::quantity::Range;

use super::fate::{NitrogenFate, WaterFate};
use super::finish::{Finish, FinishTable};
use super::kill::{Disease, Germ, GermResult, PlantClass, PlantResult};
use super::nutrient::{Feeding, ReleaseSeries};
use super::produce::{Produce, Published};
use super::sanitation::{HeatRule, RuleResult};
use super::smell::{Fault, Trouble, TroubleKind};
use super::trust::Trust;

/// What a judgement is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// Rules on heat.
    Rules,
    /// Seeds and roots.
    Plants,
    /// Plant diseases.
    Diseases,
    /// Germs.
    Germs,
    /// When it is done.
    Finish,
    /// What comes out and what it feeds.
    Produce,
    /// Smell and trouble.
    Trouble,
}

/// Place of a row in a table of the facts, from 0; which table says the judgement that it belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct TableRow(pub usize);

/// Which judgement it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum JudgementId {
    /// A rule on heat.
    Rule(TableRow),
    /// The class A equation.
    ClassA,
    /// A class of seeds or roots.
    Plants(TableRow),
    /// A disease of plants.
    Disease(TableRow),
    /// A germ.
    Germ(TableRow),
    /// When it is done.
    Finish,
    /// What comes out.
    Produce,
    /// Where the water came from and went.
    Water,
    /// Where the nitrogen went.
    Nitrogen,
    /// What it feeds.
    Feeding,
    /// A trouble.
    Trouble(TroubleKind),
}

impl JudgementId {
    /// What it is about.
    pub fn topic(self) -> Topic {
        match self {
            Self::Rule(_) | Self::ClassA => Topic::Rules,
            Self::Plants(_) => Topic::Plants,
            Self::Disease(_) => Topic::Diseases,
            Self::Germ(_) => Topic::Germs,
            Self::Finish => Topic::Finish,
            Self::Produce | Self::Water | Self::Nitrogen | Self::Feeding => Topic::Produce,
            Self::Trouble(_) => Topic::Trouble,
        }
    }
}

/// What is counted of the members of an ensemble.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// A rule was met.
    RuleMet,
    /// Half of the heap or more had enough heat.
    HalfOfHeap,
    /// It was finished within the run.
    Finished,
    /// The trouble arose.
    TroubleArose,
}

/// How likely something is, by members of an ensemble.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Likely {
    /// What is counted.
    pub of: Counted,
    /// Share of the members for which it holds, 0-1.
    pub share: f64,
}

/// How the number behind a judgement spreads over the members of an ensemble.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MemberSpread {
    /// Median and 10-90 % range of the share of the heap that had enough, 0-1.
    ShareTreated(Range),
    /// Days by which five and nine in ten members are finished; `None` if later than the run.
    FinishedBy {
        /// Five in ten.
        half: Option<f64>,
        /// Nine in ten.
        most: Option<f64>,
    },
}

/// What an ensemble says of one judgement.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Weighed {
    /// How likely it is.
    pub likely: Option<Likely>,
    /// How its number spreads.
    pub spread: Option<MemberSpread>,
}

/// Scores of the class A equation; 1 is what it asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassAScores {
    /// In the coolest parcel.
    pub coolest: f64,
    /// At the centre.
    pub centre: f64,
}

/// A result beside what it stands on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Finding<'a> {
    /// A rule on heat.
    Rule(&'a HeatRule, &'a RuleResult),
    /// The class A equation.
    ClassA(ClassAScores),
    /// A class of seeds or roots.
    Plants(&'a PlantClass, &'a PlantResult),
    /// A disease, and the first rule on every part that even the coolest parcel meets.
    Disease(&'a Disease, Option<&'a HeatRule>),
    /// A germ.
    Germ {
        /// Its rate of dying.
        germ: &'a Germ,
        /// How it fared.
        got: &'a GermResult,
        /// Parcels that were followed.
        parcels: usize,
    },
    /// When it is done.
    Finish(&'a FinishTable, &'a Finish),
    /// What comes out.
    Produce(&'a Produce, &'a [Published]),
    /// Where the water came from and went.
    Water(&'a WaterFate),
    /// Where the nitrogen went.
    Nitrogen(&'a NitrogenFate),
    /// What it feeds.
    Feeding(Option<&'a ReleaseSeries>, &'a Feeding),
    /// A trouble, and its row in the table of faults.
    Trouble(Option<&'a Fault>, &'a Trouble),
}

impl Finding<'_> {
    /// How far its facts are to be trusted.
    pub fn trust(&self) -> Trust {
        match self {
            Self::Rule(rule, _) => rule.trust,
            Self::ClassA(_) => Trust::Read,
            Self::Plants(class, _) => class.trust,
            Self::Disease(disease, _) => disease
                .studies
                .iter()
                .map(|study| study.trust)
                .min()
                .unwrap_or(Trust::Recalled),
            Self::Germ { germ, .. } => germ.trust,
            Self::Finish(..) => Trust::Recalled,
            Self::Produce(..) | Self::Water(_) | Self::Nitrogen(_) => Trust::Derived,
            Self::Feeding(series, _) => series.map_or(Trust::Recalled, |series| series.trust),
            Self::Trouble(fault, _) => fault.map_or(Trust::Recalled, |fault| fault.trust),
        }
    }
}

/// One judgement, with what it stands on and what an ensemble says of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judgement<'a> {
    /// Which.
    pub id: JudgementId,
    /// What was found.
    pub finding: Finding<'a>,
    /// Whether this heap has to do with it: something in the mix brings it, or the heap is what the rule is for.
    pub here: bool,
    /// How likely it is and how it spreads, once an ensemble has been asked.
    pub weighed: Weighed,
}

impl Judgement<'_> {
    /// How far its facts are to be trusted.
    pub fn trust(&self) -> Trust {
        self.finding.trust()
    }
}
