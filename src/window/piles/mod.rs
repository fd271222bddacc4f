//! What the window holds beside the project: what is chosen, what is computed, what has been told.
//!
//! In: a project, clicks, answers of jobs. Out: plain values that views read.
//!
//! Not here: doing anything (`verbs`), drawing (`widgets`, the views).
//!
//! Tested by: `tests/window/`.

pub mod books;
pub mod choices;
pub mod class_choices;
pub mod complaint_choices;
pub mod curve;
pub mod diary_choices;
pub mod diary_shown;
pub mod drawer_choices;
pub mod import_choices;
pub mod learnt_shown;
pub mod notices;
pub mod preview;
pub mod recipe_cards;
pub mod shelf;
pub mod shown;
pub mod store;
pub mod trial_shown;
pub mod year_desk;
