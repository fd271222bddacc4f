//! Guessing before seeing: the question, a slider, the guesses so far, the reveal.
//!
//! In: what is guessed, the units shown. Out: recorded guesses (degC, or K for a difference), asked-for
//! actions.
//!
//! Not here: what is hidden meanwhile (`class`, `trial`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{Slider, Ui};

use crate::quantity::UnitSystem;

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::ShownUnit;

/// What a class guesses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guessed {
    /// The hottest that the heap gets, degC.
    Peak,
    /// The difference a change makes to that, K.
    PeakChange,
}

impl Guessed {
    /// The question.
    fn question(self) -> &'static str {
        match self {
            Self::Peak => "How hot will it get?",
            Self::PeakChange => "By how much does the peak change?",
        }
    }

    /// Ends of the scale, degC or K.
    pub fn ends(self) -> (f64, f64) {
        match self {
            Self::Peak => (10.0, 80.0),
            Self::PeakChange => (-25.0, 25.0),
        }
    }

    /// The unit it is guessed in.
    pub fn unit(self, units: UnitSystem) -> ShownUnit {
        match self {
            Self::Peak => ShownUnit::temperature(units),
            Self::PeakChange => ShownUnit::temperature_difference(units),
        }
    }
}

/// The question, the slider, the guesses; after the reveal the guesses stay to be compared.
pub fn guess_ui(ui: &mut Ui, page: &mut Page<'_>, guessed: Guessed) {
    let unit = guessed.unit(page.state.settings.units);
    let sizes = page.look.sizes;
    let (room, least) = (sizes.slider_number, sizes.least_width);
    let guess = &mut page.state.class.guess;
    if !guess.hidden && guess.noted.is_empty() {
        return;
    }
    ui.label(strong(guessed.question()));
    if guess.hidden {
        let (low, high) = guessed.ends();
        guess.value = guess.value.clamp(low, high);
        let before = unit.shown(guess.value);
        let mut shown = before;
        ui.spacing_mut().slider_width = (ui.available_width() - room).max(least);
        ui.add(
            Slider::new(&mut shown, unit.shown(low)..=unit.shown(high))
                .fixed_decimals(0)
                .suffix(format!(" {}", unit.sign)),
        )
        .named("The guess")
        .on_hover_text("What the class expects.");
        if shown != before {
            guess.value = unit.value(shown);
        }
        ui.horizontal_wrapped(|ui| {
            for action in [ClassAction::RecordGuess, ClassAction::Reveal] {
                action_button(ui, page, Action::Class(action));
            }
        });
    }
    if let Some(spread) = page.state.class.guess.spread() {
        let count = page.state.class.guess.noted.len();
        let [least, middle, most] = spread.map(|guess| unit.shown(guess));
        let sign = unit.sign;
        ui.label(unbroken(format!(
            "{count} guessed: {least:.0} to {most:.0} {sign}, middle {middle:.0}"
        )));
    }
}
