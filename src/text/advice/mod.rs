//! Advice in words: one sentence for each piece.
//!
//! In: typed advice, units. Out: whole sentences.
//!
//! Chapter: `say` makes the sentence, `aim` what is said of an aim, `step` what is done and what that brings.
//!
//! Not here: what is worth saying (`outcome::advice`), what materials are called inside a sentence (`spoken`).
//!
//! Tested by: `tests/science/advice.rs`.

mod aim;
mod say;
mod step;

pub use aim::aim_name;
pub use say::{first, how_sure, sentence, tells_of_heat};
