//! What stands above a trial or a stop of a lesson: previous and on, what is said; the clicker's keys.
//!
//! In: the words. Out: the words on screen; asked-for actions.
//!
//! Not here: trials (`trial`) and lessons (`lesson`) themselves, the speaker's notes (`speaker`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{Key, Modifiers, ScrollArea, Ui};

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::card::card;

/// Keys of a clicker that no field or slider has a use for.
const ALWAYS: [(Key, ClassAction); 2] = [
    (Key::PageDown, ClassAction::Advance),
    (Key::PageUp, ClassAction::Previous),
];
/// Keys that belong to a focused field, slider or button first.
const UNFOCUSED: [(Key, ClassAction); 5] = [
    (Key::ArrowRight, ClassAction::Advance),
    (Key::ArrowDown, ClassAction::Advance),
    (Key::Space, ClassAction::Advance),
    (Key::ArrowLeft, ClassAction::Previous),
    (Key::ArrowUp, ClassAction::Previous),
];

/// What stands above a trial or a stop.
pub(in crate::window) struct Above<'a> {
    pub(in crate::window) heading: String,
    pub(in crate::window) say: Option<&'a str>,
}

/// Takes the keys that a clicker sends, in the window that has the keyboard.
pub(in crate::window) fn clicker_keys(ui: &Ui, page: &mut Page<'_>) {
    if ui.ctx().text_edit_focused() || page.state.is_covered() {
        return;
    }
    let focused = ui.memory(|memory| memory.focused().is_some());
    let more = UNFOCUSED.iter().filter(|_| !focused);
    for (key, action) in ALWAYS.iter().chain(more) {
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, *key)) {
            page.ask(Action::Class(*action));
        }
    }
}

/// Words alone, over the whole width.
pub(in crate::window) fn words_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    words: &Above<'_>,
    more: impl FnOnce(&mut Ui, &mut Page<'_>),
) {
    let whole = ui.available_rect_before_wrap();
    card(ui, whole, page.look, |ui| {
        ScrollArea::vertical().id_salt("words").show(ui, |ui| {
            steps_ui(ui, page, words);
            ui.add_space(page.look.sizes.gap);
            more(ui, page);
            if page.state.class.guess.hidden {
                action_button(ui, page, Action::Class(ClassAction::Reveal));
            }
        });
    });
}

/// Previous and on, and what is said.
pub(in crate::window) fn steps_ui(ui: &mut Ui, page: &mut Page<'_>, words: &Above<'_>) {
    ui.horizontal(|ui| {
        for action in [ClassAction::Previous, ClassAction::Next] {
            action_button(ui, page, Action::Class(action));
        }
        ui.label(unbroken(&words.heading));
    });
    if let Some(say) = words.say {
        ui.label(strong(say).size(page.look.sizes.verdict * 0.85));
    }
}

/// The answer in large type.
pub(in crate::window) fn answer_in_words(ui: &mut Ui, page: &Page<'_>, answer: &str) {
    if !answer.is_empty() {
        let colour = page.look.colours.good.0;
        ui.label(strong(answer).heading().color(colour));
    }
}
