//! Everything calculated of a project, in stages: inputs, blend, projection, forecast, outcome.
//!
//! In: a project, the catalogue. Out: typed results, each stage keyed by what it depends on (mix, heap, own
//! materials; never units).
//!
//! Not here: words (`text`), threads of the window (`window::jobs`).
//!
//! Tested by: `tests/document/export.rs`, `tests/science/outcome.rs`.
