//! Guessing before seeing: the question, a slider, the guesses so far, the reveal.
//!
//! In: a question and its scale. Out: noted guesses, asked-for actions.
//!
//! Not here: what is hidden meanwhile (`class_view`, `class_trial`).
//!
//! Tested by: `tests/window/class.rs`.

use eframe::egui::{Slider, Ui};

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;

/// The question, the slider, the guesses; after the reveal the guesses stay to be compared.
pub fn guess_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (question, (low, high, unit)): (&str, (f64, f64, &str)),
) {
    let guess = &mut page.state.class.guess;
    if !guess.hidden && guess.noted.is_empty() {
        return;
    }
    ui.label(strong(question));
    if guess.hidden {
        guess.value = guess.value.clamp(low, high);
        ui.spacing_mut().slider_width = (ui.available_width() - 90.0).max(60.0);
        ui.add(
            Slider::new(&mut guess.value, low..=high)
                .fixed_decimals(0)
                .suffix(format!(" {unit}")),
        )
        .named("The guess")
        .on_hover_text("Where the class thinks it will be.");
        ui.horizontal_wrapped(|ui| {
            for action in [ClassAction::RecordGuess, ClassAction::Reveal] {
                action_button(ui, page, Action::Class(action));
            }
        });
    }
    if let Some([least, middle, most]) = page.state.class.guess.spread() {
        let count = page.state.class.guess.noted.len();
        ui.label(format!(
            "{count} guessed: {least:.0} to {most:.0} {unit}, middle {middle:.0}"
        ));
    }
}
