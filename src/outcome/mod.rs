//! The outcome: what the numbers mean and what to do about them.
//!
//! In: a mix with its blend, the room there is, a projection. Out: judgements and advice in words.
//!
//! Chapter: `standing` holds a mix against its bands, `draft` the mix meanwhile, `propose` looks for the change that helps most, `wording` says it, `advice` decides what is
//! said first. Every figure in a sentence comes from blending the changed mix.
//!
//! What comes of a heap: `course` measures what a parcel has been through, `sanitation` holds it
//! against rules, `kill` against what is known of seeds, diseases and germs, `finish` says when it is done (by `flask`),
//! `produce` what comes out, `nutrient` what it feeds, `smell` what goes wrong, `cautions` what to be careful
//! with, `turns` what each further turning buys; `tables` reads their facts from `assets/`, `judge` calls them all,
//! `lines` and `lines_of_produce` put them in words,
//! and `brief` does so for a member of an ensemble.
//!
//! Not here: chemistry (`mix`), what happens in the heap (`heap`), likelihoods (`forecast`).
//!
//! Tested by: `tests/science/advice.rs`, `tests/science/outcome.rs`.

mod advice;
mod draft;
mod propose;
pub(crate) mod said;
mod standing;
mod wording;

pub mod brief;
pub mod cautions;
pub mod course;
pub mod finish;
pub mod flask;
mod judge;
pub mod kill;
mod lines;
mod lines_of_produce;
pub mod nutrient;
pub mod produce;
pub mod sanitation;
pub mod smell;
mod tables;
pub mod turns;

pub use crate::mix::Change;
pub use advice::{Advice, advise, next_steps};
pub use brief::Brief;
pub use judge::{Case, HALF_OF_IT, Outcome};
pub use lines::{Judgement, Likely, Topic};
pub use tables::{Facts, TableError, shared};

use serde::Deserialize;

/// How far a fact in a table is to be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
pub enum Trust {
    /// From memory; nothing was read to confirm it.
    Recalled,
    /// Own arithmetic or inference from figures that were read.
    Derived,
    /// Read in another text that quotes the source.
    SecondHand,
    /// Read in the source itself (of papers the abstract).
    Read,
}

impl Trust {
    /// Its words on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Recalled => "unverified (from memory)",
            Self::Derived => "own calculation from figures read",
            Self::SecondHand => "read where another text quotes it",
            Self::Read => "read",
        }
    }
}
