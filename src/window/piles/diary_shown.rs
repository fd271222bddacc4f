//! A diary beside the projection: what was expected of each reading, and points thinned for drawing.
//!
//! In: a diary, the present projection. Out: [`DiaryShown`], made anew only when one of the two is another.
//!
//! Not here: drawing (`reading_plot`), what is learnt (`forecast`).
//!
//! Tested by: `tests/window/diary.rs`.

use std::sync::Arc;

use crate::diary::{Diary, Reading, Spot};
use crate::heap::{Place, Projection, SectionValue};
use crate::text::diary::Expected;

use crate::window::piles::curve::thinned;

/// Most points of one probe that are drawn.
const LOG_POINTS: usize = 400;
/// Most temperatures by hand that are drawn beside one curve: more would lie over one another.
const DOT_POINTS: usize = 240;

/// Which of the drawn curves is nearest to where something was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Near {
    /// The centre.
    Centre,
    /// Halfway to the side.
    Middle,
    /// The edge.
    Edge,
}

/// How far out the curves of the middle and the edge begin to be nearer, shares: between 0, one half and about 0.85.
const NEARER: (f64, f64) = (0.25, 0.68);

impl Near {
    /// All of them, outermost first, in the order in which they are drawn.
    pub const ALL: [Self; 3] = [Self::Edge, Self::Middle, Self::Centre];

    /// The curve nearest to a place; close under the top or above the ground is edge as well.
    pub fn of(spot: Spot) -> Self {
        let up = (2.0 * spot.up - 1.0).abs();
        match spot.out.max(up) {
            core if core < NEARER.0 => Self::Centre,
            middle if middle < NEARER.1 => Self::Middle,
            _ => Self::Edge,
        }
    }
}

/// A temperature that was taken by hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dot {
    /// Which reading, by its place in the diary.
    pub reading: usize,
    /// Days since the heap was built.
    pub day: f64,
    /// Temperature, degC.
    pub measured_c: f64,
    /// What was expected there and then, degC.
    pub expected_c: Option<f64>,
    /// The nearest curve.
    pub near: Near,
}

impl Dot {
    /// Measured less expected, K.
    pub fn off_k(&self) -> Option<f64> {
        Some(self.measured_c - self.expected_c?)
    }
}

/// What was measured near one curve, thinned.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLine {
    /// Day and temperature, degC.
    pub measured_c: Vec<[f64; 2]>,
    /// Day and measured less expected, K.
    pub off_k: Vec<[f64; 2]>,
    /// The nearest curve.
    pub near: Near,
}

/// What is drawn and written of a diary.
#[derive(Debug, Clone, Default)]
pub struct DiaryShown {
    /// What it was made of.
    of: Option<(Diary, Option<Arc<Projection>>)>,
    /// What was expected of each reading, in the order of the diary.
    pub expected: Vec<Expected>,
    /// Day and place in the diary of every reading, the newest first; of one moment, as entered.
    pub newest_first: Vec<(f64, usize)>,
    /// Temperatures by hand, all of them.
    pub dots: Vec<Dot>,
    /// The same as they are drawn, one line of dots for each curve.
    pub drawn_dots: Vec<DrawnLine>,
    /// Temperatures by loggers, as they are drawn.
    pub logs: Vec<DrawnLine>,
    /// Measured less expected of every temperature by hand and of what is drawn of the loggers', K.
    pub offs_k: Vec<f64>,
    /// The lowest and the highest temperature that was measured, degC.
    pub span_c: Option<(f64, f64)>,
}

impl DiaryShown {
    /// Brings it up to date.
    pub fn refresh(&mut self, diary: &Diary, projection: Option<&Arc<Projection>>) {
        let same = self.of.as_ref().is_some_and(|(of, by)| {
            let same_projection = match (by, projection) {
                (Some(by), Some(newest)) => Arc::ptr_eq(by, newest),
                (None, None) => true,
                _ => false,
            };
            same_projection && of == diary
        });
        if same {
            return;
        }
        let by = projection.map(AsRef::as_ref);
        let expected = |reading: &Reading| match (by, diary.day_of(reading.at)) {
            (Some(projection), Some(day)) => expected_of(projection, reading.spot, day),
            _ => Expected::default(),
        };
        self.expected = diary.readings.iter().map(expected).collect();
        let dots = diary.readings.iter().zip(&self.expected).enumerate();
        self.dots = dots
            .filter_map(|(place, (reading, expected))| {
                Some(Dot {
                    reading: place,
                    day: diary.day_of(reading.at)?,
                    measured_c: reading.temperature_c?,
                    expected_c: expected.temperature_c,
                    near: Near::of(reading.spot),
                })
            })
            .collect();
        self.newest_first = newest_first(diary);
        self.drawn_dots = drawn_dots(&self.dots);
        self.logs = diary.logs.iter().map(|log| log_line(log, by)).collect();
        self.offs_k = offs_k(&self.dots, &self.logs);
        self.span_c = span_c(&self.dots, &self.logs);
        self.of = Some((diary.clone(), projection.cloned()));
    }
}

/// Readings with their days, the newest first.
fn newest_first(diary: &Diary) -> Vec<(f64, usize)> {
    let readings = diary.readings.iter().enumerate();
    let mut dated: Vec<(f64, usize)> = readings
        .filter_map(|(place, reading)| Some((diary.day_of(reading.at)?, place)))
        .collect();
    dated.sort_by(|a, b| b.0.total_cmp(&a.0));
    dated
}

/// Temperatures by hand as they are drawn, one line for each curve.
fn drawn_dots(dots: &[Dot]) -> Vec<DrawnLine> {
    let line = |near| {
        let mut own: Vec<&Dot> = dots.iter().filter(|dot| dot.near == near).collect();
        own.sort_by(|a, b| a.day.total_cmp(&b.day));
        let measured: Vec<[f64; 2]> = own.iter().map(|dot| [dot.day, dot.measured_c]).collect();
        let off = own
            .iter()
            .filter_map(|dot| Some([dot.day, dot.off_k()?]))
            .collect::<Vec<_>>();
        DrawnLine {
            measured_c: thinned(&measured, DOT_POINTS),
            off_k: thinned(&off, DOT_POINTS),
            near,
        }
    };
    Near::ALL.map(line).into()
}

fn offs_k(dots: &[Dot], logs: &[DrawnLine]) -> Vec<f64> {
    let logged = logs.iter().flat_map(|log| log.off_k.iter());
    let logged = logged.map(|point| point[1]);
    dots.iter().filter_map(Dot::off_k).chain(logged).collect()
}

fn span_c(dots: &[Dot], logs: &[DrawnLine]) -> Option<(f64, f64)> {
    let logged = logs.iter().flat_map(|log| log.measured_c.iter());
    let all = dots.iter().map(|dot| dot.measured_c);
    let all = all.chain(logged.map(|point| point[1]));
    all.fold(None, |span: Option<(f64, f64)>, it| {
        Some(span.map_or((it, it), |(low, high)| (low.min(it), high.max(it))))
    })
}

/// What a projection says of a place and a day.
pub fn expected_of(projection: &Projection, spot: Spot, day: f64) -> Expected {
    let place = Place {
        out: spot.out,
        up: spot.up,
    };
    let at = |value| projection.value_at(value, place, day);
    Expected {
        temperature_c: at(SectionValue::Temperature),
        moisture: at(SectionValue::Moisture),
        oxygen: at(SectionValue::Oxygen),
        height_m: projection.height_m(day),
    }
}

fn log_line(log: &crate::diary::Log, projection: Option<&Projection>) -> DrawnLine {
    let points: Vec<[f64; 2]> = log
        .temperatures_c
        .iter()
        .map(|(day, degrees)| [*day, *degrees])
        .collect();
    let measured_c = thinned(&points, LOG_POINTS);
    let off = |point: &[f64; 2]| {
        let expected = expected_of(projection?, log.spot, point[0]).temperature_c?;
        Some([point[0], point[1] - expected])
    };
    DrawnLine {
        off_k: measured_c.iter().filter_map(off).collect(),
        measured_c,
        near: Near::of(log.spot),
    }
}
