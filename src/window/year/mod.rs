//! The year's page of the Seasons view: what arrives when, where heaps can stand, and which heap to build when.
//!
//! In: a page with its year. Out: the same, edited; asked-for actions.
//!
//! Not here: the recipes kept (`recipes`), the plan (`year`), doing (`verbs::year`).
//!
//! Tested by: `tests/window/year.rs`.

use eframe::egui::{Rect, ScrollArea, Ui};

use crate::text::year_page as words;

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::OpenYear;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::card::card;

/// The whole page.
pub fn year_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let whole = ui.available_rect_before_wrap();
    match page.year.open.take() {
        Some(mut open) => {
            open_ui(ui, page, whole, &mut open);
            page.year.open = Some(open);
        }
        None => card(ui, whole, page.look, |ui| start_ui(ui, page)),
    }
}

/// What can be done before a year is open.
fn start_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.heading(words::START);
    for line in words::WHAT_IT_IS {
        ui.label(unbroken(line));
    }
    ui.add_space(page.look.sizes.gap);
    files_ui(ui, page);
}

/// The ways to a year.
fn files_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        for action in [
            YearAction::Example,
            YearAction::New,
            YearAction::Open,
            YearAction::OpenByPath,
        ] {
            action_button(ui, page, Action::Year(action));
        }
    });
}

fn open_ui(ui: &mut Ui, page: &mut Page<'_>, whole: Rect, open: &mut OpenYear) {
    card(ui, whole, page.look, |ui| {
        files_ui(ui, page);
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show(ui, |ui| {
                ui.heading(words::ARRIVES);
                for row in &open.file.year.arrivals {
                    ui.label(unbroken(words::arrival(row, &open.catalogue)));
                }
                ui.heading(words::BAYS);
                for bay in &open.file.year.bays {
                    ui.label(unbroken(words::bay(bay, page.state.settings.units)));
                }
            });
    });
}
