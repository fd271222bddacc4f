//! A plan in words: operations, their days, a plan that is proposed.
//!
//! In: a plan. Out: lines.
//!
//! Not here: dates (`date`).
//!
//! Tested by: `tests/document/export.rs`.
