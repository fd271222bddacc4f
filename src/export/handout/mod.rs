//! The handout: a project on one printed page.
//!
//! In: a [`Handout`]. Out: a page as [`Sheet`] or PDF, the same in plain text for the clipboard, and its
//! pictures one by one.
//!
//! Chapter: `content` says what is on it, `page` where, `curve` and `inside` draw.
//! Not here: how a sheet becomes a file (`pdf`, `picture`), which cautions there are (the caller).
//!
//! Tested by: `tests/document/handout.rs`.

mod content;
mod curve;
mod inside;
mod page;

pub use curve::curve_sheet;
pub use inside::section_sheet;
pub use page::handout_sheet;

use super::Assessment;
use super::pdf::{PdfError, pdf};
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

/// Something to mind, and who says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedCaution {
    /// One line.
    pub line: String,
    /// Where it is from; may be empty.
    pub source: String,
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

/// The handout as a PDF file of one page.
///
/// # Errors
/// [`PdfError`] if it cannot be written.
pub fn handout(handout: &Handout<'_>) -> Result<Vec<u8>, PdfError> {
    pdf(&handout_sheet(handout))
}

/// The handout in plain text, whole, for the clipboard.
pub fn handout_text(handout: &Handout<'_>) -> String {
    content::Content::of(handout).text()
}
