//! A trial in the Class view: what is claimed, what is known, and what came out beside it.
//!
//! In: a page. Out: asked-for actions.
//!
//! Not here: running it (`verbs::trials`), what it has shown (`answer`), looking for one (`find`), lessons (`lesson`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{Button, Rect, ScrollArea, Ui, pos2};

use crate::assess::trial::Trial;
use crate::text;

use crate::window::action::{Action, ClassAction};
use crate::window::class::answer::{answer_ui, shown_of};
use crate::window::class::guess_panel::{Guessed, guess_ui};
use crate::window::class::steps::{Above, answer_in_words, steps_ui, words_ui};
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::styled_button;
use crate::window::widgets::card::card;

/// A trial picked from the list.
pub fn trial_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let place = page.state.class.trial;
    let trials = &page.shelf.books.trials;
    let Some(trial) = trials.get(place) else {
        ui.label("There are no trials.");
        return;
    };
    let words = Above {
        heading: format!("{} of {}", place + 1, trials.len()),
        say: None,
    };
    split_ui(ui, page, Some(trial), &words);
}

/// Words at the left, what came out at the right.
pub(in crate::window) fn split_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    trial: Option<&Trial>,
    words: &Above<'_>,
) {
    let Some(trial) = trial else {
        return words_ui(ui, page, words, |_, _| {});
    };
    let whole = ui.available_rect_before_wrap();
    let (gap, look) = (page.look.sizes.gap, page.look);
    let split_x = whole.left() + whole.width() * 0.42;
    let left = Rect::from_min_max(whole.min, pos2(split_x, whole.bottom()));
    let right = Rect::from_min_max(pos2(split_x + gap, whole.top()), whole.max);
    card(ui, left, look, |ui| {
        // Each trial begins at its top.
        let id = ("trial", &trial.id);
        ScrollArea::vertical().id_salt(id).show(ui, |ui| {
            steps_ui(ui, page, words);
            if words.say.is_none() {
                ui.label(strong(&trial.title).heading());
            }
            ui.label(unbroken(text::trial::claimed(trial)));
            if trial.can_be_run() {
                ui.label(unbroken(&trial.differs));
            }
            if !page.state.class.guess.hidden {
                run_ui(ui, page, trial);
            }
            guess_ui(ui, page, Guessed::PeakChange);
            known_ui(ui, page, trial);
        });
    });
    card(ui, right, look, |ui| answer_ui(ui, page, trial));
}

fn run_ui(ui: &mut Ui, page: &mut Page<'_>, trial: &Trial) {
    if !trial.can_be_run() {
        ui.label(text::trial::EVIDENCE_ONLY);
        return;
    }
    let running = shown_of(page, trial).is_some_and(|shown| shown.running);
    let action = Action::Class(if running {
        ClassAction::StopTrial
    } else {
        ClassAction::RunTrial
    });
    let text = action.text(page.facts);
    styled_button(ui, page, action, Button::new(strong(text.as_str())), &text);
}

/// What is right, what has been published, and what the model leaves out.
fn known_ui(ui: &mut Ui, page: &Page<'_>, trial: &Trial) {
    if page.state.class.guess.hidden {
        return;
    }
    // Beside a picture the answer waits for it; without one it stands in the picture's place.
    if trial.can_be_run() && shown_of(page, trial).is_some() {
        ui.separator();
        answer_in_words(ui, page, &trial.answer);
    }
    for evidence in &trial.evidence {
        ui.separator();
        ui.label(unbroken(text::trial::found(evidence)));
        let source = format!("{} ({})", evidence.source, text::trial::mark(evidence.mark));
        ui.label(unbroken(source).color(page.look.colours.text_weak.0));
    }
    ui.separator();
    ui.label(unbroken(text::trial::cannot_tell(trial)));
}
