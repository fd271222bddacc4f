//! What the compost is for, and the lists on using it: phosphate and salt, pots, seedlings, mulch, distances.
//!
//! In: an outcome, the facts on use. Out: the uses of the project, edited.
//!
//! Not here: beds (`bed_rows`), cautions (`caution_list`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{CollapsingHeader, Label, Ui};

use crate::garden::Use;
use crate::outcome::nutrient::{UseList, UseRule};
use crate::outcome::{Facts, Outcome};
use crate::quantity::UnitSystem;
use crate::text::garden;
use crate::text::outcome as words;

use crate::window::page::Page;
use crate::window::theme::{Look, strong, unbroken};

/// What it is for; cautions follow.
pub(in crate::window) fn uses_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        ui.label("It is for");
        for it in Use::ALL {
            let uses = &mut page.project.uses;
            let mut chosen = uses.contains(&it);
            let tick = ui.checkbox(&mut chosen, garden::purpose(it));
            if tick
                .on_hover_text("The cautions below follow what it is for.")
                .changed()
            {
                uses.retain(|other| *other != it);
                if chosen {
                    uses.push(it);
                }
            }
        }
    });
}

/// The lists, each to be unfolded.
pub(in crate::window) fn lists_ui(ui: &mut Ui, page: &Page<'_>, outcome: &Outcome, facts: &Facts) {
    let units = page.state.settings.units;
    let volume_m3 = outcome.produce.volume_m3.typical;
    for list in UseList::ALL {
        let name = words::use_list(list);
        CollapsingHeader::new(strong(name))
            .id_salt(name)
            .show_unindented(ui, |ui| {
                let rules = facts.usage.rules.iter();
                for rule in rules.filter(|rule| rule.list == list) {
                    rule_ui(ui, rule, (units, page.look));
                    if let Some(text) = words::own_use(rule, volume_m3, units) {
                        ui.label(unbroken(text).small());
                    }
                }
            })
            .header_response
            .on_hover_text("Shows or folds this list.");
    }
}

fn rule_ui(ui: &mut Ui, rule: &UseRule, (units, look): (UnitSystem, Look<'_>)) {
    ui.add(Label::new(unbroken(words::use_line(rule, units))).wrap());
    let source = unbroken(words::use_source(rule))
        .small()
        .color(look.colours.text_weak.0);
    ui.add(Label::new(source).wrap());
}
