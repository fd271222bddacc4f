//! How far a fact is to be trusted.
//!
//! In: the tables of `assets/`. Out: [`Trust`], the least trusted first.
//!
//! Not here: its words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome.rs`.

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
