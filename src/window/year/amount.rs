//! A number of measures, typed as people type it: "3", "2,5", "½".
//!
//! In: a number, the measure it is in. Out: the number, edited, or the sentence that says what cannot be read.
//!
//! Not here: amounts that may be said in another measure (`widgets::amount_control`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use std::cell::RefCell;

use eframe::egui::Ui;

use crate::quantity::{Measure, OwnMeasure, bounds};
use crate::text::{number, typed_amount, year_page as words};

use crate::window::widgets::quantity_field::QuantityField;

/// A field for a number of measures.
pub(in crate::window) struct AmountField<'a> {
    /// What it is known by.
    pub name: &'a str,
    /// What it says on hover.
    pub hint: &'a str,
    /// The measure.
    pub measure: &'a Measure,
    /// Measures of the person's own.
    pub own: &'a [OwnMeasure],
    /// How fast it is dragged, a point; 0: it is only typed.
    pub speed: f64,
    /// Its width.
    pub width: f32,
}

impl AmountField<'_> {
    /// Draws it; the sentence that says what cannot be read comes back.
    pub(in crate::window) fn show(&self, ui: &mut Ui, value: &mut f64) -> Option<String> {
        let most = bounds::AMOUNT.high;
        let problem: RefCell<Option<String>> = RefCell::new(None);
        let read = |text: &str| match self.read(text, most) {
            Ok(value) => Some(value),
            Err(why) => {
                problem.replace(Some(why));
                None
            }
        };
        let said = |number: f64| match number {
            0.0 => words::NOTHING.to_owned(),
            some => number::rounded(some),
        };
        QuantityField::new(self.name, 0.0, most)
            .hint(self.hint)
            .speed(self.speed)
            .width(self.width)
            .said_by(&said)
            .read_by(&read)
            .show(ui, value);
        problem.into_inner()
    }

    fn read(&self, text: &str, most: f64) -> Result<f64, String> {
        let said = typed_amount::read(text, self.measure, self.own)
            .map_err(|why| typed_amount::unread(&why))?;
        if said.measure != *self.measure {
            Err(words::other_measure(self.measure))
        } else if said.value > most {
            Err(typed_amount::too_much(most, self.measure))
        } else {
            Ok(said.value)
        }
    }
}
