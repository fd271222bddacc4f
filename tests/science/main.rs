//! Checks of the science against published values and general-purpose libraries.

#[path = "../support/mod.rs"]
mod support;

mod airflow;
mod bench;
mod climate;
mod conduction;
mod convection;
mod demos;
mod grid;
mod heap_cases;
mod house_rules;
mod manufactured;
mod moist_air;
mod one_cell;
mod rot;
mod shape;
mod transport;
