//! Checks of the science against published values and general-purpose libraries.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test fails by panicking, in its helpers too"
)]

#[path = "../support/mod.rs"]
mod support;

mod absurd_heaps;
mod advice;
mod airflow;
mod bench;
mod blend;
mod catalogue;
mod cell;
mod climate;
mod common_cases;
mod conduction;
mod convection;
mod demos;
mod events;
mod forecast;
mod forecast_band;
mod forecast_worker;
mod grid;
mod heap_cases;
mod heap_convergence;
mod house_rules;
mod ledgers;
mod manufactured;
mod moist_air;
mod one_cell;
mod oxygen;
mod plan;
mod quantity;
mod ranges;
mod rot;
mod shape;
mod silly_mixes;
mod single_cell;
mod stand_in;
mod surface;
mod tables;
mod transport;
mod trial_files;
mod trials;
