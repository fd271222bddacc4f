//! The facts that judgements rest on, read from `assets/`.
//!
//! In: the built-in tables. Out: [`Facts`].
//!
//! Not here: what they mean (each table has its own module).
//!
//! Tested by: `tests/science/outcome.rs`.

use std::sync::LazyLock;

use serde::de::DeserializeOwned;
use thiserror::Error;

use super::cautions::Caution;
use super::finish::FinishTable;
use super::kill::KillTable;
use super::nutrient::UseTable;
use super::sanitation::HeatRule;
use super::smell::Fault;

/// A built-in table does not parse.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("the built-in table {table} cannot be read at {place}; reinstall the program")]
pub struct TableError {
    /// Which table.
    pub table: &'static str,
    /// Line, column and reason.
    pub place: String,
}

/// All facts.
#[derive(Debug, Clone, PartialEq)]
pub struct Facts {
    /// Heat rules.
    pub rules: Vec<HeatRule>,
    /// Seeds, roots, diseases, germs.
    pub kill: KillTable,
    /// Limits, times and field tests.
    pub finish: FinishTable,
    /// Feeding, rates, distances.
    pub usage: UseTable,
    /// Faults with their cures.
    pub faults: Vec<Fault>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

impl Facts {
    /// The built-in facts.
    ///
    /// # Errors
    /// [`TableError`] if a built-in table is damaged.
    pub fn built_in() -> Result<Self, TableError> {
        Ok(Self {
            rules: read(
                "heat_rules.ron",
                include_str!("../../assets/heat_rules.ron"),
            )?,
            kill: read("kill.ron", include_str!("../../assets/kill.ron"))?,
            finish: read("finish.ron", include_str!("../../assets/finish.ron"))?,
            usage: read("use.ron", include_str!("../../assets/use.ron"))?,
            faults: read("troubles.ron", include_str!("../../assets/troubles.ron"))?,
            cautions: read("cautions.ron", include_str!("../../assets/cautions.ron"))?,
        })
    }
}

/// The built-in facts, read once.
///
/// # Errors
/// [`TableError`] if a built-in table is damaged.
pub fn shared() -> Result<&'static Facts, TableError> {
    static FACTS: LazyLock<Result<Facts, TableError>> = LazyLock::new(Facts::built_in);
    FACTS.as_ref().map_err(TableError::clone)
}

fn read<T: DeserializeOwned>(table: &'static str, text: &str) -> Result<T, TableError> {
    ron::from_str(text).map_err(|err| TableError {
        table,
        place: err.to_string(),
    })
}
