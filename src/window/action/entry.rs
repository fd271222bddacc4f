//! What an action says of itself: words, sentence, key, and whether it can be done.
//!
//! In: words. Out: [`Entry`], from which menus, keys and buttons are made.
//!
//! Not here: which actions there are (`list`, `class`).
//!
//! Tested by: `tests/window/actions.rs`.

use eframe::egui::{Key, KeyboardShortcut, Modifiers};

use crate::quantity::UnitSystem;

use crate::window::piles::class_choices::HeapSize;

/// What is so at present, for deciding what can be done.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Facts {
    /// What undo would take back.
    pub undo: Option<String>,
    /// What redo would bring back.
    pub redo: Option<String>,
    /// Whether a mix is pinned.
    pub pinned: bool,
    /// Whether there is anything to pin.
    pub blended: bool,
    /// Whether the heap has a fixed size to fill.
    pub has_room: bool,
    /// Whether a proposed plan that answers the newest wish is shown.
    pub plan_found: bool,
    /// How many readings of the logger's file that is looked at would be taken.
    pub readings: usize,
    /// Whether a system dialog is open.
    pub dialog_open: bool,
    /// Name of the chosen green and brown.
    pub buckets: (String, String),
    /// What more greens or browns do to the size of the heap, in a class.
    pub size: HeapSize,
    /// What is exchanged or added at one press in a class, m3 as piled.
    pub step_m3: f64,
    /// The units shown.
    pub units: UnitSystem,
    /// Whether the year is what is looked at, and saved and undone.
    pub on_year: bool,
}

impl Facts {
    /// What is looked at, and saved and undone.
    pub fn open_thing(&self) -> &'static str {
        if self.on_year { "year" } else { "recipe" }
    }
}

/// An action in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// On a button or in a menu; `…` where a dialog follows.
    pub text: String,
    /// What it does, in one sentence.
    pub tooltip: String,
    /// Its key.
    pub shortcut: Option<KeyboardShortcut>,
    /// Another key that does the same, as other programs have it.
    pub second_shortcut: Option<KeyboardShortcut>,
    /// Whether it can be done at present.
    pub enabled: bool,
    /// Whether a focused text field keeps the key for itself.
    pub yields_to_text: bool,
}

impl Entry {
    /// Words and sentence; without a key, and always possible.
    pub(in crate::window) fn new(text: impl Into<String>, tooltip: impl Into<String>) -> Self {
        Self {
            text: text.into(),
            tooltip: tooltip.into(),
            shortcut: None,
            second_shortcut: None,
            enabled: true,
            yields_to_text: false,
        }
    }

    /// With a key, held with the command key.
    pub(in crate::window) fn key(mut self, key: Key) -> Self {
        self.shortcut = Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        self
    }

    /// With another key that does the same, held with the command key.
    pub(in crate::window) fn or_key(mut self, key: Key) -> Self {
        self.second_shortcut = Some(KeyboardShortcut::new(Modifiers::COMMAND, key));
        self
    }

    /// With a key by itself.
    pub(in crate::window) fn bare(mut self, key: Key) -> Self {
        self.shortcut = Some(KeyboardShortcut::new(Modifiers::NONE, key));
        self
    }

    /// With a key, held with command and shift.
    pub(in crate::window) fn shift(mut self, key: Key) -> Self {
        let held = Modifiers::COMMAND.plus(Modifiers::SHIFT);
        self.shortcut = Some(KeyboardShortcut::new(held, key));
        self
    }

    /// Possible only if this is so.
    pub(in crate::window) fn only_if(mut self, possible: bool) -> Self {
        self.enabled = possible;
        self
    }

    /// A focused text field has the key first.
    pub(in crate::window) fn after_text(mut self) -> Self {
        self.yields_to_text = true;
        self
    }
}
