//! Names for controls that carry no text of their own.
//!
//! In: a control's response. Out: the same control, known by name to screen readers and tests.
//!
//! Not here: the words themselves.
//!
//! Tested by: `tests/window/names.rs`.

use eframe::egui::Response;

/// Gives a control its accessible name.
pub trait Named {
    /// The control, known as `name`.
    fn named(self, name: &str) -> Self;
}

impl Named for Response {
    fn named(self, name: &str) -> Self {
        self.ctx
            .accesskit_node_builder(self.id, |node| node.set_label(name));
        self
    }
}
