//! The fonts of a page: widths of text, where it breaks, outlines of letters.
//!
//! In: a weight, a size, a text. Out: widths in points, glyphs, lines.
//!
//! Inter, under the SIL Open Font License (`assets/fonts/OFL.txt`): Latin, Greek and Cyrillic letters. Letters are
//! shaped, with kerning and accents in place; PDF and picture place every one alike. A character the font lacks is
//! drawn as an empty box and stays itself in the text of a PDF, where it can be searched and copied.
//! Not here: what is written (`handout`).
//!
//! Tested by: `tests/document/handout.rs`.

use std::ops::Range;
use std::sync::LazyLock;

use harfrust::{Direction, Feature, ShapeOptions, ShaperData, Tag, UnicodeBuffer};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::prelude::{FontRef, GlyphId, LocationRef, MetadataProvider, Size};

use crate::document::plain;

const REGULAR: &[u8] = include_bytes!("../../assets/fonts/Inter-Regular.otf");
const SEMI_BOLD: &[u8] = include_bytes!("../../assets/fonts/Inter-SemiBold.otf");

/// A font that was read.
struct Face {
    font: FontRef<'static>,
    shaping: ShaperData,
}

static FACES: LazyLock<[Option<Face>; 2]> = LazyLock::new(|| {
    [REGULAR, SEMI_BOLD].map(|data| {
        let font = FontRef::new(data).ok()?;
        let shaping = ShaperData::new(&font);
        Some(Face { font, shaping })
    })
});

/// Drawn in place of a character the font lacks.
const LACKING: char = '□';

/// Joined letters and letters that change with their neighbours would not be found again when a PDF is searched.
static PLAIN_LETTERS: LazyLock<[Feature; 3]> =
    LazyLock::new(|| [b"liga", b"clig", b"calt"].map(|tag| Feature::new(Tag::new(tag), 0, ..)));

/// How heavy letters are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Text.
    Regular,
    /// Headings.
    SemiBold,
}

/// One letter of a text.
pub(super) struct Letter {
    /// Its number in the font.
    pub glyph: u32,
    /// How far the next one stands, share of the size.
    pub advance: f32,
    /// How far it is moved to the right and up from its place, shares of the size.
    pub shift: (f32, f32),
    /// Its bytes in the text.
    pub range: Range<usize>,
}

impl Weight {
    /// The font file.
    pub(super) fn data(self) -> &'static [u8] {
        match self {
            Self::Regular => REGULAR,
            Self::SemiBold => SEMI_BOLD,
        }
    }

    /// The font read; `None` only if the built-in file is damaged.
    fn face(self) -> Option<&'static Face> {
        FACES[self as usize].as_ref()
    }

    /// The letters of a text, from left to right.
    pub(super) fn letters(self, text: &str) -> Vec<Letter> {
        let Some(Face { font, shaping }) = self.face() else {
            return Vec::new();
        };
        let lacking = font.charmap().map(LACKING).unwrap_or_default();
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(Direction::LeftToRight);
        let shaper = shaping.shaper(font).build();
        let em = shaper.units_per_em() as f32;
        let options = ShapeOptions::new().features(&*PLAIN_LETTERS);
        let shaped = shaper.shape(buffer, options);
        let infos = shaped.glyph_infos();
        let begin = |at: usize| infos[at].cluster as usize;
        let mut letters = Vec::with_capacity(infos.len());
        for (at, place) in shaped.glyph_positions().iter().enumerate() {
            let next = (at + 1..infos.len())
                .map(begin)
                .find(|next| *next > begin(at));
            let known = (infos[at].glyph_id != 0).then_some(infos[at].glyph_id);
            let width = match known {
                Some(_) => place.x_advance as f32,
                None => advance_of(font, lacking),
            };
            letters.push(Letter {
                glyph: known.unwrap_or(lacking.to_u32()),
                advance: width / em,
                shift: (place.x_offset as f32 / em, place.y_offset as f32 / em),
                range: begin(at)..next.unwrap_or(text.len()),
            });
        }
        letters
    }

    /// Units of the font to the size; one where the built-in file is damaged.
    pub(super) fn em(self) -> f32 {
        let unscaled = |face: &Face| face.font.metrics(Size::unscaled(), LocationRef::default());
        self.face()
            .map_or(1.0, |face| f32::from(unscaled(face).units_per_em))
    }

    /// Draws the outline of a letter, in units of the font.
    pub(super) fn outline(self, letter: &Letter, pen: &mut impl OutlinePen) {
        let Some(Face { font, .. }) = self.face() else {
            return;
        };
        let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
        if let Some(outline) = font.outline_glyphs().get(GlyphId::new(letter.glyph)) {
            // A glyph that cannot be drawn is left out; its place stays.
            let _ = outline.draw(settings, pen);
        }
    }

    /// The text without what would be drawn nowhere and steers instead.
    pub(super) fn shown(self, text: &str) -> String {
        plain(text)
    }

    /// Width of a text, in the unit of `size`.
    pub(super) fn width(self, size: f32, text: &str) -> f32 {
        let advances = self.letters(text).into_iter().map(|letter| letter.advance);
        size * advances.sum::<f32>()
    }

    /// The text, or as much of it as fits into `width` with an ellipsis.
    pub(super) fn fitted(self, size: f32, text: &str, width: f32) -> String {
        if self.width(size, text) <= width {
            return text.to_owned();
        }
        let mut left = width - self.width(size, "…");
        let mut end = 0;
        for letter in self.letters(text) {
            left -= size * letter.advance;
            if left < 0.0 {
                break;
            }
            end = letter.range.end;
        }
        format!("{}…", text[..end].trim_end())
    }

    /// The text broken between words into lines of at most `width`; a word too long for a line is cut.
    pub(super) fn lines(self, size: f32, text: &str, width: f32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            let longer = lines.last().map(|line| format!("{line} {word}"));
            match (longer, lines.last_mut()) {
                (Some(longer), Some(line)) if self.width(size, &longer) <= width => *line = longer,
                _ => lines.push(self.fitted(size, word, width)),
            }
        }
        lines
    }
}

/// Width of a glyph, in units of the font.
fn advance_of(font: &FontRef<'_>, glyph: GlyphId) -> f32 {
    let metrics = font.glyph_metrics(Size::unscaled(), LocationRef::default());
    metrics.advance_width(glyph).unwrap_or_default()
}
