//! What each further turning buys, as a small table, and the way to the plan.
//!
//! In: the rows that have been counted. Out: the table, an asked-for action.
//!
//! Not here: the counting (`jobs::turnings`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{Grid, Label, Ui, vec2};

use crate::text::outcome as words;

use crate::window::action::Action;
use crate::window::jobs::turnings::TIMETABLE;
use crate::window::page::Page;
use crate::window::piles::choices::View;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::plain_button;

/// The table and the button.
pub(in crate::window) fn turnings_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let weak = look.colours.text_weak.0;
    ui.horizontal_wrapped(|ui| {
        ui.label("Too little of the heap? Turning brings the cool skin inside:");
        plain_button(ui, page, Action::Show(View::Heap), "Plan turnings");
    });
    let rows = &page.shown.turnings;
    if rows.is_empty() {
        return;
    }
    let told = words::turnings_heading(&TIMETABLE);
    ui.add(Label::new(unbroken(told).small().color(weak)).wrap());
    let tight = vec2(2.0 * look.sizes.gap, look.sizes.nudge);
    Grid::new("turnings").min_row_height(0.0).spacing(tight).show(ui, |ui| {
        for name in ["turnings", "had enough, simulated", "by random mixing"] {
            ui.label(unbroken(name).small().color(weak));
        }
        ui.end_row();
        for row in rows {
            ui.label(unbroken(row.turnings.to_string()).small());
            for share in [row.treated, 1.0 - row.untreated_by_formula] {
                ui.label(unbroken(words::coarse_percent(share)).small());
            }
            ui.end_row();
        }
    })
    .response
    .on_hover_text("Simulated on the coarse grid with the turnings of the plan replaced; beside it what chance alone would give, if the share without turning were hot in every spell (own arithmetic).");
}
