//! Trials and lessons in words: what changes, verdicts, evidence.
//!
//! In: effects of a trial. Out: sentences.
//!
//! Not here: running them (`assess`).
//!
//! Tested by: `tests/document/export.rs`.
