//! Checks of the science against published values and general-purpose libraries.

#[path = "../support/mod.rs"]
mod support;

mod catalogue;
mod climate;
mod demos;
mod heap_cases;
mod house_rules;
mod moist_air;
mod one_cell;
mod quantity;
mod rot;
mod shape;
