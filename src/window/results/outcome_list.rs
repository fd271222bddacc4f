//! "Expected result": three plain lines, then the judgements by topic; each opens to its numbers, its source and its trust.
//!
//! In: an outcome. Out: the drawn list, the chosen line.
//!
//! Not here: the judging (`judging`), trouble over time (`trouble_plot`), turnings (`turn_table`).
//!
//! Tested by: `tests/window/results.rs`.

use std::sync::Arc;

use eframe::egui::collapsing_header::paint_default_icon;
use eframe::egui::{
    Align, CollapsingHeader, CornerRadius, Galley, Grid, Label, Layout, Rect, Response, RichText,
    Role, ScrollArea, Sense, StrokeKind, TextStyle, TextWrapMode, Ui, WidgetInfo, WidgetText, pos2,
    vec2,
};

use crate::outcome::headline::{Headline, headline};
use crate::outcome::{Facts, Judgement, Outcome, Topic, Trust};
use crate::quantity::UnitSystem;
use crate::text::outcome as words;

use crate::window::page::Page;
use crate::window::results::turn_table::turnings_ui;
use crate::window::theme::{Look, strong, unbroken};
use crate::window::widgets::next_days_list::next_days_ui;
use crate::window::widgets::trouble_plot::trouble_ui;

/// Width of the likelihood, in widths of a typed value.
const LIKELY_WIDTHS: f32 = 1.4;
/// Width of the questions asked first, in widths of a typed value.
const FIRST_WIDTHS: f32 = 1.4;

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
pub(in crate::window) fn outcome_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    outcome: &Outcome,
    facts: &Facts,
) {
    ui.heading("Expected result");
    let look = page.look;
    let told = match page.shown.stages.forecast() {
        Some(forecast) if forecast.is_whole() => format!(
            "Open a line for its numbers and source. \"7 in 10\": in that many of {} heaps like this one, varying what is not well known.",
            forecast.members()
        ),
        Some(forecast) if forecast.members() > 0 => format!(
            "Open a line for its numbers and source. \"7 in 10\": in that many of {} heaps like this one so far ({} to come), varying what is not well known.",
            forecast.members(),
            forecast.to_come()
        ),
        _ => "Open a line for its numbers and source.".to_owned(),
    };
    ui.label(unbroken(told).small().color(look.colours.text_weak.0));
    ScrollArea::vertical()
        .id_salt("expected result")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let judgements = outcome.judgements(facts);
            first_lines_ui(ui, page, &headline(outcome, facts, &judgements));
            next_days_ui(ui, page, outcome, facts);
            limits_ui(ui, page, outcome);
            for topic in TOPICS {
                let about = judgements.iter().filter(|it| it.id.topic() == topic);
                let about: Vec<&Judgement<'_>> = about.collect();
                if !about.is_empty() {
                    topic_ui(ui, page, (outcome, facts), (topic, &about));
                }
            }
        });
}

/// Where the simulation parts from what is published of such a heap; nothing where it does not.
fn limits_ui(ui: &mut Ui, page: &Page<'_>, outcome: &Outcome) {
    if outcome.limits.is_empty() {
        return;
    }
    let (weak, units) = (page.look.colours.text_weak.0, page.state.settings.units);
    CollapsingHeader::new(strong(words::HOW_FAR))
        .id_salt(words::HOW_FAR)
        .default_open(true)
        .show_unindented(ui, |ui| {
            for limit in &outcome.limits {
                let note = words::limit(*limit, units);
                ui.label(unbroken(note.text));
                ui.label(unbroken(note.source).small().color(weak));
            }
        })
        .header_response
        .on_hover_text("Where the simulation parts from what is published of such a heap.");
}

/// Weed seeds, smell, when: what is asked first.
fn first_lines_ui(ui: &mut Ui, page: &Page<'_>, headline: &Headline<'_>) {
    let look = page.look;
    for line in words::first_lines(headline, page.state.settings.units) {
        ui.horizontal_top(|ui| {
            let column = FIRST_WIDTHS * look.sizes.value_width;
            let left = Layout::top_down(Align::Min);
            ui.allocate_ui_with_layout(vec2(column, 0.0), left, |ui| {
                ui.set_width(column);
                ui.label(strong(line.asks));
            });
            ui.add(Label::new(unbroken(line.answer)).wrap());
        });
    }
    ui.add_space(0.5 * look.sizes.gap);
}

/// A topic, folded until it is asked for.
fn topic_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (outcome, facts): (&Outcome, &Facts),
    (topic, about): (Topic, &[&Judgement<'_>]),
) {
    let name = words::topic(topic);
    CollapsingHeader::new(strong(name))
        .id_salt(name)
        .default_open(false)
        .show_unindented(ui, |ui| {
            if topic == Topic::Rules {
                rules_ui(ui, page, (outcome, facts));
            }
            let (here, elsewhere): (Vec<_>, Vec<_>) = about.iter().partition(|it| it.here);
            if topic == Topic::Rules {
                folded_ui(ui, page, EACH_RULE, &here);
            } else {
                for judgement in &here {
                    judgement_ui(ui, page, judgement);
                }
            }
            let others = if topic == Topic::Rules {
                OTHER_RULES
            } else {
                NOT_IN_THIS_MIX
            };
            folded_ui(ui, page, others, &elsewhere);
            match topic {
                Topic::Plants => turnings_ui(ui, page),
                Topic::Trouble => trouble_ui(ui, &outcome.trouble_course, page.look),
                _ => {}
            }
        })
        .header_response
        .on_hover_text("Shows or folds these lines.");
}

/// Heading of the rules one by one.
pub const EACH_RULE: &str = "Each rule with its numbers and source";
/// Heading of the rules that are for other heaps.
pub const OTHER_RULES: &str = "Rules for other ways of composting";
/// Heading of what nothing in the mix brings.
pub const NOT_IN_THIS_MIX: &str = "What hardly comes with this mix";

/// Lines behind a heading of their own.
fn folded_ui(ui: &mut Ui, page: &mut Page<'_>, name: &str, lines: &[&&Judgement<'_>]) {
    let Some(first) = lines.first() else {
        return;
    };
    CollapsingHeader::new(name)
        .id_salt((name, words::topic(first.id.topic())))
        .default_open(false)
        .show(ui, |ui| {
            for judgement in lines {
                judgement_ui(ui, page, judgement);
            }
        })
        .header_response
        .on_hover_text("Shows or folds these lines.");
}

/// All rules for such a heap: a sentence and a table.
fn rules_ui(ui: &mut Ui, page: &Page<'_>, (outcome, facts): (&Outcome, &Facts)) {
    let (look, units) = (page.look, page.state.settings.units);
    ui.label(unbroken(format!(
        "{}.",
        words::rules_in_one(&facts.rules, &outcome.rules)
    )));
    let standing = RichText::new(words::STANDING).small();
    ui.label(standing.color(look.colours.text_weak.0));
    let both = facts.rules.iter().zip(&outcome.rules);
    let fit = both.filter(|(_, got)| got.process_fits);
    let widest = 0.42 * ui.available_width();
    Grid::new("rules")
        .num_columns(3)
        .max_col_width(widest)
        .show(ui, |ui| {
            for name in ["rule", "met", "missing"] {
                ui.label(unbroken(name).small().color(look.colours.text_weak.0));
            }
            ui.end_row();
            for (rule, got) in fit {
                let row = words::rule_row(rule, got, units);
                let name = format!("{}: {}", row.name, row.asks);
                for text in [name.as_str(), row.met, &row.missing] {
                    ui.add(Label::new(unbroken(text).small()).wrap());
                }
                ui.end_row();
            }
        });
}

/// What a screen reader says of a line.
pub fn spoken(judgement: &Judgement<'_>, units: UnitSystem) -> String {
    let mut said = vec![words::sentence(&judgement.finding, units)];
    if let Some(likely) = &judgement.weighed.likely {
        said.push(words::likely(likely));
    }
    if judgement.trust() == Trust::Recalled {
        said.push(words::trust(Trust::Recalled).to_owned());
    }
    said.join(". ")
}

fn judgement_ui(ui: &mut Ui, page: &mut Page<'_>, judgement: &Judgement<'_>) {
    let look = page.look;
    let units = page.state.settings.units;
    let is_open = page.state.open_judgement == Some(judgement.id);
    let line = Line {
        judgement,
        is_open,
        units,
        look,
    };
    if line.show(ui).clicked() {
        page.state.open_judgement = (!is_open).then_some(judgement.id);
    }
    if is_open {
        let id = words::id(&judgement.finding);
        ui.indent(id, |ui| behind_ui(ui, judgement, units, look));
    }
}

/// A line that can be opened.
#[must_use = "a line is drawn by `show`"]
struct Line<'a> {
    judgement: &'a Judgement<'a>,
    is_open: bool,
    units: UnitSystem,
    look: Look<'a>,
}

impl Line<'_> {
    fn show(self, ui: &mut Ui) -> Response {
        let Self {
            judgement,
            is_open,
            units,
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
        let said = galley(
            ui,
            unbroken(words::sentence(&judgement.finding, units)),
            wrap,
        );
        let beside = likely_galley(ui, judgement, look);
        let below = below_text(judgement).map(|text| {
            let text = unbroken(text).small().color(look.colours.text_weak.0);
            galley(ui, text, wrap)
        });
        let below_height = below.as_ref().map_or(0.0, |galley| galley.size().y);
        let height = said.size().y + below_height + 2.0 * margin;
        let (rect, response) = ui.allocate_exact_size(vec2(width, height), Sense::click());
        response.widget_info(|| {
            WidgetInfo::selected(Role::Button, true, is_open, spoken(judgement, units))
        });
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
        response.on_hover_text(unbroken(if is_open {
            "Folds its numbers and source."
        } else {
            "Shows its numbers and source."
        }))
    }
}

/// "7 in 10", in the heavier letters.
fn likely_galley(ui: &Ui, judgement: &Judgement<'_>, look: Look<'_>) -> Option<Arc<Galley>> {
    let likely = judgement.weighed.likely?;
    let text = strong(words::in_ten(likely.share)).size(look.sizes.body);
    Some(WidgetText::from(text).into_galley(
        ui,
        Some(TextWrapMode::Wrap),
        LIKELY_WIDTHS * look.sizes.value_width - look.sizes.gap,
        TextStyle::Body,
    ))
}

/// What the likelihood counts, and whether the line is unverified.
fn below_text(judgement: &Judgement<'_>) -> Option<String> {
    let mut said = Vec::new();
    said.extend(judgement.weighed.likely.as_ref().map(words::likely));
    if judgement.trust() == Trust::Recalled {
        said.push(words::trust(Trust::Recalled).to_owned());
    }
    (!said.is_empty()).then(|| said.join(" · "))
}

/// Numbers, source and trust of a line.
fn behind_ui(ui: &mut Ui, judgement: &Judgement<'_>, units: UnitSystem, look: Look<'_>) {
    for number in words::numbers(judgement, units) {
        pair_ui(ui, &number.name, &number.value, look);
    }
    pair_ui(ui, "Source", &words::source(&judgement.finding), look);
    pair_ui(ui, "Trust", words::trust(judgement.trust()), look);
    ui.add_space(0.5 * look.sizes.gap);
}

/// A name at the left, its value at the right, both wrapped.
pub(in crate::window) fn pair_ui(ui: &mut Ui, name: &str, value: &str, look: Look<'_>) {
    ui.horizontal_top(|ui| {
        let column = 0.4 * ui.available_width();
        let left = Layout::top_down(Align::Min);
        ui.allocate_ui_with_layout(vec2(column, 0.0), left, |ui| {
            ui.set_width(column);
            let name = unbroken(name).small().color(look.colours.text_weak.0);
            ui.add(Label::new(name).wrap());
        });
        let value = unbroken(value).small();
        ui.add(Label::new(value).wrap());
    });
}
