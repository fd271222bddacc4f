//! The line that says what was searched for does not belong in a heap.
//!
//! In: what is typed. Out: the drawn line, none for what may go in.
//!
//! Not here: the list behind it (`material::keep_out`), its words (`text::material`).
//!
//! Tested by: `tests/window/picker.rs`.

use eframe::egui::Ui;

use crate::text::material as material_words;
use crate::text::outcome::in_units;

use crate::window::page::Page;
use crate::window::theme::unbroken;

/// A line for each entry that the words name.
pub fn keep_out_ui(ui: &mut Ui, page: &Page<'_>, words: &str) {
    if words.trim().is_empty() {
        return;
    }
    for entry in &page.shelf.keep_out {
        if entry.is_named_by(words) {
            let said = material_words::keep_out(entry);
            let said = in_units(&said, page.state.settings.units);
            ui.label(unbroken(said).color(page.look.colours.near.0));
        }
    }
}
