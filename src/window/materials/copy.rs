//! The form for a copy of a material: every value to be changed, low, usual and high.
//!
//! In: a form. Out: the same, filled in further.
//!
//! Not here: marking what was changed (`materials_state`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{ComboBox, DragValue, Label, RichText, Ui, vec2};

use crate::material::{Confidence, Family, Material, Sourced, Structure};
use crate::text::material as material_words;

use crate::window::materials::fields::{name_ui, result_ui, units_of};
use crate::window::page::Page;
use crate::window::piles::drawer_choices::Form;
use crate::window::widgets::named::Named;

/// The fields of a copy.
pub(in crate::window) fn copy_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    name_ui(ui, form);
    ui.label("Change what you know better: low, usual and high. What you leave keeps its source. Shares are of the dry matter, moisture of the whole.");
    let copy = &mut form.copy;
    kind_ui(ui, copy);
    pools_ui(ui, copy);
    heads_ui(ui);
    let [_, _, (density_unit, density_factor)] = units_of(page.state.settings.units);
    for (name, unit, factor, value) in [
        ("Moisture", "%", 100.0, &mut copy.moisture),
        ("Nitrogen", "%", 100.0, &mut copy.nitrogen),
        ("Carbon", "%", 100.0, &mut copy.carbon),
        ("Ash", "%", 100.0, &mut copy.ash),
        ("Lignin", "%", 100.0, &mut copy.lignin),
        (
            "Bulk density",
            density_unit,
            density_factor,
            &mut copy.bulk_density,
        ),
        ("Phosphate", "%", 100.0, &mut copy.phosphate),
        ("Potash", "%", 100.0, &mut copy.potash),
        ("pH", "", 1.0, &mut copy.ph),
    ] {
        three_ui(ui, name, unit, factor, value);
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
            .on_hover_text("What it belongs to; decides among others whether it can wilt.");
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
}

/// How the dry matter rots, and how far the loose stuff settles; what is left over of it stays.
fn pools_ui(ui: &mut Ui, copy: &mut Material) {
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
            ui.label(word);
        }
        if before != [pools.fast, pools.medium, pools.slow] {
            pools.inert = (1.0 - pools.fast - pools.medium - pools.slow).max(0.0);
            pools.sources = vec!["OWN".to_owned()];
            pools.confidence = Confidence::Recalled;
        }
        ui.label(format!("({:.0} % stays)", pools.inert * 100.0));
    });
    ui.horizontal(|ui| {
        ui.label("Piled a metre high it settles by");
        percent_ui(ui, "Settles by", &mut copy.settles_share);
    });
}

/// A share, typed as per cent.
fn percent_ui(ui: &mut Ui, name: &str, share: &mut f64) {
    let mut shown = *share * 100.0;
    let field = DragValue::new(&mut shown)
        .speed(0.5)
        .max_decimals(1)
        .range(0.0..=100.0)
        .suffix(" %");
    let response = ui
        .add(field)
        .named(name)
        .on_hover_text(format!("{name}, per cent. Click to type it."));
    if response.changed() {
        *share = shown / 100.0;
    }
}

/// Heads of the three columns.
fn heads_ui(ui: &mut Ui) {
    ui.horizontal(|ui| {
        let cell = vec2(ui.available_width() * 0.16, ui.spacing().interact_size.y);
        for word in ["low", "usual", "high"] {
            ui.add_sized(cell, Label::new(RichText::new(word).small()));
        }
    });
}

/// Low, usual and high of one value.
fn three_ui(ui: &mut Ui, name: &str, unit: &str, factor: f64, value: &mut Sourced) {
    ui.horizontal(|ui| {
        let cell = vec2(ui.available_width() * 0.16, ui.spacing().interact_size.y);
        for (word, number) in [
            ("low", &mut value.low),
            ("usual", &mut value.typical),
            ("high", &mut value.high),
        ] {
            let before = *number * factor;
            let mut shown = before;
            let named = format!("{name}, {word}");
            let response = ui
                .add_sized(
                    cell,
                    DragValue::new(&mut shown)
                        .speed(0.1)
                        .max_decimals(2)
                        .range(0.0..=10_000.0),
                )
                .named(&named)
                .on_hover_text(format!("{named}. Click to type it."));
            // Written only when moved: there and back must not change the value.
            if response.changed() && shown != before {
                *number = shown / factor;
            }
        }
        let unit = if unit.is_empty() {
            String::new()
        } else {
            format!(", {unit}")
        };
        ui.label(format!("{name}{unit}"));
    });
}
