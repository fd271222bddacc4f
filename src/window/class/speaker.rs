//! The speaker's window: notes, the answer and what comes next, on a second screen.
//!
//! In: a page. Out: the second window; asked-for actions.
//!
//! Where the system has no second window it lies over the first.
//! Not here: what the class sees (`trial`, `lesson`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{
    CentralPanel, Frame, Margin, ScrollArea, Ui, ViewportBuilder, ViewportId, vec2,
};

use crate::assess::trial::Trial;
use crate::text;
use crate::text::trial as words;

use crate::window::action::{Action, ClassAction};
use crate::window::class::answer::shown_of;
use crate::window::class::steps::clicker_keys;
use crate::window::page::Page;
use crate::window::piles::class_choices::Mode;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;

/// Title of the window.
pub const TITLE: &str = "Speaker's notes";

/// The second window, while it is open.
pub(in crate::window) fn speaker_ui(ui: &Ui, page: &mut Page<'_>) {
    if !page.state.class.notes {
        return;
    }
    let sizes = page.look.sizes;
    // The size is in points, which the Class view draws larger.
    let size = vec2(sizes.speaker_width, sizes.speaker_height) / ui.ctx().zoom_factor();
    let builder = ViewportBuilder::default()
        .with_title(TITLE)
        .with_inner_size(size);
    let id = ViewportId::from_hash_of("speaker");
    ui.ctx().show_viewport_immediate(id, builder, |ui, _| {
        clicker_keys(ui, page);
        if ui.input(|input| input.viewport().close_requested()) {
            page.state.class.notes = false;
        }
        let frame = Frame::new()
            .fill(page.look.colours.surface.0)
            .inner_margin(Margin::same(sizes.pad));
        CentralPanel::default().frame(frame).show(ui, |ui| {
            ScrollArea::vertical().id_salt("speaker").show(ui, |ui| {
                ui.horizontal(|ui| {
                    for action in [ClassAction::Previous, ClassAction::Advance] {
                        action_button(ui, page, Action::Class(action));
                    }
                });
                lesson_notes(ui, page);
                trial_notes(ui, page);
            });
        });
    });
}

/// What is said at this stop, what only the speaker reads, and what comes next.
fn lesson_notes(ui: &mut Ui, page: &Page<'_>) {
    let class = &page.state.class;
    let books = &page.shelf.books;
    let (Some(stop), Some(lesson)) = (class.stop(books), books.lessons.get(class.lesson.0)) else {
        return;
    };
    let (at, of) = (class.lesson.1 + 1, lesson.stops.len());
    ui.label(unbroken(words::stop_of(&lesson.title, at, of)));
    ui.label(strong(&stop.say).heading());
    ui.label(unbroken(&stop.notes));
    if !stop.reveal.is_empty() {
        ui.label(unbroken(words::then_shown(&stop.reveal)));
    }
    if let Some(next) = lesson.stops.get(at) {
        ui.separator();
        ui.label(unbroken(words::comes_next(&next.say)));
    }
}

/// The answer, and what has come out already.
fn trial_notes(ui: &mut Ui, page: &Page<'_>) {
    let class = &page.state.class;
    let books = &page.shelf.books;
    let Some(trial) = class.trial(books) else {
        if class.mode == Mode::Heap {
            ui.label(words::NO_NOTES);
        }
        return;
    };
    ui.separator();
    ui.label(strong(text::trial::claimed(trial)));
    if let Some(answer) = text::trial::answered(trial) {
        ui.label(unbroken(answer));
    }
    found_ahead(ui, page, trial);
    for known in &trial.evidence {
        ui.label(unbroken(text::trial::published(known)));
    }
    ui.label(unbroken(text::trial::cannot_tell(trial)));
}

/// The verdict, which the speaker may know before the class does.
fn found_ahead(ui: &mut Ui, page: &Page<'_>, trial: &Trial) {
    let ahead = page.shown.ahead.iter().find(|kept| kept.trial == trial.id);
    let found = shown_of(page, trial).or(ahead);
    let Some(pairs) = found.and_then(|found| found.comparison.as_deref()) else {
        return;
    };
    let units = page.state.settings.units;
    if let Some(effect) = text::trial::telling(pairs) {
        ui.label(unbroken(words::will_say(&text::trial::headline(
            effect, units,
        ))));
    }
}
