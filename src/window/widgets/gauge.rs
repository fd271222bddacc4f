//! A bar gauge: target band, range of uncertainty, needle, ghost needle, number, unit and word.
//!
//! In: a [`GaugeReading`]. Out: where each part of it stands (pure), and the painted widget, which a
//! screen reader meets as a meter with its number, unit and word.
//!
//! Model, layout and paint are three steps; the first two know no screen.
//!
//! Not here: what the bands are (`mix::bands`), which gauges there are (`readings`).
//!
//! Tested by: `tests/window/gauge.rs`.

use eframe::egui::{
    self, Align2, CornerRadius, Pos2, Rect, Response, Role, Sense, Stroke, Ui, Vec2, WidgetInfo,
    pos2, vec2,
};

use crate::mix::{self, Fit, TargetBand};
use crate::quantity::{Range, UnitSystem};
use crate::text::mix::{self as words, GaugeSaid};

use crate::window::theme::{Look, name_font, number_font, small_font, unbroken};

/// What a gauge shows.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeReading {
    /// What is measured.
    pub gauge: mix::Gauge,
    /// Likely range and value to calculate with, SI; infinite where there is no limit.
    pub range: Range,
    /// Another value to compare against, SI.
    pub ghost: Option<f64>,
    /// What the other value is, in words.
    pub ghost_name: &'static str,
    /// What it should be, SI; `None` where anything goes.
    pub band: Option<TargetBand>,
    /// End of the scale, SI; it begins at 0.
    pub scale_end: f64,
    /// Units of every number.
    pub units: UnitSystem,
    /// What drives the number, for the tooltip.
    pub driven_by: String,
}

impl GaugeReading {
    /// What it is called.
    pub fn name(&self) -> &'static str {
        words::gauge_title(self.gauge)
    }

    /// A number of this gauge with its unit: "58 %".
    pub fn text(&self, value: f64) -> String {
        words::gauge_value(self.gauge, value, self.units)
    }

    /// The word for the side it lies on.
    pub fn word(&self) -> &'static str {
        match self.fit() {
            Some(fit) => words::verdict(self.gauge, fit),
            None => words::NO_FIXED_SIZE,
        }
    }

    /// Which side of the band it lies on.
    pub fn fit(&self) -> Option<Fit> {
        self.band.map(|band| band.judge(self.range.typical))
    }

    /// The whole gauge in one sentence, as it is spoken.
    pub fn spoken(&self) -> String {
        words::spoken(&self.said())
    }

    /// What the tooltip says: range, band and its source, what drives it.
    pub fn explained(&self) -> String {
        words::explained(&self.said(), self.band, &self.driven_by)
    }

    fn said(&self) -> GaugeSaid<'static> {
        GaugeSaid {
            gauge: self.gauge,
            range: self.range,
            word: self.word(),
            compared: self.ghost.map(|ghost| (self.ghost_name, ghost)),
            units: self.units,
        }
    }
}

/// Where the parts of a gauge stand, as shares of the bar's length, 0 at its left end.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Band that works.
    pub works: Option<(f32, f32)>,
    /// Best part of it.
    pub best: Option<(f32, f32)>,
    /// Range of uncertainty.
    pub smear: Option<(f32, f32)>,
    /// The present value; `None` only where it is not a number.
    pub needle: Option<f32>,
    /// Whether the present value lies beyond an end of the scale.
    pub needle_beyond: bool,
    /// The pinned value.
    pub ghost: Option<f32>,
    /// Where the marked values' text stands, those too close to each other left out.
    pub ticks: Vec<(f32, String)>,
}

/// Width of a digit of a tick, as a share of its height, and the room between two ticks in digits.
const DIGIT: f32 = 0.62;
const TICK_ROOM: f32 = 0.5;
/// The same beside a tick that was moved outward, and how far it may be moved, in tick heights.
const TICK_ROOM_MOVED: f32 = 0.4;
const TICK_MOVED: f32 = 1.0;

impl Layout {
    /// Lays a reading out on a bar so many tick heights long.
    pub fn of(reading: &GaugeReading, bar_in_ticks: f32) -> Self {
        let end = reading.scale_end;
        let share = |value: f64| -> Option<f32> {
            let part = value / end;
            (!part.is_nan()).then(|| part.clamp(0.0, 1.0) as f32)
        };
        let span = |low: f64, high: f64| Some((share(low)?, share(high)?));
        let typical = reading.range.typical;
        Self {
            works: reading.band.and_then(|b| span(b.works.0, b.works.1)),
            best: reading.band.and_then(|b| span(b.best.0, b.best.1)),
            smear: span(reading.range.low, reading.range.high).filter(|(low, high)| low < high),
            needle: share(typical),
            needle_beyond: typical < 0.0 || typical > end,
            ghost: reading.ghost.and_then(share),
            ticks: ticks(reading, bar_in_ticks, &share),
        }
    }
}

/// The limits of the band, best ones first, so that they win where there is no room for all. An outer limit stands a
/// little further out than it lies where the best one beside it is close, so that a narrow gauge has the same marks as
/// a wide one; it is only marked where that best one is, since it would be taken for it.
fn ticks(
    reading: &GaugeReading,
    bar_in_ticks: f32,
    share: &dyn Fn(f64) -> Option<f32>,
) -> Vec<(f32, String)> {
    let Some(band) = reading.band else {
        return Vec::new();
    };
    let mut kept: Vec<(f32, String)> = Vec::new();
    let text = |value| words::gauge_tick(reading.gauge, value, reading.units);
    let apart = |text: &str, other: &str, room: f32| {
        let digits = (text.chars().count() + other.chars().count()) as f32 / 2.0 + room;
        digits * DIGIT / bar_in_ticks
    };
    let mut movable = TICK_MOVED;
    for value in [band.best.0, band.best.1] {
        let Some(at) = share(value) else { continue };
        let text = text(value);
        let mut others = kept.iter();
        let free = others.all(|(other, told)| (other - at).abs() >= apart(&text, told, TICK_ROOM));
        // With one best limit alone, an outer one moved close to it would be taken for the other.
        if !free {
            movable = 0.0;
        } else if at > 0.0 && at < 1.0 {
            kept.push((at, text));
        }
    }
    for (value, best, outward) in [
        (band.works.0, band.best.0, -1.0),
        (band.works.1, band.best.1, 1.0),
    ] {
        let (Some(lies), Some(beside)) = (share(value), share(best)) else {
            continue;
        };
        let Some((_, told)) = kept.iter().find(|(at, _)| *at == beside) else {
            continue;
        };
        let text = text(value);
        let least = apart(&text, told, TICK_ROOM_MOVED);
        let at = beside + outward * (outward * (lies - beside)).max(least);
        let near = (at - lies).abs() * bar_in_ticks <= movable && value != best;
        if near && lies > 0.0 && lies < 1.0 && at > 0.0 && at < 1.0 {
            kept.push((at, text));
        }
    }
    kept
}

/// The widget.
#[must_use = "add it to a ui"]
pub struct GaugeBar<'a> {
    reading: &'a GaugeReading,
    look: Look<'a>,
}

impl<'a> GaugeBar<'a> {
    /// A gauge of a reading.
    pub fn new(reading: &'a GaugeReading, look: Look<'a>) -> Self {
        Self { reading, look }
    }

    /// The room between name and word of a gauge drawn in this rectangle, for something of the caller's.
    pub fn room_in_words(ui: &Ui, rect: Rect, reading: &GaugeReading, look: Look<'_>) -> Rect {
        let sizes = look.sizes;
        let width = |text: &str, font| {
            let galley = ui
                .painter()
                .layout_no_wrap(text.to_owned(), font, look.colours.text.0);
            galley.size().x
        };
        let left = rect.left() + width(reading.name(), name_font(sizes)) + 2.0 * sizes.gap;
        let number = width(&reading.text(reading.range.typical), number_font(sizes));
        let word = width(reading.word(), name_font(sizes));
        let right = rect.right() - number - word - 3.0 * sizes.gap;
        let bottom = rect.top() + sizes.number * 1.3 - sizes.gap * 0.4;
        Rect::from_min_max(pos2(left, rect.top()), pos2(right.max(left), bottom))
    }

    /// Height of one gauge, points.
    pub fn height(look: Look<'_>) -> f32 {
        let sizes = look.sizes;
        sizes.number * 1.3 + sizes.gauge_bar + sizes.small * 1.35
    }
}

impl egui::Widget for GaugeBar<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let Self { reading, look } = self;
        let size = vec2(ui.available_width(), Self::height(look));
        let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
        response
            .widget_info(|| WidgetInfo::labeled(Role::Meter, ui.is_enabled(), reading.spoken()));
        describe_number(ui, &response, reading);
        if ui.is_rect_visible(rect) {
            let layout = Layout::of(reading, rect.width() / look.sizes.small);
            let top = rect.top() + look.sizes.number * 1.3;
            let bar = Rect::from_min_size(
                pos2(rect.left(), top),
                vec2(rect.width(), look.sizes.gauge_bar),
            );
            paint_words(ui, rect, bar, reading, look);
            paint_bar(ui, bar, &layout, look);
            paint_ticks(ui, bar, &layout, look);
        }
        response.on_hover_text(unbroken(reading.explained()))
    }
}

fn describe_number(ui: &Ui, response: &Response, reading: &GaugeReading) {
    let value = reading.range.typical;
    if value.is_finite() {
        ui.ctx().accesskit_node_builder(response.id, |node| {
            let number = |value| words::gauge_number(reading.gauge, value, reading.units);
            node.set_numeric_value(number(value));
            node.set_min_numeric_value(0.0);
            node.set_max_numeric_value(number(reading.scale_end));
        });
    }
}

/// Name at the left, word and number at the right, all above the bar; smaller where it is narrow.
fn paint_words(ui: &Ui, rect: Rect, bar: Rect, reading: &GaugeReading, look: Look<'_>) {
    let colours = look.colours;
    let baseline = bar.top() - look.sizes.gap * 0.4;
    let painter = ui.painter();
    let number = painter.text(
        pos2(rect.right(), baseline),
        Align2::RIGHT_BOTTOM,
        reading.text(reading.range.typical),
        number_font(look.sizes),
        colours.text.0,
    );
    let word_colour = match reading.fit() {
        Some(Fit::Good) => colours.good,
        Some(Fit::Low | Fit::High) => colours.near,
        Some(Fit::TooLow | Fit::TooHigh) => colours.bad,
        None => colours.text_weak,
    };
    let laid = |font: egui::FontId| {
        [
            (reading.name(), colours.text),
            (reading.word(), word_colour),
        ]
        .map(|(text, colour)| painter.layout_no_wrap(text.to_owned(), font.clone(), colour.0))
    };
    let room = number.left() - rect.left() - 2.0 * look.sizes.gap;
    let mut words = laid(name_font(look.sizes));
    if words[0].size().x + words[1].size().x > room {
        words = laid(small_font(look.sizes));
    }
    let [name, word] = words;
    let low = baseline - look.sizes.thin;
    let word_left = number.left() - look.sizes.gap - word.size().x;
    painter.galley(pos2(word_left, low - word.size().y), word, word_colour.0);
    painter.galley(pos2(rect.left(), low - name.size().y), name, colours.text.0);
}

fn paint_bar(ui: &Ui, bar: Rect, layout: &Layout, look: Look<'_>) {
    let (colours, sizes) = (look.colours, look.sizes);
    let painter = ui.painter();
    let round = CornerRadius::same(sizes.control_radius / 2);
    let x = |share: f32| egui::lerp(bar.left()..=bar.right(), share);
    let part = |(low, high): (f32, f32), shrink: f32| {
        Rect::from_min_max(
            pos2(x(low), bar.top() + shrink),
            pos2(x(high), bar.bottom() - shrink),
        )
    };
    painter.rect_filled(bar, round, colours.rail.0);
    if let Some(works) = layout.works {
        painter.rect_filled(part(works, 0.0), CornerRadius::ZERO, colours.band_works.0);
    }
    if let Some(best) = layout.best {
        painter.rect_filled(part(best, 0.0), CornerRadius::ZERO, colours.band_best.0);
    }
    if let Some(smear) = layout.smear {
        painter.rect_filled(part(smear, bar.height() * 0.28), round, colours.smear.0);
    }
    if let Some(ghost) = layout.ghost {
        let stroke = Stroke::new(sizes.needle, colours.ghost.0);
        let line = [pos2(x(ghost), bar.top()), pos2(x(ghost), bar.bottom())];
        painter.extend(egui::Shape::dashed_line(&line, stroke, 3.0, 2.5));
    }
    if let Some(needle) = layout.needle {
        paint_needle(ui, bar, x(needle), layout, look);
    }
}

/// A line with a head; at an end of the scale the head points on beyond it.
fn paint_needle(ui: &Ui, bar: Rect, x: f32, layout: &Layout, look: Look<'_>) {
    let (colours, sizes) = (look.colours, look.sizes);
    let painter = ui.painter();
    let x = x.clamp(
        bar.left() + sizes.needle / 2.0,
        bar.right() - sizes.needle / 2.0,
    );
    let stroke = Stroke::new(sizes.needle, colours.live.0);
    painter.line_segment(
        [
            pos2(x, bar.top() - sizes.nudge),
            pos2(x, bar.bottom() + sizes.nudge),
        ],
        stroke,
    );
    let head = sizes.gauge_bar * 0.32;
    let points: Vec<Pos2> = if layout.needle_beyond {
        let outward = if x > bar.center().x { -1.0 } else { 1.0 };
        let tip = pos2(x, bar.center().y);
        vec![
            tip,
            tip + vec2(outward * head * 1.6, -head),
            tip + vec2(outward * head * 1.6, head),
        ]
    } else {
        let tip = pos2(x, bar.top() + head * 0.6);
        vec![
            tip,
            tip + vec2(-head, -head * 1.3),
            tip + vec2(head, -head * 1.3),
        ]
    };
    painter.add(egui::Shape::convex_polygon(
        points,
        colours.live.0,
        Stroke::NONE,
    ));
}

fn paint_ticks(ui: &Ui, bar: Rect, layout: &Layout, look: Look<'_>) {
    for (share, text) in &layout.ticks {
        let at = pos2(
            egui::lerp(bar.left()..=bar.right(), *share),
            bar.bottom() + look.sizes.thin,
        );
        ui.painter().text(
            at,
            Align2::CENTER_TOP,
            text,
            small_font(look.sizes),
            look.colours.text_weak.0,
        );
    }
}

/// An outline in the ghost's hand, for the legend beside the gauges.
pub fn ghost_swatch(ui: &mut Ui, look: Look<'_>) {
    let size = Vec2::splat(look.sizes.small);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let line = [rect.center_top(), rect.center_bottom()];
    let stroke = Stroke::new(look.sizes.needle, look.colours.ghost.0);
    ui.painter()
        .extend(egui::Shape::dashed_line(&line, stroke, 3.0, 2.5));
}
