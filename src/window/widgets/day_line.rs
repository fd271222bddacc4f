//! The day line: what the plan does as markers on a line of days, each to be dragged to another day.
//!
//! In: the plan, the days of the projection. Out: the same, edited; the marker that is looked at.
//!
//! A marker is a slider for keyboard and screen reader: arrows move it by a day, Delete removes it.
//! Places and days are calculated by the pure half ([`DayScale`], [`lanes`]).
//!
//! Not here: adding, and the list below with its fields (`plan_list`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use eframe::egui::{
    self, Align2, CornerRadius, EventFilter, Key, Rect, Response, Role, Sense, Stroke, StrokeKind,
    Ui, WidgetInfo, accesskit, pos2, vec2,
};

use crate::heap::{Cover, Event, Heap, Operation, Turning};
use crate::text::number;
use crate::text::plan;

use crate::text::date::{MONTHS, date, month_and_day};
use crate::window::theme::{Look, small_font, unbroken};

/// Most lanes of markers: a further one covers another.
const MOST_LANES: usize = 2;

/// Days along a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayScale {
    /// Where day 0 stands.
    pub left: f32,
    /// Where the last day stands.
    pub right: f32,
    /// The last day.
    pub days: f64,
}

impl DayScale {
    /// Where a day stands.
    pub fn x(self, day: f64) -> f32 {
        let share = (day / self.days.max(1.0)).clamp(0.0, 1.0);
        self.left + share as f32 * (self.right - self.left)
    }

    /// The whole day nearest to a place.
    pub fn day(self, x: f32) -> f64 {
        let width = (self.right - self.left).max(1.0);
        let share = ((x - self.left) / width).clamp(0.0, 1.0);
        (f64::from(share) * self.days).round().min(self.days)
    }
}

/// A lane for each marker, so that those closer than `width` stand one above the other.
pub fn lanes(places: &[f32], width: f32) -> Vec<usize> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| places[a].total_cmp(&places[b]).then(a.cmp(&b)));
    let mut taken_to = [f32::NEG_INFINITY; MOST_LANES];
    let mut lanes = vec![0; places.len()];
    for index in order {
        let free = taken_to.iter().position(|&to| places[index] - width >= to);
        let lane = free.unwrap_or(MOST_LANES - 1);
        taken_to[lane] = places[index];
        lanes[index] = lane;
    }
    lanes
}

/// The letter on the marker of a operation.
pub fn operation_sign(operation: &Operation) -> &'static str {
    match operation {
        Operation::Turn {
            turning: Turning::Remix,
            ..
        } => "T",
        Operation::Turn { .. } => "I",
        Operation::Water { .. } | Operation::Pour { .. } => "W",
        Operation::Add { .. } => "A",
        Operation::Cover(Cover::Bare) => "U",
        Operation::Cover(_) => "C",
    }
}

/// What a marker is called.
pub fn marker_name(index: usize, operation: &Operation) -> String {
    format!("Marker {}: {}", index + 1, plan::operation(operation))
}

/// The line; `span` is where the first and the last day stand on screen.
pub fn day_line_ui(ui: &mut Ui, heap: &mut Heap, span: Option<(f32, f32)>, look: Look<'_>) {
    let size = look.sizes.marker;
    let height = MOST_LANES as f32 * size + look.sizes.small * 1.5;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let (left, right) = span.unwrap_or((rect.left() + size, rect.right() - size));
    let scale = DayScale {
        left,
        right,
        days: heap.days,
    };
    let rail_y = rect.top() + MOST_LANES as f32 * size;
    paint_rail(ui, scale, rail_y, heap.start_day_of_year, look);
    let start = heap.start_day_of_year;
    let mut dropped = None;
    let mut responses = Vec::with_capacity(heap.plan.events.len());
    let before = spots(&heap.plan.events, scale, rail_y, size);
    for (index, event) in heap.plan.events.iter_mut().enumerate() {
        let response = marker_ui(ui, (index, event), before[index], start, scale);
        let drops = |input: &egui::InputState| {
            input.key_pressed(Key::Delete) || input.key_pressed(Key::Backspace)
        };
        if response.has_focus() && ui.input(drops) {
            dropped = Some(index);
        }
        responses.push(response);
    }
    // Painted where they stand now, all stems first, so that none crosses a marker below it.
    let now = spots(&heap.plan.events, scale, rail_y, size);
    for spot in &now {
        let stem = [spot.center_bottom(), pos2(spot.center().x, rail_y)];
        let stroke = Stroke::new(look.sizes.curve, look.colours.accent.0);
        ui.painter().line_segment(stem, stroke);
    }
    for due in heap.plan.in_order() {
        if due.day <= heap.days {
            paint_time(ui, pos2(scale.x(due.day), rail_y), look);
        }
    }
    for ((event, response), spot) in heap.plan.events.iter().zip(&responses).zip(now) {
        paint_marker(ui, event, response, spot, look);
    }
    if let Some(index) = dropped {
        heap.plan.events.remove(index);
    }
}

/// A short stroke on the rail: one time of an entry, that of its marker or a later one.
fn paint_time(ui: &Ui, foot: egui::Pos2, look: Look<'_>) {
    let top = pos2(foot.x, foot.y - 0.5 * look.sizes.marker);
    let stroke = Stroke::new(look.sizes.curve, look.colours.accent.0);
    ui.painter().line_segment([top, foot], stroke);
}

/// Where the markers stand.
fn spots(events: &[Event], scale: DayScale, rail_y: f32, size: f32) -> Vec<Rect> {
    let places: Vec<f32> = events.iter().map(|event| scale.x(event.day)).collect();
    let lanes = lanes(&places, size);
    let spot = |(&x, lane): (&f32, usize)| {
        let middle = pos2(x, rail_y - (lane as f32 + 0.5) * size);
        Rect::from_center_size(middle, vec2(size, size))
    };
    places.iter().zip(lanes).map(spot).collect()
}

/// One marker: moved by pointer, arrows or a screen reader.
fn marker_ui(
    ui: &Ui,
    (index, event): (usize, &mut Event),
    spot: Rect,
    start: f64,
    scale: DayScale,
) -> Response {
    let id = ui.scope_id().with(("marker", index));
    let response = ui.interact(spot, id, Sense::click_and_drag());
    if response.clicked() || response.drag_started() {
        response.request_focus();
    }
    let mut day = event.day;
    if response.dragged()
        && let Some(at) = response.interact_pointer_pos()
    {
        day = scale.day(at.x);
    }
    if response.has_focus() {
        let arrows = EventFilter {
            horizontal_arrows: true,
            ..EventFilter::default()
        };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
        day += ui.input(|input| {
            input.num_presses(Key::ArrowRight) as f64 - input.num_presses(Key::ArrowLeft) as f64
        });
    }
    if let Some(asked) = asked_for(ui, id) {
        day = asked;
    }
    if day != event.day && day.is_finite() {
        event.day = day.clamp(0.0, scale.days);
    }
    let name = marker_name(index, &event.operation);
    response.widget_info(|| WidgetInfo::slider(ui.is_enabled(), event.day, &name));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_min_numeric_value(0.0);
        node.set_max_numeric_value(scale.days);
        node.set_numeric_value_step(1.0);
        if ui.is_enabled() {
            node.add_action(accesskit::Action::SetValue);
        }
    });
    let date = date(start + event.day.floor());
    response.on_hover_text(unbroken(format!(
        "{} on day {}, {date}. Drag it to another day; arrows move it, Delete removes it.",
        plan::operation(&event.operation),
        number::rounded(event.day),
    )))
}

/// The day a screen reader asks for.
fn asked_for(ui: &Ui, id: egui::Id) -> Option<f64> {
    if !ui.is_enabled() {
        return None;
    }
    ui.input(|input| {
        let asked = input.accesskit_action_requests(id, accesskit::Action::SetValue);
        asked
            .filter_map(|request| match &request.data {
                Some(accesskit::ActionData::NumericValue(value)) => Some(*value),
                _ => None,
            })
            .last()
    })
}

fn paint_marker(ui: &Ui, event: &Event, response: &Response, spot: Rect, look: Look<'_>) {
    let (colours, sizes) = (look.colours, look.sizes);
    let painter = ui.painter();
    let body = spot.shrink(sizes.thin);
    let round = CornerRadius::same(sizes.control_radius);
    let active = response.hovered() || response.dragged() || response.has_focus();
    let (fill, letter) = if active {
        (colours.accent, colours.surface)
    } else {
        (colours.accent_soft, colours.accent_text)
    };
    painter.rect_filled(body, round, fill.0);
    let outline = Stroke::new(sizes.thin, colours.accent.0);
    painter.rect_stroke(body, round, outline, StrokeKind::Inside);
    painter.text(
        body.center(),
        Align2::CENTER_CENTER,
        operation_sign(&event.operation),
        small_font(sizes),
        letter.0,
    );
    if response.hovered() || response.dragged() {
        ui.ctx().set_cursor_icon(egui::CursorIcon::ResizeHorizontal);
    }
}

/// The line itself, with the first of every month.
fn paint_rail(ui: &Ui, scale: DayScale, y: f32, start: f64, look: Look<'_>) {
    let (colours, sizes) = (look.colours, look.sizes);
    let painter = ui.painter();
    let rail = Stroke::new(sizes.curve, colours.rail.0);
    painter.line_segment([pos2(scale.left, y), pos2(scale.right, y)], rail);
    let text_y = y + sizes.thin * 2.0;
    let mut free_from = f32::NEG_INFINITY;
    for (day, text) in month_marks(start, scale.days) {
        let x = scale.x(day);
        let stroke = Stroke::new(sizes.thin, colours.mark.0);
        painter.line_segment([pos2(x, y - sizes.tick), pos2(x, y + sizes.tick)], stroke);
        let words = painter.layout_no_wrap(text, small_font(sizes), colours.text_weak.0);
        let end = x + sizes.gap * 0.4 + words.size().x;
        if x >= free_from && end <= scale.right {
            let at = pos2(x + sizes.gap * 0.4, text_y);
            painter.galley(at, words, colours.text_weak.0);
            free_from = end + sizes.gap;
        }
    }
    let response = ui.interact(
        Rect::from_min_max(pos2(scale.left, y - sizes.tick), pos2(scale.right, text_y)),
        ui.scope_id().with("rail"),
        Sense::hover(),
    );
    response.widget_info(|| {
        let text = "Day line of the plan; its entries follow as markers.";
        WidgetInfo::labeled(Role::Figure, true, text)
    });
}

/// The day the heap is built and the first of every month after it, with their dates.
pub fn month_marks(start_day_of_year: f64, days: f64) -> Vec<(f64, String)> {
    let mut marks = vec![(0.0, date(start_day_of_year))];
    for day in 1..=days.floor() as u32 {
        let (month, of_month) = month_and_day(start_day_of_year + f64::from(day));
        if of_month == 1 {
            marks.push((f64::from(day), MONTHS[month].to_owned()));
        }
    }
    marks
}
