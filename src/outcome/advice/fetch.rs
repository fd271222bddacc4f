//! Kinds of material worth fetching for a mix.
//!
//! In: `assets/fetch.ron`, the built-in catalogue. Out: [`Fetch`], each checked against the catalogue.
//!
//! Not here: which of them helps a mix (`propose`).
//!
//! Tested by: `tests/science/advice.rs`.

use std::sync::OnceLock;

use serde::Deserialize;
use thiserror::Error;

use crate::material::{Catalogue, CatalogueError, Material};

/// One row of `assets/fetch.ron`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct FetchRow {
    material: String,
    called: String,
    effort: f64,
}

/// A kind of material worth fetching.
#[derive(Debug, Clone, PartialEq)]
pub struct Fetch {
    /// A material that stands for it.
    pub material: Material,
    /// What it is called in a sentence.
    pub called: String,
    /// Effort of fetching it, on the scale of badness of a mix.
    pub effort: f64,
}

/// Why the kinds cannot be used.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FetchError {
    /// The table does not parse.
    #[error("the built-in table fetch.ron cannot be read at {place}; reinstall the program")]
    NotReadable {
        /// Line, column and reason.
        place: String,
    },
    /// It names a material that is in no catalogue.
    #[error(
        "the built-in table fetch.ron names \"{id}\", which is in no catalogue; reinstall the program"
    )]
    Unknown {
        /// Which.
        id: String,
    },
    /// The catalogue is damaged.
    #[error(transparent)]
    Catalogue(#[from] CatalogueError),
}

impl Fetch {
    /// The built-in kinds.
    ///
    /// # Errors
    /// [`FetchError`] if a built-in table is damaged, which `tests/science/advice.rs` rules out.
    pub fn built_in() -> Result<Vec<Self>, FetchError> {
        let rows: Vec<FetchRow> = ron::from_str(include_str!("../../../assets/fetch.ron"))
            .map_err(|err| FetchError::NotReadable {
                place: err.to_string(),
            })?;
        let catalogue = Catalogue::built_in()?;
        rows.into_iter()
            .map(|row| match catalogue.find(&row.material) {
                Some(material) => Ok(Self {
                    material: material.clone(),
                    called: row.called,
                    effort: row.effort,
                }),
                None => Err(FetchError::Unknown { id: row.material }),
            })
            .collect()
    }
}

/// The built-in kinds, read once; none where a table is damaged, which is reported where the program starts.
pub(super) fn kinds() -> &'static [Fetch] {
    static KINDS_READ: OnceLock<Vec<Fetch>> = OnceLock::new();
    KINDS_READ.get_or_init(|| Fetch::built_in().unwrap_or_default())
}
