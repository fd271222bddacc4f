//! The window: one recipe open at a time, seen and edited in views.
//!
//! In: a path, then events. Out: drawn frames, files. Three piles are kept apart: `Project` is saved
//! and undone, [`WindowState`] is what is chosen and open, [`Shown`] is computed and never saved.
//! Whatever a menu, a key or a button can do is an [`Action`], carried out after the frame.
//!
//! From outside in: `run` and `app` hold it together; `perform`, `files` and `unsaved` do what is
//! asked; `menu`, `mix_view`, `heap_view`, `season_view`, `spread_view`, `class_view`, `dialogs`,
//! `material_picker`, `materials_drawer`, `plan_sheet` draw; `gauge`,
//! `heat_plot`, `day_line` and `cross_section` are painted things with a pure half; `background` projects what
//! is shown in the background, `plan_finder` looks for a plan there; `theme` holds every colour and size.
//!
//! Not here: chemistry, heat, files as such (everything below), words on standard output (`command`).
//!
//! Held against: `tests/window/`.

pub mod action;
pub mod amount_control;
mod app;
mod background;
pub mod balance_panel;
mod bed_rows;
pub mod buckets;
mod buttons;
pub mod calendar;
mod caution_list;
pub mod change_label;
pub mod class_action;
mod class_books;
mod class_perform;
pub mod class_state;
pub mod class_trial;
pub mod class_view;
mod climate_row;
mod condition_row;
pub mod cross_section;
pub mod curve;
pub mod day_line;
pub mod dialogs;
mod field_tests;
pub mod file_dialog;
mod files;
pub mod gauge;
mod guess_panel;
mod heap_place;
pub mod heap_row;
pub mod heap_view;
pub mod heat_plot;
pub mod ingredient_rows;
mod judging;
pub mod material_picker;
mod material_text;
mod materials_copy;
pub mod materials_drawer;
mod materials_fields;
mod materials_form;
mod materials_page;
mod materials_perform;
pub mod materials_state;
mod menu;
pub mod mix_gauges;
pub mod mix_view;
pub mod named;
pub mod notice;
pub mod outcome_list;
mod page_writer;
mod perform;
pub mod plan_addition;
pub mod plan_finder;
pub mod plan_list;
mod plan_perform;
pub mod plan_sheet;
pub mod plan_words;
pub mod range_bar;
mod run;
mod season_view;

pub mod shape_picker;
mod shown;
mod spread_view;
pub mod state;
pub mod store;
pub mod theme;
mod trade_off_plot;
mod trial_runs;
mod trouble_plot;
mod turn_count;
mod turn_table;
mod unsaved;
mod use_lists;
mod yield_panel;

pub use crate::export::section;
pub use action::{Action, Facts, View};
pub use app::App;
pub use run::{Setup, no_window, run};
pub use shown::Shown;
pub use state::WindowState;
