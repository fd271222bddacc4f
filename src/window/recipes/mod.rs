//! The recipes of the Seasons view: kept ones and the examples by time of year, the bin, two side by side.
//!
//! In: the recipe folder as last listed, what is known of each card. Out: asked-for actions; what is typed and ticked.
//!
//! Chapter: `card` is one recipe, `thumbnail` the small drawing on it; `bin` what was put away; `compare` two recipes with
//! `two_curves`, the heat of both; `problems` tells which files are no recipes.
//! Not here: reading the folder (`document::library`), the calculation (`jobs::recipes`).
//!
//! Tested by: `tests/window/recipes.rs`, `tests/window/files.rs`.

mod bin;
mod card;
mod compare;
mod problems;
mod thumbnail;
mod two_curves;

use eframe::egui::{Align, Key, Layout, Modifiers, Rect, ScrollArea, TextEdit, Ui, pos2, vec2};

use crate::document::Season;
use crate::text::{garden, recipes as words};

use crate::window::action::{Action, RecipeAction};
use crate::window::page::Page;
use crate::window::piles::recipe_cards::{Listed, RecipesPage};
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::{action_button, plain_button};
use crate::window::widgets::card::card;
use crate::window::widgets::named::Named;

use bin::bin_ui;
use card::{card_height, card_ui};
use compare::compare_ui;
use problems::problems_ui;

/// Name of the field that recipes are found by.
pub const FIND: &str = "Find recipes";

/// The whole view.
pub fn seasons_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let back = Action::Recipe(RecipeAction::Show(RecipesPage::Cards));
    let shown = page.state.recipes.page;
    if shown != RecipesPage::Cards
        && !page.state.is_covered()
        && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape))
    {
        page.ask(back.clone());
    }
    match shown {
        RecipesPage::Cards => cards_ui(ui, page),
        RecipesPage::Bin => bin_ui(ui, page, back),
        RecipesPage::Compared => compare_ui(ui, page, back),
    }
}

/// A row of what can be done, and a column of cards for each season.
fn cards_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let query = page.state.recipes.words();
    let shelf = page.shelf;
    let all = shelf.cards.iter();
    let found: Vec<&Listed> = all.filter(|listed| listed.has(&query)).collect();
    above_ui(ui, page, (!query.is_empty()).then_some(found.len()));
    problems_ui(ui, page, &page.shelf.library);
    let whole = ui.available_rect_before_wrap();
    let gap = look.sizes.gap;
    let width = (whole.width() - 3.0 * gap) / 4.0;
    for (index, season) in Season::ALL.into_iter().enumerate() {
        let left = whole.left() + index as f32 * (width + gap);
        let rect = Rect::from_min_size(pos2(left, whole.top()), vec2(width, whole.height()));
        let of_it = found.iter().filter(|it| it.season == season);
        let of_it: Vec<&Listed> = of_it.copied().collect();
        let none = if query.is_empty() {
            words::NONE_KEPT
        } else {
            words::NONE_FOUND
        };
        card(ui, rect, look, |ui| {
            ui.push_id(garden::season(season), |ui| {
                ui.heading(garden::season(season));
                column_ui(ui, page, &of_it, none);
            });
        });
    }
}

/// Search, keeping, comparing, the bin.
fn above_ui(ui: &mut Ui, page: &mut Page<'_>, found: Option<usize>) {
    ui.horizontal(|ui| {
        ui.add(
            TextEdit::singleline(&mut page.state.recipes.query)
                .hint_text("Find: title, place, notes, materials")
                .desired_width(page.look.sizes.find_width),
        )
        .named(FIND)
        .on_hover_text("Shows only recipes that have every word typed here.");
        if let Some(count) = found {
            ui.label(unbroken(words::found(count)));
        }
        let keep = format!(
            "Keep “{}” in {}",
            words::shown_title(&page.project.title),
            garden::season(page.project.season)
        );
        plain_button(ui, page, Action::Keep, &keep);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let bin = words::bin(page.shelf.bin.recipes.len());
            let action = Action::Recipe(RecipeAction::Show(RecipesPage::Bin));
            plain_button(ui, page, action, &bin);
            let ticked = page.state.recipes.ticked.len();
            ui.add_enabled_ui(ticked == 2, |ui| {
                action_button(ui, page, Action::Recipe(RecipeAction::Compare));
            });
            if ticked > 0 {
                action_button(ui, page, Action::Recipe(RecipeAction::TickNone));
            }
            let weak = page.look.colours.text_weak.0;
            ui.label(
                unbroken(words::chosen_to_compare(ticked))
                    .small()
                    .color(weak),
            );
        });
    });
}

/// The cards of one season. Only those on screen are laid out, and one beyond each end, so that Tab goes on to it.
fn column_ui(ui: &mut Ui, page: &mut Page<'_>, of_it: &[&Listed], none: &str) {
    let gap = page.look.sizes.gap;
    let height = card_height(page.look);
    ScrollArea::vertical()
        .auto_shrink([false, false])
        .show_viewport(ui, |ui, seen| {
            if of_it.is_empty() {
                ui.label(unbroken(none).color(page.look.colours.text_weak.0));
            }
            let step = height + gap;
            ui.set_height((step * of_it.len() as f32 - gap).max(0.0));
            let first = ((seen.top() / step).floor() as usize).saturating_sub(1);
            let last = ((seen.bottom() / step).ceil() as usize + 1).min(of_it.len());
            let top = ui.max_rect().left_top();
            for place in first..last {
                let at = top + vec2(0.0, step * place as f32);
                let rect = Rect::from_min_size(at, vec2(ui.available_width(), height));
                if let Some(listed) = of_it.get(place) {
                    card_ui(ui, page, rect, listed);
                }
            }
        });
}
