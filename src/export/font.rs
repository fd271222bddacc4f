//! The fonts of a page: widths of text, where it breaks, outlines of letters.
//!
//! In: a weight, a size, a text. Out: widths in points, glyphs, lines.
//!
//! Inter, under the SIL Open Font License (`assets/fonts/OFL.txt`). Letters stand side by side without
//! kerning, so that PDF and picture place every one alike. A character the font lacks is shown as "?": Inter
//! holds Latin, Greek and Cyrillic letters.
//! Not here: what is written (`handout`).
//!
//! Tested by: `tests/document/handout.rs`.

use std::ops::Range;
use std::sync::LazyLock;

use ttf_parser::Face;

const REGULAR: &[u8] = include_bytes!("../../assets/fonts/Inter-Regular.otf");
const SEMI_BOLD: &[u8] = include_bytes!("../../assets/fonts/Inter-SemiBold.otf");

static FACES: LazyLock<[Option<Face<'static>>; 2]> =
    LazyLock::new(|| [REGULAR, SEMI_BOLD].map(|data| Face::parse(data, 0).ok()));

/// Shown in place of a character the font lacks.
const LACKING: char = '?';

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
    pub glyph: u16,
    /// How far the next one stands, share of the size.
    pub advance: f32,
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
    pub(super) fn face(self) -> Option<&'static Face<'static>> {
        FACES[self as usize].as_ref()
    }

    /// The letters of a text.
    pub(super) fn letters(self, text: &str) -> Vec<Letter> {
        let Some(face) = self.face() else {
            return Vec::new();
        };
        let em = f32::from(face.units_per_em());
        text.char_indices()
            .map(|(at, character)| {
                let found = face.glyph_index(character);
                let id = found
                    .or_else(|| face.glyph_index(LACKING))
                    .unwrap_or_default();
                Letter {
                    glyph: id.0,
                    advance: f32::from(face.glyph_hor_advance(id).unwrap_or(0)) / em,
                    range: at..at + character.len_utf8(),
                }
            })
            .collect()
    }

    /// The text with what the font lacks replaced.
    pub(super) fn shown(self, text: &str) -> String {
        let has = |character: char| {
            self.face()
                .is_some_and(|f| f.glyph_index(character).is_some())
        };
        text.chars()
            .map(|character| if has(character) { character } else { LACKING })
            .collect()
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
