//! What materials are called inside a sentence.
//!
//! In: `assets/spoken.ron`, a material with those it must be told apart from. Out: its name.
//!
//! A person's own material is called by its own name.
//! Not here: names in lists (`material`).
//!
//! Tested by: `tests/science/advice.rs` (every material of the catalogue, and no other).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::mix::balance::StepMaterial;
use crate::outcome::advice::NamedMaterial;

/// One row of `assets/spoken.ron`.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpokenName {
    /// Id in the catalogue.
    pub material: String,
    /// What it is called.
    pub short: String,
    /// What it is called beside another of the same short name.
    pub full: String,
}

/// The rows of the built-in table.
///
/// # Errors
/// Where and why the table does not parse.
pub fn spoken_names() -> Result<Vec<SpokenName>, ron::error::SpannedError> {
    ron::from_str(include_str!("../../assets/spoken.ron"))
}

/// The names by id, read once; empty if the table is damaged, and the catalogue's names are used.
static NAMES: LazyLock<BTreeMap<String, SpokenName>> = LazyLock::new(|| {
    let rows = spoken_names().unwrap_or_default();
    rows.into_iter()
        .map(|row| (row.material.clone(), row))
        .collect()
});

/// A material's name inside a sentence; in full where another one beside it is called the same.
pub fn beside_others(material: &NamedMaterial) -> &str {
    let Some(own) = NAMES.get(&material.id) else {
        return &material.name;
    };
    let mut others = material.beside.iter().filter_map(|id| NAMES.get(id));
    if others.any(|other| other.short == own.short) {
        &own.full
    } else {
        &own.short
    }
}

/// A material's name inside a sentence where nothing else is named.
pub fn alone(material: &StepMaterial) -> &str {
    let own = NAMES.get(&material.id);
    own.map_or(&material.name, |own| &own.short)
}

/// A material's name inside a sentence, by its id; `None` for one that is not in the catalogue.
pub fn of_id(id: &str) -> Option<&'static str> {
    NAMES.get(id).map(|own| own.short.as_str())
}
