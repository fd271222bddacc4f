//! What the compost is for, and the lists on using it: phosphate and salt, pots, seedlings, mulch, distances.
//!
//! In: an outcome, the facts on use. Out: the uses of the project, edited.
//!
//! Not here: beds (`bed_rows`), cautions (`caution_list`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{CollapsingHeader, Label, RichText, Ui};

use crate::garden::Use;
use crate::outcome::nutrient::UseRule;
use crate::outcome::{Facts, Outcome, Trust};
use crate::text::garden;
use crate::text::number;

use crate::window::page::Page;
use crate::window::results::bed_rows::amount_text;
use crate::window::theme::{Look, strong};

/// Lists with the rules in them, by id.
const LISTS: [(&str, &[&str]); 3] = [
    (
        "Phosphate and salt",
        &["phosphate", "phosphate_years", "rate_by_phosphate", "salt"],
    ),
    (
        "Pots, seedlings, mulch, new beds",
        &["potting", "seedlings", "mulch", "new_bed", "neutral"],
    ),
    (
        "Distances to water",
        &["watercourse", "well", "wet_ground", "heap_place"],
    ),
];

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
    for (name, ids) in LISTS {
        CollapsingHeader::new(strong(name))
            .id_salt(name)
            .show_unindented(ui, |ui| {
                let found = ids
                    .iter()
                    .filter_map(|id| facts.usage.rules.iter().find(|rule| rule.id == *id));
                for rule in found {
                    rule_ui(ui, rule, page.look);
                    if let Some(text) = own_text(&rule.id, rule, page, outcome) {
                        ui.label(RichText::new(text).small());
                    }
                }
            })
            .header_response
            .on_hover_text("Shows or folds this list.");
    }
}

/// What a rule comes to for this heap.
fn own_text(id: &str, rule: &UseRule, page: &Page<'_>, outcome: &Outcome) -> Option<String> {
    let units = page.state.settings.units;
    let volume_m3 = outcome.produce.volume_m3.typical;
    let (low, high) = rule.between;
    match id {
        "potting" => Some(format!(
            "All of this heap would go into {} to {} of potting mix.",
            number::volume(100.0 * volume_m3 / high, units),
            number::volume(100.0 * volume_m3 / low, units)
        )),
        "mulch" => Some(format!(
            "All of this heap ({}) covers {} to {}.",
            amount_text(1000.0 * volume_m3, units),
            number::area(1000.0 * volume_m3 / high, units),
            number::area(1000.0 * volume_m3 / low, units)
        )),
        _ => None,
    }
}

fn rule_ui(ui: &mut Ui, rule: &UseRule, look: Look<'_>) {
    let memory = if rule.trust == Trust::Recalled {
        ", unverified"
    } else {
        ""
    };
    ui.add(Label::new(format!("{}.", rule.text)).wrap());
    let source = format!("Source: {}{memory}.", rule.source);
    let source = RichText::new(source)
        .small()
        .color(look.colours.text_weak.0);
    ui.add(Label::new(source).wrap());
}
