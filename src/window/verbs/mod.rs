//! Carrying out what was asked for.
//!
//! In: an action. Out: a changed project, files, notices.
//!
//! Not here: what can be asked for (`action`).
//!
//! Tested by: `tests/window/`.

pub mod change_label;
pub(in crate::window) mod class;
pub(in crate::window) mod files;
pub(in crate::window) mod materials;
pub(in crate::window) mod perform;
pub(in crate::window) mod plan;
pub(in crate::window) mod unsaved;
