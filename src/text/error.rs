//! What is wrong, in words: refusals of a mix, a heap, a file.
//!
//! In: an error of any room. Out: one sentence that says what to do.
//!
//! Not here: which things are wrong (the rooms themselves).
//!
//! Tested by: `tests/document/export.rs`.
