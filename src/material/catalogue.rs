//! The catalogue: every material that is known, and the look-up of one.
//!
//! In: `assets/materials.ron` and `assets/sources.ron`, built into the program, and own materials
//! laid over them. Out: a material by id.
//!
//! Not here: what the values mean (`material`), how words find one (`search`).
//!
//! Tested by: `tests/science/catalogue.rs`.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;
use thiserror::Error;

use super::search::{self, Entry};
use super::{Family, Material};
use crate::quantity::number_text;

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
    /// Place of each id in `materials`: a blend looks ids up on every frame.
    place_of_id: BTreeMap<String, usize>,
    /// The words each of `materials` is found by; shared, since only own ones differ from the built-in.
    words: Vec<Arc<Entry>>,
    /// The family of each of `materials`.
    families: Vec<Family>,
}

impl Catalogue {
    fn new(materials: Vec<(Material, Arc<Entry>)>, sources: Vec<Source>) -> Self {
        let (materials, words): (Vec<Material>, Vec<Arc<Entry>>) = materials.into_iter().unzip();
        let families = materials.iter().map(|material| material.family).collect();
        let place_of_id = materials
            .iter()
            .enumerate()
            .map(|(place, material)| (material.id.clone(), place))
            .collect();
        Self {
            materials,
            sources,
            place_of_id,
            words,
            families,
        }
    }

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
        Ok(Self::new(
            materials.into_iter().map(with_words).collect(),
            sources,
        ))
    }

    /// The same with own materials laid over it; an own one hides a built-in one of the same id.
    ///
    /// # Errors
    /// [`CatalogueError::BadValue`] for an own material that cannot be, or for two of one id.
    pub fn with_own(&self, own: &[Material]) -> Result<Self, CatalogueError> {
        let mut all: Vec<(Material, Arc<Entry>)> = self
            .materials
            .iter()
            .cloned()
            .zip(self.words.iter().cloned())
            .collect();
        for (place, material) in own.iter().enumerate() {
            check(material)?;
            if own[..place].iter().any(|other| other.id == material.id) {
                return Err(bad(
                    material,
                    "id",
                    "used twice",
                    "give one of them another id",
                ));
            }
            all.retain(|(known, _)| known.id != material.id);
            all.push(with_words(material.clone()));
        }
        Ok(Self::new(all, self.sources.clone()))
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
        self.place_of_id
            .get(id)
            .and_then(|&place| self.materials.get(place))
    }

    /// The source with this code.
    pub fn source(&self, code: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.code == code)
    }

    /// Materials that words lead to, best first: by name, by what else they are called, by id and by family.
    /// `family_name` is what a person calls a family. All of them, in order, for no words.
    pub fn search(&self, query: &str, family_name: fn(Family) -> &'static str) -> Vec<&Material> {
        search::search(&self.words, &self.families, family_name, query)
            .into_iter()
            .filter_map(|place| self.materials.get(place))
            .collect()
    }

    /// The id most like `id`, for "did you mean"; words in another order count as alike.
    pub fn nearest_id(&self, id: &str) -> Option<&str> {
        let sorted = |id: &str| {
            let mut words: Vec<String> = id
                .to_lowercase()
                .split(|c: char| !c.is_alphanumeric())
                .map(str::to_owned)
                .collect();
            words.sort();
            words.join("_")
        };
        // Longer than any id by far: nothing is like it, and the comparison would be slow.
        if id.len() > 100 {
            return None;
        }
        let wanted = sorted(id);
        self.materials
            .iter()
            .map(|material| {
                (
                    strsim::levenshtein(&wanted, &sorted(&material.id)),
                    material,
                )
            })
            .min_by_key(|(apart, _)| *apart)
            .filter(|(apart, _)| 3 * apart <= wanted.chars().count())
            .map(|(_, material)| material.id.as_str())
    }
}

/// A material with the words it is found by.
fn with_words(material: Material) -> (Material, Arc<Entry>) {
    let entry = Arc::new(Entry::new(&material));
    (material, entry)
}

/// Whether a material can be.
pub(super) fn check(material: &Material) -> Result<(), CatalogueError> {
    check_ranges(material)?;
    check_balance(material)
}

/// A refusal of one value of a material.
fn bad(
    material: &Material,
    field: &'static str,
    found: impl ToString,
    remedy: &'static str,
) -> CatalogueError {
    CatalogueError::BadValue {
        id: material.id.clone(),
        field,
        found: found.to_string(),
        remedy,
    }
}

/// Least and greatest value each field can have.
fn limits(field: &str) -> (f64, f64) {
    match field {
        // Gases aside, nothing in a heap is lighter than foam or heavier than stone.
        "bulk density" => (1.0, 3000.0),
        "pH" => (0.0, 14.0),
        // Urea is 0.43; pure cellulose has no nitrogen and then no C:N either.
        "C:N" => (0.1, 5000.0),
        "moisture" => (0.0, 0.99),
        "nitrogen" => (0.0, 0.5),
        "carbon" => (0.0, 0.8),
        _ => (0.0, 1.0),
    }
}

/// Every range in order and within its limits.
fn check_ranges(material: &Material) -> Result<(), CatalogueError> {
    if material.id.trim().is_empty() || material.name.trim().is_empty() {
        return Err(bad(material, "name", "empty", "give it an id and a name"));
    }
    for (field, value) in material.values() {
        let range = value.range();
        if !range.is_sound() {
            let [low, typical, high] = [range.low, range.typical, range.high].map(number_text);
            let found = format!("{low} / {typical} / {high}");
            return Err(bad(
                material,
                field,
                found,
                "low, typical and high must be numbers that rise",
            ));
        }
        let (least, most) = limits(field);
        if range.low < least {
            return Err(bad(
                material,
                field,
                number_text(range.low),
                "give more, there cannot be so little",
            ));
        }
        if range.high > most {
            return Err(bad(
                material,
                field,
                number_text(range.high),
                "give less, there cannot be so much",
            ));
        }
    }
    if !(0.0..=0.9).contains(&material.settles_share) {
        let remedy = "it must lie between 0 and 0.9";
        let found = number_text(material.settles_share);
        return Err(bad(material, "settling", found, remedy));
    }
    let traits = &material.traits;
    for (field, value, most) in [
        ("nitrogen at once", traits.nitrogen_at_once, 1.0),
        ("wood", traits.wood, 1.0),
        ("liming", traits.liming_mol_per_kg, 40.0),
    ] {
        if !(0.0..=most).contains(&value) {
            let remedy = "it must not lie below 0 nor above what there can be";
            return Err(bad(material, field, number_text(value), remedy));
        }
    }
    if !(0.1..=10.0).contains(&material.size_factor) {
        let remedy = "it must lie between 0.1 and 10";
        let found = number_text(material.size_factor);
        return Err(bad(material, "particle size factor", found, remedy));
    }
    Ok(())
}

/// What must fit together: carbon with ash, lignin with ash, nitrogen with C:N, the four pools.
fn check_balance(material: &Material) -> Result<(), CatalogueError> {
    let (carbon, ash) = (material.carbon.typical, material.ash.typical);
    if carbon + ash > 1.0 + 1e-9 {
        let remedy = "together with the ash that is more than all of it";
        return Err(bad(material, "carbon", carbon, remedy));
    }
    let lignin = material.lignin.typical;
    if lignin + ash > 1.0 + 1e-9 {
        let remedy = "together with the ash that is more than all of it";
        return Err(bad(material, "lignin", lignin, remedy));
    }
    if let Some(cn) = &material.carbon_to_nitrogen {
        let product = material.nitrogen.typical * cn.typical;
        if (product - carbon).abs() > 0.1 * carbon {
            let found = format!(
                "{}, which with this nitrogen makes {product:.2} carbon",
                cn.typical
            );
            let remedy = "make carbon, nitrogen and C:N agree, or leave C:N out";
            return Err(bad(material, "C:N", found, remedy));
        }
    }
    let pools = &material.pools;
    let parts = [pools.fast, pools.medium, pools.slow, pools.inert];
    let sum: f64 = parts.iter().sum();
    if !parts.iter().all(|part| (0.0..=1.0).contains(part)) || (sum - 1.0).abs() > 1e-6 {
        let sum = number_text(sum);
        return Err(bad(material, "pools", sum, "the four shares must add to 1"));
    }
    Ok(())
}
