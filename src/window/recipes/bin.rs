//! The bin: recipes that were put away, to be brought back.
//!
//! In: the bin as last listed. Out: asked-for actions.
//!
//! Not here: moving files (`document::keeping`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::{ScrollArea, Ui};

use crate::text::{garden, recipes as words};

use crate::window::action::{Action, RecipeAction};
use crate::window::page::Page;
use crate::window::recipes::problems::problems_ui;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, plain_button};
use crate::window::widgets::card::card;

/// Everything in the bin, a row each.
pub(super) fn bin_ui(ui: &mut Ui, page: &mut Page<'_>, back: Action) {
    ui.horizontal(|ui| {
        ui.heading(words::bin(page.shelf.bin.recipes.len()));
        action_button(ui, page, back);
    });
    ui.label(unbroken(words::ABOUT_BIN).color(page.look.colours.text_weak.0));
    problems_ui(ui, page, &page.shelf.bin);
    let rect = ui.available_rect_before_wrap();
    card(ui, rect, page.look, |ui| {
        if page.shelf.bin.recipes.is_empty() {
            ui.label(words::EMPTY_BIN);
            return;
        }
        let shelf = page.shelf;
        let height = page.look.sizes.control_height;
        ScrollArea::vertical()
            .auto_shrink([false, false])
            .show_rows(ui, height, shelf.bin.recipes.len(), |ui, rows| {
                for recipe in shelf.bin.recipes.get(rows).unwrap_or_default() {
                    ui.horizontal(|ui| {
                        let title = words::shown_title(&recipe.title);
                        let action = RecipeAction::BringBack(recipe.path.clone());
                        let name = words::bring_back(title);
                        plain_button(ui, page, Action::Recipe(action), &name);
                        let season = garden::season(recipe.season);
                        ui.label(strong(season));
                        ui.label(unbroken(&recipe.place));
                    });
                }
            });
    });
}
