//! The ground of every plot: axes one can read, marks with room, nothing that moves.
//!
//! In: a name, a height, colours. Out: a plot to draw on.
//!
//! Not here: what is drawn on it (`heat_plot`, `reading_plot`, `trouble_plot`).
//!
//! Tested by: `tests/window/heat_plot.rs`.

use eframe::egui::Rangef;
use egui_plot::{AxisHints, GridInput, GridMark, HoverPosition, Plot, PlotPoint};

use crate::quantity::UnitSystem;

use crate::window::theme::Look;

/// Least room of a mark's text along either axis, points; text with less is left out rather than made faint.
const TEXT_ROOM: (f32, f32) = (40.0, 16.0);

/// Least distance of two marks of the days and of what is plotted over them, in steps the plot could just show.
pub(in crate::window) const MARK_ROOM: (f64, f64) = (9.0, 2.5);

/// Upper end of temperatures, degC, as long as nothing is hotter: it holds still while one mixes.
pub(in crate::window) const USUAL_TOP_C: f64 = 75.0;

/// An axis whose numbers are as dark as any other text.
fn legible(axis: AxisHints<'static>, room: f32, look: Look<'_>) -> Vec<AxisHints<'static>> {
    // The toolkit fades text in between two distances; here it is there or not.
    let spacing = Rangef::new(room, room);
    vec![
        axis.label_spacing(spacing)
            .tick_label_color(look.colours.text_weak.0),
    ]
}

/// The axis of temperatures where two plots stand one above the other, so that their days do too.
pub(in crate::window) fn aligned_axis(look: Look<'_>) -> Vec<AxisHints<'static>> {
    let axis = AxisHints::new_y().min_thickness(look.sizes.axis_width);
    legible(axis, TEXT_ROOM.1, look)
}

/// A plot that neither moves nor zooms, on the ground it stands on.
pub(in crate::window) fn still_plot(
    name: &'static str,
    height: f32,
    look: Look<'_>,
) -> Plot<'static> {
    Plot::new(name)
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
        .custom_x_axes(legible(AxisHints::new_x(), TEXT_ROOM.0, look))
        .custom_y_axes(legible(AxisHints::new_y(), TEXT_ROOM.1, look))
}

/// Temperatures, in the unit shown, over the days of a heap: axes with their units, no mark at the very end.
pub(in crate::window) fn heat_over_days(
    plot: Plot<'static>,
    days: f64,
    (bottom, top): (f64, f64),
    units: UnitSystem,
) -> Plot<'static> {
    plot.default_x_bounds(0.0, days)
        .default_y_bounds(bottom, top)
        .x_grid_spacer(|input| {
            let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];
            marks(input, MARK_ROOM.0, &steps)
        })
        .y_grid_spacer(|input| marks(input, MARK_ROOM.1, &[10.0, 20.0, 40.0]))
        .x_axis_formatter(move |mark: GridMark, _| {
            // Text at the very end would be cut off.
            if mark.value > 0.98 * days {
                return String::new();
            }
            format!("day {:.0}", mark.value)
        })
        .y_axis_formatter(move |mark: GridMark, _| {
            format!("{:.0} {}", mark.value, units.temperature_unit())
        })
}

/// Where the pointer is, in the numbers of the axes.
pub(in crate::window) fn hovered(hover: &HoverPosition<'_>) -> PlotPoint {
    let (HoverPosition::NearDataPoint { position, .. } | HoverPosition::Elsewhere { position }) =
        hover;
    *position
}

/// Evenly spaced marks, as close as the least of the steps that leaves room for their text.
pub(in crate::window) fn marks(input: GridInput, room: f64, steps: &[f64]) -> Vec<GridMark> {
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
