//! The sheets of the Help menu: the list of keys, and what is told about the program.
//!
//! In: a page with one of them open. Out: asked-for actions.
//!
//! Not here: words (`text::help`), which keys there are (`action`).
//!
//! Tested by: `tests/window/help.rs`.

use eframe::egui::{
    Align, Key, KeyboardShortcut, Layout, Modifiers, ScrollArea, Ui, gui_zoom::kb_shortcuts, vec2,
};

use crate::text::help::{self as words, Line};

use crate::window::action::{Action, Facts};
use crate::window::page::Page;
use crate::window::piles::choices::{HelpSheet, HelpTopic};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, shown_key};
use crate::window::widgets::sheet::sheet_ui;

/// The sheet, if it is open.
pub fn help_sheet_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(open) = page.state.help else {
        return;
    };
    let sizes = page.look.sizes;
    let wished = vec2(sizes.plan_sheet_width, sizes.plan_sheet_height);
    let leaves = sheet_ui(ui, sizes, ("help sheet", wished), |ui| {
        ui.horizontal(|ui| {
            ui.heading(match open.topic {
                HelpTopic::Keys => words::KEYS,
                HelpTopic::About => words::ABOUT,
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let leave = action_button(ui, page, Action::LeaveHelp);
                if !open.focused {
                    leave.request_focus();
                }
            });
        });
        ui.separator();
        ScrollArea::vertical()
            .id_salt(open.topic)
            .auto_shrink([false, false])
            .show(ui, |ui| match open.topic {
                HelpTopic::Keys => keys_ui(ui, page),
                HelpTopic::About => about_ui(ui, page),
            });
    });
    page.state.help = Some(HelpSheet {
        focused: true,
        ..open
    });
    if leaves {
        page.ask(Action::LeaveHelp);
    }
}

/// Every action that has a key, in the order of the list, then the keys that belong to none.
fn keys_ui(ui: &mut Ui, page: &Page<'_>) {
    // What undo would take back just now does not belong here.
    let facts = Facts {
        undo: None,
        redo: None,
        ..page.facts.clone()
    };
    for action in Action::listed() {
        let entry = action.entry(&facts);
        let keys = entry.shortcut.iter().chain(&entry.second_shortcut);
        let keys: Vec<String> = keys.map(|key| shown_key(ui, key)).collect();
        if !keys.is_empty() {
            key_ui(
                ui,
                page,
                &words::either_key(&keys),
                &words::does(&entry.text, &entry.tooltip),
            );
        }
    }
    ui.separator();
    let bare = |key| KeyboardShortcut::new(Modifiers::NONE, key);
    let [larger, smaller, usual] = words::ZOOM;
    for (key, meaning) in [
        (kb_shortcuts::ZOOM_IN, larger),
        (kb_shortcuts::ZOOM_OUT, smaller),
        (kb_shortcuts::ZOOM_RESET, usual),
        (bare(Key::Tab), words::TAB),
        (bare(Key::Escape), words::ESCAPE),
    ] {
        let key = shown_key(ui, &key);
        key_ui(ui, page, &key, meaning);
    }
}

fn key_ui(ui: &mut Ui, page: &Page<'_>, key: &str, meaning: &str) {
    let sizes = page.look.sizes;
    ui.horizontal_top(|ui| {
        let place = vec2(sizes.place_width, sizes.tick_row);
        ui.allocate_ui_with_layout(place, Layout::left_to_right(Align::Min), |ui| {
            ui.set_min_width(sizes.place_width);
            ui.label(strong(key));
        });
        ui.vertical(|ui| ui.label(unbroken(meaning)));
    });
}

/// Version, terms, and what has changed.
fn about_ui(ui: &mut Ui, page: &Page<'_>) {
    ui.label(strong(words::version()));
    ui.label(words::WHAT_FOR);
    ui.label(words::NO_PROMISE);
    ui.add_space(page.look.sizes.gap);
    ui.label(strong(words::LICENCES));
    for terms in words::TERMS {
        ui.label(unbroken(terms));
    }
    ui.add_space(page.look.sizes.gap);
    ui.label(strong(words::CHANGES));
    for line in words::changes() {
        match line {
            Line::Heading(text) => ui.label(strong(text)),
            Line::Point(text) => ui.label(unbroken(format!("• {text}"))),
            Line::Plain(text) => ui.label(unbroken(text)),
        };
    }
}
