//! A page of marks: areas, lines and text in shades of grey, before it becomes PDF or PNG.
//!
//! In: drawing calls. Out: [`SheetMark`]s in the order in which they lie over each other.
//!
//! Lengths are points (1/72 inch), from the upper left corner, downward. Greys run from 0 (black) to
//! 255 (white), so that a page prints on any printer.
//! Not here: what is drawn (`handout`), how it is written (`pdf`, `picture`).
//!
//! Tested by: `tests/document/handout.rs`.

pub use super::font::Weight;

/// A place on a page, pt from the left and from the top.
pub type SheetPoint = (f32, f32);

/// A rectangle on a page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Frame {
    pub left: f32,
    pub top: f32,
    pub width: f32,
    pub height: f32,
}

impl Frame {
    pub(super) fn right(self) -> f32 {
        self.left + self.width
    }

    pub(super) fn bottom(self) -> f32 {
        self.top + self.height
    }

    fn corners(self) -> [SheetPoint; 4] {
        let (l, t, r, b) = (self.left, self.top, self.right(), self.bottom());
        [(l, t), (r, t), (r, b), (l, b)]
    }
}

/// A pen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pen {
    /// Width, pt.
    pub width: f32,
    /// Grey.
    pub grey: u8,
    /// Length of dashes and of gaps, pt; `None` is a solid line.
    pub dash: Option<f32>,
}

impl Pen {
    /// A solid line.
    pub const fn solid(width: f32, grey: u8) -> Self {
        Self {
            width,
            grey,
            dash: None,
        }
    }

    /// A dashed line.
    pub const fn dashed(width: f32, grey: u8, dash: f32) -> Self {
        Self {
            width,
            grey,
            dash: Some(dash),
        }
    }
}

/// White around a page, pt.
pub(super) const MARGIN: f32 = 36.0;
/// The title of a page.
pub(super) const TITLE: Type = Type::of(18.0, Weight::SemiBold, 0);

/// How a text looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    /// Size, pt.
    pub size: f32,
    /// Weight.
    pub weight: Weight,
    /// Grey.
    pub grey: u8,
}

impl Type {
    /// Of this size, pt, weight and grey.
    pub(super) const fn of(size: f32, weight: Weight, grey: u8) -> Self {
        Self { size, weight, grey }
    }

    /// Width of a text, pt.
    pub fn width(self, text: &str) -> f32 {
        self.weight.width(self.size, text)
    }

    /// See [`Weight::fitted`].
    pub(super) fn fitted(self, text: &str, width: f32) -> String {
        self.weight.fitted(self.size, text, width)
    }

    /// See [`Weight::lines`].
    pub(super) fn lines(self, text: &str, width: f32) -> Vec<String> {
        self.weight.lines(self.size, text, width)
    }
}

/// One mark.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetMark {
    /// A filled outline.
    Area {
        /// Corners.
        points: Vec<SheetPoint>,
        /// Grey.
        grey: u8,
    },
    /// A line.
    Line {
        /// Points.
        points: Vec<SheetPoint>,
        /// Its look.
        pen: Pen,
    },
    /// A line of text.
    Text {
        /// Left end of the line on which letters stand.
        at: SheetPoint,
        /// The words.
        text: String,
        /// Its look.
        look: Type,
    },
}

/// A page.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// What the page is called.
    pub title: String,
    /// Width, pt.
    pub width: f32,
    /// Height, pt.
    pub height: f32,
    /// Everything on it, the lowest first.
    pub marks: Vec<SheetMark>,
}

impl Sheet {
    /// An empty page.
    pub fn new(title: &str, width: f32, height: f32) -> Self {
        Self {
            title: title.to_owned(),
            width,
            height,
            marks: Vec::new(),
        }
    }

    /// Every line of text, in the order in which it was put down.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        self.marks.iter().filter_map(|mark| match mark {
            SheetMark::Text { text, .. } => Some(text.as_str()),
            SheetMark::Area { .. } | SheetMark::Line { .. } => None,
        })
    }

    pub(super) fn area(&mut self, points: Vec<SheetPoint>, grey: u8) {
        if points.len() > 2 {
            self.marks.push(SheetMark::Area { points, grey });
        }
    }

    pub(super) fn block(&mut self, frame: Frame, grey: u8) {
        self.area(frame.corners().to_vec(), grey);
    }

    pub(super) fn line(&mut self, points: Vec<SheetPoint>, pen: Pen) {
        if points.len() > 1 {
            self.marks.push(SheetMark::Line { points, pen });
        }
    }

    pub(super) fn outline(&mut self, frame: Frame, pen: Pen) {
        let [a, b, c, d] = frame.corners();
        self.line(vec![a, b, c, d, a], pen);
    }

    pub(super) fn text(&mut self, at: SheetPoint, look: Type, text: &str) {
        if !text.trim().is_empty() {
            self.marks.push(SheetMark::Text {
                at,
                text: look.weight.shown(text),
                look,
            });
        }
    }

    /// Text that ends at a place.
    pub(super) fn text_to(&mut self, at: SheetPoint, look: Type, text: &str) {
        self.text((at.0 - look.width(text), at.1), look, text);
    }

    /// Text about a place.
    pub(super) fn text_about(&mut self, at: SheetPoint, look: Type, text: &str) {
        self.text((at.0 - 0.5 * look.width(text), at.1), look, text);
    }
}
