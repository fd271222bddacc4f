//! What stands above a trial or a stop of a lesson: previous and next, what is said, speaker's notes.
//!
//! In: the words. Out: the words on screen; asked-for actions.
//!
//! Not here: trials (`trial`) and lessons (`lesson`) themselves.
//!
//! Tested by: `tests/window/class.rs`.

use eframe::egui::{RichText, Ui};

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::card::card;

/// What stands above a trial or a stop.
pub(in crate::window) struct Above<'a> {
    pub(in crate::window) heading: String,
    pub(in crate::window) say: Option<&'a str>,
    pub(in crate::window) notes: Option<&'a str>,
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
        steps_ui(ui, page, words);
        more(ui, page);
        if page.state.class.guess.hidden {
            action_button(ui, page, Action::Class(ClassAction::Reveal));
        }
    });
}

/// Previous and next, and what is said.
pub(in crate::window) fn steps_ui(ui: &mut Ui, page: &mut Page<'_>, words: &Above<'_>) {
    ui.horizontal(|ui| {
        for action in [ClassAction::Previous, ClassAction::Next] {
            action_button(ui, page, Action::Class(action));
        }
        ui.label(&words.heading);
    });
    if let Some(say) = words.say {
        ui.label(strong(say).heading());
    }
    if let Some(notes) = words.notes {
        ui.label(RichText::new(notes).italics());
    }
}
