//! The top of the window: menus, the row of views, what the recipe is called.
//!
//! In: a page. Out: asked-for actions; title, season, place and notes, edited.
//!
//! Not here: what an action says of itself (`action`).
//!
//! Tested by: `tests/window/actions.rs`.

use eframe::egui::{
    Align, Button, ComboBox, Layout, MenuBar, RichText, ScrollArea, TextEdit, Ui, vec2,
};

use crate::document::Season;
use crate::material::Side;
use crate::text::garden;

use crate::window::action::{Action, ClassAction, THEMES, UNITS};
use crate::window::page::Page;
use crate::window::piles::choices::View;
use crate::window::theme::strong;
use crate::window::widgets::buttons::{
    action_button, choice_entry, menu_entry, plain_button, styled_button,
};
use crate::window::widgets::named::Named;

/// Menus at the left, the most used buttons at the right.
pub fn menu_ui(ui: &mut Ui, page: &mut Page<'_>) {
    MenuBar::new().ui(ui, |ui| {
        file_menu_ui(ui, page);
        edit_menu_ui(ui, page);
        view_menu_ui(ui, page);
        help_menu_ui(ui, page);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            for units in UNITS.into_iter().rev() {
                let chosen = page.state.settings.units == units;
                choice_entry(ui, page, Action::SetUnits(units), chosen);
            }
            ui.separator();
            let (pin, pin_text) = if page.shown.pinned.is_some() {
                (Action::Unpin, "Unpin")
            } else {
                (Action::Pin, "Pin")
            };
            plain_button(ui, page, pin, pin_text);
            plain_button(ui, page, Action::Redo, "Redo");
            plain_button(ui, page, Action::Undo, "Undo");
            plain_button(ui, page, Action::Save, "Save");
            ui.separator();
            action_button(ui, page, Action::AskWrong);
        });
    });
}

fn file_menu_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.menu_button("File", |ui| {
        menu_entry(ui, page, Action::New);
        menu_entry(ui, page, Action::Open);
        menu_entry(ui, page, Action::OpenByPath);
        let recent = page.state.settings.recent.clone();
        ui.add_enabled_ui(!recent.is_empty(), |ui| {
            ui.menu_button("Recent", |ui| {
                for path in recent {
                    menu_entry(ui, page, Action::OpenFile(path));
                }
            });
        });
        ui.separator();
        menu_entry(ui, page, Action::Save);
        menu_entry(ui, page, Action::SaveAs);
        menu_entry(ui, page, Action::SaveByPath);
        menu_entry(ui, page, Action::Keep);
        ui.separator();
        menu_entry(ui, page, Action::ImportReadings);
        ui.separator();
        menu_entry(ui, page, Action::Print);
        for action in [
            ClassAction::CurvePicture,
            ClassAction::InsidePicture,
            ClassAction::Calendar,
        ] {
            menu_entry(ui, page, Action::Class(action));
        }
        ui.separator();
        menu_entry(ui, page, Action::Quit);
    })
    .response
    .on_hover_text("Starts, opens, saves and keeps recipes.");
}

fn edit_menu_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.menu_button("Edit", |ui| {
        menu_entry(ui, page, Action::Undo);
        menu_entry(ui, page, Action::Redo);
        ui.separator();
        menu_entry(ui, page, Action::PickMaterial);
        menu_entry(ui, page, Action::OpenDrawer);
        menu_entry(ui, page, Action::AddBucket(Side::Green));
        menu_entry(ui, page, Action::AddBucket(Side::Brown));
        menu_entry(ui, page, Action::ProposePlan);
        menu_entry(ui, page, Action::AskWrong);
        ui.separator();
        menu_entry(ui, page, Action::Pin);
        menu_entry(ui, page, Action::Unpin);
    })
    .response
    .on_hover_text("Takes changes back, adds materials, pins the mix.");
}

fn view_menu_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.menu_button("View", |ui| {
        for view in View::ALL {
            let chosen = page.state.view == view;
            choice_entry(ui, page, Action::Show(view), chosen);
        }
        ui.separator();
        for units in UNITS {
            let chosen = page.state.settings.units == units;
            choice_entry(ui, page, Action::SetUnits(units), chosen);
        }
        ui.separator();
        // Folded, so that all entries find room on a projector.
        ui.menu_button("Colours", |ui| {
            for theme in THEMES {
                let chosen = page.state.settings.theme == theme;
                choice_entry(ui, page, Action::SetTheme(theme), chosen);
            }
        })
        .response
        .on_hover_text("Chooses light, dark or high contrast.");
        ui.separator();
        let less = page.state.settings.less_motion;
        choice_entry(ui, page, Action::ToggleMotion, less);
        let full = page.state.full_screen;
        choice_entry(ui, page, Action::ToggleFullScreen, full);
        ui.separator();
        menu_entry(ui, page, Action::ToggleNotes);
        menu_entry(ui, page, Action::ToggleNotices);
    })
    .response
    .on_hover_text("Chooses what is shown, in which units and colours.");
}

fn help_menu_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.menu_button("Help", |ui| {
        menu_entry(ui, page, Action::ShowKeys);
        menu_entry(ui, page, Action::ShowAbout);
    })
    .response
    .on_hover_text("Shows every key, the version and the licences.");
}

/// The row of views and the recipe's title, season and place.
pub fn header_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal(|ui| {
        for view in View::ALL {
            let action = Action::Show(view);
            let text = action.text(page.facts);
            let button = Button::selectable(page.state.view == view, strong(&text)).min_size(vec2(
                page.look.sizes.value_width,
                page.look.sizes.control_height,
            ));
            styled_button(ui, page, action, button, &text);
        }
        if page.state.view == View::Class {
            return;
        }
        ui.separator();
        if page.state.shows_year() {
            year_title_ui(ui, page);
            return;
        }
        let sizes = page.look.sizes;
        let spare = ui.available_width()
            - (sizes.measure_width + sizes.value_width + sizes.place_width + 6.0 * sizes.gap);
        let project = &mut *page.project;
        ui.add(
            TextEdit::singleline(&mut project.title)
                .hint_text("Title of the recipe")
                .desired_width(spare.clamp(2.0 * sizes.least_width, sizes.title_width * 1.4)),
        )
        .named("Title")
        .on_hover_text("What the recipe is called.");
        season_ui(ui, &mut project.season, sizes.measure_width * 0.9);
        ui.add(
            TextEdit::singleline(&mut project.place)
                .hint_text("Place")
                .desired_width(
                    sizes
                        .place_width
                        .min(ui.available_width() - sizes.value_width * 1.4),
                ),
        )
        .named("Place")
        .on_hover_text("Where the heap stands.");
        let notes = Button::selectable(page.state.notes_open, "Notes");
        styled_button(ui, page, Action::ToggleNotes, notes, "Notes");
    });
    if page.state.notes_open && !page.state.shows_year() {
        notes_ui(ui, page);
    }
}

/// What the year is called, in the place of the recipe's title.
fn year_title_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if let Some(open) = &mut page.year.open {
        ui.add(
            TextEdit::singleline(&mut open.file.title)
                .hint_text("Title of the year")
                .desired_width(page.look.sizes.title_width * 1.4),
        )
        .named("Title of the year")
        .on_hover_text("What the year is called.");
    }
}

fn season_ui(ui: &mut Ui, season: &mut Season, width: f32) {
    ComboBox::from_id_salt("season")
        .selected_text(garden::season(*season))
        .width(width)
        .show_ui(ui, |ui| {
            for choice in Season::ALL {
                ui.selectable_value(season, choice, garden::season(choice));
            }
        })
        .response
        .named("Season")
        .on_hover_text("Time of year the recipe is filed under.");
}

fn notes_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ScrollArea::vertical()
        .id_salt("notes")
        .max_height(page.look.sizes.big_button * 2.5)
        .show(ui, |ui| {
            ui.add(
                TextEdit::multiline(&mut page.project.notes)
                    .hint_text("Anything worth keeping with the recipe")
                    .desired_rows(3)
                    .desired_width(f32::INFINITY),
            )
            .named("Notes of the recipe")
            .on_hover_text("Anything worth keeping with the recipe.");
        });
    ui.label(
        RichText::new("Notes are saved with the recipe.")
            .small()
            .color(page.look.colours.text_weak.0),
    );
}
