//! What is wrong, in words: what the window and the command say around an error of a room.
//!
//! In: an error of any room. Out: one sentence that says what to do.
//!
//! Not here: which things are wrong, and each error's own message (the rooms themselves).
//!
//! Tested by: `tests/window/materials.rs`.

use crate::material::own::OwnError;

/// What a form still lacks.
pub fn not_yet(problem: &OwnError) -> String {
    format!("Not yet: {problem}.")
}
