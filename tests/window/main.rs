//! Checks of the window through its accessibility tree, as a screen reader meets it.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of a test fails the test"
)]

mod actions;
mod balance;
mod class;
mod class_screen;
mod class_trials;
mod complaint;
mod contrast;
mod diary;
mod diary_learnt;
mod elsewhere;
mod files;
mod gauge;
mod heap;
mod heap_plan;
mod heap_section;
mod heat_plot;
mod help;
mod import;
mod jobs;
mod materials;
mod mix;
mod monkey;
mod names;
mod next_days;
mod numbers;
mod picker;
mod plan_search;
mod quantity_field;
mod recipes;
mod results;
mod start;
mod support;
mod theme;
mod undo;
mod year;
mod year_plan;
