//! Words: the one place where typed values become sentences.
//!
//! In: what was calculated, and the units a person reads. Out: words. A message is one function of typed
//! values; nothing is made by taking another message apart.
//!
//! Not here: what is true (every room below), how lines are arranged (`export`, `window`).
//!
//! Tested by: `tests/document/export.rs`, `tests/document/handout.rs`, `tests/science/outcome.rs`.

pub mod advice;
pub mod date;
pub mod error;
pub mod heap;
pub mod material;
pub mod mix;
pub mod number;
pub mod outcome;
pub mod plan;
pub mod trial;
