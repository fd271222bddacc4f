//! The form for a copy of a material: every value to be changed, low, usual and high.
//!
//! In: a form. Out: the same, filled in further.
//!
//! Not here: marking what was changed (`piles::drawer_choices`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{ComboBox, Ui};

use crate::material::{Confidence, Family, Material, Side, Structure};
use crate::quantity::UnitSystem;
use crate::text::material as material_words;

use crate::window::materials::fields::{heads_ui, name_ui, result_ui, three_ui};
use crate::window::page::Page;
use crate::window::piles::drawer_choices::Form;
use crate::window::theme::unbroken;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// The fields of a copy.
pub(in crate::window) fn copy_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    name_ui(ui, form);
    ui.label("Change what you know better: low, usual and high. What you leave keeps its source. Shares are of the dry matter, moisture of the whole.");
    let copy = &mut form.copy;
    kind_ui(ui, copy);
    pools_ui(ui, copy, page.state.settings.units);
    heads_ui(ui);
    let density = ShownUnit::density(page.state.settings.units);
    let percent = ShownUnit::PERCENT;
    for (name, unit, value) in [
        ("Moisture", percent, &mut copy.moisture),
        ("Nitrogen", percent, &mut copy.nitrogen),
        ("Carbon", percent, &mut copy.carbon),
        ("Ash", percent, &mut copy.ash),
        ("Lignin", percent, &mut copy.lignin),
        ("Bulk density", density, &mut copy.bulk_density),
        ("Phosphate", percent, &mut copy.phosphate),
        ("Potash", percent, &mut copy.potash),
        ("pH", ShownUnit::PLAIN, &mut copy.ph),
    ] {
        three_ui(ui, name, unit, value);
    }
    result_ui(ui, page, form.made(page.catalogue));
}

/// What it belongs to, how it stands, how far it settles.
fn kind_ui(ui: &mut Ui, copy: &mut Material) {
    ui.horizontal(|ui| {
        let half = (ui.available_width() - ui.spacing().item_spacing.x) * 0.5;
        ComboBox::from_id_salt("family of the copy")
            .selected_text(material_words::family(copy.family))
            .width(half * 0.8)
            .truncate()
            .show_ui(ui, |ui| {
                for family in Family::ALL {
                    ui.selectable_value(&mut copy.family, family, material_words::family(family));
                }
            })
            .response
            .named("Family of the copy")
            .on_hover_text(
                "What it belongs to; among other things it decides whether it can wilt.",
            );
        ComboBox::from_id_salt("structure of the copy")
            .selected_text(material_words::structure(copy.structure))
            .width(ui.available_width())
            .truncate()
            .show_ui(ui, |ui| {
                for structure in Structure::ALL {
                    ui.selectable_value(
                        &mut copy.structure,
                        structure,
                        material_words::structure(structure),
                    );
                }
            })
            .response
            .named("Structure of the copy")
            .on_hover_text("How it stands, packs and lets air through.");
    });
    ui.horizontal(|ui| {
        ui.label("Gardeners call it");
        let called = copy.side();
        for side in Side::ALL {
            let word = material_words::side_short(side);
            let pressed = ui
                .selectable_label(called == side, word)
                .named(&format!("The copy is {word}"))
                .on_hover_text(
                    "Decides among greens and browns; C:N is calculated with either way.",
                )
                .clicked();
            if pressed {
                copy.custom = Some(side);
            }
        }
    });
}

/// How the dry matter rots, and how far the loose stuff settles; what is left over of it stays.
fn pools_ui(ui: &mut Ui, copy: &mut Material, units: UnitSystem) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Rots within");
        let pools = &mut copy.pools;
        let before = [pools.fast, pools.medium, pools.slow];
        for (word, share) in [
            ("weeks", &mut pools.fast),
            ("months", &mut pools.medium),
            ("years", &mut pools.slow),
        ] {
            percent_ui(ui, &format!("Rots within {word}"), share);
            ui.label(unbroken(word));
        }
        if before != [pools.fast, pools.medium, pools.slow] {
            pools.inert = (1.0 - pools.fast - pools.medium - pools.slow).max(0.0);
            pools.sources = vec!["OWN".to_owned()];
            pools.confidence = Confidence::Recalled;
        }
        ui.label(unbroken(format!("({:.0} % stays)", pools.inert * 100.0)));
    });
    ui.horizontal(|ui| {
        ui.label(unbroken(material_words::settles_by(units)));
        percent_ui(ui, "Settles by", &mut copy.settles_share);
    });
}

/// A share, typed as per cent.
fn percent_ui(ui: &mut Ui, name: &str, share: &mut f64) {
    QuantityField::new(name, 0.0, 1.0)
        .unit(ShownUnit::PERCENT)
        .hint(&format!("{name}, per cent. Click to type it."))
        .speed(0.5)
        .decimals(1)
        .show(ui, share);
}
