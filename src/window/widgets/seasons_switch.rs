//! The switch at the top of the Seasons view: recipes or the year.
//!
//! In: which page is shown. Out: the page that was asked for.
//!
//! Not here: the pages (`recipes`, `year`).
//!
//! Tested by: `tests/window/year.rs`.

use eframe::egui::{Button, Ui, vec2};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::choices::SeasonsPage;
use crate::window::theme::strong;
use crate::window::widgets::buttons::styled_button;

/// Both pages side by side, the shown one marked.
pub fn seasons_switch_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal(|ui| {
        for shown in SeasonsPage::ALL {
            let action = Action::Year(YearAction::Show(shown));
            let text = action.text(page.facts);
            let button = Button::selectable(page.state.seasons == shown, strong(&text))
                .min_size(vec2(page.look.sizes.measure_width, 0.0));
            styled_button(ui, page, action, button, &text);
        }
    });
}
