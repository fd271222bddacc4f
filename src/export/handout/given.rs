//! What a handout is made of: the project, its forecast, units, paper.
//!
//! In: what was calculated. Out: [`Handout`], from which a page is made.
//!
//! Not here: what is written on it (`content`) and where (`page`).
//!
//! Tested by: `tests/document/handout.rs`.

use crate::export::assessment::{Assessment, PrintedCaution};
use crate::forecast::Forecast;
use crate::quantity::UnitSystem;

/// Size of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// Both.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        }
    }

    /// Width and height, pt (1/72 inch).
    pub fn size_pt(self) -> (f32, f32) {
        match self {
            Self::A4 => (210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// What a handout is made of.
#[derive(Debug, Clone, Copy)]
pub struct Handout<'a> {
    /// The project, calculated.
    pub assessment: &'a Assessment<'a>,
    /// Its ensemble, for the band and the ranges; `None` draws the curve alone.
    pub forecast: Option<&'a Forecast>,
    /// What to mind, the gravest first.
    pub cautions: &'a [PrintedCaution],
    /// Units of everything on it.
    pub units: UnitSystem,
    /// Size of the paper.
    pub paper: Paper,
}
