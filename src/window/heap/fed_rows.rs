//! Fed as planned beside saved up and built at once: peak and warm days of both, and why.
//!
//! In: what was compared. Out: three lines; nothing where nothing is fed or it is not known yet.
//!
//! Not here: the comparison (`jobs::fed`), its words (`text::fed`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use eframe::egui::{Label, Ui};

use crate::text::fed::{ways, why};

use crate::window::page::Page;
use crate::window::theme::unbroken;

/// The lines.
pub fn fed_ui(ui: &mut Ui, page: &Page<'_>) {
    let Some(fed) = page.shown.fed else { return };
    let units = page.state.settings.units;
    ui.add_space(page.look.sizes.gap);
    for line in ways(&fed, units) {
        ui.add(Label::new(unbroken(line)).wrap());
    }
    let weak = page.look.colours.text_weak.0;
    let why = unbroken(why(&fed, units)).small().color(weak);
    ui.add(Label::new(why).wrap());
}
