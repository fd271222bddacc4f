//! The projected curve: centre, band, air, the lines at 40 and 55 degC, the operations.
//!
//! In: a projection, perhaps a forecast, a frame. Out: marks on a sheet.
//!
//! Greys and dashes alone tell lines apart, so that any printer will do.
//! Not here: where on the page it stands (`page`).
//!
//! Tested by: `tests/document/handout.rs`.

use crate::export::assessment::Assessment;
use crate::export::sheet::{Frame, Pen, Sheet, SheetPoint, Type, Weight};
use crate::forecast::{Band, Forecast, Series};
use crate::heap::{Projection, Record};
use crate::quantity::UnitSystem;
use crate::text::number;
use crate::text::page::{CurveShows, DAY_AXIS, curve_key, letter};

const SMALL: Type = Type::of(7.5, Weight::Regular, 40);
/// Greatest temperature of the scale unless the heap is hotter, degC.
const USUAL_TOP_C: f64 = 70.0;
/// Limits that have a line, degC.
const LIMITS_C: [f64; 2] = [40.0, 55.0];
/// Most points of a drawn line.
const MOST_POINTS: usize = 400;
/// Size of a picture of the curve alone, pt.
const ALONE: (f32, f32) = (420.0, 240.0);

/// The curve alone, as a sheet; `None` if nothing is projected.
pub fn curve_sheet(
    assessment: &Assessment<'_>,
    forecast: Option<&Forecast>,
    units: UnitSystem,
) -> Option<Sheet> {
    let projection = assessment.projection.as_ref()?;
    let (width, height) = ALONE;
    let mut sheet = Sheet::new(&assessment.project.title, width, height);
    let frame = Frame {
        left: 10.0,
        top: 8.0,
        width: width - 20.0,
        height: height - 32.0,
    };
    let curve = Curve {
        projection,
        band: forecast.map(|forecast| band_about(projection, forecast)),
        assessment,
        units,
    };
    curve.draw(&mut sheet, frame);
    let key = SMALL.fitted(&curve.key_text(), width - 20.0);
    sheet.text((10.0, height - 8.0), SMALL, &key);
    Some(sheet)
}

/// The band of an ensemble about the line that is drawn.
pub(super) fn band_about(projection: &Projection, forecast: &Forecast) -> Band {
    let records = projection.records.iter();
    let line: Vec<[f64; 2]> = records.map(|r| [r.day, r.centre_c]).collect();
    forecast.band(Series::Centre).holding(&line)
}

/// What is drawn.
pub(super) struct Curve<'a> {
    pub projection: &'a Projection,
    pub band: Option<Band>,
    pub assessment: &'a Assessment<'a>,
    pub units: UnitSystem,
}

/// Where days and degrees lie on the page.
struct Scale {
    plot: Frame,
    days: f64,
    from_c: f64,
    to_c: f64,
}

impl Scale {
    fn at(&self, day: f64, celsius: f64) -> SheetPoint {
        let x = (day / self.days).clamp(0.0, 1.0) as f32;
        let y = ((celsius - self.from_c) / (self.to_c - self.from_c)).clamp(0.0, 1.0) as f32;
        (
            self.plot.left + x * self.plot.width,
            self.plot.bottom() - y * self.plot.height,
        )
    }
}

impl Curve<'_> {
    /// What the key below the curve says.
    pub(super) fn key_text(&self) -> String {
        let shows = match &self.band {
            Some(_) => CurveShows::LineAndBand,
            None => CurveShows::Line,
        };
        let operations = self.assessment.project.heap.plan.events.iter();
        curve_key(shows, operations.map(|event| &event.operation))
    }

    pub(super) fn draw(&self, sheet: &mut Sheet, frame: Frame) {
        let scale = self.scale(frame);
        if let Some(band) = self.band.as_ref().filter(|band| band.days.len() > 1) {
            let upper = band.days.iter().zip(&band.high);
            let lower = band.days.iter().zip(&band.low).rev();
            let edge = upper.chain(lower).map(|(day, t)| scale.at(*day, *t));
            sheet.area(edge.collect(), 208);
        }
        self.grid(sheet, &scale);
        self.operations(sheet, &scale);
        let heap = &self.assessment.project.heap;
        let air = |day: f64| {
            heap.climate
                .daily_mean_c(heap.start_day_of_year - 1.0 + day)
        };
        let records = &self.projection.records;
        let every = records.len().div_ceil(MOST_POINTS).max(1);
        let picked: Vec<&Record> = records
            .iter()
            .step_by(every)
            .chain(records.last())
            .collect();
        let line = |value: &dyn Fn(&Record) -> f64| {
            let points = picked.iter().map(|r| scale.at(r.day, value(r)));
            points.collect::<Vec<SheetPoint>>()
        };
        sheet.line(line(&|record| air(record.day)), Pen::dashed(0.8, 60, 1.5));
        sheet.line(line(&|record| record.centre_c), Pen::solid(1.3, 0));
        sheet.outline(scale.plot, Pen::solid(0.6, 60));
    }

    fn scale(&self, frame: Frame) -> Scale {
        let (mut from_c, mut to_c) = (0.0f64, USUAL_TOP_C);
        let drawn = self.projection.records.iter();
        for value in drawn.flat_map(|record| [record.centre_c, record.ambient_c]) {
            (from_c, to_c) = (from_c.min(value), to_c.max(value));
        }
        for value in self.band.iter().flat_map(|band| &band.high) {
            to_c = to_c.max(*value);
        }
        let days = self.projection.records.last().map_or(1.0, |r| r.day);
        Scale {
            plot: Frame {
                left: frame.left + 24.0,
                top: frame.top + 4.0,
                width: frame.width - 28.0,
                height: frame.height - 26.0,
            },
            days: days.max(1e-6),
            from_c: (from_c / 10.0).floor() * 10.0,
            to_c: (to_c / 10.0).ceil() * 10.0,
        }
    }

    fn grid(&self, sheet: &mut Sheet, scale: &Scale) {
        let plot = scale.plot;
        let step = match self.units {
            UnitSystem::Metric => 10.0,
            UnitSystem::UsCustomary => 20.0,
        };
        let (from, to) = (
            self.units.temperature(scale.from_c),
            self.units.temperature(scale.to_c),
        );
        let mut shown = (from / step).ceil() * step;
        while shown <= to + 1e-9 {
            let share = (shown - from) / (to - from);
            let (x, y) = scale.at(0.0, scale.from_c + share * (scale.to_c - scale.from_c));
            sheet.line(vec![(x - 2.5, y), (x, y)], Pen::solid(0.5, 60));
            if (shown / (2.0 * step)).fract().abs() < 1e-9 {
                sheet.text_to((x - 4.0, y + 2.6), SMALL, &format!("{shown:.0}"));
            }
            shown += step;
        }
        for limit in LIMITS_C {
            let (left, right) = (scale.at(0.0, limit), scale.at(scale.days, limit));
            sheet.line(vec![left, right], Pen::dashed(0.5, 60, 3.0));
            let text = number::temperature(limit, self.units);
            sheet.text_to((plot.right() - 2.0, right.1 - 2.0), SMALL, &text);
        }
        let step = day_step(scale.days);
        let mut day = 0.0;
        while day <= scale.days + 1e-9 {
            let x = scale.at(day, scale.from_c).0;
            let y = plot.bottom();
            sheet.line(vec![(x, y), (x, y + 2.5)], Pen::solid(0.5, 60));
            sheet.text_about((x, y + 10.0), SMALL, &format!("{day:.0}"));
            day += step;
        }
        let middle = plot.left + 0.5 * plot.width;
        let unit = self.units.temperature_unit();
        sheet.text_about((middle, plot.bottom() + 19.0), SMALL, DAY_AXIS);
        sheet.text_to((plot.left - 4.0, plot.top - 1.0), SMALL, unit);
    }

    /// A line with a letter for every operation.
    fn operations(&self, sheet: &mut Sheet, scale: &Scale) {
        let mut free_from = f32::NEG_INFINITY;
        for event in self.assessment.project.heap.plan.in_order() {
            if event.day > scale.days {
                continue;
            }
            let (x, bottom) = scale.at(event.day, scale.from_c);
            let top = scale.plot.top;
            sheet.line(
                vec![(x, top + 9.0), (x, bottom)],
                Pen::dashed(0.4, 110, 1.5),
            );
            if x > free_from {
                sheet.text_about((x, top + 8.0), SMALL, letter(event.operation));
                free_from = x + 7.0;
            }
        }
    }
}

/// Days between numbers under the curve: at most nine of them.
fn day_step(days: f64) -> f64 {
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 365.0];
    let fits = |step: &&f64| days / **step <= 8.0;
    steps.iter().find(fits).copied().unwrap_or(730.0)
}
