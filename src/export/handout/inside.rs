//! The inside of the heap: greys by temperature, lines of equal temperature with their numbers.
//!
//! In: a projection, a day, a frame. Out: marks on a sheet.
//!
//! Four shades and numbered lines, so that a copy of a copy can still be read.
//! Not here: values between the cells (`section`), where on the page it stands (`page`).
//!
//! Tested by: `tests/document/handout.rs`.

use crate::export::section::{Extent, Raster};
use crate::export::sheet::{Frame, Pen, Sheet, SheetPoint, Type, Weight};
use crate::heap::{Projection, SectionValue};
use crate::quantity::UnitSystem;
use crate::text::page;

/// Points of the raster across.
const ACROSS: usize = 120;
/// Least and most width over height; a flatter heap is drawn higher than it is.
const ASPECTS: (f64, f64) = (0.6, 3.0);
/// Temperatures that have a line, degC.
const LINES_C: [f32; 4] = [20.0, 40.0, 55.0, 65.0];
/// Fewest lines of those; a heap with fewer has lines at even steps.
const FEWEST_LINES: usize = 2;
/// Steps between lines of an even heap, degC.
const STEPS_C: [f32; 5] = [1.0, 2.0, 5.0, 10.0, 20.0];
/// Grey below the first line, between the lines, above the last.
const GREYS: [u8; 5] = [250, 230, 200, 165, 125];
/// Room about a number, pt.
const NUMBER_ROOM: f32 = 20.0;
const SMALL: Type = Type::of(7.5, Weight::SemiBold, 0);
/// Size of a picture of the section alone, pt.
const ALONE: (f32, f32) = (300.0, 240.0);

/// The section alone on a day, as a sheet; `None` without a picture of that day.
pub fn section_sheet(projection: &Projection, day: f64, units: UnitSystem) -> Option<Sheet> {
    let (width, height) = ALONE;
    let mut sheet = Sheet::new(page::SECTION, width, height);
    let frame = Frame {
        left: 10.0,
        top: 10.0,
        width: width - 20.0,
        height: height - 34.0,
    };
    draw(&mut sheet, frame, projection, day, units)?;
    let at = (10.0, height - 8.0);
    let text = SMALL.fitted(&caption(projection, day, units), width - 20.0);
    sheet.text(at, SMALL, &text);
    Some(sheet)
}

/// What the picture is.
pub(super) fn caption(projection: &Projection, day: f64, units: UnitSystem) -> String {
    let values = projection
        .field_at(day)
        .map_or(&[][..], |field| SectionValue::Temperature.values(field));
    let (low, high) = span(values);
    page::section_caption(day, f64::from(low), f64::from(high), units)
}

/// Least and greatest of some values.
fn span(values: &[f32]) -> (f32, f32) {
    let real = values.iter().filter(|value| !value.is_nan());
    real.fold((f32::INFINITY, f32::NEG_INFINITY), |(low, high), value| {
        (low.min(*value), high.max(*value))
    })
}

/// The temperatures that have a line in a picture: at most as many as there are shades between.
fn levels(raster: &Raster) -> Vec<f32> {
    let (low, high) = span(&raster.values);
    let crossed = |level: &f32| (low..=high).contains(level);
    let usual: Vec<f32> = LINES_C.into_iter().filter(crossed).collect();
    if usual.len() >= FEWEST_LINES || !(low.is_finite() && high > low) {
        return usual;
    }
    let most = GREYS.len() as f32 - 1.0;
    let fits = |step: &&f32| ((high / **step).floor() - (low / **step).floor()) <= most;
    let step = STEPS_C.iter().find(fits).copied().unwrap_or(20.0);
    let mut level = (low / step).floor() * step + step;
    let mut even = Vec::new();
    while level <= high && even.len() < most as usize {
        even.push(level);
        level += step;
    }
    even
}

/// Draws the section of a day into a frame, standing on its lower edge.
pub(super) fn draw(
    sheet: &mut Sheet,
    frame: Frame,
    projection: &Projection,
    day: f64,
    units: UnitSystem,
) -> Option<()> {
    let field = projection.field_at(day)?;
    let grid = projection.grids.get(field.grid)?;
    let stands = Extent::on_day(projection, day)?;
    let ratio = stands.aspect().clamp(ASPECTS.0, ASPECTS.1) as f32;
    let width = frame.width.min(frame.height * ratio);
    let height = width / ratio;
    let place = Frame {
        left: frame.left + 0.5 * (frame.width - width),
        top: frame.bottom() - height,
        width,
        height,
    };
    let down = ((ACROSS as f32 / ratio) as usize).clamp(20, 200);
    let raster = Raster::of(grid, SectionValue::Temperature.values(field), ACROSS, down);
    let levels = levels(&raster);
    shade(sheet, place, &raster, &levels);
    lines(sheet, place, &raster, (&levels, units));
    let ground = [
        (frame.left, place.bottom()),
        (frame.right(), place.bottom()),
    ];
    sheet.line(ground.to_vec(), Pen::solid(1.2, 0));
    Some(())
}

/// Which shade a temperature has: the number of lines below it.
fn shade_of(celsius: f32, levels: &[f32]) -> usize {
    levels.iter().filter(|line| celsius >= **line).count()
}

/// A bar for every run of equal shade in a row.
fn shade(sheet: &mut Sheet, place: Frame, raster: &Raster, levels: &[f32]) {
    let cell = (
        place.width / raster.width as f32,
        place.height / raster.height as f32,
    );
    for (y, row) in raster.values.chunks_exact(raster.width).enumerate() {
        let mut x = 0;
        while x < row.len() {
            let first = row[x];
            let same = |value: &&f32| {
                value.is_nan() == first.is_nan()
                    && shade_of(**value, levels) == shade_of(first, levels)
            };
            let length = row[x..].iter().take_while(same).count().max(1);
            if !first.is_nan() {
                let bar = Frame {
                    left: place.left + x as f32 * cell.0,
                    top: place.top + y as f32 * cell.1,
                    width: length as f32 * cell.0,
                    // Rows overlap a little, else thin white lines show between them.
                    height: cell.1 * 1.25,
                };
                sheet.block(
                    Frame {
                        height: bar.height.min(place.bottom() - bar.top),
                        ..bar
                    },
                    GREYS[shade_of(first, levels)],
                );
            }
            x += length;
        }
    }
}

/// The lines of equal temperature, each with its number.
fn lines(sheet: &mut Sheet, place: Frame, raster: &Raster, (levels, units): (&[f32], UnitSystem)) {
    let on_page = |(x, y): (f32, f32)| (place.left + x * place.width, place.top + y * place.height);
    let mut numbers: Vec<(SheetPoint, String)> = Vec::new();
    for &level in levels {
        let pieces = raster.isoline(level);
        let mut middles = Vec::with_capacity(pieces.len());
        for [a, b] in pieces {
            let (a, b) = (on_page(a), on_page(b));
            sheet.line(vec![a, b], Pen::solid(0.8, 0));
            middles.push((0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1)));
        }
        let spot = middles
            .into_iter()
            .map(|spot| (room_at(spot, place, &numbers), spot))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((room, spot)) = spot
            && room > 0.4 * NUMBER_ROOM
        {
            let text = format!("{:.0}", units.temperature(f64::from(level)));
            numbers.push((spot, text));
        }
    }
    for ((x, y), text) in numbers {
        let ground = Frame {
            left: x - 0.5 * SMALL.width(&text) - 1.5,
            top: y - 4.5,
            width: SMALL.width(&text) + 3.0,
            height: 9.0,
        };
        sheet.block(ground, 255);
        sheet.text_about((x, y + 2.7), SMALL, &text);
    }
}

/// Distance to the nearest number and edge, pt, no more than asked for.
fn room_at(spot: SheetPoint, place: Frame, numbers: &[(SheetPoint, String)]) -> f32 {
    let edge = (spot.1 - place.top)
        .min(place.bottom() - spot.1)
        .min(spot.0 - place.left)
        .min(place.right() - spot.0);
    numbers
        .iter()
        .map(|((x, y), _)| (x - spot.0).hypot(y - spot.1))
        .fold(NUMBER_ROOM, f32::min)
        .min(1.5 * edge)
}
