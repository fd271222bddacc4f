//! What is wrong, in words: what the window and the command say around an error of a room.
//!
//! In: an error of any room. Out: one sentence that says what to do.
//!
//! Not here: which things are wrong, and each error's own message (the rooms themselves).
//!
//! Tested by: `tests/window/materials.rs`, `tests/window/files.rs`, `tests/document/library.rs`.

use std::fmt::Display;
use std::io;

use crate::document::FileError;
use crate::material::own::OwnError;

/// Said below what was refused: nothing is lost.
pub const AS_IT_WAS: &str = "The open recipe is as it was.";

/// What a form still lacks.
pub fn not_yet(problem: &OwnError) -> String {
    format!("Not yet: {problem}.")
}

/// Something that was refused, the reason in the same breath; `what` is a sentence without its stop.
pub fn refused(what: &str, problem: &FileError) -> String {
    format!("{what}: {problem}")
}

/// A change that cannot be.
pub fn change_rejected(problem: &dyn Display) -> String {
    format!("Change rejected: {problem}.")
}

/// The settings file is damaged.
pub fn settings_unread(problem: &FileError) -> String {
    format!("The settings could not be read, so the usual ones are in use ({problem})")
}

/// The settings file cannot be written.
pub fn settings_not_kept(problem: &FileError) -> String {
    format!("The settings were not kept: {problem}")
}

/// What an earlier run left cannot be read.
pub fn unsaved_unread(problem: &dyn Display) -> String {
    format!("Unsaved work of an earlier run cannot be read: {problem}")
}

/// There is no place to keep unsaved work in.
pub fn unsaved_has_no_place(problem: &dyn Display) -> String {
    format!("Unsaved work cannot be kept for after a crash: {problem}")
}

/// Unsaved work was not written this time.
pub fn unsaved_not_kept(problem: &dyn Display) -> String {
    format!("Unsaved work could not be kept for after a crash: {problem}")
}

/// No plan can be looked for.
pub fn no_plan(problem: &dyn Display) -> String {
    format!("No plan can be proposed: {problem}.")
}

/// The system could not start a thread.
pub fn no_thread(problem: &io::Error) -> String {
    format!("the system could not start a thread: {problem}")
}

/// The file dialog does not open.
pub fn no_dialog(problem: &io::Error) -> String {
    format!("The file dialog cannot be opened ({problem})")
}
