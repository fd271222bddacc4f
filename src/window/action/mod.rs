//! Everything a menu, a key or a button can do, with its words and keys.
//!
//! In: what is so at present. Out: [`Action`] and [`ClassAction`], each with an [`Entry`].
//!
//! Not here: the doing (`verbs`), where the buttons stand (the views).
//!
//! Tested by: `tests/window/actions.rs`.

pub mod class;
pub mod diary;
pub mod entry;
pub mod list;
pub mod recipe;
pub mod year;

pub use class::ClassAction;
pub use diary::DiaryAction;
pub use entry::{Entry, Facts};
pub use list::{Action, Reply, THEMES, UNITS};
pub use recipe::RecipeAction;
pub use year::YearAction;
