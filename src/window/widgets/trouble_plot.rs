//! Trouble over time: how much of the heap is airless or turns sour, day by day.
//!
//! In: the course of the troubles. Out: a small plot, and the same in words for a screen reader.
//!
//! Not here: what counts as airless (`outcome::smell`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{RichText, Role, Stroke, Ui, WidgetInfo};
use egui_plot::{GridMark, Line, LineStyle, PlotPoints};

use crate::outcome::smell::TroublePoint;

use crate::window::theme::{Look, unbroken};
use crate::window::widgets::plot_ground::{MARK_ROOM, marks, still_plot};

/// Upper end of the plot at least, per cent.
const LEAST_TOP: f64 = 20.0;
/// Greatest share below which there is nothing to plot.
const LEAST: f64 = 0.01;

/// The plot; nothing where no part of the heap is ever airless or sour.
pub(in crate::window) fn trouble_ui(ui: &mut Ui, course: &[TroublePoint], look: Look<'_>) {
    let most = |of: fn(&TroublePoint) -> f64| {
        course
            .iter()
            .map(|point| (point.day, of(point)))
            .fold(
                (0.0, 0.0),
                |worst, it| if it.1 > worst.1 { it } else { worst },
            )
    };
    let (airless, sour) = (most(|point| point.airless), most(|point| point.sour));
    if airless.1.max(sour.1) < LEAST {
        return;
    }
    let words = format!(
        "Airless at most {:.0} % of the heap (day {:.0}), sour at most {:.0} %",
        100.0 * airless.1,
        airless.0,
        100.0 * sour.1
    );
    let weak = look.colours.text_weak.0;
    ui.horizontal_wrapped(|ui| {
        ui.label(unbroken(format!("{words}.")).small().color(weak));
        ui.label(RichText::new("airless").small().color(look.colours.air.0));
        ui.label(
            RichText::new("sour (dashed)")
                .small()
                .color(look.colours.heap.0),
        );
    });
    let last = course.last().map_or(1.0, |point| point.day.max(1.0));
    let top = (120.0 * airless.1.max(sour.1)).clamp(LEAST_TOP, 104.0);
    let line = |of: fn(&TroublePoint) -> f64| -> PlotPoints<'static> {
        course.iter().map(|p| [p.day, 100.0 * of(p)]).collect()
    };
    let stroke = |colour| Stroke::new(look.sizes.curve, colour);
    let shown = still_plot("trouble over time", 2.2 * look.sizes.big_button, look)
        .default_x_bounds(0.0, last)
        .default_y_bounds(-0.12 * top, top)
        .x_grid_spacer(|input| marks(input, MARK_ROOM.0, &[10.0, 20.0, 50.0, 100.0, 200.0, 500.0]))
        .y_grid_spacer(|input| marks(input, MARK_ROOM.1, &[5.0, 10.0, 20.0, 50.0]))
        .x_axis_formatter(move |mark: GridMark, _| {
            // Text at the very end would be cut off.
            if mark.value > 0.95 * last {
                return String::new();
            }
            format!("day {:.0}", mark.value)
        })
        .y_axis_formatter(|mark: GridMark, _| {
            if mark.value < 0.0 {
                return String::new();
            }
            format!("{:.0} %", mark.value)
        })
        .label_formatter(|_| None)
        .show(ui, |plot| {
            plot.line(Line::new("airless", line(|p| p.airless)).stroke(stroke(look.colours.air.0)));
            let sour = Line::new("sour", line(|p| p.sour)).stroke(stroke(look.colours.heap.0));
            plot.line(sour.style(LineStyle::dashed_dense()));
        });
    shown.response.widget_info(|| {
        let text = format!("Trouble over time. {words}");
        WidgetInfo::labeled(Role::Figure, true, text)
    });
}
