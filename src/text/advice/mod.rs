//! Advice in words: one sentence for each piece.
//!
//! In: typed advice, units. Out: whole sentences.
//!
//! Chapter: `say` makes the sentence, `step` what is done and what that brings, `names` what materials are called
//! inside a sentence.
//!
//! Not here: what is worth saying (`outcome::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

mod names;
mod say;
mod step;

pub use names::{SpokenName, spoken_names};
pub use say::{first, sentence};
