//! The trade-off: work against the share of the heap that had enough heat, the proposed plan marked.
//!
//! In: a proposal. Out: the drawn plot, and the same in one sentence for a screen reader.
//!
//! Not here: the sentence (`text::plan`), the calculation (`forecast::plan_search`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use eframe::egui::{Align2, Role, Stroke, Ui, WidgetInfo, vec2};
use egui_plot::{GridInput, GridMark, Line, MarkerShape, PlotPoint, PlotPoints, Points, Text};

use crate::forecast::plan_search::{Proposed, Tried};
use crate::text::plan_search::{point, trade_off_plot};

use crate::window::theme::{Look, unbroken};
use crate::window::widgets::plot_ground::{hovered, still_plot};

/// Share of the work's span within which the pointer is at a point.
const NEAR: f64 = 0.03;

/// Lower end of the shares, %: a mark at none is still whole.
const BOTTOM: f64 = -5.0;

/// Draws it as wide as there is room, up to the most work that was wished for.
pub fn trade_off_ui(ui: &mut Ui, proposed: &Proposed, most_work: f64, look: Look<'_>) {
    let most = most_work.max(1.0);
    let right = most * 1.06 + 0.2;
    let all: Vec<Tried> = proposed.trade_off.clone();
    let chosen = proposed.chosen;
    let shown = still_plot("trade-off", look.sizes.trade_off_height, look)
        .default_x_bounds(-0.2, right)
        .default_y_bounds(BOTTOM, 105.0)
        .set_margin_fraction(vec2(0.0, 0.0))
        .x_grid_spacer(move |input| steps(input, if most > 5.0 { 2.0 } else { 1.0 }))
        .y_grid_spacer(|input| steps(input, 25.0))
        .x_axis_formatter(|mark: GridMark, _| format!("{:.0}", mark.value))
        .y_axis_formatter(|mark: GridMark, _| format!("{:.0} %", mark.value))
        .label_formatter(move |hover| {
            let position = hovered(hover);
            let near = |tried: &&Tried| (tried.work - position.x).abs() <= NEAR * right;
            let tried = [chosen].iter().chain(&all).find(near).copied()?;
            Some(point(tried.work, tried.treated))
        })
        .show(ui, |plot| {
            plot.set_plot_bounds_x(-0.2..=right);
            plot.set_plot_bounds_y(BOTTOM..=105.0);
            draw(plot, proposed, most_work, look);
        });
    shown.response.widget_info(|| {
        let text = trade_off_plot(proposed);
        WidgetInfo::labeled(Role::Figure, true, text)
    });
}

fn place(tried: &Tried) -> [f64; 2] {
    [tried.work, 100.0 * tried.treated]
}

/// The most for so much work or less, as level steps up to the most work and the rises between them.
fn stairs(front: &[[f64; 2]], most_work: f64) -> Vec<[[f64; 2]; 2]> {
    let mut pieces = Vec::with_capacity(2 * front.len());
    for (place, &[work, share]) in front.iter().enumerate() {
        match front.get(place + 1) {
            Some(&[next, higher]) => {
                pieces.push([[work, share], [next, share]]);
                pieces.push([[next, share], [next, higher]]);
            }
            None => pieces.push([[work, share], [most_work.max(work), share]]),
        }
    }
    pieces
}

fn draw(plot: &mut egui_plot::PlotUi<'_>, proposed: &Proposed, most_work: f64, look: Look<'_>) {
    let colours = look.colours;
    let front: Vec<[f64; 2]> = proposed.trade_off.iter().map(place).collect();
    let stroke = Stroke::new(look.sizes.curve * 0.7, colours.live.0);
    for (place, piece) in stairs(&front, most_work).into_iter().enumerate() {
        let line = Line::new("the most for the work", piece.to_vec()).stroke(stroke);
        plot.line(line.id(place as u64).allow_hover(false));
    }
    plot.points(
        Points::new("the most for the work, points", front)
            .radius(look.sizes.needle * 1.4)
            .color(colours.live.0)
            .allow_hover(false),
    );
    let chosen = place(&proposed.chosen);
    plot.points(
        Points::new("this plan", PlotPoints::from(vec![chosen]))
            .shape(MarkerShape::Diamond)
            .radius(look.sizes.needle * 3.2)
            .color(colours.heap.0)
            .allow_hover(false),
    );
    // Beside the mark, on the side where there is room.
    let (anchor, gap) = if chosen[0] > 0.5 * plot.plot_bounds().max()[0] {
        (Align2::RIGHT_TOP, "this plan  ")
    } else {
        (Align2::LEFT_TOP, "  this plan")
    };
    let label = unbroken(gap).size(look.sizes.small);
    plot.text(
        Text::new(
            "this plan, label",
            PlotPoint::new(chosen[0], chosen[1]),
            label,
        )
        .anchor(anchor)
        .color(colours.text.0)
        .allow_hover(false),
    );
}

/// Marks at whole multiples of a step.
fn steps(input: GridInput, step: f64) -> Vec<GridMark> {
    let (low, high) = input.bounds;
    let (first, last) = ((low / step).ceil() as i64, (high / step).floor() as i64);
    (first..=last)
        .map(|index| GridMark {
            value: index as f64 * step,
            step_size: step,
        })
        .collect()
}
