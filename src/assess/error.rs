//! Why a project cannot be assessed.
//!
//! In: refusals of the rooms below. Out: [`AssessError`].
//!
//! Not here: what a file's error says (`document`).
//!
//! Tested by: `tests/document/bad_input.rs`, `tests/document/assess.rs`.

use thiserror::Error;

use crate::document::CheckError;
use crate::outcome::TableError;

/// Why something cannot be assessed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum AssessError {
    /// A material is not known, or a number cannot be.
    #[error(transparent)]
    Check(#[from] CheckError),
    /// A built-in table is damaged.
    #[error(transparent)]
    Table(TableError),
}
