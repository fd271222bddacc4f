//! Checks of the science against published values and general-purpose libraries.

#[path = "../support/mod.rs"]
mod support;

mod blend;
mod catalogue;
mod heap_cases;
mod quantity;
mod ranges;
mod silly_mixes;
