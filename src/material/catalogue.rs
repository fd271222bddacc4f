//! The catalogue: every material that is known, and the look-up of one.
//!
//! In: `assets/materials.ron` and `assets/sources.ron`, built into the program, and own materials
//! laid over them. Out: a material by id, search by words.
//!
//! Not here: what the values mean (`material`).
//!
//! Held against: `tests/science/catalogue.rs`.

use serde::Deserialize;
use thiserror::Error;

use super::Material;

const MATERIALS_RON: &str = include_str!("../../assets/materials.ron");
const SOURCES_RON: &str = include_str!("../../assets/sources.ron");

/// Where values of the catalogue come from.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Code used in `materials.ron`.
    pub code: String,
    /// Title, edition, year, table.
    pub title: String,
    /// What of it was read.
    pub read: String,
}

/// Why a catalogue cannot be used.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CatalogueError {
    /// A built-in table does not parse.
    #[error("the built-in table {table} cannot be read at {place}; reinstall the program")]
    NotReadable {
        /// Which table.
        table: &'static str,
        /// Line, column and reason.
        place: String,
    },
    /// A value of a material cannot be.
    #[error("material \"{id}\": {field} is {found}; {remedy}")]
    BadValue {
        /// Which material.
        id: String,
        /// Which of its values.
        field: &'static str,
        /// What stands there.
        found: String,
        /// What to do.
        remedy: &'static str,
    },
}

/// All known materials, in the order of the table, own ones last.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Catalogue {
    materials: Vec<Material>,
    sources: Vec<Source>,
}

impl Catalogue {
    /// The built-in catalogue.
    ///
    /// # Errors
    /// [`CatalogueError::NotReadable`] if a built-in table is damaged.
    pub fn built_in() -> Result<Self, CatalogueError> {
        let read = |table, err: ron::error::SpannedError| CatalogueError::NotReadable {
            table,
            place: err.to_string(),
        };
        let materials: Vec<Material> =
            ron::from_str(MATERIALS_RON).map_err(|err| read("materials.ron", err))?;
        let sources = ron::from_str(SOURCES_RON).map_err(|err| read("sources.ron", err))?;
        Ok(Self { materials, sources })
    }

    /// The same with own materials laid over it; an own one hides a built-in one of the same id.
    ///
    /// # Errors
    /// [`CatalogueError::BadValue`] for an own material that cannot be.
    pub fn with_own(&self, own: &[Material]) -> Result<Self, CatalogueError> {
        let mut all = self.clone();
        for material in own {
            check(material)?;
            all.materials.retain(|known| known.id != material.id);
            all.materials.push(material.clone());
        }
        Ok(all)
    }

    /// Every material.
    pub fn materials(&self) -> &[Material] {
        &self.materials
    }

    /// Every source.
    pub fn sources(&self) -> &[Source] {
        &self.sources
    }

    /// The material with this id.
    pub fn find(&self, id: &str) -> Option<&Material> {
        self.materials.iter().find(|material| material.id == id)
    }

    /// The source with this code.
    pub fn source(&self, code: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.code == code)
    }

    /// Materials whose name, id or family holds every word of `query`; names that begin with it first.
    pub fn search(&self, query: &str) -> Vec<&Material> {
        let query = query.trim().to_lowercase();
        let words: Vec<&str> = query.split_whitespace().collect();
        let mut found: Vec<(bool, &Material)> = self
            .materials
            .iter()
            .filter_map(|material| {
                let name = material.name.to_lowercase();
                let family = material.family.label().to_lowercase();
                words
                    .iter()
                    .all(|word| {
                        name.contains(word) || family.contains(word) || material.id.contains(word)
                    })
                    .then(|| (!name.starts_with(&query), material))
            })
            .collect();
        found.sort_by_key(|(later, _)| *later);
        found.into_iter().map(|(_, material)| material).collect()
    }

    /// The id most like `id`, for "did you mean".
    pub fn nearest_id(&self, id: &str) -> Option<&str> {
        let shared = |other: &str| {
            id.chars()
                .zip(other.chars())
                .take_while(|(a, b)| a == b)
                .count()
        };
        self.materials
            .iter()
            .map(|material| (shared(&material.id), material.id.as_str()))
            .max_by_key(|(count, _)| *count)
            .filter(|(count, _)| *count >= 3)
            .map(|(_, id)| id)
    }
}

/// Whether a material can be: ranges in order, shares within 0-1, pools adding to 1.
fn check(material: &Material) -> Result<(), CatalogueError> {
    let bad = |field, found: String, remedy| {
        Err(CatalogueError::BadValue {
            id: material.id.clone(),
            field,
            found,
            remedy,
        })
    };
    for (field, value) in material.values() {
        let range = value.range();
        if !range.is_sound() || range.low < 0.0 {
            let found = format!("{} / {} / {}", range.low, range.typical, range.high);
            return bad(
                field,
                found,
                "low, typical and high must rise and not be negative",
            );
        }
        let top = match field {
            "bulk density" => 3000.0,
            "pH" => 14.0,
            "C:N" => 5000.0,
            _ => 1.0,
        };
        if range.high > top {
            return bad(
                field,
                range.high.to_string(),
                "that is more than there can be",
            );
        }
    }
    if material.bulk_density.low <= 0.0 {
        return bad(
            "bulk density",
            material.bulk_density.low.to_string(),
            "it must be above zero",
        );
    }
    if material.moisture.high >= 1.0 {
        return bad(
            "moisture",
            material.moisture.high.to_string(),
            "it must leave some dry matter",
        );
    }
    if !(0.0..=0.9).contains(&material.settles_share) {
        return bad(
            "settling",
            material.settles_share.to_string(),
            "it must lie between 0 and 0.9",
        );
    }
    let pools = &material.pools;
    let parts = [pools.fast, pools.medium, pools.slow, pools.inert];
    let sum: f64 = parts.iter().sum();
    if !parts.iter().all(|part| (0.0..=1.0).contains(part)) || (sum - 1.0).abs() > 1e-6 {
        return bad("pools", sum.to_string(), "the four shares must add to 1");
    }
    Ok(())
}
