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
mod balance;
mod bench;
mod blend;
mod catalogue;
mod cell;
mod climate;
mod common_cases;
mod complaint;
mod complaint_cures;
mod complaint_tables;
mod condition;
mod conduction;
mod convection;
mod demos;
mod events;
mod exchange;
mod fed;
mod forecast;
mod forecast_band;
mod forecast_coverage;
mod forecast_line;
mod forecast_worker;
mod grid;
mod heap_cases;
mod heap_convergence;
mod house_rules;
mod ice;
mod inside;
mod learn;
mod learn_twins;
mod learn_weights;
mod ledgers;
mod manufactured;
mod material_search;
mod moist_air;
mod next_days;
mod one_cell;
mod outcome;
mod outcome_curing;
mod outcome_finish;
mod outcome_kill;
mod outcome_produce;
mod outcome_reach;
mod outcome_sanitation;
mod outcome_trouble;
mod own_materials;
mod oxygen;
mod plan;
mod plan_search;
mod portion;
mod quantity;
mod ranges;
mod rot;
mod settled;
mod shape;
mod silly_mixes;
mod single_cell;
mod stand_in;
mod stock;
mod surface;
mod tables;
mod transport;
mod trial_files;
mod trials;
mod tuned_constants;
mod words;
mod words_live_in_text;
mod year;
mod year_scipy;
