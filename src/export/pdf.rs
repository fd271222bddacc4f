//! Pages as PDF: vector, text selectable, the used letters of the fonts embedded.
//!
//! In: [`Sheet`]s. Out: the bytes of a file with these pages; the same bytes for the same pages.
//!
//! Not here: what is on the page (`handout`).
//!
//! Tested by: `tests/document/handout.rs` (read by another library, and by poppler).

use krilla::Document;
use krilla::color::luma;
use krilla::geom::{Path, PathBuilder, Point as Place};
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use thiserror::Error;

use super::sheet::{Pen, Sheet, SheetMark, SheetPoint, Type, Weight};

/// Why there is no PDF.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PdfError {
    /// A page without area.
    #[error("a page of {width} by {height} points cannot be; choose a paper size")]
    Size {
        /// Width, pt.
        width: f32,
        /// Height, pt.
        height: f32,
    },
    /// The built-in fonts cannot be read.
    #[error(
        "the built-in fonts cannot be read, so no page can be written; install the program again"
    )]
    Font,
    /// The writer gave up.
    #[error("the page could not be written as PDF ({0}); shorten the names on it and try again")]
    Writer(String),
}

/// The fonts of a document.
struct Fonts {
    regular: Font,
    semi_bold: Font,
}

impl Fonts {
    fn load() -> Option<Self> {
        let font = |weight: Weight| Font::new(weight.data().into(), 0);
        Some(Self {
            regular: font(Weight::Regular)?,
            semi_bold: font(Weight::SemiBold)?,
        })
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::SemiBold => self.semi_bold.clone(),
        }
    }
}

/// The pages as a PDF file, titled as the first.
///
/// # Errors
/// [`PdfError`] if a page has no area or cannot be written.
pub fn pdf(sheets: &[Sheet]) -> Result<Vec<u8>, PdfError> {
    let fonts = Fonts::load().ok_or(PdfError::Font)?;
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(
                sheets
                    .first()
                    .map_or_else(String::new, |sheet| sheet.title.clone()),
            )
            .creator("Heapwright".to_owned())
            .language("en".to_owned()),
    );
    for sheet in sheets {
        let settings = PageSettings::from_wh(sheet.width, sheet.height).ok_or(PdfError::Size {
            width: sheet.width,
            height: sheet.height,
        })?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for mark in &sheet.marks {
            put(&mut surface, mark, &fonts);
        }
        surface.finish();
        page.finish();
    }
    document
        .finish()
        .map_err(|problem| PdfError::Writer(format!("{problem:?}")))
}

fn put(surface: &mut Surface<'_>, mark: &SheetMark, fonts: &Fonts) {
    match mark {
        SheetMark::Area { points, grey } => {
            surface.set_fill(Some(ink(*grey)));
            surface.set_stroke(None);
            if let Some(path) = path(points, true) {
                surface.draw_path(&path);
            }
        }
        SheetMark::Line { points, pen } => {
            surface.set_fill(None);
            surface.set_stroke(Some(stroke(*pen)));
            let closed = points.first() == points.last();
            if let Some(path) = path(points, closed) {
                surface.draw_path(&path);
            }
        }
        SheetMark::Text { at, text, look } => {
            surface.set_fill(Some(ink(look.grey)));
            surface.set_stroke(None);
            letters(surface, *at, text, *look, fonts);
        }
    }
}

fn letters(surface: &mut Surface<'_>, at: SheetPoint, text: &str, look: Type, fonts: &Fonts) {
    let glyphs: Vec<KrillaGlyph> = look
        .weight
        .letters(text)
        .into_iter()
        .map(|letter| {
            let id = GlyphId::new(letter.glyph);
            let (right, up) = letter.shift;
            KrillaGlyph::new(id, letter.advance, right, up, 0.0, letter.range, None)
        })
        .collect();
    let font = fonts.of(look.weight);
    let start = Place::from_xy(at.0, at.1);
    surface.draw_glyphs(start, &glyphs, font, text, look.size, false);
}

fn ink(grey: u8) -> Fill {
    Fill {
        paint: luma::Color::new(grey).into(),
        ..Fill::default()
    }
}

fn stroke(pen: Pen) -> Stroke {
    Stroke {
        paint: luma::Color::new(pen.grey).into(),
        width: pen.width,
        dash: pen.dash.map(|length| StrokeDash {
            array: vec![length, length],
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn path(points: &[SheetPoint], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let (first, rest) = points.split_first()?;
    builder.move_to(first.0, first.1);
    for point in rest {
        builder.line_to(point.0, point.1);
    }
    if closed {
        builder.close();
    }
    builder.finish()
}
