//! Trials and lessons: two heaps that differ in one thing, and ordered walks through them.
//!
//! In: RON, the heap at hand, the catalogue. Out: inputs of both heaps of a [`Trial`], stops of a [`Lesson`].
//!
//! Chapter: `file` reads trials, `lesson` reads lessons, `alteration` is one thing done to a heap, `case` does it,
//! `search` finds a belief by words.
//! A heap of a trial is resolved by the same [`super::Resolved`] as the heap at hand.
//!
//! Not here: running pairs and what an effect is (`forecast::Pairs`, `forecast::Effect`), words (`text`).
//!
//! Tested by: `tests/science/trials.rs`, `tests/science/trial_files.rs`.

mod alteration;
mod case;
mod file;
mod lesson;
mod search;

pub use alteration::Alteration;
pub use case::{CaseError, TrialCase};
pub use file::{HowKnown, Published, TEXT_LIMIT, Trial, TrialError};
pub use lesson::{Lesson, LessonError, Show, Stop};
pub use search::{find, find_questions};
