//! Checks of the science against published values and general-purpose libraries.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test fails by panicking, in its helpers too"
)]

#[path = "../support/mod.rs"]
mod support;

mod advice;
mod airflow;
mod bench;
mod blend;
mod catalogue;
mod climate;
mod conduction;
mod convection;
mod demos;
mod events;
mod forecast;
mod grid;
mod heap_cases;
mod heap_convergence;
mod house_rules;
mod ledgers;
mod manufactured;
mod moist_air;
mod one_cell;
mod quantity;
mod ranges;
mod rot;
mod shape;
mod silly_mixes;
mod transport;
