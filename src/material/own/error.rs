//! What is wrong with measurements of an own material.
//!
//! In: a figure, its ends. Out: the figure, or one sentence about what cannot be.
//!
//! Not here: what is only doubtful ([`super::Doubt`]).
//!
//! Tested by: `tests/science/own_materials.rs`.

use std::fmt;

use thiserror::Error;

use crate::material::CatalogueError;
use crate::quantity::number_text;

/// A figure that was measured, as an error names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// What the bucket holds.
    Bucket,
    /// The bucket alone.
    EmptyBucket,
    /// Bucket and material.
    FullBucket,
    /// A sample as it is.
    FreshSample,
    /// The same sample dried.
    DriedSample,
    /// Mass by loose volume.
    BulkDensity,
    /// Water.
    Moisture,
    /// Nitrogen as the report has it.
    Nitrogen,
    /// Nitrogen as a share of the dry matter.
    DryNitrogen,
    /// Carbon.
    Carbon,
    /// Organic matter.
    OrganicMatter,
    /// Organic matter by itself, where it is too much.
    OrganicMatterAlone,
    /// Ash.
    Ash,
    /// Ash and carbon together.
    AshAndCarbon,
}

impl fmt::Display for Figure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Bucket => "the bucket",
            Self::EmptyBucket => "the empty bucket",
            Self::FullBucket => "the full bucket",
            Self::FreshSample => "the fresh sample",
            Self::DriedSample => "the dried sample",
            Self::BulkDensity => "the bulk density",
            Self::Moisture => "moisture",
            Self::Nitrogen => "nitrogen",
            Self::DryNitrogen => "nitrogen in dry matter",
            Self::Carbon => "carbon",
            Self::OrganicMatter => "organic matter",
            Self::OrganicMatterAlone => "organic matter alone",
            Self::Ash => "ash",
            Self::AshAndCarbon => "ash and carbon",
        })
    }
}

/// Why measurements make no material.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum OwnError {
    /// No name.
    #[error("the material has no name yet; give it one")]
    Nameless,
    /// A number that cannot be.
    #[error("{what} must lie between {low} and {high} {unit}, but {} was given; check the figure and its unit", number_text(*.found))]
    OutOfRange {
        /// Which number.
        what: Figure,
        /// Least.
        low: f64,
        /// Most.
        high: f64,
        /// Of both.
        unit: &'static str,
        /// What was given.
        found: f64,
    },
    /// A sample that gained weight.
    #[error("the dried sample ({} g) weighs more than the fresh one ({} g); swap the two or weigh again", number_text(*.dry_g), number_text(*.wet_g))]
    DryHeavier {
        /// As it was, g.
        wet_g: f64,
        /// Dried, g.
        dry_g: f64,
    },
    /// A bucket that got lighter.
    #[error("the full bucket ({} kg) weighs no more than the empty one ({} kg); swap the two or weigh again", number_text(*.full_kg), number_text(*.empty_kg))]
    FullLighter {
        /// Empty, kg.
        empty_kg: f64,
        /// Full, kg.
        full_kg: f64,
    },
    /// More than all of it.
    #[error(
        "{what} make {found:.1} % of the dry matter, which is more than all of it; check them, and whether the report is on a dry basis or as received"
    )]
    TooMuch {
        /// Which values together.
        what: Figure,
        /// Their sum, %.
        found: f64,
    },
    /// Organic matter and ash that do not fit.
    #[error(
        "organic matter and ash make {found:.1} % of the dry matter together and should make 100; leave one of them out, or check the basis"
    )]
    Misfit {
        /// Their sum, %.
        found: f64,
    },
    /// Nothing to calculate carbon from.
    #[error("there is neither carbon nor organic matter nor ash; give one of them")]
    NoCarbon,
    /// The result cannot be, for another reason.
    #[error("{0}")]
    CannotBe(CatalogueError),
}

/// A number between its ends, or a refusal.
pub(super) fn within(
    what: Figure,
    found: f64,
    [low, high]: [f64; 2],
    unit: &'static str,
) -> Result<f64, OwnError> {
    if found >= low && found <= high {
        Ok(found)
    } else {
        Err(OwnError::OutOfRange {
            what,
            low,
            high,
            unit,
            found,
        })
    }
}
