//! A mix in words: gauges, bands, sides, balance, forms an ingredient can take.
//!
//! In: gauges, ingredients. Out: lines.
//!
//! Not here: advice (`advice`).
//!
//! Tested by: `tests/document/export.rs`.
