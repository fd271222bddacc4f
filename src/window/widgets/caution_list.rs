//! Cautions: the list in the Results view, and short notes below the advice of the Mix view.
//!
//! In: the cautions that apply. Out: lines, the source of each on hover.
//!
//! Not here: which apply (`outcome::cautions`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{Label, RichText, ScrollArea, Sense, Ui};

use crate::outcome::cautions::Caution;
use crate::quantity::UnitSystem;
use crate::text;
use crate::text::outcome::LOCAL;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::piles::choices::View;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::buttons::plain_button;

/// Most notes below the advice.
const MOST_NOTES: usize = 3;

/// The list.
pub(in crate::window) fn cautions_ui(
    ui: &mut Ui,
    cautions: &[Caution],
    (units, look): (UnitSystem, Look<'_>),
) {
    ui.horizontal(|ui| {
        ui.heading("Safety notes");
        ui.label(RichText::new(LOCAL).color(look.colours.text_weak.0));
    });
    ScrollArea::vertical()
        .id_salt("cautions")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            for caution in cautions {
                caution_ui(ui, caution, units);
            }
        });
}

fn caution_ui(ui: &mut Ui, caution: &Caution, units: UnitSystem) {
    let text = format!("• {}", text::outcome::caution(caution, units));
    let label = Label::new(unbroken(text).small())
        .wrap()
        .sense(Sense::hover());
    ui.add(label)
        .on_hover_text(unbroken(text::outcome::caution_source(caution, units)));
}

/// One line each below the advice, if any apply and there is room.
pub(in crate::window) fn caution_notes_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let count = page.shown.stages.cautions().len();
    if count == 0 {
        return;
    }
    ui.separator();
    let weak = page.look.colours.text_weak.0;
    ui.label(
        unbroken(format!("Safety notes. {LOCAL}"))
            .small()
            .color(weak),
    );
    for caution in page.shown.stages.cautions().iter().take(MOST_NOTES) {
        caution_ui(ui, caution, page.state.settings.units);
    }
    if count > MOST_NOTES {
        let more = format!("{} more in Results", count - MOST_NOTES);
        plain_button(ui, page, Action::Show(View::Results), &more);
    }
}
