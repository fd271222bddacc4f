//! A bar with the low, typical and high of one value, and where it is from.
//!
//! In: a [`RangeBar`]. Out: the painted bar, which a screen reader meets as a meter.
//!
//! Not here: target bands (`gauge`); a material has none.
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{
    self, Align2, CornerRadius, Rect, Response, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};

use crate::quantity::Range;
use crate::text::number::{self, Digits};

use crate::window::theme::{Look, small_font, unbroken};

/// What a bar shows, in the unit shown.
#[derive(Debug, Clone, PartialEq)]
pub struct RangeBar {
    /// What is measured.
    pub name: &'static str,
    /// Its range.
    pub range: Range,
    /// Ends of the scale.
    pub scale: (f64, f64),
    /// Whether equal steps of the bar are equal factors.
    pub by_factors: bool,
    /// Unit; empty for ratios.
    pub unit: &'static str,
    /// How its numbers are written.
    pub digits: Digits,
    /// Trust and source, in a few words.
    pub origin: String,
    /// The same at length.
    pub explained: String,
}

impl RangeBar {
    /// "38 % (10 to 60)", or the one number where there is no range.
    pub fn text(&self) -> String {
        let bare = |value: f64| self.digits.text(value);
        let unit = match self.unit {
            "" => String::new(),
            unit => format!(" {unit}"),
        };
        let (low, typical, high) = (
            bare(self.range.low),
            bare(self.range.typical),
            bare(self.range.high),
        );
        if low == high {
            format!("{typical}{unit}")
        } else {
            format!("{typical}{unit} ({})", number::span(&low, &high))
        }
    }

    /// Where a value stands on the bar, 0 at its left end; beyond an end counts as the end.
    pub fn share(&self, value: f64) -> f32 {
        let (start, end) = self.scale;
        let part = if self.by_factors {
            (value.max(start) / start).ln() / (end / start).ln()
        } else {
            (value - start) / (end - start)
        };
        part.clamp(0.0, 1.0) as f32
    }

    /// Draws it: name and numbers above, the bar, trust and source below.
    pub fn show(&self, ui: &mut Ui, look: Look<'_>) -> Response {
        let sizes = look.sizes;
        let line = sizes.small * 1.35;
        let bar_height = sizes.gauge_bar * 0.6;
        let size = vec2(ui.available_width(), 2.0 * line + bar_height + sizes.gap);
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        let spoken = format!("{} {}, {}", self.name, self.text(), self.origin);
        response.widget_info(|| WidgetInfo::labeled(Role::Meter, ui.is_enabled(), spoken.clone()));
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_numeric_value(self.range.typical);
            node.set_min_numeric_value(self.scale.0);
            node.set_max_numeric_value(self.scale.1);
        });
        if ui.is_rect_visible(rect) {
            let top = rect.top() + line;
            let bar = Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width(), bar_height));
            self.paint_bar(ui, bar, look);
            self.paint_words(ui, rect, bar, look);
        }
        response.on_hover_text(unbroken(&self.explained))
    }

    fn paint_bar(&self, ui: &Ui, bar: Rect, look: Look<'_>) {
        let x = |value: f64| egui::lerp(bar.left()..=bar.right(), self.share(value));
        let round = CornerRadius::same(look.sizes.control_radius / 2);
        let painter = ui.painter();
        painter.rect_filled(bar, round, look.colours.rail.0);
        let smear = Rect::from_min_max(
            pos2(x(self.range.low), bar.top()),
            pos2(x(self.range.high), bar.bottom()),
        );
        painter.rect_filled(smear, round, look.colours.smear.0);
        let sizes = look.sizes;
        let at = x(self.range.typical).clamp(bar.left() + sizes.thin, bar.right() - sizes.thin);
        let needle = [
            pos2(at, bar.top() - sizes.nudge),
            pos2(at, bar.bottom() + sizes.nudge),
        ];
        let stroke = Stroke::new(look.sizes.needle, look.colours.live.0);
        painter.line_segment(needle, stroke);
    }

    fn paint_words(&self, ui: &Ui, rect: Rect, bar: Rect, look: Look<'_>) {
        let painter = ui.painter();
        let font = small_font(look.sizes);
        let colours = look.colours;
        let above = bar.top() - look.sizes.nudge;
        painter.text(
            pos2(rect.left(), above),
            Align2::LEFT_BOTTOM,
            self.name,
            font.clone(),
            colours.text.0,
        );
        painter.text(
            pos2(rect.right(), above),
            Align2::RIGHT_BOTTOM,
            self.text(),
            font.clone(),
            colours.text.0,
        );
        let mut job = egui::text::LayoutJob::simple_singleline(
            self.origin.clone(),
            font,
            colours.text_weak.0,
        );
        job.wrap = egui::text::TextWrapping::truncate_at_width(rect.width());
        let galley = painter.layout_job(job);
        painter.galley(
            pos2(rect.left(), bar.bottom() + look.sizes.nudge),
            galley,
            colours.text_weak.0,
        );
    }
}
