//! Carrying out what was asked for.
//!
//! In: an action. Out: a changed project, files, notices.
//!
//! Every file is one more `impl` of [`Workbench`]: the verbs of files, of kept recipes, of the mix, of the plan, of a class.
//!
//! Not here: what can be asked for (`action`).
//!
//! Tested by: `tests/window/`.

pub(in crate::window) mod background;
pub(in crate::window) mod changes;
pub(in crate::window) mod class;
pub(in crate::window) mod complaint;
pub(in crate::window) mod diary;
pub(in crate::window) mod elsewhere;
pub(in crate::window) mod files;
pub(in crate::window) mod importing;
pub(in crate::window) mod materials;
pub mod mix;
pub(in crate::window) mod perform;
pub(in crate::window) mod plan;
pub(in crate::window) mod recipes;
pub(in crate::window) mod trials;
pub(in crate::window) mod unsaved;
pub mod workbench;
pub(in crate::window) mod year;
pub(in crate::window) mod year_files;
pub(in crate::window) mod year_out;
pub(in crate::window) mod year_plan;

pub use workbench::{Clock, Workbench};
