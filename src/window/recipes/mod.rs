//! The Seasons view: kept recipes by time of year; open one, keep the present one.
//!
//! In: the recipe folder as last listed. Out: asked-for actions.
//!
//! Not here: reading the folder (`document::library`).
//!
//! Tested by: `tests/window/files.rs`.

use eframe::egui::{Button, Rect, ScrollArea, Ui, pos2, vec2};

use crate::document::Season;
use crate::text::garden;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{plain_button, styled_button};
use crate::window::widgets::card::card;

/// The whole view.
pub fn seasons_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    ui.horizontal(|ui| {
        ui.heading("Kept recipes");
        let words = format!(
            "Keep “{}” in {}",
            shown_title(&page.project.title),
            garden::season(page.project.season)
        );
        plain_button(ui, page, Action::Keep, &words);
    });
    problems_ui(ui, page);
    let whole = ui.available_rect_before_wrap();
    let gap = look.sizes.gap;
    let width = (whole.width() - 3.0 * gap) / 4.0;
    for (index, season) in Season::ALL.into_iter().enumerate() {
        let left = whole.left() + index as f32 * (width + gap);
        let rect = Rect::from_min_size(pos2(left, whole.top()), vec2(width, whole.height()));
        card(ui, rect, look, |ui| {
            ui.push_id(garden::season(season), |ui| season_ui(ui, page, season));
        });
    }
}

/// A title, or what stands for none.
fn shown_title(title: &str) -> &str {
    if title.trim().is_empty() {
        "untitled"
    } else {
        title
    }
}

fn season_ui(ui: &mut Ui, page: &mut Page<'_>, season: Season) {
    ui.heading(garden::season(season));
    ScrollArea::vertical()
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let recipes: Vec<_> = page.shelf.library.of(season).cloned().collect();
            if recipes.is_empty() {
                ui.weak("No recipe kept yet.");
            }
            for recipe in recipes {
                let title = shown_title(&recipe.title).to_owned();
                let button = Button::new(strong(&title))
                    .wrap()
                    .min_size(vec2(ui.available_width(), page.look.sizes.big_button));
                let name = format!("Open {title}");
                styled_button(ui, page, Action::OpenFile(recipe.path), button, &name);
                if !recipe.place.is_empty() {
                    ui.label(
                        unbroken(&recipe.place)
                            .small()
                            .color(page.look.colours.text_weak.0),
                    );
                }
                ui.add_space(page.look.sizes.gap * 0.5);
            }
        });
}

/// Files in the recipe folder that are no recipes.
fn problems_ui(ui: &mut Ui, page: &Page<'_>) {
    for problem in page.shelf.library.problems.iter().take(3) {
        ui.colored_label(page.look.colours.bad.0, unbroken(problem.to_string()));
    }
    let more = page.shelf.library.problems.len().saturating_sub(3);
    if more > 0 {
        ui.colored_label(
            page.look.colours.bad.0,
            unbroken(format!("and {more} more files that cannot be read")),
        );
    }
}
