//! The small drawing on a card: three gauges with their bands at the left, the projected heat at the right, with what was
//! read of the middle as dots.
//!
//! In: what is known of a recipe. Out: the painted drawing, which a screen reader meets as one figure in words.
//!
//! Painted straight, without the plot of the large views, so that many of them cost a frame little.
//! Not here: the large gauge and plot (`widgets::gauge`, `widgets::heat_plot`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::{
    self, Align2, CornerRadius, Pos2, Rect, Response, Role, Sense, Shape, Stroke, Ui, WidgetInfo,
    pos2, vec2,
};

use crate::mix::Gauge;
use crate::quantity::UnitSystem;
use crate::text::gauges::{GaugeLine, LineSubject, gauge_lines, value_and_word};
use crate::text::{number, recipes as words};

use crate::window::page::Page;
use crate::window::piles::curve::MARKS;
use crate::window::piles::recipe_cards::CardShown;
use crate::window::theme::{Look, small_font, unbroken};

/// The gauges that are shown, from above.
const GAUGES: [Gauge; 3] = [Gauge::CarbonNitrogen, Gauge::Moisture, Gauge::Volume];
/// Ends of the temperatures, degC; what is hotter moves the upper one.
const SPAN_C: (f64, f64) = (0.0, 75.0);
/// Share of the width that the gauges have.
const GAUGE_SHARE: f32 = 0.42;
/// Height of a gauge's bar, in heights of a small letter.
const BAR: f32 = 0.5;

/// Draws it; a press on it opens the recipe.
pub(super) fn thumbnail_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    (title, shown): (&str, &CardShown),
) -> Response {
    let (look, units) = (page.look, page.state.settings.units);
    let size = vec2(ui.available_width(), look.sizes.card_picture);
    // Pressed by the pointer alone: the keyboard has the title for it.
    let (rect, response) = ui.allocate_exact_size(size, Sense::CLICK);
    let lines = shown
        .gauges
        .map(|gauges| gauge_lines(&gauges, shown.room_m3, units))
        .unwrap_or_default();
    let of = |gauge| lines.iter().find(|it| it.subject == LineSubject::Of(gauge));
    let gauges: Vec<&GaugeLine> = GAUGES.into_iter().filter_map(of).collect();
    let told = gauges
        .iter()
        .map(|it| format!("{} {}", it.name, value_and_word(it)));
    let mut told: Vec<String> = told.collect();
    told.extend(words::came(&shown.came, page.now, units));
    let told = told.join("; ");
    response.widget_info(|| {
        let said = format!("{title} at a glance. {told}");
        WidgetInfo::labeled(Role::Figure, ui.is_enabled(), said)
    });
    if ui.is_rect_visible(rect) {
        let split = rect.left() + GAUGE_SHARE * rect.width();
        let left = rect.with_max_x(split - look.sizes.gap);
        for (place, line) in gauges.iter().enumerate() {
            let height = left.height() / GAUGES.len() as f32;
            let top = left.top() + place as f32 * height;
            let room = Rect::from_min_size(pos2(left.left(), top), vec2(left.width(), height));
            paint_gauge(ui, room, line, look);
        }
        paint_curve(ui, rect.with_min_x(split), shown, (units, look));
    }
    response.on_hover_text(unbroken(told))
}

/// Name and value above, the bar with its band below.
fn paint_gauge(ui: &Ui, room: Rect, line: &GaugeLine, look: Look<'_>) {
    let painter = ui.painter().with_clip_rect(room.intersect(ui.clip_rect()));
    let font = small_font(look.sizes);
    let text =
        |at: Pos2, align, text: &str, colour| painter.text(at, align, text, font.clone(), colour);
    let weak = look.colours.text_weak.0;
    text(room.left_top(), Align2::LEFT_TOP, line.name, weak);
    text(
        room.right_top(),
        Align2::RIGHT_TOP,
        &line.value,
        look.colours.text.0,
    );
    let height = BAR * look.sizes.small;
    let top = room.top() + 1.25 * look.sizes.small;
    let bar = Rect::from_min_size(pos2(room.left(), top), vec2(room.width(), height));
    let x = |value: f64| {
        let share = (value / line.scale_end).clamp(0.0, 1.0) as f32;
        egui::lerp(bar.left()..=bar.right(), share)
    };
    let part = |(low, high): (f64, f64)| bar.with_min_x(x(low)).with_max_x(x(high));
    painter.rect_filled(bar, CornerRadius::ZERO, look.colours.rail.0);
    if let Some(band) = line.band {
        let (works, best) = (look.colours.band_works.0, look.colours.band_best.0);
        painter.rect_filled(part(band.works), CornerRadius::ZERO, works);
        painter.rect_filled(part(band.best), CornerRadius::ZERO, best);
    }
    if line.range.typical.is_finite() {
        let half = 0.5 * look.sizes.needle;
        let at = x(line.range.typical).clamp(bar.left() + half, bar.right() - half);
        let needle = [
            pos2(at, bar.top() - look.sizes.thin),
            pos2(at, bar.bottom() + look.sizes.thin),
        ];
        painter.line_segment(needle, Stroke::new(look.sizes.needle, look.colours.live.0));
    }
}

/// The heat at the centre over the days, with the marked temperatures dashed across.
fn paint_curve(ui: &Ui, room: Rect, shown: &CardShown, (units, look): (UnitSystem, Look<'_>)) {
    let painter = ui.painter();
    painter.rect_filled(room, CornerRadius::ZERO, look.colours.surface.0);
    let hottest = shown.heap_c.iter().chain(&shown.read_c);
    let hottest = hottest.map(|point| point[1]);
    let (low, high) = (SPAN_C.0, hottest.fold(SPAN_C.1, f64::max));
    let y = |celsius: f64| {
        let share = ((celsius - low) / (high - low)).clamp(0.0, 1.0) as f32;
        egui::lerp(room.bottom()..=room.top(), share)
    };
    for mark in &MARKS {
        let at = y(mark.temperature_c);
        let line = [pos2(room.left(), at), pos2(room.right(), at)];
        let stroke = Stroke::new(look.sizes.thin, look.colours.mark.0);
        painter.extend(Shape::dashed_line(&line, stroke, 3.0, 3.0));
    }
    // The upper line is named where a heap has cooled again.
    if let Some(hot) = MARKS.last() {
        painter.text(
            pos2(room.right(), y(hot.temperature_c)),
            Align2::RIGHT_BOTTOM,
            number::temperature(hot.temperature_c, units),
            small_font(look.sizes),
            look.colours.text_weak.0,
        );
    }
    let days = shown.days.max(1.0);
    let at = |[day, celsius]: &[f64; 2]| {
        let share = (day / days).clamp(0.0, 1.0) as f32;
        pos2(egui::lerp(room.left()..=room.right(), share), y(*celsius))
    };
    let stroke = Stroke::new(0.8 * look.sizes.curve, look.colours.heap.0);
    painter.line(shown.heap_c.iter().map(at).collect(), stroke);
    let within = |point: &&[f64; 2]| (0.0..=days).contains(&point[0]);
    for read in shown.read_c.iter().filter(within) {
        painter.circle_filled(at(read), look.sizes.nudge, look.colours.text.0);
    }
}
