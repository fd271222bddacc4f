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
//! Tested by: `tests/window/`.

pub mod action;
mod app;
pub mod class;
pub mod heap;
pub mod jobs;
pub mod materials;
pub mod mix;
pub mod overlays;
pub mod page;
pub mod piles;
mod recipes;
pub mod results;
mod run;
pub mod theme;
pub mod verbs;
pub mod widgets;

pub use crate::export::section;
pub use action::{Action, Facts};
pub use app::App;
pub use piles::choices::{View, WindowState};
pub use piles::shown::Shown;
pub use run::{Setup, no_window, run};
