//! A heap in the line of the year: its stages told apart by pattern, its heat week by week, and the marks of decisions.
//!
//! In: a planned heap, how warm it gets, where months stand. Out: painted shapes.
//!
//! Not here: rows and months (`line`), the same on paper (`export`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{
    Align2, Painter, Pos2, Rect, Sense, Shape, Stroke, StrokeKind, Ui, lerp, pos2, vec2,
};

use crate::assess::planned::Warmth;
use crate::quantity::UnitSystem;
use crate::text::year::YearTold;
use crate::text::year_page as words;
use crate::year::{PlannedHeap, StageKind, stages};

use crate::window::theme::{Look, small_font, unbroken};

/// Temperatures at the foot and at the top of the columns of heat, degC.
const HEAT_FROM_C: f64 = 10.0;
/// See [`HEAT_FROM_C`].
const HEAT_TO_C: f64 = 70.0;
/// Months of a week: a twelfth of a year is 30.4 days.
const WEEK_MONTHS: f64 = 7.0 * 12.0 / 365.0;
/// Side of a swatch of the key, as a share of a control's height.
const SWATCH: f32 = 0.55;

/// A heap in its row.
pub(in crate::window) struct Bar<'a> {
    /// The year and its plan.
    pub told: &'a YearTold<'a>,
    /// The heap.
    pub heap: &'a PlannedHeap,
    /// How warm it gets, once that is known.
    pub warmth: Option<&'a Warmth>,
    /// Its bay's row.
    pub row: Rect,
    /// Where a month of the plan stands.
    pub at: &'a dyn Fn(f64) -> f32,
}

impl Bar<'_> {
    /// Paints it.
    pub(in crate::window) fn paint(&self, painter: &Painter, look: Look<'_>) {
        let sizes = look.sizes;
        let inner = self.row.shrink2(vec2(0.0, sizes.nudge));
        let bay = &self.told.year.bays[self.heap.bay];
        let stages = stages(self.heap, bay);
        let from = (self.at)(self.heap.month as f64);
        let to = stages.last().map_or(from, |last| (self.at)(last.to));
        let to = to.min(self.row.right());
        let whole = Rect::from_x_y_ranges(from + sizes.thin..=to, inner.y_range());
        let painter = painter.with_clip_rect(painter.clip_rect().intersect(self.row));
        painter.rect_filled(
            whole,
            f32::from(sizes.control_radius),
            look.colours.raised.0,
        );
        let text_row = small_font(sizes).size * 1.2;
        let band = Rect::from_x_y_ranges(
            whole.x_range(),
            whole.bottom() - 0.26 * whole.height()..=whole.bottom(),
        );
        for stage in &stages {
            let part = Rect::from_x_y_ranges(
                (self.at)(stage.from).max(whole.left())..=(self.at)(stage.to).min(whole.right()),
                band.y_range(),
            );
            stage_mark(&painter, look, stage.kind, part);
        }
        let heat = Rect::from_x_y_ranges(
            whole.x_range(),
            whole.top() + text_row..=band.top() - sizes.thin,
        );
        self.paint_heat(&painter, look, heat);
        let outline = Stroke::new(sizes.thin, look.colours.text_weak.0);
        painter.rect_stroke(
            whole,
            f32::from(sizes.control_radius),
            outline,
            StrokeKind::Inside,
        );
        let text = words::glance(self.heap, self.warmth, self.told.units);
        painter
            .with_clip_rect(painter.clip_rect().intersect(whole))
            .text(
                pos2(whole.left() + 2.0 * sizes.tick, whole.top() + sizes.thin),
                Align2::LEFT_TOP,
                crate::text::number::unparted(&text),
                small_font(sizes),
                look.colours.text.0,
            );
    }

    /// A column for each week, as high as its warmest moment is warm.
    fn paint_heat(&self, painter: &Painter, look: Look<'_>, within: Rect) {
        for (week, warmest) in self
            .warmth
            .iter()
            .flat_map(|warm| warm.weekly_c.iter().enumerate())
        {
            let from = self.heap.month as f64 + week as f64 * WEEK_MONTHS;
            let (left, right) = ((self.at)(from), (self.at)(from + WEEK_MONTHS));
            if left >= within.right() {
                break;
            }
            let share = ((warmest - HEAT_FROM_C) / (HEAT_TO_C - HEAT_FROM_C)).clamp(0.0, 1.0);
            let top = lerp(within.bottom()..=within.top(), share as f32);
            let column = Rect::from_x_y_ranges(
                left.max(within.left()) + look.sizes.thin..=right.min(within.right()),
                top..=within.bottom(),
            );
            painter.rect_filled(column, 0.0, look.colours.heap.0);
        }
    }
}

/// A stage by its pattern: slanting lines while it is filled, full while it works, points while it cures.
fn stage_mark(painter: &Painter, look: Look<'_>, kind: StageKind, rect: Rect) {
    if rect.width() <= 0.0 {
        return;
    }
    let (sizes, colour) = (look.sizes, look.colours.accent.0);
    let painter = painter.with_clip_rect(painter.clip_rect().intersect(rect));
    let step = 2.0 * sizes.tick;
    match kind {
        StageKind::Working => {
            painter.rect_filled(rect, 0.0, colour);
        }
        StageKind::Filling => {
            let stroke = Stroke::new(1.5 * sizes.thin, colour);
            let mut x = rect.left() - rect.height();
            while x < rect.right() {
                let line = [pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())];
                painter.line_segment(line, stroke);
                x += step;
            }
        }
        StageKind::Curing => {
            let mut x = rect.left() + 0.5 * step;
            while x < rect.right() {
                for share in [0.28, 0.72] {
                    let y = lerp(rect.top()..=rect.bottom(), share);
                    painter.circle_filled(pos2(x, y), 1.2 * sizes.thin, colour);
                }
                x += step;
            }
        }
    }
}

/// A triangle in the upper left corner: a heap is decided on here.
pub(in crate::window) fn build_mark(painter: &Painter, look: Look<'_>, corner: Pos2) {
    let side = 3.5 * look.sizes.tick;
    let corners = vec![corner, corner + vec2(side, 0.0), corner + vec2(0.0, side)];
    let outline = Stroke::new(look.sizes.thin, look.colours.surface.0);
    painter.add(Shape::convex_polygon(corners, look.colours.live.0, outline));
}

/// A cross: the bay is kept empty.
pub(in crate::window) fn empty_mark(painter: &Painter, look: Look<'_>, middle: Pos2) {
    let reach = 2.0 * look.sizes.tick;
    let stroke = Stroke::new(look.sizes.curve, look.colours.live.0);
    for way in [vec2(reach, reach), vec2(reach, -reach)] {
        painter.line_segment([middle - way, middle + way], stroke);
    }
}

/// What the patterns, columns and marks mean.
pub(in crate::window) fn key_ui(ui: &mut Ui, look: Look<'_>, units: UnitSystem) {
    ui.horizontal(|ui| {
        let side = SWATCH * look.sizes.control_height;
        let mut entry = |text: &str, paint: &dyn Fn(&Painter, Rect)| {
            let (rect, _) = ui.allocate_exact_size(vec2(1.6 * side, side), Sense::hover());
            paint(ui.painter(), rect);
            ui.label(unbroken(text).small());
        };
        for kind in [StageKind::Filling, StageKind::Working, StageKind::Curing] {
            entry(words::stage(kind), &|painter, rect| {
                stage_mark(painter, look, kind, rect);
            });
        }
        entry(words::heat_key(units), &|painter, rect| {
            for (at, share) in [(0, 0.4), (1, 1.0), (2, 0.7)] {
                let left = rect.left() + at as f32 * rect.width() / 3.0;
                let column = Rect::from_x_y_ranges(
                    left + look.sizes.thin..=left + rect.width() / 3.0,
                    rect.bottom() - share * rect.height()..=rect.bottom(),
                );
                painter.rect_filled(column, 0.0, look.colours.heap.0);
            }
        });
        entry(words::BUILD_KEY, &|painter, rect| {
            build_mark(painter, look, rect.left_top() + vec2(look.sizes.tick, 0.0));
        });
        entry(words::EMPTY_KEY, &|painter, rect| {
            empty_mark(painter, look, rect.center());
        });
        ui.label(
            unbroken(words::HEAT_NOTE)
                .small()
                .color(look.colours.text_weak.0),
        );
    });
}
