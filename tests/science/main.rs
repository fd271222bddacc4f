//! Checks of the science against published values and general-purpose libraries.

#[path = "../support/mod.rs"]
mod support;

mod catalogue;
mod heap_cases;
mod quantity;
