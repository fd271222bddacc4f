//! The window: one recipe open at a time, seen and edited in views.
//!
//! In: a path, then events. Out: drawn frames, files. Three piles are kept apart: `Project` is saved
//! and undone, [`WindowState`] is what is chosen and open, [`Shown`] is computed and never saved.
//! Whatever a menu, a key or a button can do is an [`Action`], carried out after the frame.
//!
//! A part imports only parts before it, and no view imports another (tested by
//! `tests/science/house_rules.rs`):
//!
//! ```text
//! theme    every colour and size
//! jobs     work behind the window: one named job each; knows no screen
//! piles    what is chosen, what is computed and shown, what was read, notices
//! action   everything that can be asked for, with words and keys
//! page     what a view is handed
//! widgets  painted and edited things that any view may use
//! mix heap results class materials diary recipes year overlays    the views, and what lies over them
//! verbs    what carries an action out, on a workbench
//! app      the frame: keys, drawing, settling; run opens the window
//! ```
//!
//! Not here: chemistry, heat, files as such (everything below), words on standard output (`command`).
//!
//! Tested by: `tests/window/`.

pub mod action;
mod app;
pub mod class;
pub mod diary;
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
pub mod year;

pub use crate::export::section;
pub use action::{Action, Facts};
pub use app::App;
pub use piles::choices::{View, WindowState};
pub use piles::shown::Shown;
pub use run::{Setup, no_window, run};
