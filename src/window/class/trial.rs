//! A trial in the Class view: what is claimed, what is known, and what came out beside it.
//!
//! In: a page. Out: asked-for actions.
//!
//! Not here: running it (`verbs::class`), what it has shown (`answer`), lessons (`lesson`).
//!
//! Tested by: `tests/window/class.rs`.

use eframe::egui::{Button, ComboBox, Rect, RichText, ScrollArea, Ui, pos2};

use crate::assess::trial::Trial;
use crate::text;

use crate::window::action::{Action, ClassAction};
use crate::window::class::answer::{answer_ui, shown_of};
use crate::window::class::guess_panel::{Guessed, guess_ui};
use crate::window::class::steps::{Above, steps_ui, words_ui};
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::buttons::styled_button;
use crate::window::widgets::card::card;
use crate::window::widgets::named::Named;

/// A trial picked from the list.
pub fn trial_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let place = page.state.class.trial;
    let trials = &page.shelf.books.trials;
    let Some(trial) = trials.get(place) else {
        ui.label("There are no trials.");
        return;
    };
    ComboBox::from_id_salt("trial list")
        .selected_text(trial.title.as_str())
        .width(ui.available_width() * 0.5)
        .show_ui(ui, |ui| {
            for (other, trial) in trials.iter().enumerate() {
                if ui.selectable_label(other == place, &trial.title).clicked() {
                    page.actions.push(Action::Class(ClassAction::Trial(other)));
                }
            }
        })
        .response
        .named("Trial")
        .on_hover_text("All trials, the built-in ones first.");
    let words = Above {
        heading: format!("{} of {}", place + 1, trials.len()),
        say: None,
        notes: None,
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
        ScrollArea::vertical().id_salt("trial").show(ui, |ui| {
            steps_ui(ui, page, words);
            if words.say.is_none() {
                ui.label(strong(&trial.title).heading());
            }
            ui.label(text::trial::claimed(trial));
            ui.label(&trial.differs);
            run_ui(ui, page, trial);
            guess_ui(ui, page, Guessed::PeakChange);
            known_ui(ui, page, trial);
        });
    });
    card(ui, right, look, |ui| answer_ui(ui, page, trial));
}

fn run_ui(ui: &mut Ui, page: &mut Page<'_>, trial: &Trial) {
    if !trial.can_be_run() {
        ui.label(strong(text::trial::EVIDENCE_ONLY));
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

/// What has been published, and what the model leaves out.
fn known_ui(ui: &mut Ui, page: &Page<'_>, trial: &Trial) {
    if page.state.class.guess.hidden {
        return;
    }
    for evidence in &trial.evidence {
        ui.separator();
        ui.label(text::trial::found(evidence));
        let source = format!("{} ({})", evidence.source, text::trial::mark(evidence.mark));
        ui.label(RichText::new(source).color(page.look.colours.text_weak.0));
    }
    ui.separator();
    ui.label(text::trial::cannot_tell(trial));
}
