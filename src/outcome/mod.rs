//! The outcome: what the numbers mean and what to do about them, typed and without a sentence.
//!
//! In: a mix with its blend, the room there is, a projection. Out: judgements and advice, numbers and kinds only,
//! never dependent on the units a person reads.
//!
//! Chapter: `course` measures what a parcel has been through, `sanitation` tests it by rules, `kill` by what is
//! known of seeds, diseases and germs, `finish` says when it is done (by `flask`; the only rule of "finished"), `curing` what
//! field tests say beside it,
//! `headline` picks what is asked first, `produce` what comes out, `fate` where nitrogen and water went, `nutrient` what it feeds, `sour` where acid
//! holds it back, `smell` what goes wrong, `reach` where the simulation parts from what is published, `cautions`
//! what to be careful with, `turns` what each further turning buys; `next_days` what is due when; `advice` what to do next; `complaint` what may be
//! behind a symptom. `tables` reads their facts from
//! `assets/`, `judge` calls them all, `judgement` puts each result beside the row of the table it stands on, and
//! `brief` judges a member of an ensemble.
//!
//! Not here: sentences (`text`), chemistry (`mix`), what happens in the heap (`heap`), likelihoods (`forecast`).
//!
//! Tested by: `tests/science/advice.rs`, `tests/science/outcome.rs`.

pub mod advice;
pub mod brief;
pub mod cautions;
pub mod complaint;
pub mod course;
pub mod curing;
pub mod fate;
pub mod fed;
pub mod finish;
pub mod flask;
pub mod headline;
pub mod hunger;
mod judge;
mod judgement;
pub mod kill;
pub mod next_days;
pub mod nutrient;
pub mod produce;
pub mod reach;
pub mod sanitation;
pub mod smell;
pub mod sour;
mod tables;
mod trust;
pub mod turns;

pub use crate::mix::Change;
pub use advice::{Advice, advise};
pub use brief::Brief;
pub use judge::{Case, HALF_OF_IT, Outcome};
pub use judgement::{
    ClassAScores, Counted, Finding, Judgement, JudgementId, Likely, MemberSpread, TableRow, Topic,
    Weighed,
};
pub use tables::{Facts, TableError, shared};
pub use trust::Trust;
