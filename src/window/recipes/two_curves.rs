//! The heat of two heaps in one plot, each with its band.
//!
//! In: two curves with their titles. Out: the drawn plot, and the same in words for a screen reader.
//!
//! Days are counted from the building of each, whenever that was.
//! Not here: one heap with its air, plan and readings (`widgets::heat_plot`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::{self, Color32, Role, Stroke, Ui, WidgetInfo};
use egui_plot::{Line, LineStyle, MarkerShape, Points};

use crate::quantity::UnitSystem;
use crate::text::forecast::about_the_band;
use crate::text::number;

use crate::window::piles::curve::Curve;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::heat_plot::{draw_band, draw_marks, in_units, name_marks};
use crate::window::widgets::plot_ground::{USUAL_TOP_C, heat_over_days, hovered, still_plot};

/// What the plot draws.
#[derive(Debug, Clone, Copy)]
pub(super) struct TwoCurves<'a> {
    /// The heat of both.
    pub curves: [&'a Curve; 2],
    /// What was read of the middle of both, day and temperature, degC.
    pub read_c: [&'a [[f64; 2]]; 2],
    /// What they are called.
    pub titles: [&'a str; 2],
    /// Days shown.
    pub days: f64,
    /// Units shown.
    pub units: UnitSystem,
    /// Colours and sizes.
    pub look: Look<'a>,
}

/// Colours of line and band: the first drawn through, the second dashed.
fn colours(look: Look<'_>) -> [(Color32, Color32); 2] {
    let colours = look.colours;
    [
        (colours.heap.0, colours.heap_band.0),
        (colours.live.0, colours.smear.0),
    ]
}

fn style(place: usize) -> LineStyle {
    if place == 0 {
        LineStyle::Solid
    } else {
        LineStyle::dashed_loose()
    }
}

fn shape(place: usize) -> MarkerShape {
    if place == 0 {
        MarkerShape::Circle
    } else {
        MarkerShape::Diamond
    }
}

/// Which line is which.
pub(super) fn key_ui(ui: &mut Ui, titles: [&str; 2], look: Look<'_>) {
    for (place, (title, (line, _))) in titles.into_iter().zip(colours(look)).enumerate() {
        ui.horizontal(|ui| {
            let size = egui::vec2(2.4 * look.sizes.small, look.sizes.small);
            let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
            let ends = [rect.left_center(), rect.right_center()];
            let stroke = Stroke::new(1.4 * look.sizes.curve, line);
            if place == 0 {
                ui.painter().line_segment(ends, stroke);
            } else {
                ui.painter()
                    .extend(egui::Shape::dashed_line(&ends, stroke, 7.0, 4.0));
            }
            ui.add(egui::Label::new(unbroken(title)).truncate());
        });
    }
    let weak = look.colours.text_weak.0;
    ui.label(
        unbroken(
            "Lines: centre of each heap; bands: 4 in 5 such heaps; dots: what was read there.",
        )
        .small()
        .color(weak),
    )
    .on_hover_text(unbroken(about_the_band()));
}

impl TwoCurves<'_> {
    /// Draws the plot into what room there is.
    pub(super) fn show(self, ui: &mut Ui) {
        let Self {
            curves,
            read_c,
            titles,
            days,
            units,
            look,
        } = self;
        let bands = curves.iter().flat_map(|curve| &curve.band);
        let high = bands.flat_map(|band| band.high.iter().copied());
        let points = curves.iter().flat_map(|curve| &curve.heap_c);
        let points = points.chain(read_c.into_iter().flatten());
        let top_c = points
            .map(|point| point[1])
            .chain(high)
            .fold(USUAL_TOP_C, f64::max);
        let (bottom, top) = (units.temperature(-5.0), units.temperature(top_c + 5.0));
        let height = ui.available_height().max(look.sizes.big_button);
        let said = move |day: f64| {
            let at = |place: usize| {
                let celsius = curves[place].heap_at(day)?;
                let told = number::temperature(celsius, units);
                Some(format!("{}: {told}", titles[place]))
            };
            let lines: Vec<String> = (0..2).filter_map(at).collect();
            (!lines.is_empty()).then(|| format!("day {:.0}\n{}", day.floor(), lines.join("\n")))
        };
        let plot = still_plot("two recipes", height, look);
        let plot = heat_over_days(plot, days, (bottom, top), units)
            .label_formatter(move |hover| said(hovered(hover).x));
        let shown = plot.show(ui, |plot| {
            plot.set_plot_bounds_x(0.0..=days);
            plot.set_plot_bounds_y(bottom..=top);
            let both = || curves.into_iter().zip(colours(look)).enumerate();
            for (place, (curve, (_, fill))) in both() {
                if let Some(band) = &curve.band {
                    draw_band(plot, band, (&format!("band {place}"), fill), units);
                }
            }
            draw_marks(plot, units, look);
            for (place, (curve, (colour, _))) in both() {
                let stroke = Stroke::new(look.sizes.curve, colour);
                let line = Line::new(format!("heat {place}"), in_units(&curve.heap_c, units));
                plot.line(line.stroke(stroke).style(style(place)).allow_hover(false));
            }
            for (place, (_, (colour, _))) in both() {
                for (part, radius, colour) in [
                    (
                        "ground",
                        look.sizes.dot + look.sizes.thin,
                        look.colours.text.0,
                    ),
                    ("core", look.sizes.dot, colour),
                ] {
                    let points = Points::new("", in_units(read_c[place], units))
                        .shape(shape(place))
                        .radius(radius)
                        .color(colour)
                        .id(format!("read {place} {part}"));
                    plot.points(points.allow_hover(false));
                }
            }
            name_marks(plot, 1.0, units, look);
        });
        shown.response.widget_info(|| {
            let told =
                |place: usize| format!("{}: {}", titles[place], curves[place].sentence(units));
            let text = format!("Heat of both. {} {}", told(0), told(1));
            WidgetInfo::labeled(Role::Figure, true, text)
        });
    }
}
