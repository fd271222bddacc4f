//! What lies over or around a view: menu, dialogs, pickers, sheets.
//!
//! In: the page. Out: actions.
//!
//! Not here: carrying them out (`verbs`).
//!
//! Tested by: `tests/window/`.

mod complaint_questions;
pub mod complaint_sheet;
pub mod dialogs;
pub mod help_sheet;
mod import_rows;
pub mod import_sheet;
pub mod material_picker;
pub(in crate::window) mod menu;
pub mod plan_sheet;
pub(in crate::window) mod trade_off_plot;
