//! The heat plot: temperature of the heap and of the air over the days, with two marked lines.
//!
//! In: a projection, thinned to a [`Curve`]; a pinned curve. Out: the drawn plot, and the same in
//! words for a screen reader.
//!
//! Thinning happens here, not in the plot: at most [`CURVE_POINTS`] points that keep every bucket's
//! highest and lowest, and one low, mean and high of the air for each day.
//!
//! Not here: the simulation (`heap`), what the temperatures lead to (`outcome`).
//!
//! Held against: `tests/window/heat_plot.rs`.

use eframe::egui::{self, Align2, RichText, Role, Stroke, Ui, WidgetInfo};
use egui_plot::{
    Corner, FilledArea, GridInput, GridMark, HLine, HoverPosition, Legend, Line, LineStyle, Plot,
    PlotPoint, PlotPoints, Text, VLine,
};

use crate::heap::Projection;
use crate::quantity::UnitSystem;

use super::calendar::date_text;
use super::theme::Look;

/// Most points a curve keeps.
pub const CURVE_POINTS: usize = 800;

/// Least distance of two marks of the days and of the temperatures, in steps the plot could just show.
const MARK_ROOM: (f64, f64) = (9.0, 2.5);

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
    /// The air, day by day.
    pub air: Vec<AirDay>,
    /// Highest temperature of the heap, degC, and its day.
    pub peak: Option<(f64, f64)>,
    /// Days at or above 40 and 55 degC.
    pub days_above: (f64, f64),
}

impl Curve {
    /// Thins a projection.
    pub fn of(projection: &Projection) -> Self {
        let records = &projection.records;
        let points: Vec<[f64; 2]> = records.iter().map(|r| [r.day, r.temperature_c]).collect();
        let mut air: Vec<AirDay> = Vec::new();
        let mut count = 0.0;
        for record in records {
            let day = record.day.floor() + 0.5;
            match air.last_mut().filter(|last| last.day == day) {
                Some(last) => {
                    count += 1.0;
                    last.low_c = last.low_c.min(record.ambient_c);
                    last.high_c = last.high_c.max(record.ambient_c);
                    last.mean_c += (record.ambient_c - last.mean_c) / count;
                }
                None => {
                    count = 1.0;
                    air.push(AirDay {
                        day,
                        low_c: record.ambient_c,
                        mean_c: record.ambient_c,
                        high_c: record.ambient_c,
                    });
                }
            }
        }
        // The last record stands alone at midnight: a day of one reading is no day.
        if air.len() > 1 && count < 2.0 {
            air.pop();
        }
        let summary = &projection.summary;
        Self {
            heap_c: thinned(&points, CURVE_POINTS),
            air,
            peak: Some((summary.peak_c, summary.peak_day)),
            days_above: (summary.days_above_40, summary.days_above_55),
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
            d if d < 0.05 => format!("never at {}", units.temperature_text(line)),
            d => format!(
                "{} at {} or more",
                days_text(d),
                units.temperature_text(line)
            ),
        };
        format!(
            "Hottest {} on day {:.0}; {}, {}.",
            units.temperature_text(peak_c),
            peak_day,
            held(self.days_above.0, 40.0),
            held(self.days_above.1, 55.0)
        )
    }
}

/// "1 day", "3.5 days".
fn days_text(days: f64) -> String {
    let number = if days >= 10.0 {
        format!("{days:.0}")
    } else {
        crate::quantity::rounded_text((days * 10.0).round() / 10.0)
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
        date_text(start_day_of_year + day.floor())
    )];
    lines.push(format!("heap {}", units.temperature_text(heap_c)));
    if let Some(air) = curve.air_at(day) {
        lines.push(format!(
            "air {}, from {} to {}",
            units.temperature_text(air.mean_c),
            units.temperature_text(air.low_c),
            units.temperature_text(air.high_c)
        ));
    }
    if let Some(pinned_c) = ghost.and_then(|ghost| ghost.heap_at(day)) {
        lines.push(format!("pinned {}", units.temperature_text(pinned_c)));
    }
    if let Some(mark) = at.near_mark.and_then(|index| MARKS.get(index)) {
        lines.push(format!(
            "{}: {}",
            units.temperature_text(mark.temperature_c),
            mark.meaning
        ));
    }
    Some(lines.join("\n"))
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
    fn of(point: PlotPoint, reach: f64, units: UnitSystem) -> Self {
        let near_mark = MARKS
            .iter()
            .position(|mark| (units.temperature(mark.temperature_c) - point.y).abs() <= reach);
        Self {
            day: point.x,
            near_mark,
        }
    }
}

/// What the plot draws.
#[derive(Debug, Clone, Copy)]
pub struct HeatPlot<'a> {
    /// The present projection.
    pub curve: &'a Curve,
    /// The pinned one.
    pub ghost: Option<&'a Curve>,
    /// Day of the year the heap is built.
    pub start_day_of_year: f64,
    /// Days projected.
    pub days: f64,
    /// Units shown.
    pub units: UnitSystem,
    /// Colours and sizes.
    pub look: Look<'a>,
}

impl HeatPlot<'_> {
    /// Draws the plot into what room there is.
    pub fn show(self, ui: &mut Ui) {
        let Self {
            curve,
            ghost,
            start_day_of_year,
            days,
            units,
            look,
        } = self;
        let height = ui.available_height().max(look.sizes.big_button);
        let top = units.temperature(75.0);
        // A little below, so that the lowest mark stands clear of the days.
        let bottom = units.temperature(lowest_c(curve) - 5.0);
        let reach = (top - bottom) * 0.03;
        let plot = Plot::new("heat plot")
            .height(height)
            .allow_drag(false)
            .allow_zoom(false)
            .allow_scroll(false)
            .allow_boxed_zoom(false)
            .allow_double_click_reset(false)
            .allow_axis_zoom_drag(false)
            .show_background(false)
            .show_crosshair(false)
            .grid_color(look.colours.line.0)
            .default_x_bounds(0.0, days.max(1.0))
            .default_y_bounds(bottom, top)
            .set_margin_fraction(egui::vec2(0.0, 0.02))
            .legend(
                Legend::default()
                    .position(Corner::RightTop)
                    .follow_insertion_order(true)
                    .background_alpha(0.8),
            )
            .x_grid_spacer(|input| {
                marks(
                    input,
                    MARK_ROOM.0,
                    &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0],
                )
            })
            .y_grid_spacer(|input| marks(input, MARK_ROOM.1, &[10.0, 20.0, 40.0]))
            .x_axis_formatter(move |mark: GridMark, _| format!("day {:.0}", mark.value))
            .y_axis_formatter(move |mark: GridMark, _| {
                format!("{:.0} {}", mark.value, units.temperature_unit())
            })
            .label_formatter(move |hover| {
                let point = match hover {
                    HoverPosition::NearDataPoint { position, .. }
                    | HoverPosition::Elsewhere { position } => *position,
                };
                let at = Hover::of(point, reach, units);
                hover_text(curve, ghost, &at, start_day_of_year, units)
            });
        let shown = plot.show(ui, |plot| {
            plot.set_plot_bounds_x(0.0..=days.max(1.0));
            plot.set_plot_bounds_y(bottom..=top);
            if let Some(pointer) = plot
                .pointer_coordinate()
                .filter(|_| plot.response().hovered())
            {
                let stroke = Stroke::new(look.sizes.thin, look.colours.mark.0);
                plot.vline(VLine::new("", pointer.x).stroke(stroke).allow_hover(false));
            }
            draw_air(plot, curve, units, look);
            draw_marks(plot, units, look);
            if let Some(ghost) = ghost {
                let stroke = Stroke::new(look.sizes.curve, look.colours.ghost.0);
                let line = Line::new("pinned", in_units(&ghost.heap_c, units));
                plot.line(
                    line.stroke(stroke)
                        .style(LineStyle::dashed_loose())
                        .allow_hover(false),
                );
            }
            let stroke = Stroke::new(look.sizes.curve, look.colours.heap.0);
            plot.line(
                Line::new("heap", in_units(&curve.heap_c, units))
                    .stroke(stroke)
                    .allow_hover(false),
            );
        });
        shown.response.widget_info(|| {
            let text = format!("Heat plot. {}", curve.sentence(units));
            WidgetInfo::labeled(Role::Figure, true, text)
        });
    }
}

/// Evenly spaced marks, as close as the least of the steps that leaves room for their text.
fn marks(input: GridInput, room: f64, steps: &[f64]) -> Vec<GridMark> {
    let room = input.base_step_size * room;
    let widest = steps.last().copied().unwrap_or(1.0);
    let step = steps
        .iter()
        .copied()
        .find(|step| *step >= room)
        .unwrap_or(widest);
    let (low, high) = input.bounds;
    let (first, last) = ((low / step).ceil() as i64, (high / step).floor() as i64);
    (first..=last)
        .map(|index| GridMark {
            value: index as f64 * step,
            step_size: step,
        })
        .collect()
}

/// The lowest temperature there is to draw, degC.
fn lowest_c(curve: &Curve) -> f64 {
    let air = curve.air.iter().map(|air| air.low_c);
    let heap = curve.heap_c.iter().map(|point| point[1]);
    air.chain(heap).fold(0.0, f64::min)
}

fn in_units(points: &[[f64; 2]], units: UnitSystem) -> PlotPoints<'static> {
    points
        .iter()
        .map(|[day, celsius]| [*day, units.temperature(*celsius)])
        .collect()
}

fn draw_air(plot: &mut egui_plot::PlotUi<'_>, curve: &Curve, units: UnitSystem, look: Look<'_>) {
    let column = |value: fn(&AirDay) -> f64| -> Vec<f64> {
        curve
            .air
            .iter()
            .map(|air| units.temperature(value(air)))
            .collect()
    };
    let days: Vec<f64> = curve.air.iter().map(|air| air.day).collect();
    let (low, high) = (column(|air| air.low_c), column(|air| air.high_c));
    plot.add(
        FilledArea::new("", &days, &low, &high)
            .fill_color(look.colours.air_band.0)
            .allow_hover(false),
    );
    let mean: PlotPoints<'static> = days
        .iter()
        .zip(column(|air| air.mean_c))
        .map(|(day, mean)| [*day, mean])
        .collect();
    let stroke = Stroke::new(look.sizes.curve * 0.7, look.colours.air.0);
    plot.line(
        Line::new("air outside", mean)
            .stroke(stroke)
            .allow_hover(false),
    );
}

fn draw_marks(plot: &mut egui_plot::PlotUi<'_>, units: UnitSystem, look: Look<'_>) {
    for mark in &MARKS {
        let y = units.temperature(mark.temperature_c);
        let stroke = Stroke::new(look.sizes.thin, look.colours.mark.0);
        plot.hline(
            HLine::new("", y)
                .stroke(stroke)
                .style(LineStyle::dashed_dense())
                .id(mark.temperature_c.to_bits())
                .allow_hover(false),
        );
        let left = plot.plot_bounds().min()[0];
        let text = RichText::new(format!(" {}", units.temperature_text(mark.temperature_c)))
            .size(look.sizes.small);
        plot.text(
            Text::new("", PlotPoint::new(left, y), text)
                .anchor(Align2::LEFT_BOTTOM)
                .color(look.colours.mark.0)
                .id(mark.temperature_c.to_bits() + 1)
                .allow_hover(false),
        );
    }
}
