//! Judgements in words: topic, sentence, numbers, source.
//!
//! In: typed judgements. Out: sentences.
//!
//! Not here: the judging (`outcome`).
//!
//! Tested by: `tests/document/export.rs`.
