//! The page of a material: every value as a bar with its source, how it stands and rots, questions.
//!
//! In: a material. Out: the drawn page, asked-for actions.
//!
//! Not here: the list beside it (`materials`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{ScrollArea, Ui};

use crate::material::{Material, MaterialQuestion, Sourced};
use crate::quantity::{Range, UnitSystem};
use crate::text::material as material_words;
use crate::text::material::{Whose, long_origin, short_origin};
use crate::text::number::Digits;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::piles::drawer_choices::FormKind;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::widgets::range_bar::RangeBar;

/// The whole page.
pub fn page_ui(ui: &mut Ui, page: &mut Page<'_>, material: &Material) {
    head_ui(ui, page, material);
    ScrollArea::vertical()
        .id_salt(("page", &material.id))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            // Room for the scroll bar.
            ui.set_max_width(ui.available_width() - page.look.sizes.gap);
            stands_ui(ui, page, material);
            bars_ui(ui, page, material);
            questions_ui(ui, page, material);
            sources_ui(ui, page, material);
        });
}

/// Name, what it belongs to, and what can be done with it.
fn head_ui(ui: &mut Ui, page: &mut Page<'_>, material: &Material) {
    ui.label(strong(&material.name).size(page.look.sizes.heading));
    let whose = if page.is_own(&material.id) {
        Whose::Own
    } else {
        Whose::Listed
    };
    ui.label(
        unbroken(material_words::belongs(material, whose)).color(page.look.colours.text_weak.0),
    );
    ui.horizontal_wrapped(|ui| {
        let id = material.id.clone();
        plain_button(ui, page, Action::AddMaterial(id), "Add to the mix");
        for kind in FormKind::ALL {
            let text = format!("{}…", kind.heading());
            plain_button(ui, page, Action::StartForm(kind), &text);
        }
        if page.is_own(&material.id) {
            let id = material.id.clone();
            plain_button(
                ui,
                page,
                Action::KeepMaterial(id.clone()),
                "Keep for every recipe",
            );
            plain_button(
                ui,
                page,
                Action::DropMaterial(id),
                "Take out of this recipe",
            );
        }
    });
    ui.separator();
}

/// How it stands, how fast it rots, what to know.
fn stands_ui(ui: &mut Ui, page: &Page<'_>, material: &Material) {
    let pools = &material.pools;
    ui.label(unbroken(material_words::stands(material)));
    ui.label(unbroken(material_words::settles(
        material,
        page.state.settings.units,
    )));
    ui.label(unbroken(material_words::rots(material)))
        .on_hover_text(unbroken(long_origin(
            &pools.sources,
            pools.confidence,
            page.catalogue,
        )));
    for said in [
        material_words::custom_against_ratio(material),
        material_words::to_know(material),
    ]
    .into_iter()
    .flatten()
    {
        ui.label(unbroken(said));
    }
    ui.add_space(page.look.sizes.gap);
}

fn bars_ui(ui: &mut Ui, page: &Page<'_>, material: &Material) {
    ui.label(strong("Values, with what is usual from low to high"));
    let bars = bars(material, page);
    // Two columns where there is room for the numbers of both.
    let two = ui.available_width() >= page.look.sizes.drawer_list * 1.6;
    if two {
        let half = bars.len().div_ceil(2);
        ui.columns(2, |columns| {
            for (place, bar) in bars.iter().enumerate() {
                bar.show(&mut columns[place / half], page.look);
            }
        });
    } else {
        for bar in &bars {
            bar.show(ui, page.look);
        }
    }
    ui.add_space(page.look.sizes.gap);
}

/// Every value as a bar, in the units shown.
fn bars(material: &Material, page: &Page<'_>) -> Vec<RangeBar> {
    let units = page.state.settings.units;
    let mut all: Vec<RangeBar> = Vec::new();
    if let Some(cn) = &material.carbon_to_nitrogen {
        all.push(RangeBar {
            by_factors: true,
            ..bar("C:N", cn, page, (5.0, 500.0), ("", Digits::Ratio, 1.0))
        });
    }
    let percent =
        |name, value, top, digits| bar(name, value, page, (0.0, top), ("%", digits, 100.0));
    all.push(percent(
        "Moisture",
        &material.moisture,
        100.0,
        Digits::Whole,
    ));
    all.push(density_bar(material, page, units));
    all.push(percent(
        "Nitrogen",
        &material.nitrogen,
        8.0,
        Digits::Hundredths,
    ));
    all.push(percent("Carbon", &material.carbon, 80.0, Digits::Whole));
    all.push(percent("Ash", &material.ash, 100.0, Digits::Whole));
    all.push(percent("Lignin", &material.lignin, 40.0, Digits::Whole));
    all.push(percent(
        "Phosphate (P2O5)",
        &material.phosphate,
        5.0,
        Digits::Hundredths,
    ));
    all.push(percent(
        "Potash (K2O)",
        &material.potash,
        8.0,
        Digits::Hundredths,
    ));
    all.push(bar(
        "pH",
        &material.ph,
        page,
        (3.0, 12.0),
        ("", Digits::Tenths, 1.0),
    ));
    all
}

fn density_bar(material: &Material, page: &Page<'_>, units: UnitSystem) -> RangeBar {
    let scale = (units.density(20.0), units.density(1500.0));
    let value = &material.bulk_density;
    RangeBar {
        by_factors: true,
        range: value.range().map(|density| units.density(density)),
        ..bar(
            "Bulk density",
            value,
            page,
            scale,
            (units.density_unit(), Digits::Whole, 1.0),
        )
    }
}

/// A bar of a value times a factor.
fn bar(
    name: &'static str,
    value: &Sourced,
    page: &Page<'_>,
    scale: (f64, f64),
    (unit, digits, factor): (&'static str, Digits, f64),
) -> RangeBar {
    let Range { low, typical, high } = value.range();
    RangeBar {
        name,
        range: Range::new(low * factor, typical * factor, high * factor),
        scale,
        by_factors: false,
        unit,
        digits,
        origin: short_origin(value),
        explained: format!(
            "{name}: {}",
            long_origin(&value.sources, value.confidence, page.catalogue)
        ),
    }
}

/// The questions people ask, answered.
fn questions_ui(ui: &mut Ui, page: &Page<'_>, material: &Material) {
    let about: Vec<&MaterialQuestion> = page
        .shelf
        .questions
        .iter()
        .filter(|question| question.is_about(material))
        .collect();
    if about.is_empty() {
        return;
    }
    ui.label(strong("What people ask about it"));
    for question in about {
        ui.label(unbroken(&question.question));
        ui.label(unbroken(&question.answer));
        ui.label(
            unbroken(format!(
                "{} ({})",
                question.source,
                material_words::standing(question.standing)
            ))
            .small()
            .color(page.look.colours.text_weak.0),
        );
        ui.add_space(page.look.sizes.gap * 0.5);
    }
}

/// The codes of the bars, spelled out.
fn sources_ui(ui: &mut Ui, page: &Page<'_>, material: &Material) {
    let mut codes: Vec<&String> = material
        .values()
        .into_iter()
        .flat_map(|(_, value)| &value.sources)
        .chain(&material.pools.sources)
        .collect();
    codes.sort();
    codes.dedup();
    ui.label(strong("Sources"));
    for code in codes {
        if let Some(source) = page.catalogue.source(code) {
            ui.label(
                unbroken(format!("{code}: {}. {}", source.title, source.read))
                    .small()
                    .color(page.look.colours.text_weak.0),
            );
        }
    }
}
