//! The Results view: what comes of the heap at the left, where it goes at the right, cautions below that.
//!
//! In: a page. Out: the same, with beds, uses and field tests edited.
//!
//! Not here: the list of judgements (`outcome_list`), what is made (`yield_panel`), beds (`bed_rows`), other uses
//! and distances (`use_lists`), field tests (`field_tests`), cautions (`caution_list`).
//!
//! Tested by: `tests/window/results.rs`.

pub(in crate::window) mod bed_rows;
pub(in crate::window) mod field_tests;
pub mod outcome_list;
pub(in crate::window) mod turn_table;
pub(in crate::window) mod use_lists;
pub(in crate::window) mod yield_panel;

use eframe::egui::{Rect, ScrollArea, Ui, pos2};

use crate::outcome::{Facts, Outcome, shared};

use crate::window::page::Page;
use crate::window::results::bed_rows::beds_ui;
use crate::window::results::field_tests::tests_ui;
use crate::window::results::outcome_list::outcome_ui;
use crate::window::results::use_lists::{lists_ui, uses_ui};
use crate::window::results::yield_panel::yield_ui;
use crate::window::theme::Look;
use crate::window::widgets::card::card;
use crate::window::widgets::caution_list::cautions_ui;

/// Share of the width that the judgements take.
const LEFT_SHARE: f32 = 0.48;
/// Share of the height that the use takes above the cautions.
const USE_SHARE: f32 = 0.74;

/// Where the three regions stand.
struct Regions {
    outcome: Rect,
    usage: Rect,
    cautions: Rect,
}

impl Regions {
    fn of(whole: Rect, look: Look<'_>) -> Self {
        let gap = look.sizes.gap;
        let split_x = whole.left() + LEFT_SHARE * whole.width();
        let split_y = whole.top() + USE_SHARE * whole.height();
        let right = split_x + gap;
        Self {
            outcome: Rect::from_min_max(whole.min, pos2(split_x, whole.bottom())),
            usage: Rect::from_min_max(pos2(right, whole.top()), pos2(whole.right(), split_y)),
            cautions: Rect::from_min_max(pos2(right, split_y + gap), whole.max),
        }
    }
}

/// The whole view.
pub(in crate::window) fn results_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    // What is drawn is a copy: the page is edited meanwhile.
    let outcome = page.shown.stages.outcome().cloned();
    let (Some(outcome), Ok(facts)) = (outcome, shared()) else {
        card(ui, ui.available_rect_before_wrap(), look, |ui| {
            ui.heading("Expected result");
            let stages = &page.shown.stages;
            ui.weak(if stages.projection().is_none() {
                "Nothing to judge yet: put something into the mix."
            } else if stages.could_not_be_judged() {
                "It could not be judged; change the mix or the heap to try again."
            } else {
                "Judging…"
            });
        });
        return;
    };
    let units = page.state.settings.units;
    let regions = Regions::of(ui.available_rect_before_wrap(), look);
    card(ui, regions.outcome, look, |ui| {
        outcome_ui(ui, page, &outcome, facts);
    });
    card(ui, regions.usage, look, |ui| {
        ui.heading("Where it goes");
        ScrollArea::vertical()
            .id_salt("where it goes")
            .auto_shrink([false, false])
            .show(ui, |ui| usage_ui(ui, page, &outcome, facts));
    });
    card(ui, regions.cautions, look, |ui| {
        cautions_ui(ui, &outcome.cautions, (units, look));
    });
}

fn usage_ui(ui: &mut Ui, page: &mut Page<'_>, outcome: &Outcome, facts: &Facts) {
    yield_ui(ui, page, outcome);
    uses_ui(ui, page);
    beds_ui(ui, page, outcome, facts);
    lists_ui(ui, page, outcome, facts);
    tests_ui(ui, page, facts);
}
