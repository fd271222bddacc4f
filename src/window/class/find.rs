//! Looking for a belief: words typed, the beliefs that fit, a list of all.
//!
//! In: a page. Out: asked-for trials; the words typed.
//!
//! Not here: which fit (`assess::trial`), the trial itself (`trial`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{ComboBox, Key, TextEdit, Ui};

use crate::assess::trial::find;
use crate::text::trial::NOTHING_FITS;

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::named::Named;

/// Name of the field.
pub const SEARCH: &str = "Find a belief";
/// Most beliefs offered at once.
const OFFERED: usize = 4;

/// Places of the trials that fit the words typed, best first; none while nothing is typed.
pub(in crate::window) fn fitting(page: &Page<'_>) -> Vec<usize> {
    let typed = page.state.class.search.trim();
    if typed.is_empty() {
        return Vec::new();
    }
    find(&page.shelf.books.trials, typed)
}

/// The field in which a belief is looked for, and the list of all.
pub(in crate::window) fn find_ui(ui: &mut Ui, page: &mut Page<'_>, found: &[usize]) {
    let field = TextEdit::singleline(&mut page.state.class.search)
        .hint_text("Find: tea bags, rats …")
        .desired_width(page.look.sizes.measure_width * 1.6);
    let response = ui
        .add(field)
        .named(SEARCH)
        .on_hover_text("Finds beliefs by any of their words; Enter takes the first.");
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    if entered && let Some(first) = found.first() {
        take(page, *first);
    }
    list_ui(ui, page);
}

/// What fits the words typed, while there are any.
pub(in crate::window) fn offers_ui(ui: &mut Ui, page: &mut Page<'_>, found: &[usize]) {
    if page.state.class.search.trim().is_empty() {
        return;
    }
    let trials = &page.shelf.books.trials;
    let mut taken = None;
    ui.horizontal_wrapped(|ui| {
        if found.is_empty() {
            ui.label(NOTHING_FITS);
        }
        for place in found.iter().take(OFFERED) {
            let Some(trial) = trials.get(*place) else {
                continue;
            };
            let offered = ui
                .button(&trial.title)
                .on_hover_text(unbroken(&trial.claim));
            if offered.clicked() {
                taken = Some(*place);
            }
        }
    });
    if let Some(place) = taken {
        take(page, place);
    }
}

/// Goes to a trial that was looked for.
fn take(page: &mut Page<'_>, place: usize) {
    page.ask(Action::Class(ClassAction::Trial(place)));
    page.state.class.search.clear();
}

/// All trials, the built-in ones first.
fn list_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let (place, trials) = (page.state.class.trial, &page.shelf.books.trials);
    let title = trials.get(place).map_or("", |trial| trial.title.as_str());
    ComboBox::from_id_salt("trial list")
        .selected_text(title)
        .width(page.look.sizes.measure_width)
        .truncate()
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
}
