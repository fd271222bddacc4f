//! The year's page of the Seasons view: what arrives when, where heaps can stand, and which heap to build when.
//!
//! In: a page with its year. Out: the same, edited; asked-for actions.
//!
//! Above one of three parts, below always the line of the year: a row for each bay.
//!
//! Not here: the recipes kept (`recipes`), the plan itself (`year`), doing (`verbs::year`). The parts: `arrivals`, `bays`,
//! `heaps` (the plan) with `beside` (what is decided, left, short); the line `line`, a heap in it `bar`.
//!
//! Tested by: `tests/window/year_plan.rs`.

pub(in crate::window) mod amount;
pub(in crate::window) mod arrivals;
pub(in crate::window) mod bar;
pub(in crate::window) mod bays;
pub(in crate::window) mod beside;
pub(in crate::window) mod heaps;
pub(in crate::window) mod line;

use eframe::egui::{Align, Button, Layout, Rect, ScrollArea, Ui, pos2};

use crate::text::year_page as words;

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::{OpenYear, YearTab};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, menu_entry, styled_button};
use crate::window::widgets::card::card;
use crate::window::year::arrivals::arrivals_ui;
use crate::window::year::bays::bays_ui;
use crate::window::year::beside::beside_ui;
use crate::window::year::heaps::heaps_ui;
use crate::window::year::line::{line_height, line_ui};

/// Most of the height that the line of the year takes, as a share.
const MOST_LINE: f32 = 0.52;
/// Share of the width that the heaps of the plan have.
const HEAPS_SHARE: f32 = 0.56;
/// How one comes to a year.
const WAYS_IN: [YearAction; 4] = [
    YearAction::Example,
    YearAction::New,
    YearAction::Open,
    YearAction::OpenByPath,
];

/// The whole page.
pub fn year_ui(ui: &mut Ui, page: &mut Page<'_>) {
    match page.year.open.take() {
        Some(mut open) => {
            open_ui(ui, page, &mut open);
            page.year.open = Some(open);
        }
        None => {
            let whole = ui.available_rect_before_wrap();
            card(ui, whole, page.look, |ui| start_ui(ui, page));
        }
    }
}

/// What can be done before a year is open.
fn start_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.heading(words::START);
    for line in words::WHAT_IT_IS {
        ui.label(unbroken(line));
    }
    ui.add_space(page.look.sizes.gap);
    ui.horizontal_wrapped(|ui| {
        for action in WAYS_IN {
            action_button(ui, page, Action::Year(action));
        }
    });
}

fn open_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear) {
    ui.horizontal(|ui| {
        for tab in YearTab::ALL {
            let action = Action::Year(YearAction::Tab(tab));
            let text = action.text(page.facts);
            let button = Button::selectable(page.year.tab == tab, strong(&text));
            styled_button(ui, page, action, button, &text);
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            files_ui(ui, page)
        });
    });
    let whole = ui.available_rect_before_wrap();
    let gap = page.look.sizes.gap;
    let wished = line_height(page.look, open.file.year.bays.len());
    let split = whole.bottom() - wished.min(MOST_LINE * whole.height());
    let above = Rect::from_min_max(whole.min, pos2(whole.right(), split - gap));
    let below = Rect::from_min_max(pos2(whole.left(), split), whole.max);
    match page.year.tab {
        YearTab::Plan => plan_ui(ui, page, open, above),
        YearTab::Arrivals => card(ui, above, page.look, |ui| arrivals_ui(ui, page, open)),
        YearTab::Bays => card(ui, above, page.look, |ui| bays_ui(ui, page, open)),
    }
    card(ui, below, page.look, |ui| line_ui(ui, page, open));
}

/// Another year, and what is written of this one.
fn files_ui(ui: &mut Ui, page: &mut Page<'_>) {
    action_button(ui, page, Action::Year(YearAction::Calendar));
    action_button(ui, page, Action::Year(YearAction::Page));
    ui.menu_button("Another year", |ui| {
        for action in WAYS_IN {
            menu_entry(ui, page, Action::Year(action));
        }
    })
    .response
    .on_hover_text("Starts or opens another year.");
}

/// Heaps at the left; what is decided, left and short at the right.
fn plan_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear, whole: Rect) {
    let split = whole.left() + HEAPS_SHARE * whole.width();
    let left = Rect::from_min_max(whole.min, pos2(split, whole.bottom()));
    let right = Rect::from_min_max(pos2(split + page.look.sizes.gap, whole.top()), whole.max);
    let shown = page.year.shown.take();
    for (rect, name) in [(left, "heaps"), (right, "beside")] {
        card(ui, rect, page.look, |ui| {
            ScrollArea::vertical()
                .id_salt(name)
                .auto_shrink([false, false])
                .show(ui, |ui| match name {
                    "heaps" => heaps_ui(ui, page, open, shown.as_ref()),
                    _ => beside_ui(ui, page, open, shown.as_ref()),
                });
        });
    }
    page.year.shown = shown;
}
