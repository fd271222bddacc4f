//! The outcome: what the numbers mean and what to do about them.
//!
//! In: a mix with its blend, the room there is, a projection. Out: judgements and advice in words.
//!
//! Chapter: `standing` holds a mix against its bands, `draft` the mix meanwhile, `propose` looks for the change that helps most, `wording` says it, `advice` decides what is
//! said first. Every figure in a sentence comes from blending the changed mix.
//!
//! Not here: chemistry (`mix`), what happens in the heap (`heap`).
//!
//! Held against: `tests/science/advice.rs`.

mod advice;
mod draft;
mod propose;
mod standing;
mod wording;

pub use crate::mix::Change;
pub use advice::{Advice, advise, next_steps};
