//! What people ask about a material, with an answer in a sentence or two and how firm it is.
//!
//! In: `assets/questions.ron`, built into the program. Out: the entries that concern a material.
//!
//! Not here: cautions, which stand whether or not anyone asks.
//!
//! Tested by: `tests/science/own_materials.rs`.

use serde::Deserialize;

use super::{CatalogueError, Family, Material};

const QUESTIONS_RON: &str = include_str!("../../assets/questions.ron");

/// How firm an answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum AnswerStanding {
    /// Its source was read.
    Read,
    /// Own arithmetic from figures that are stated.
    Calculated,
    /// Another text quotes the source.
    SecondHand,
    /// From memory.
    Recalled,
}

/// A question about some materials, and what is known.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MaterialQuestion {
    /// Ids of the materials it is about.
    #[serde(default)]
    pub materials: Vec<String>,
    /// Families it is about.
    #[serde(default)]
    pub families: Vec<Family>,
    /// The question.
    pub question: String,
    /// The answer.
    pub answer: String,
    /// How firm it is.
    pub standing: AnswerStanding,
    /// Where it is from.
    pub source: String,
}

impl MaterialQuestion {
    /// Whether it concerns this material.
    pub fn is_about(&self, material: &Material) -> bool {
        self.families.contains(&material.family) || self.materials.contains(&material.id)
    }
}

/// The built-in questions.
///
/// # Errors
/// [`CatalogueError::NotReadable`] if the table is damaged.
pub fn questions() -> Result<Vec<MaterialQuestion>, CatalogueError> {
    ron::from_str(QUESTIONS_RON).map_err(|err| CatalogueError::NotReadable {
        table: "questions.ron",
        place: err.to_string(),
    })
}
