//! Advice in words: one sentence for each piece.
//!
//! In: typed advice, units. Out: whole sentences.
//!
//! Chapter: `say` makes the sentence, `step` what is done and what that brings.
//!
//! Not here: what is worth saying (`outcome::advice`), what materials are called inside a sentence (`spoken`).
//!
//! Tested by: `tests/science/advice.rs`.

mod say;
mod step;

pub use say::{first, sentence};
