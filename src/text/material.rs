//! Materials in words: families, trust, own materials.
//!
//! In: a material. Out: words.
//!
//! Not here: the catalogue (`material`).
//!
//! Tested by: `tests/document/export.rs`.
