//! The handout: a project on one printed page.
//!
//! In: a [`Handout`]. Out: a page as [`Sheet`] or PDF, the same in plain text for the clipboard, and its
//! pictures one by one.
//!
//! Chapter: `given` is what it is made of, `content` says what is on it, `page` where, `curve` and `inside` draw.
//!
//! Not here: how a sheet becomes a file (`pdf`, `picture`), which cautions there are (the caller).
//!
//! Tested by: `tests/document/handout.rs`.

mod content;
mod curve;
mod given;
mod inside;
mod page;

pub use curve::curve_sheet;
pub use given::{Handout, Paper};
pub use inside::section_sheet;
pub use page::handout_sheets;

use super::pdf::{PdfError, pdf};

/// The handout as a PDF file: one page, and further ones where dates and safety notes need them.
///
/// # Errors
/// [`PdfError`] if it cannot be written.
pub fn handout(handout: &Handout<'_>) -> Result<Vec<u8>, PdfError> {
    pdf(&handout_sheets(handout))
}

/// The handout in plain text, whole, for the clipboard.
pub fn handout_text(handout: &Handout<'_>) -> String {
    content::Content::of(handout).text()
}
