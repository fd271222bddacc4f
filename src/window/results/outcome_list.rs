//! "Expected result": the judgements by topic; each line opens to its numbers, its source and its trust.
//!
//! In: an outcome. Out: the drawn list, the chosen line.
//!
//! Not here: the judging (`judging`), trouble over time (`trouble_plot`), turnings (`turn_table`).
//!
//! Tested by: `tests/window/results.rs`.

use std::sync::Arc;

use eframe::egui::collapsing_header::paint_default_icon;
use eframe::egui::{
    Align, CollapsingHeader, CornerRadius, Galley, Label, Layout, Rect, Response, RichText, Role,
    ScrollArea, Sense, StrokeKind, TextStyle, TextWrapMode, Ui, WidgetInfo, WidgetText, pos2, vec2,
};

use crate::forecast::in_ten;
use crate::outcome::sanitation::STANDING;
use crate::outcome::{Judgement, Outcome, Topic, Trust};

use crate::window::page::Page;
use crate::window::results::turn_table::turnings_ui;
use crate::window::theme::{Look, strong};
use crate::window::widgets::trouble_plot::trouble_ui;

/// Width of the likelihood, in widths of a typed value.
const LIKELY_WIDTHS: f32 = 1.4;

/// The topics in the order people ask.
pub const TOPICS: [Topic; 7] = [
    Topic::Plants,
    Topic::Finish,
    Topic::Produce,
    Topic::Trouble,
    Topic::Diseases,
    Topic::Germs,
    Topic::Rules,
];

/// The whole list.
pub(in crate::window) fn outcome_ui(ui: &mut Ui, page: &mut Page<'_>, outcome: &Outcome) {
    ui.heading("Expected result");
    let look = page.look;
    let told = match page.shown.stages.forecast() {
        Some(forecast) if forecast.is_whole() => format!(
            "Open a line for its numbers and source. \"7 in 10\": in so many of {} heaps like this one, over what is not well known.",
            forecast.members()
        ),
        Some(forecast) if forecast.members() > 0 => format!(
            "Open a line for its numbers and source. \"7 in 10\": in so many of {} heaps like this one so far ({} to come), over what is not well known.",
            forecast.members(),
            forecast.to_come()
        ),
        _ => "Open a line for its numbers and source.".to_owned(),
    };
    ui.label(RichText::new(told).small().color(look.colours.text_weak.0));
    ScrollArea::vertical()
        .id_salt("expected result")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            for topic in TOPICS {
                if outcome.about(topic).next().is_some() {
                    topic_ui(ui, page, outcome, topic);
                }
            }
        });
}

fn topic_ui(ui: &mut Ui, page: &mut Page<'_>, outcome: &Outcome, topic: Topic) {
    CollapsingHeader::new(strong(topic.label()))
        .id_salt(topic.label())
        .default_open(true)
        .show_unindented(ui, |ui| {
            if topic == Topic::Rules {
                ui.label(RichText::new(STANDING).color(page.look.colours.text_weak.0));
            }
            for judgement in outcome.about(topic) {
                judgement_ui(ui, page, judgement);
            }
            match topic {
                Topic::Plants => turnings_ui(ui, page),
                Topic::Trouble => trouble_ui(ui, &outcome.trouble_course, page.look),
                _ => {}
            }
        })
        .header_response
        .on_hover_text("Shows or folds these lines.");
}

/// What a screen reader says of a line.
pub fn spoken(judgement: &Judgement) -> String {
    let mut words = vec![judgement.text.clone()];
    if let Some(likely) = &judgement.likely {
        words.push(format!("{}: {}", in_ten(likely.share), likely.of));
    }
    if judgement.trust == Trust::Recalled {
        words.push(Trust::Recalled.label().to_owned());
    }
    words.join(". ")
}

fn judgement_ui(ui: &mut Ui, page: &mut Page<'_>, judgement: &Judgement) {
    let look = page.look;
    let is_open = page.state.open_judgement.as_ref() == Some(&judgement.id);
    let line = Line {
        judgement,
        is_open,
        look,
    };
    if line.show(ui).clicked() {
        page.state.open_judgement = (!is_open).then(|| judgement.id.clone());
    }
    if is_open {
        ui.indent(&judgement.id, |ui| behind_ui(ui, judgement, look));
    }
}

/// A line that can be opened.
#[must_use = "a line is drawn by `show`"]
struct Line<'a> {
    judgement: &'a Judgement,
    is_open: bool,
    look: Look<'a>,
}

impl Line<'_> {
    fn show(self, ui: &mut Ui) -> Response {
        let Self {
            judgement,
            is_open,
            look,
        } = self;
        let sizes = look.sizes;
        let (margin, icon) = (0.5 * sizes.gap, sizes.body);
        let text_left = icon + LIKELY_WIDTHS * sizes.value_width;
        let width = ui.available_width();
        let wrap = (width - text_left - 2.0 * margin).max(sizes.least_width);
        let galley = |ui: &Ui, text: RichText, wrap: f32| {
            WidgetText::from(text).into_galley(ui, Some(TextWrapMode::Wrap), wrap, TextStyle::Body)
        };
        let said = galley(ui, RichText::new(&judgement.text), wrap);
        let beside = likely_galley(ui, judgement, look);
        let below = below_text(judgement).map(|text| {
            let text = RichText::new(text).small().color(look.colours.text_weak.0);
            galley(ui, text, wrap)
        });
        let below_height = below.as_ref().map_or(0.0, |galley| galley.size().y);
        let height = said.size().y + below_height + 2.0 * margin;
        let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::click());
        response
            .widget_info(|| WidgetInfo::selected(Role::Button, true, is_open, spoken(judgement)));
        if ui.is_rect_visible(rect) {
            let style = ui.style().interact_selectable(&response, is_open);
            if is_open || response.hovered() || response.has_focus() {
                let round = CornerRadius::same(sizes.control_radius);
                ui.painter().rect(
                    rect,
                    round,
                    style.weak_bg_fill,
                    style.bg_stroke,
                    StrokeKind::Inside,
                );
            }
            let top = rect.top() + margin;
            let corner = pos2(rect.left(), top);
            let icon_rect = Rect::from_min_size(corner, vec2(icon, icon));
            let openness = if is_open { 1.0 } else { 0.0 };
            paint_default_icon(
                ui,
                openness,
                &response.clone().with_new_rect(icon_rect.shrink(sizes.tick)),
            );
            let colour = style.text_color();
            let painter = ui.painter();
            if let Some(beside) = beside {
                painter.galley(pos2(rect.left() + icon + margin, top), beside, colour);
            }
            let left = rect.left() + text_left + margin;
            let under = pos2(left, top + said.size().y);
            painter.galley(pos2(left, top), said, colour);
            if let Some(below) = below {
                painter.galley(under, below, look.colours.text_weak.0);
            }
        }
        response.on_hover_text(if is_open {
            "Folds its numbers and source."
        } else {
            "Shows its numbers and source."
        })
    }
}

/// "7 in 10", in the heavier letters.
fn likely_galley(ui: &Ui, judgement: &Judgement, look: Look<'_>) -> Option<Arc<Galley>> {
    let likely = judgement.likely.as_ref()?;
    let text = strong(in_ten(likely.share)).size(look.sizes.body);
    Some(WidgetText::from(text).into_galley(
        ui,
        Some(TextWrapMode::Wrap),
        LIKELY_WIDTHS * look.sizes.value_width - look.sizes.gap,
        TextStyle::Body,
    ))
}

/// What the likelihood counts, and whether the line is unconfirmed.
fn below_text(judgement: &Judgement) -> Option<String> {
    let mut words = Vec::new();
    if let Some(likely) = &judgement.likely {
        words.push(format!(
            "{} such heaps: {}",
            in_ten(likely.share),
            likely.of
        ));
    }
    if judgement.trust == Trust::Recalled {
        words.push(Trust::Recalled.label().to_owned());
    }
    (!words.is_empty()).then(|| words.join(" · "))
}

/// Numbers, source and trust of a line.
fn behind_ui(ui: &mut Ui, judgement: &Judgement, look: Look<'_>) {
    for (name, value) in &judgement.numbers {
        pair_ui(ui, name, value, look);
    }
    pair_ui(ui, "Source", &judgement.source, look);
    pair_ui(ui, "Trust", judgement.trust.label(), look);
    ui.add_space(0.5 * look.sizes.gap);
}

/// A name at the left, its value at the right, both wrapped.
pub(in crate::window) fn pair_ui(ui: &mut Ui, name: &str, value: &str, look: Look<'_>) {
    ui.horizontal_top(|ui| {
        let column = 0.4 * ui.available_width();
        let left = Layout::top_down(Align::Min);
        ui.allocate_ui_with_layout(vec2(column, 0.0), left, |ui| {
            ui.set_width(column);
            let name = RichText::new(name).small().color(look.colours.text_weak.0);
            ui.add(Label::new(name).wrap());
        });
        let value = RichText::new(value).small();
        ui.add(Label::new(value).wrap());
    });
}
