//! The three forms for a material of one's own: copy, lab report, bucket test.
//!
//! In: a form. Out: the same, filled in further; the asked-for material once it can be.
//!
//! Not here: the calculation (`material::own`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{Button, Checkbox, ComboBox, ScrollArea, Ui};

use crate::material::own::{Basis, OwnError, Squeeze};
use crate::text::number::temperature;
use crate::text::own_material;

use crate::window::action::Action;
use crate::window::materials::copy::copy_ui;
use crate::window::materials::fields::{PERCENT, name_ui, number_ui, result_ui};
use crate::window::page::Page;
use crate::window::piles::drawer_choices::{Form, FormKind};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::styled_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::ShownUnit;

/// Steps of the bucket test.
const STEPS: [&str; 4] = [
    "Name it",
    "Weigh a bucket",
    "Dry a sample",
    "Squeeze a handful",
];

/// Temperature of the oven a sample is dried in, degC; the usual one of moisture tests.
const OVEN_C: f64 = 105.0;

/// The form that is open.
pub fn form_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    ui.label(strong(form.kind.heading()).size(page.look.sizes.heading));
    let below = page.look.sizes.big_button;
    ScrollArea::vertical()
        .id_salt("form")
        .max_height((ui.available_height() - below).max(below))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.set_max_width(ui.available_width() - page.look.sizes.gap);
            match form.kind {
                FormKind::Copy => copy_ui(ui, page, form),
                FormKind::Report => report_ui(ui, page, form),
                FormKind::Bucket => bucket_ui(ui, page, form),
            }
        });
    buttons_ui(ui, page, form);
}

/// Take it over, go a step, or leave it.
fn buttons_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    ui.horizontal(|ui| {
        let last = form.kind != FormKind::Bucket || form.step + 1 == STEPS.len();
        if form.kind == FormKind::Bucket {
            let back = ui
                .add_enabled(form.step > 0, Button::new("Previous step"))
                .on_hover_text("Goes back one step; nothing typed is lost.");
            if back.clicked() {
                form.step = form.step.saturating_sub(1);
            }
        }
        if last {
            let made = form.made(page.catalogue).ok();
            ui.add_enabled_ui(made.is_some(), |ui| {
                let material = made.map_or_else(|| form.like.clone(), |made| made.material);
                let action = Action::TakeMaterial(Box::new(material));
                let button = Button::new("Add to my materials");
                styled_button(ui, page, action, button, "Add to my materials");
            });
        } else if ui
            .button("Next step")
            .on_hover_text("Continues with the next measurement.")
            .clicked()
        {
            form.step += 1;
        }
        let leave = Button::new("Cancel the form");
        styled_button(ui, page, Action::CloseForm, leave, "Cancel the form");
    });
}

/// The material that gives what is not measured.
fn like_ui(ui: &mut Ui, page: &Page<'_>, form: &mut Form) {
    ui.horizontal(|ui| {
        ui.label("Most like");
        ComboBox::from_id_salt("like")
            .selected_text(&form.like.name)
            .width(ui.available_width())
            .truncate()
            .show_ui(ui, |ui| {
                for material in page.catalogue.materials() {
                    let chosen = material.id == form.like.id;
                    if ui.selectable_label(chosen, &material.name).clicked() {
                        form.like = material.clone();
                    }
                }
            })
            .response
            .named("Similar material")
            .on_hover_text("Whatever is not measured is taken from this material.");
    });
}

/// A number that may be missing.
fn optional_ui(
    ui: &mut Ui,
    name: &str,
    unit: ShownUnit,
    value: &mut Option<f64>,
    (first, hint): (f64, &str),
) {
    let mut given = value.is_some();
    ui.horizontal(|ui| {
        let has = format!("The report gives: {name}");
        ui.add(Checkbox::without_text(&mut given))
            .named(&has)
            .on_hover_text("Whether the report gives this figure.");
        if !given {
            *value = None;
        } else if value.is_none() {
            *value = Some(first);
        }
        match value {
            Some(number) => number_ui(ui, name, unit, number, hint),
            None => {
                ui.label(unbroken(format!("{name}: not given")));
            }
        }
    });
}

fn report_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    let density_unit = ShownUnit::density(page.state.settings.units);
    name_ui(ui, form);
    like_ui(ui, page, form);
    let report = &mut form.report;
    ui.horizontal(|ui| {
        ui.label("Figures are");
        for basis in [Basis::Dry, Basis::AsReceived] {
            ui.selectable_value(&mut report.basis, basis, own_material::basis(basis))
                .on_hover_text("The report says so above its columns; moisture is always of the sample as it came.");
        }
    });
    number_ui(
        ui,
        "Moisture",
        PERCENT,
        &mut report.moisture_pct,
        "Water in the sample as it came.",
    );
    number_ui(
        ui,
        "Total nitrogen",
        PERCENT,
        &mut report.nitrogen_pct,
        "Total (Kjeldahl or combustion) nitrogen.",
    );
    let ash = (10.0, "What is left after burning.");
    optional_ui(ui, "Ash", PERCENT, &mut report.ash_pct, ash);
    let organic = (85.0, "Organic matter, loss on ignition or volatile solids.");
    optional_ui(
        ui,
        "Organic matter",
        PERCENT,
        &mut report.organic_matter_pct,
        organic,
    );
    let carbon = (45.0, "Total or organic carbon.");
    optional_ui(ui, "Total carbon", PERCENT, &mut report.carbon_pct, carbon);
    let density = (250.0, "As it came, loosely filled.");
    optional_ui(
        ui,
        "Bulk density",
        density_unit,
        &mut report.bulk_density_kg_per_m3,
        density,
    );
    result_ui(ui, page, form.made(page.catalogue));
}

/// What is still wrong with the weights of a step.
fn problem_ui(ui: &mut Ui, page: &Page<'_>, problem: Option<OwnError>) {
    if let Some(problem) = problem {
        ui.colored_label(page.look.colours.near.0, unbroken(problem.to_string()));
    }
}

fn bucket_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    let units = page.state.settings.units;
    let (litre, kilogram) = (ShownUnit::litres(units), ShownUnit::mass(units));
    let step = form.step.min(STEPS.len() - 1);
    ui.label(strong(format!(
        "Step {} of {}: {}",
        step + 1,
        STEPS.len(),
        STEPS[step]
    )));
    match step {
        0 => {
            name_ui(ui, form);
            like_ui(ui, page, form);
            ui.label("Choose the material it is most like: C:N, ash and how it rots are taken from that one, since no bucket can measure them.");
        }
        1 => {
            ui.label("Weigh the empty bucket. Fill it loosely to the brim, a third at a time, tapping it on the ground after the first two; weigh it again.");
            let bucket = &mut form.bucket;
            number_ui(
                ui,
                "The bucket holds",
                litre,
                &mut bucket.bucket_l,
                "To the brim; fill it with water once to find out.",
            );
            number_ui(
                ui,
                "Empty bucket",
                kilogram,
                &mut bucket.empty_kg,
                "The bucket alone.",
            );
            number_ui(
                ui,
                "Full bucket",
                kilogram,
                &mut bucket.full_kg,
                "Bucket and material.",
            );
            problem_ui(ui, page, form.bucket.bucket_problem());
        }
        2 => {
            let oven = temperature(OVEN_C, units);
            ui.label(unbroken(format!("Weigh a mixed handful, dry it in a warm oven (about {oven}) until it gets no lighter, and weigh it again. Stay with it: dry plants can scorch.")));
            let bucket = &mut form.bucket;
            number_ui(
                ui,
                "Fresh sample",
                ShownUnit::times(1.0, "g"),
                &mut bucket.sample_wet_g,
                "As it is.",
            );
            number_ui(
                ui,
                "Dried sample",
                ShownUnit::times(1.0, "g"),
                &mut bucket.sample_dry_g,
                "Without the dish.",
            );
            problem_ui(ui, page, form.bucket.sample_problem());
        }
        _ => {
            ui.label("Squeeze a handful hard. It only checks the scale; skip it for fresh leaves and stems, which give no water.");
            squeeze_ui(ui, &mut form.bucket.squeeze);
            result_ui(ui, page, form.made(page.catalogue));
        }
    }
}

fn squeeze_ui(ui: &mut Ui, squeeze: &mut Option<Squeeze>) {
    ui.selectable_value(squeeze, None, "not tried")
        .on_hover_text("Goes by the scale alone.");
    for answer in Squeeze::ALL {
        ui.selectable_value(squeeze, Some(answer), own_material::squeeze(answer))
            .on_hover_text(unbroken(own_material::squeeze_tip(answer)));
    }
}
