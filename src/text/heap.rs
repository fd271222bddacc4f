//! A heap in words: shape, walls, base, cover, summary of a projection.
//!
//! In: a heap, a projection. Out: lines.
//!
//! Not here: the plan (`plan`).
//!
//! Tested by: `tests/document/export.rs`.
