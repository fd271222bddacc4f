//! Numbers as they are said: ratios, shares, weights, volumes, temperatures, counts.
//!
//! In: SI values, the units a person reads. Out: a number with its unit.
//!
//! Not here: dates (`date`).
//!
//! Tested by: `tests/document/export.rs`.
