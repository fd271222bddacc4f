//! Buttons and menu entries made from actions.
//!
//! In: an action and what is so at present. Out: a button or menu entry with its text, key, tooltip
//! and greyed state; pressing it asks for the action.
//!
//! Not here: which of them stand where (`menu`, the views).
//!
//! Tested by: `tests/window/actions.rs`.

use eframe::egui::{Button, Key, KeyboardShortcut, Response, Ui};

use crate::window::action::{Action, Entry};
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::named::Named;

/// A key as it stands on a keyboard: "Ctrl+?", which the toolkit spells "Ctrl+Questionmark".
pub fn shown_key(ui: &Ui, shortcut: &KeyboardShortcut) -> String {
    let key = shortcut.logical_key;
    let spelt = ui.ctx().format_shortcut(shortcut);
    match key {
        Key::Questionmark | Key::Slash | Key::Plus | Key::Minus => {
            spelt.replace(key.name(), key.symbol_or_name())
        }
        _ => spelt,
    }
}

/// An entry of a menu.
pub fn menu_entry(ui: &mut Ui, page: &mut Page<'_>, action: Action) {
    let entry = action.entry(page.facts);
    let mut button = Button::new(entry.text.as_str());
    if let Some(shortcut) = &entry.shortcut {
        button = button.shortcut_text(shown_key(ui, shortcut));
    }
    if pressed(ui, &entry, button, &entry.text).clicked() {
        ui.close();
        page.ask(action);
    }
}

/// An entry of a menu that is one of several choices.
pub fn choice_entry(ui: &mut Ui, page: &mut Page<'_>, action: Action, chosen: bool) {
    let entry = action.entry(page.facts);
    let button = Button::selectable(chosen, entry.text.as_str());
    if pressed(ui, &entry, button, &entry.text).clicked() {
        ui.close();
        page.ask(action);
    }
}

/// A plain button with the action's own words.
pub fn action_button(ui: &mut Ui, page: &mut Page<'_>, action: Action) -> Response {
    let text = action.text(page.facts);
    plain_button(ui, page, action, &text)
}

/// A plain button with other words than the action's own; these are its name as well.
pub fn plain_button(ui: &mut Ui, page: &mut Page<'_>, action: Action, text: &str) -> Response {
    styled_button(ui, page, action, Button::new(text), text)
}

/// A button as given, known by `name`.
pub fn styled_button(
    ui: &mut Ui,
    page: &mut Page<'_>,
    action: Action,
    button: Button<'_>,
    name: &str,
) -> Response {
    let response = pressed(ui, &action.entry(page.facts), button, name);
    if response.clicked() {
        page.ask(action);
    }
    response
}

fn pressed(ui: &mut Ui, entry: &Entry, button: Button<'_>, name: &str) -> Response {
    let key = entry
        .shortcut
        .map(|shortcut| format!(" ({})", shown_key(ui, &shortcut)))
        .unwrap_or_default();
    let tooltip = format!("{}{key}", entry.tooltip);
    ui.add_enabled(entry.enabled, button)
        .named(name)
        .on_hover_text(unbroken(tooltip.clone()))
        .on_disabled_hover_text(unbroken(tooltip))
}
