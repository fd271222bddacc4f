//! The next days as a list: the next thing due stands in its heading, the rest opens below it.
//!
//! In: a schedule with its project. Out: the drawn list, and the wish to save it as a calendar.
//!
//! Not here: what is due (`outcome::next_days`), dates (`assess::schedule`), writing the file (`verbs::class`).
//!
//! Tested by: `tests/window/next_days.rs`.

use eframe::egui::{Align, CollapsingHeader, Label, Layout, RichText, Ui, vec2};

use crate::assess::Schedule;
use crate::outcome::{Facts, Outcome};
use crate::text::next_days::{self as words, SaidOf};

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::buttons::action_button;

/// Width of the dates, in widths of a typed value: "Wed 30 September 2026" stands on one line.
const DATE_WIDTHS: f32 = 3.3;

/// The list of a heap with this outcome; nothing before it is projected.
pub(in crate::window) fn next_days_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    outcome: &Outcome,
    facts: &Facts,
) {
    let Some(projection) = page.shown.stages.projection() else {
        return;
    };
    let today = page.now.date();
    let schedule = Schedule::of(page.project, projection, outcome, facts, today);
    let of = SaidOf {
        project: page.project,
        catalogue: page.catalogue,
        units: page.state.settings.units,
    };
    let said: Vec<words::SaidDay> = schedule
        .days
        .iter()
        .map(|day| words::said(day, &of))
        .collect();
    let heading = words::heading(said.first());
    CollapsingHeader::new(strong(&heading))
        .id_salt(words::HEADING)
        .default_open(false)
        .show_unindented(ui, |ui| {
            list_ui(ui, page, &schedule, &said);
        })
        .header_response
        .on_hover_text("Shows or folds what is due when.");
}

fn list_ui(ui: &mut Ui, page: &mut Page<'_>, schedule: &Schedule, said: &[words::SaidDay]) {
    let (look, units) = (page.look, page.state.settings.units);
    let weak = |text: String| RichText::new(text).small().color(look.colours.text_weak.0);
    ui.add(Label::new(weak(words::dated_from(schedule))).wrap());
    if said.is_empty() {
        ui.label(words::NOTHING);
        return;
    }
    let column = DATE_WIDTHS * look.sizes.value_width;
    for day in said {
        ui.horizontal_top(|ui| {
            let left = Layout::top_down(Align::Min);
            ui.allocate_ui_with_layout(vec2(column, 0.0), left, |ui| {
                ui.set_width(column);
                ui.label(RichText::new(&day.when).color(look.colours.text_weak.0));
            });
            ui.vertical(|ui| {
                ui.add(Label::new(&day.what).wrap());
                for why in &day.why {
                    ui.add(Label::new(weak(why.clone())).wrap());
                }
            });
        });
    }
    action_button(ui, page, Action::Class(ClassAction::Calendar));
    ui.add(Label::new(weak(words::source(units))).wrap());
    ui.add_space(0.5 * look.sizes.gap);
}
