//! The three forms for a material of one's own: copy, lab report, bucket test.
//!
//! In: a form. Out: the same, filled in further; the asked-for material once it can be.
//!
//! Not here: the reckoning (`material::own`).
//!
//! Held against: `tests/window/materials.rs`.

use eframe::egui::{
    Button, Checkbox, ComboBox, DragValue, Label, RichText, ScrollArea, TextEdit, Ui, vec2,
};

use crate::material::own::{Basis, Made, OwnError, Squeeze};
use crate::material::{Confidence, Family, Material, Sourced, Structure};
use crate::quantity::{KG_PER_POUND, LITRE_PER_US_GALLON, UnitSystem};

use super::action::Action;
use super::buttons::styled_button;
use super::materials_state::{Form, FormKind};
use super::named::Named;
use super::state::Page;
use super::theme::strong;

/// Steps of the bucket test.
const STEPS: [&str; 4] = [
    "Name it",
    "Weigh a bucket",
    "Dry a sample",
    "Squeeze a handful",
];

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
                .add_enabled(form.step > 0, Button::new("Back"))
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
            .on_hover_text("Goes on to the next measurement.")
            .clicked()
        {
            form.step += 1;
        }
        let leave = Button::new("Cancel the form");
        styled_button(ui, page, Action::CloseForm, leave, "Cancel the form");
    });
}

fn name_ui(ui: &mut Ui, form: &mut Form) {
    ui.horizontal(|ui| {
        let label = ui.label("Name");
        ui.add(
            TextEdit::singleline(&mut form.name)
                .hint_text("reed cuttings from the pond")
                .desired_width(ui.available_width()),
        )
        .labelled_by(label.id)
        .named("Name of the material")
        .on_hover_text("What it is called in lists and in the mix.");
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

/// A unit and how many of it make one of the SI unit.
type Unit = (&'static str, f64);

/// Per cent.
const PERCENT: Unit = ("%", 1.0);

/// Units of a bucket's volume, its weight, and of bulk density.
fn units_of(units: UnitSystem) -> [Unit; 3] {
    let density = (units.density_unit(), units.density(1.0));
    match units {
        UnitSystem::Metric => [("L", 1.0), ("kg", 1.0), density],
        UnitSystem::UsCustomary => [
            ("gal", 1.0 / LITRE_PER_US_GALLON),
            ("lb", 1.0 / KG_PER_POUND),
            density,
        ],
    }
}

/// A typed number with its unit.
fn number_ui(ui: &mut Ui, name: &str, (unit, factor): Unit, value: &mut f64, hint: &str) {
    ui.horizontal(|ui| {
        let width = ui.available_width();
        let mut shown = *value * factor;
        let response = ui
            .add(
                DragValue::new(&mut shown)
                    .speed(0.1)
                    .max_decimals(2)
                    .range(0.0..=100_000.0)
                    .min_size(vec2(width * 0.16, 0.0))
                    .suffix(format!(" {unit}")),
            )
            .named(name)
            .on_hover_text(format!("{hint} Click to type it."));
        // Written only when moved: there and back must not change the value.
        if response.changed() {
            *value = shown / factor;
        }
        ui.label(name);
    });
}

/// A number that may be missing.
fn optional_ui(
    ui: &mut Ui,
    name: &str,
    unit: Unit,
    value: &mut Option<f64>,
    (first, hint): (f64, &str),
) {
    let mut given = value.is_some();
    ui.horizontal(|ui| {
        let has = format!("The report has {}", name.to_lowercase());
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
                ui.label(format!("{name}: not given"));
            }
        }
    });
}

fn report_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    let [_, _, density_unit] = units_of(page.state.settings.units);
    name_ui(ui, form);
    like_ui(ui, page, form);
    let report = &mut form.report;
    ui.horizontal(|ui| {
        ui.label("Figures are");
        for basis in [Basis::Dry, Basis::AsReceived] {
            ui.selectable_value(&mut report.basis, basis, basis.label())
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

fn bucket_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
    let [litre, kilogram, _] = units_of(page.state.settings.units);
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
                "To the brim; fill it with water once to know.",
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
        }
        2 => {
            ui.label("Weigh a mixed handful, dry it in a warm oven (about 105 °C) until it gets no lighter, and weigh it again. Stay with it: dry plants can scorch.");
            let bucket = &mut form.bucket;
            number_ui(
                ui,
                "Fresh sample",
                ("g", 1.0),
                &mut bucket.sample_wet_g,
                "As it is.",
            );
            number_ui(
                ui,
                "Dried sample",
                ("g", 1.0),
                &mut bucket.sample_dry_g,
                "Without the dish.",
            );
        }
        _ => {
            ui.label("Squeeze a handful hard. It only checks the scale; leave it out for fresh leaves and stems, which give no water.");
            squeeze_ui(ui, &mut form.bucket.squeeze);
            result_ui(ui, page, form.made(page.catalogue));
        }
    }
}

fn squeeze_ui(ui: &mut Ui, squeeze: &mut Option<Squeeze>) {
    ui.selectable_value(squeeze, None, "not tried")
        .on_hover_text("Goes by the scale alone.");
    for answer in Squeeze::ALL {
        let (low, high) = answer.moisture_band();
        ui.selectable_value(squeeze, Some(answer), answer.label())
            .on_hover_text(format!(
                "Speaks for {:.0} to {:.0} % moisture.",
                low * 100.0,
                high * 100.0
            ));
    }
}

/// What comes of it: formulas with their sources, or the first thing that cannot be.
fn result_ui(ui: &mut Ui, page: &Page<'_>, made: Result<Made, OwnError>) {
    let colours = page.look.colours;
    ui.separator();
    match made {
        Err(problem) => {
            ui.colored_label(colours.bad.0, format!("Not yet: {problem}."));
        }
        Ok(made) => {
            if !made.steps.is_empty() {
                ui.label(strong("How it is reckoned"));
            }
            for step in &made.steps {
                ui.label(&step.text);
                let source = RichText::new(step.source).small();
                ui.label(source.color(colours.text_weak.0));
            }
            ui.label(summary(&made.material, page));
            for remark in &made.remarks {
                ui.colored_label(colours.near.0, remark);
            }
        }
    }
}

/// The main values in a line.
fn summary(material: &Material, page: &Page<'_>) -> String {
    let units = page.state.settings.units;
    let cn = material.carbon_to_nitrogen.as_ref().map_or_else(
        || "no C:N".to_owned(),
        |cn| format!("C:N {:.0} ({:.0} to {:.0})", cn.typical, cn.low, cn.high),
    );
    format!(
        "So: {cn}, moisture {:.0} %, bulk density {:.0} {}.",
        material.moisture.typical * 100.0,
        units.density(material.bulk_density.typical),
        units.density_unit()
    )
}

fn copy_ui(ui: &mut Ui, page: &mut Page<'_>, form: &mut Form) {
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
            .selected_text(copy.family.label())
            .width(half * 0.8)
            .truncate()
            .show_ui(ui, |ui| {
                for family in Family::ALL {
                    ui.selectable_value(&mut copy.family, family, family.label());
                }
            })
            .response
            .named("Family of the copy")
            .on_hover_text("What it belongs to; decides among others whether it can wilt.");
        ComboBox::from_id_salt("structure of the copy")
            .selected_text(copy.structure.phrase())
            .width(ui.available_width())
            .truncate()
            .show_ui(ui, |ui| {
                for structure in Structure::ALL {
                    ui.selectable_value(&mut copy.structure, structure, structure.phrase());
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
