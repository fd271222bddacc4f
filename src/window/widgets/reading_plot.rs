//! What was measured, in plots: dots over the projected heat, and below how far each lies from what was expected.
//!
//! In: a [`DiaryShown`], the diary. Out: dots in a heat plot; a small plot of what is off; the same in words.
//!
//! Colour and form say which curve a dot belongs to: round the centre, a diamond the middle, a square the edge.
//! Not here: what was expected (`diary_shown`), the heat plot itself (`heat_plot`).
//!
//! Tested by: `tests/window/diary.rs`.

use eframe::egui::{self, Role, Stroke, Ui, WidgetInfo};
use egui_plot::{GridMark, HLine, MarkerShape, PlotPoints, Points, VLine};

use crate::diary::Diary;
use crate::quantity::UnitSystem;
use crate::text::diary::{OFF_PLOT, dot, off_sentence, reading};

use crate::window::piles::diary_shown::{DiaryShown, Dot, Near};
use crate::window::theme::Look;
use crate::window::widgets::plot_ground::{aligned_axis, hovered, marks, still_plot};

/// How near the pointer must be to a dot to be told of it, as a share of the days.
const NEAR_DAYS: f64 = 0.012;
/// Least that the plot of what is off reaches to either side, K.
const LEAST_OFF_K: f64 = 8.0;

/// What was measured, to be drawn over a projection.
#[derive(Debug, Clone, Copy)]
pub struct Taken<'a> {
    /// Points and what was expected.
    pub shown: &'a DiaryShown,
    /// What they come from.
    pub diary: &'a Diary,
    /// Days since the heap was built; `None`: it does not stand yet.
    pub today: Option<f64>,
}

impl Taken<'_> {
    /// How many there are and how far they are off.
    pub fn in_words(&self, units: UnitSystem) -> String {
        off_sentence(&self.shown.offs_k, units)
    }

    /// The words of the dot that lies at a place of the plot, in the shown unit, if one does.
    pub fn told(
        &self,
        (day, shown): (f64, f64),
        (days, reach): (f64, f64),
        units: UnitSystem,
    ) -> Option<String> {
        let away = |it: &Dot, y: f64| {
            let (x, y) = ((it.day - day) / (NEAR_DAYS * days), (y - shown) / reach);
            x.hypot(y)
        };
        let nearest = self
            .shown
            .dots
            .iter()
            .map(|it| (it, away(it, units.temperature(it.measured_c))))
            .min_by(|a, b| a.1.total_cmp(&b.1))?;
        (nearest.1 <= 1.0)
            .then(|| self.words(nearest.0, units))
            .flatten()
    }

    fn words(&self, it: &Dot, units: UnitSystem) -> Option<String> {
        let taken = self.diary.readings.get(it.reading)?;
        Some(dot(&reading(taken, units), it.off_k(), units))
    }
}

/// Colour and form of a curve's readings.
fn sign(near: Near, look: Look<'_>) -> (egui::Color32, MarkerShape) {
    match near {
        Near::Centre => (look.colours.heap.0, MarkerShape::Circle),
        Near::Middle => (look.colours.middle.0, MarkerShape::Diamond),
        Near::Edge => (look.colours.edge.0, MarkerShape::Square),
    }
}

/// Dots of one form and colour, on a ground that parts them from the curves.
fn draw_dots(
    plot: &mut egui_plot::PlotUi<'_>,
    name: &str,
    points: &[[f64; 2]],
    near: Near,
    look: Look<'_>,
) {
    let (colour, shape) = sign(near, look);
    let radius = look.sizes.dot;
    for (part, radius, colour) in [
        (
            "ground",
            radius + 2.0 * look.sizes.thin,
            look.colours.text.0,
        ),
        (
            "dot",
            radius + 0.5 * look.sizes.thin,
            look.colours.surface.0,
        ),
        ("core", radius - 0.5 * look.sizes.thin, colour),
    ] {
        let points: PlotPoints<'_> = points.iter().copied().collect();
        plot.points(
            Points::new("", points)
                .shape(shape)
                .filled(true)
                .radius(radius)
                .color(colour)
                .id(format!("{name} {near:?} {part}"))
                .allow_hover(false),
        );
    }
}

/// Points of a logger.
fn draw_log(
    plot: &mut egui_plot::PlotUi<'_>,
    name: &str,
    points: &[[f64; 2]],
    near: Near,
    look: Look<'_>,
) {
    let points: PlotPoints<'_> = points.iter().copied().collect();
    plot.points(
        Points::new("", points)
            .radius(look.sizes.log_dot)
            .color(sign(near, look).0)
            .id(name.to_owned())
            .allow_hover(false),
    );
}

/// A line at today.
fn draw_today(plot: &mut egui_plot::PlotUi<'_>, today: Option<f64>, look: Look<'_>) {
    if let Some(today) = today {
        let stroke = Stroke::new(look.sizes.curve, look.colours.accent.0);
        let line = VLine::new("", today).stroke(stroke).id("today");
        plot.vline(line.allow_hover(false));
    }
}

/// Everything measured, over the curves, and a line at today.
pub(in crate::window) fn draw_taken(
    plot: &mut egui_plot::PlotUi<'_>,
    taken: Taken<'_>,
    units: UnitSystem,
    look: Look<'_>,
) {
    draw_today(plot, taken.today, look);
    let shown = |points: &[[f64; 2]]| -> Vec<[f64; 2]> {
        let point = |point: &[f64; 2]| [point[0], units.temperature(point[1])];
        points.iter().map(point).collect()
    };
    for (place, log) in taken.shown.logs.iter().enumerate() {
        let points = shown(&log.measured_c);
        draw_log(plot, &format!("log {place}"), &points, log.near, look);
    }
    for line in &taken.shown.drawn_dots {
        let points = shown(&line.measured_c);
        draw_dots(plot, "reading", &points, line.near, look);
    }
}

/// The plot of what is off: measured less expected over the days, zero in the middle.
pub fn off_plot_ui(
    ui: &mut Ui,
    taken: Taken<'_>,
    (days, units): (f64, UnitSystem),
    look: Look<'_>,
) {
    // A difference in the unit shown: no zero to move.
    let size = units.temperature(1.0) - units.temperature(0.0);
    let offs_k = &taken.shown.offs_k;
    let most = offs_k
        .iter()
        .fold(LEAST_OFF_K, |most, off| most.max(off.abs()));
    // So much more that a whole dot shows at its end.
    let top = 1.2 * most * size;
    let reach = 0.12 * top;
    let plot = still_plot("off plot", look.sizes.off_height, look)
        .custom_y_axes(aligned_axis(look))
        .default_x_bounds(0.0, days.max(1.0))
        .default_y_bounds(-top, top)
        .show_axes([false, true])
        .y_grid_spacer(|input| marks(input, 2.5, &[2.0, 5.0, 10.0, 20.0, 50.0, 100.0]))
        .x_grid_spacer(|input| marks(input, 9.0, &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0]))
        .y_axis_formatter(move |mark: GridMark, _| {
            let sign = if mark.value == 0.0 { "" } else { "+" };
            let number = if mark.value < 0.0 {
                format!("{:.0}", mark.value)
            } else {
                format!("{sign}{:.0}", mark.value)
            };
            format!("{number} {}", units.temperature_unit())
        })
        .label_formatter(move |hover| {
            let point = hovered(hover);
            let away = |it: &Dot| {
                let off = it.off_k().unwrap_or(f64::INFINITY) * size;
                let x = (it.day - point.x) / (NEAR_DAYS * days);
                x.hypot((off - point.y) / reach)
            };
            let dots = taken.shown.dots.iter();
            let nearest = dots.min_by(|a, b| away(a).total_cmp(&away(b)))?;
            (away(nearest) <= 1.0)
                .then(|| taken.words(nearest, units))
                .flatten()
        });
    let shown = plot.show(ui, |plot| {
        plot.set_plot_bounds_x(0.0..=days.max(1.0));
        plot.set_plot_bounds_y(-top..=top);
        let zero = Stroke::new(look.sizes.thin, look.colours.mark.0);
        plot.hline(HLine::new("", 0.0).stroke(zero).allow_hover(false));
        draw_today(plot, taken.today, look);
        let shown = |points: &[[f64; 2]]| -> Vec<[f64; 2]> {
            points.iter().map(|[day, off]| [*day, off * size]).collect()
        };
        for (place, log) in taken.shown.logs.iter().enumerate() {
            let name = format!("off log {place}");
            draw_log(plot, &name, &shown(&log.off_k), log.near, look);
        }
        for line in &taken.shown.drawn_dots {
            draw_dots(plot, "off", &shown(&line.off_k), line.near, look);
        }
    });
    shown.response.widget_info(|| {
        let said = off_sentence(offs_k, units);
        WidgetInfo::labeled(Role::Figure, true, format!("{OFF_PLOT}. {said}"))
    });
}
