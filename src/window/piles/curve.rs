//! A projection thinned for drawing, and what the pointer tells of it.
//!
//! In: a projection. Out: at most about [`CURVE_POINTS`] points that keep every bucket's highest and
//! lowest, one low, mean and high of the air for each day, and sentences.
//!
//! Knows no screen. Not here: drawing (`heat_plot`), the simulation (`heap`).
//!
//! Tested by: `tests/window/heat_plot.rs`.

use crate::forecast::{Band, Forecast, Series, Start};
use crate::heap::{Heap, Projection, Record};
use crate::quantity::UnitSystem;
use crate::text::forecast::one_of_those;
use crate::text::number;

use crate::text::date::date;

/// Most points a curve keeps.
pub const CURVE_POINTS: usize = 800;

/// A marked temperature and what it means.
pub struct Mark {
    /// Where the line stands, degC.
    pub temperature_c: f64,
    /// What the pointer tells near it.
    pub meaning: &'static str,
}

/// The two marked lines. 40 degC: the usual boundary of mesophilic and thermophilic composting;
/// 55 degC: the line of 40 CFR 503 and its like. What is said of them is common practice.
pub const MARKS: [Mark; 2] = [
    Mark {
        temperature_c: 40.0,
        meaning: "heat-loving microbes take over",
    },
    Mark {
        temperature_c: 55.0,
        meaning: "held for days: where weed seeds and germs begin to die; rules name this line",
    },
];

/// The air of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirDay {
    /// Middle of the day, days since the start.
    pub day: f64,
    /// Coldest moment, degC.
    pub low_c: f64,
    /// Mean, degC.
    pub mean_c: f64,
    /// Warmest moment, degC.
    pub high_c: f64,
}

/// A projection thinned for drawing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curve {
    /// Day and temperature of the heap, degC.
    pub heap_c: Vec<[f64; 2]>,
    /// The same halfway to the side.
    pub middle_c: Vec<[f64; 2]>,
    /// The same 10 cm below the side.
    pub edge_c: Vec<[f64; 2]>,
    /// Where four in five of an ensemble of such heaps lie, once known.
    pub band: Option<Band>,
    /// Where they lay before any reading, once something was learnt of the diary.
    pub prior: Option<Band>,
    /// Whether such heaps start, once known.
    pub start: Option<Start>,
    /// The air, day by day.
    pub air: Vec<AirDay>,
    /// Highest temperature of the heap, degC, and its day.
    pub peak: Option<(f64, f64)>,
    /// Days at or above 40 and 55 degC.
    pub days_above: (f64, f64),
}

impl Curve {
    /// Thins a projection.
    pub fn of(projection: &Projection, heap: &Heap) -> Self {
        let series = |value: fn(&Record) -> f64| -> Vec<[f64; 2]> {
            let points: Vec<[f64; 2]> = projection
                .records
                .iter()
                .map(|r| [r.day, value(r)])
                .collect();
            thinned(&points, CURVE_POINTS)
        };
        let swing = heap.climate.daily_swing_k;
        let air = (0..heap.days.ceil() as usize)
            .map(|day| {
                let day = day as f64 + 0.5;
                let mean_c = heap
                    .climate
                    .daily_mean_c(heap.start_day_of_year - 1.0 + day);
                AirDay {
                    day,
                    low_c: mean_c - swing,
                    mean_c,
                    high_c: mean_c + swing,
                }
            })
            .collect();
        let summary = &projection.summary;
        Self {
            heap_c: series(|r| r.centre_c),
            middle_c: series(|r| r.middle_c),
            edge_c: series(|r| r.edge_c),
            band: None,
            prior: None,
            start: None,
            air,
            peak: Some((summary.peak_c, summary.peak_day)),
            days_above: (summary.days_above_40, summary.days_above_55),
        }
    }

    /// Takes what an ensemble says: a band that holds the line, and whether such heaps start.
    pub fn take_forecast(&mut self, forecast: &Forecast) {
        let band = forecast.band(Series::Centre);
        self.band = Some(band.holding(&self.heap_c));
        self.start = Some(forecast.start());
    }

    /// Takes what was learnt: the forecast that follows the readings, and the band before them.
    pub fn take_learnt(&mut self, forecast: &Forecast, prior: &Band) {
        self.take_forecast(forecast);
        self.prior = Some(prior.clone());
    }

    /// This curve on its way from another: `share` 0 is the other, 1 this one. Days the other lacks are at once
    /// as they are here.
    pub fn on_its_way_from(&self, from: &Self, share: f64) -> Self {
        let moved = |point: &[f64; 2]| {
            let before = from.heap_at(point[0]).unwrap_or(point[1]);
            [point[0], before + share * (point[1] - before)]
        };
        Self {
            heap_c: self.heap_c.iter().map(moved).collect(),
            ..self.clone()
        }
    }

    /// Temperature of the heap on a day, degC, in a straight line between points.
    pub fn heap_at(&self, day: f64) -> Option<f64> {
        let after = self.heap_c.partition_point(|point| point[0] < day);
        let b = self.heap_c.get(after)?;
        let Some(a) = after.checked_sub(1).and_then(|i| self.heap_c.get(i)) else {
            return (b[0] == day).then_some(b[1]);
        };
        let share = (day - a[0]) / (b[0] - a[0]);
        Some(a[1] + share * (b[1] - a[1]))
    }

    /// The air on a day.
    pub fn air_at(&self, day: f64) -> Option<&AirDay> {
        let middle = day.floor() + 0.5;
        self.air.iter().find(|air| air.day == middle)
    }

    /// The curve in a sentence: what it reaches and how long it stays there.
    pub fn sentence(&self, units: UnitSystem) -> String {
        let Some((peak_c, peak_day)) = self.peak else {
            return "Nothing to project yet: add something that rots.".to_owned();
        };
        let held = |days: f64, line: f64| match days {
            d if d < 0.05 => format!("never at {}", number::temperature(line, units)),
            d => format!(
                "{} at {} or more",
                days_text(d),
                number::temperature(line, units)
            ),
        };
        let doubt = self.start.and_then(one_of_those);
        let doubt = doubt.map(|said| format!("{said} ")).unwrap_or_default();
        format!(
            "{doubt}Centre at most {} on day {:.0}; {}, {}.",
            number::temperature(peak_c, units),
            peak_day,
            held(self.days_above.0, 40.0),
            held(self.days_above.1, 55.0)
        )
    }
}

/// A curve on its way to where it belongs.
#[derive(Debug, Clone, PartialEq)]
pub struct MovingCurve {
    /// Where it belongs.
    pub to: Curve,
    /// Where it comes from.
    pub from: Curve,
    /// When it set out, s of the window's clock.
    pub since_s: f64,
}

impl MovingCurve {
    /// A curve that rests.
    pub fn at_rest(curve: &Curve) -> Self {
        Self {
            to: curve.clone(),
            from: curve.clone(),
            since_s: f64::NEG_INFINITY,
        }
    }

    /// Sets out for another curve, unless it is on its way there.
    pub fn head_for(&mut self, curve: &Curve, now_s: f64) {
        if self.to != *curve {
            self.from = std::mem::replace(&mut self.to, curve.clone());
            self.since_s = now_s;
        }
    }
}

/// "1 day", "3.5 days".
fn days_text(days: f64) -> String {
    let number = if days >= 10.0 {
        format!("{days:.0}")
    } else {
        number::rounded((days * 10.0).round() / 10.0)
    };
    let word = if number == "1" { "day" } else { "days" };
    format!("{number} {word}")
}

/// At most about `most` points, keeping the ends and the highest and lowest of every bucket.
pub fn thinned(points: &[[f64; 2]], most: usize) -> Vec<[f64; 2]> {
    if points.len() <= most || most < 4 {
        return points.to_vec();
    }
    let bucket = points.len().div_ceil(most / 2);
    let mut kept = Vec::with_capacity(most + 2);
    for chunk in points.chunks(bucket) {
        let by_height = |a: &&[f64; 2], b: &&[f64; 2]| a[1].total_cmp(&b[1]);
        let (low, high) = (
            chunk.iter().min_by(by_height),
            chunk.iter().max_by(by_height),
        );
        let mut both: Vec<[f64; 2]> = [low, high].into_iter().flatten().copied().collect();
        both.sort_by(|a, b| a[0].total_cmp(&b[0]));
        both.dedup();
        kept.extend(both);
    }
    for (end, place) in [(points.first(), 0), (points.last(), kept.len())] {
        if let Some(end) = end.filter(|end| !kept.contains(end)) {
            kept.insert(if place == 0 { 0 } else { kept.len() }, *end);
        }
    }
    kept
}

/// Where the pointer is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hover {
    /// Days since the start.
    pub day: f64,
    /// Which of [`MARKS`] lies close by.
    pub near_mark: Option<usize>,
}

impl Hover {
    /// A place of the plot, in the shown unit; a mark counts as near within `reach` of it.
    pub fn of(day: f64, shown: f64, reach: f64, units: UnitSystem) -> Self {
        let near_mark = MARKS
            .iter()
            .position(|mark| (units.temperature(mark.temperature_c) - shown).abs() <= reach);
        Self { day, near_mark }
    }
}

/// What the pointer tells at a place of the plot; `near_mark` is a marked line close to it.
pub fn hover_text(
    curve: &Curve,
    ghost: Option<&Curve>,
    at: &Hover,
    start_day_of_year: f64,
    units: UnitSystem,
) -> Option<String> {
    let day = at.day;
    let heap_c = curve.heap_at(day)?;
    let mut lines = vec![format!(
        "day {:.0}, {}",
        day.floor(),
        date(start_day_of_year + day.floor())
    )];
    lines.push(format!("heap {}", number::temperature(heap_c, units)));
    if let Some(air) = curve.air_at(day) {
        lines.push(format!(
            "air {}, from {} to {}",
            number::temperature(air.mean_c, units),
            number::temperature(air.low_c, units),
            number::temperature(air.high_c, units)
        ));
    }
    if let Some(pinned_c) = ghost.and_then(|ghost| ghost.heap_at(day)) {
        lines.push(format!("pinned {}", number::temperature(pinned_c, units)));
    }
    if let Some(mark) = at.near_mark.and_then(|index| MARKS.get(index)) {
        lines.push(format!(
            "{}: {}",
            number::temperature(mark.temperature_c, units),
            mark.meaning
        ));
    }
    Some(lines.join("\n"))
}
