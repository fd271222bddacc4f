//! Advice in words: what to do next, and what it brings.
//!
//! In: typed advice. Out: sentences.
//!
//! Not here: what is worth saying (`outcome`).
//!
//! Tested by: `tests/document/export.rs`.
