//! A page as PNG.
//!
//! In: a [`Sheet`], pixels per point. Out: the bytes of a PNG file on white ground.
//!
//! Not here: what is on the page (`handout`), a screenshot of the window (`window`).
//!
//! Tested by: `tests/document/handout.rs` (pixels and size read back).

use skrifa::outline::OutlinePen;
use thiserror::Error;
use tiny_skia::{Color, FillRule, Paint, Path, PathBuilder, Pixmap, Stroke, StrokeDash, Transform};

use super::sheet::{Pen, Sheet, SheetMark, SheetPoint, Type};

/// Pixels per point at which a picture is twice as fine as a screen of 96 dots per inch.
const TWICE: f32 = 2.0 * 96.0 / 72.0;
/// Greatest width and height of a picture, pixels.
const MOST_PIXELS: f32 = 16_384.0;
/// Metres in a point (1/72 inch of 0.0254 m, exact).
const METRES_PER_POINT: f32 = 0.0254 / 72.0;

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PictureError {
    /// Too large, or without area.
    #[error("a picture of {width} by {height} pixels cannot be; ask for a smaller one")]
    Size {
        /// Width, pixels.
        width: f32,
        /// Height, pixels.
        height: f32,
    },
    /// The writer gave up.
    #[error("the picture could not be written ({0}); try again")]
    Writer(String),
}

/// The page as a PNG file, twice as fine as a screen of 96 dots per inch.
///
/// # Errors
/// [`PictureError`] if the page has no area or is too large.
pub fn picture_png(sheet: &Sheet) -> Result<Vec<u8>, PictureError> {
    let scale = TWICE;
    let (width, height) = ((sheet.width * scale).ceil(), (sheet.height * scale).ceil());
    let size = PictureError::Size { width, height };
    if !(1.0..=MOST_PIXELS).contains(&width) || !(1.0..=MOST_PIXELS).contains(&height) {
        return Err(size);
    }
    let mut pixels = Pixmap::new(width as u32, height as u32).ok_or(size)?;
    pixels.fill(Color::WHITE);
    let place = Transform::from_scale(scale, scale);
    for mark in &sheet.marks {
        put(&mut pixels, mark, place);
    }
    encoded(&pixels, scale).map_err(|problem| PictureError::Writer(problem.to_string()))
}

fn encoded(pixels: &Pixmap, scale: f32) -> Result<Vec<u8>, png::EncodingError> {
    // Everything is opaque and grey, so one channel holds it all.
    let grey: Vec<u8> = pixels.pixels().iter().map(|pixel| pixel.red()).collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixels.width(), pixels.height());
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Eight);
    let per_metre = (scale / METRES_PER_POINT).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&grey)?;
    writer.finish()?;
    Ok(bytes)
}

fn put(pixels: &mut Pixmap, mark: &SheetMark, place: Transform) {
    match mark {
        SheetMark::Area { points, grey } => {
            if let Some(path) = path(points, true) {
                pixels.fill_path(&path, &ink(*grey), FillRule::Winding, place, None);
            }
        }
        SheetMark::Line { points, pen } => {
            let closed = points.first() == points.last();
            if let Some(path) = path(points, closed) {
                pixels.stroke_path(&path, &ink(pen.grey), &stroke(*pen), place, None);
            }
        }
        SheetMark::Text { at, text, look } => letters(pixels, *at, text, *look, place),
    }
}

fn letters(pixels: &mut Pixmap, at: SheetPoint, text: &str, look: Type, place: Transform) {
    let size = look.size;
    let scale = size / look.weight.em();
    let mut x = at.0;
    for letter in look.weight.letters(text) {
        let mut pen = Outline(PathBuilder::new());
        look.weight.outline(&letter, &mut pen);
        if let Some(path) = pen.0.finish() {
            let place = place
                .pre_translate(x + size * letter.shift.0, at.1 - size * letter.shift.1)
                .pre_scale(scale, -scale);
            pixels.fill_path(&path, &ink(look.grey), FillRule::Winding, place, None);
        }
        x += look.size * letter.advance;
    }
}

/// Takes down the outline of a letter.
struct Outline(PathBuilder);

impl OutlinePen for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.0.close();
    }
}

fn ink(grey: u8) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(grey, grey, grey, 255);
    paint.anti_alias = true;
    paint
}

fn stroke(pen: Pen) -> Stroke {
    Stroke {
        width: pen.width,
        dash: pen
            .dash
            .and_then(|length| StrokeDash::new(vec![length, length], 0.0)),
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
