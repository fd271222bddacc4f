//! What people look for that does not belong in a heap, and why.
//!
//! In: `assets/keep_out.ron`, built into the program; what was typed. Out: the entry that names it.
//!
//! Not here: cautions about what may go in (`outcome`), the materials (`catalogue`).
//!
//! Tested by: `tests/science/material_search.rs`.

use serde::Deserialize;

use super::words::words;
use super::{AnswerStanding, CatalogueError};

const KEEP_OUT_RON: &str = include_str!("../../assets/keep_out.ron");

/// Something to leave out of a heap.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepOut {
    /// Short, stable name.
    pub id: String,
    /// What it is called, at the beginning of a sentence.
    pub name: String,
    /// What people type.
    pub called: Vec<String>,
    /// Why it is left out, and what to do instead.
    pub why: String,
    /// Where that is from.
    pub source: String,
    /// How firm it is.
    pub standing: AnswerStanding,
}

impl KeepOut {
    /// Whether all words of one of its names were typed.
    pub fn is_named_by(&self, typed: &str) -> bool {
        let typed = words(typed);
        self.called.iter().any(|called| {
            let named = words(called);
            !named.is_empty()
                && named
                    .iter()
                    .all(|word| typed.iter().any(|typed| typed.stem == word.stem))
        })
    }
}

/// The built-in list.
///
/// # Errors
/// [`CatalogueError::NotReadable`] if the table is damaged.
pub fn keep_out() -> Result<Vec<KeepOut>, CatalogueError> {
    ron::from_str(KEEP_OUT_RON).map_err(|err| CatalogueError::NotReadable {
        table: "keep_out.ron",
        place: err.to_string(),
    })
}
