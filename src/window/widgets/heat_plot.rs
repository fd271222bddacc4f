//! The heat plot: temperature of the heap and of the air over the days, with two marked lines.
//!
//! In: a [`Curve`], perhaps a pinned one. Out: the drawn plot, and the same in words for a screen
//! reader.
//!
//! Not here: thinning and hover text (`curve`), what the temperatures lead to (`outcome`).
//!
//! Tested by: `tests/window/heat_plot.rs`.

use eframe::egui::{self, Align2, Role, Stroke, Ui, WidgetInfo};
use egui_plot::{
    Corner, FilledArea, HLine, Legend, Line, LineStyle, PlotPoint, PlotPoints, Text, VLine,
};

use crate::forecast::{Band, Start};
use crate::quantity::UnitSystem;
use crate::text::forecast::{about_the_band, may_not_start};
use crate::text::number;

use crate::window::piles::curve::{AirDay, Curve, Hover, MARKS, hover_text};
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::plot_ground::{
    USUAL_TOP_C, aligned_axis, heat_over_days, hovered, still_plot,
};
use crate::window::widgets::reading_plot::{Taken, draw_taken};

/// Where along the days the marked temperatures are named, share, so that the key does not lie over them.
const BESIDE_KEY: f64 = 0.75;

/// What the plot shows beside the centre.
#[derive(Debug, Clone, Copy)]
pub struct Detail<'a> {
    /// Day of the cross-section.
    pub day: f64,
    /// Days of the plan's entries.
    pub operations: &'a [f64],
}

/// What the plot draws.
#[derive(Debug, Clone, Copy)]
pub struct HeatPlot<'a> {
    /// The present projection.
    pub curve: &'a Curve,
    /// The pinned one.
    pub ghost: Option<&'a Curve>,
    /// Middle, edge, operations and the day looked at, where there is room for them.
    pub detail: Option<Detail<'a>>,
    /// What was measured, and today.
    pub taken: Option<Taken<'a>>,
    /// Whether a key lies over the plot; it never does where there is detail.
    pub key: bool,
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
    /// The lowest and the highest temperature shown, in the unit shown.
    fn span_shown(&self) -> (f64, f64) {
        let measured_c = self.taken.and_then(|taken| taken.shown.span_c);
        let hottest_c = highest_c(self.curve)
            .max(self.ghost.map_or(f64::MIN, highest_c))
            .max(measured_c.map_or(f64::MIN, |span| span.1));
        let coldest_c = lowest_c(self.curve).min(measured_c.map_or(f64::MAX, |span| span.0));
        // A little below, so that the lowest mark stands clear of the days.
        (
            self.units.temperature(coldest_c - 5.0),
            self.units.temperature((hottest_c + 5.0).max(USUAL_TOP_C)),
        )
    }

    /// Draws the plot into what room there is; says where its first and its last day stand.
    pub fn show(self, ui: &mut Ui) -> (f32, f32) {
        let Self {
            curve,
            ghost,
            detail,
            taken,
            key,
            start_day_of_year,
            days,
            units,
            look,
        } = self;
        let height = ui.available_height().max(look.sizes.big_button);
        let (bottom, top) = self.span_shown();
        let reach = (top - bottom) * 0.03;
        let plot = still_plot("heat plot", height, look);
        let plot = match taken {
            Some(_) => plot.custom_y_axes(aligned_axis(look)),
            None => plot,
        };
        let plot = heat_over_days(plot, days.max(1.0), (bottom, top), units)
            .set_margin_fraction(egui::vec2(0.0, 0.02))
            .label_formatter(move |hover| {
                let point = hovered(hover);
                let at = Hover::of(point.x, point.y, reach, units);
                let near =
                    taken.and_then(|taken| taken.told((point.x, point.y), (days, reach), units));
                if near.is_some() {
                    return near;
                }
                hover_text(curve, ghost, &at, start_day_of_year, units)
            });
        // With detail the key stands above instead, where it covers no curve.
        let (plot, marks_at) = if key && detail.is_none() {
            (plot.legend(legend()), BESIDE_KEY)
        } else {
            (plot, 1.0)
        };
        let shown = plot.show(ui, |plot| {
            plot.set_plot_bounds_x(0.0..=days.max(1.0));
            plot.set_plot_bounds_y(bottom..=top);
            draw_pointer(plot, look);
            draw_air(plot, curve, units, look);
            draw_bands(plot, curve, units, look);
            draw_marks(plot, units, look);
            if let Some(ghost) = ghost {
                draw_ghost(plot, ghost, units, look);
            }
            if let Some(detail) = detail {
                draw_detail(plot, curve, detail, units, look);
            }
            draw_centre(plot, curve, units, look);
            if let Some(taken) = taken {
                draw_taken(plot, taken, units, look);
            }
            name_marks(plot, marks_at, units, look);
            draw_doubt(plot, curve.start, look);
        });
        shown.response.widget_info(|| {
            let measured = taken.map(|taken| taken.in_words(units)).unwrap_or_default();
            let text = format!("Heat plot. {} {measured}", curve.sentence(units));
            WidgetInfo::labeled(Role::Figure, true, text)
        });
        let frame = shown.transform.frame();
        (frame.left(), frame.right())
    }
}

fn legend() -> Legend {
    Legend::default()
        .position(Corner::RightTop)
        .follow_insertion_order(true)
        .background_alpha(0.8)
}

/// What the lines are, in one row of text.
pub fn key_ui(ui: &mut Ui, curve: &Curve, pinned: bool, look: Look<'_>) {
    let colours = look.colours;
    let mut entries = vec![
        (colours.heap, "centre"),
        (colours.middle, "halfway"),
        (colours.edge, "edge"),
        (colours.air, "air outside"),
    ];
    if curve.band.is_some() {
        entries.push((colours.heap_band, "4 in 5 such heaps"));
    }
    if curve.prior.is_some() {
        entries.push((colours.prior_band, "before readings"));
    }
    if pinned {
        entries.push((colours.ghost, "pinned"));
    }
    ui.horizontal_wrapped(|ui| {
        for (colour, name) in entries {
            let size = egui::vec2(1.6 * look.sizes.small, look.sizes.small);
            let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
            let thick = if colour == colours.heap_band || colour == colours.prior_band {
                look.sizes.small
            } else {
                1.4 * look.sizes.curve
            };
            let line = [rect.left_center(), rect.right_center()];
            ui.painter()
                .line_segment(line, Stroke::new(thick, colour.0));
            let label = ui.label(unbroken(name).small().color(colours.text_weak.0));
            if colour == colours.heap_band {
                label.on_hover_text(unbroken(about_the_band()));
            }
        }
    });
}

/// The highest temperature there is to draw, degC.
fn highest_c(curve: &Curve) -> f64 {
    let air = curve.air.iter().map(|air| air.high_c);
    let heap = curve.heap_c.iter().map(|point| point[1]);
    let bands = curve.band.iter().chain(&curve.prior);
    let band = bands.flat_map(|band| band.high.iter().copied());
    air.chain(heap).chain(band).fold(f64::MIN, f64::max)
}

/// The lowest temperature there is to draw, degC.
fn lowest_c(curve: &Curve) -> f64 {
    let air = curve.air.iter().map(|air| air.low_c);
    let heap = curve.heap_c.iter().map(|point| point[1]);
    air.chain(heap).fold(0.0, f64::min)
}

pub(in crate::window) fn in_units(points: &[[f64; 2]], units: UnitSystem) -> PlotPoints<'static> {
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

/// A line at the day under the pointer.
fn draw_pointer(plot: &mut egui_plot::PlotUi<'_>, look: Look<'_>) {
    if let Some(pointer) = plot
        .pointer_coordinate()
        .filter(|_| plot.response().hovered())
    {
        let stroke = Stroke::new(look.sizes.thin, look.colours.mark.0);
        plot.vline(VLine::new("", pointer.x).stroke(stroke).allow_hover(false));
    }
}

/// The band, and behind it that before any reading.
fn draw_bands(plot: &mut egui_plot::PlotUi<'_>, curve: &Curve, units: UnitSystem, look: Look<'_>) {
    let (prior, band) = (look.colours.prior_band.0, look.colours.heap_band.0);
    for (band, named) in [
        (&curve.prior, ("4 in 5 before readings", prior)),
        (&curve.band, ("4 in 5 such heaps", band)),
    ] {
        if let Some(band) = band {
            draw_band(plot, band, named, units);
        }
    }
}

/// Where four in five heaps of this kind lie.
pub(in crate::window) fn draw_band(
    plot: &mut egui_plot::PlotUi<'_>,
    band: &Band,
    (name, fill): (&str, egui::Color32),
    units: UnitSystem,
) {
    let shown =
        |values: &[f64]| -> Vec<f64> { values.iter().map(|c| units.temperature(*c)).collect() };
    let (low, high) = (shown(&band.low), shown(&band.high));
    let area = FilledArea::new(name, &band.days, &low, &high);
    plot.add(area.fill_color(fill).allow_hover(false));
}

/// The heat at the centre, over everything else.
fn draw_centre(plot: &mut egui_plot::PlotUi<'_>, curve: &Curve, units: UnitSystem, look: Look<'_>) {
    let stroke = Stroke::new(look.sizes.curve, look.colours.heap.0);
    let line = Line::new("centre", in_units(&curve.heap_c, units)).stroke(stroke);
    // One line would look surer than it is.
    let line = match curve.start {
        Some(Start::Doubtful { .. }) => line.style(LineStyle::dashed_loose()),
        _ => line,
    };
    plot.line(line.allow_hover(false));
}

/// Says in the plot that such a heap may not start.
fn draw_doubt(plot: &mut egui_plot::PlotUi<'_>, start: Option<Start>, look: Look<'_>) {
    let Some(said) = start.and_then(may_not_start) else {
        return;
    };
    let bounds = plot.plot_bounds();
    let middle = PlotPoint::new(0.5 * (bounds.min()[0] + bounds.max()[0]), bounds.max()[1]);
    let text = unbroken(said).size(look.sizes.body).strong();
    plot.text(
        Text::new("", middle, text)
            .anchor(Align2::CENTER_TOP)
            .color(look.colours.text.0)
            .id("may not start")
            .allow_hover(false),
    );
}

/// The pinned heat.
fn draw_ghost(plot: &mut egui_plot::PlotUi<'_>, ghost: &Curve, units: UnitSystem, look: Look<'_>) {
    if let Some(band) = &ghost.band {
        draw_band(
            plot,
            band,
            ("4 in 5 without it", look.colours.smear.0),
            units,
        );
    }
    let stroke = Stroke::new(look.sizes.curve, look.colours.ghost.0);
    let line = Line::new("pinned", in_units(&ghost.heap_c, units)).stroke(stroke);
    plot.line(line.style(LineStyle::dashed_loose()).allow_hover(false));
}

/// Halfway to the side and edge of the heap, a line for every entry of the plan, one for the day looked at.
fn draw_detail(
    plot: &mut egui_plot::PlotUi<'_>,
    curve: &Curve,
    detail: Detail<'_>,
    units: UnitSystem,
    look: Look<'_>,
) {
    let series = [
        ("halfway", &curve.middle_c, look.colours.middle.0),
        ("edge", &curve.edge_c, look.colours.edge.0),
    ];
    for (name, points, colour) in series {
        let stroke = Stroke::new(look.sizes.curve * 0.7, colour);
        plot.line(
            Line::new(name, in_units(points, units))
                .stroke(stroke)
                .allow_hover(false),
        );
    }
    let line = |day: f64| VLine::new("", day).allow_hover(false);
    for (index, day) in detail.operations.iter().enumerate() {
        let stroke = Stroke::new(look.sizes.thin, look.colours.accent.0);
        plot.vline(
            line(*day)
                .stroke(stroke)
                .style(LineStyle::dashed_dense())
                .id(index as u64),
        );
    }
    let stroke = Stroke::new(look.sizes.curve * 0.7, look.colours.mark.0);
    plot.vline(line(detail.day).stroke(stroke).id(u64::MAX));
}

/// The marked temperatures as lines across.
pub(in crate::window) fn draw_marks(
    plot: &mut egui_plot::PlotUi<'_>,
    units: UnitSystem,
    look: Look<'_>,
) {
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
    }
}

/// What the marked temperatures are, where a heap has cooled again: in their lines, over the curves, on a ground of
/// their own.
pub(in crate::window) fn name_marks(
    plot: &mut egui_plot::PlotUi<'_>,
    at_share: f64,
    units: UnitSystem,
    look: Look<'_>,
) {
    let bounds = plot.plot_bounds();
    let (left, right) = (bounds.min()[0], bounds.max()[0]);
    let x = left + at_share * (right - left);
    for mark in &MARKS {
        let y = units.temperature(mark.temperature_c);
        let said = format!(" {} ", number::temperature(mark.temperature_c, units));
        let text = unbroken(said)
            .size(look.sizes.small)
            .background_color(look.colours.surface.0);
        plot.text(
            Text::new("", PlotPoint::new(x, y), text)
                .anchor(Align2::RIGHT_CENTER)
                .color(look.colours.mark.0)
                .id(mark.temperature_c.to_bits() + 1)
                .allow_hover(false),
        );
    }
}
