//! The rows of a mix: name, shares, slider, typed value, measure, lock, remove; the water row; the
//! two bucket buttons.
//!
//! In: the mix and its blend. Out: edited amounts, asked-for actions.
//!
//! Not here: what the amounts lead to (`mix_gauges`, `heat_plot`).
//!
//! Held against: `tests/window/mix.rs`.

use eframe::egui::{
    self, Align, Button, ComboBox, DragValue, Layout, RichText, ScrollArea, Slider, Ui, vec2,
};

use crate::material::{Confidence, Material, Side, Sourced};
use crate::mix::PartShare;
use crate::quantity::{
    Amount, CUBIC_METRE_PER_LITRE, Extent, LITRE_PER_US_GALLON, Measure, UnitSystem, bounds,
};

use super::action::Action;
use super::buttons::{plain_button, styled_button};
use super::named::Named;
use super::state::Page;
use super::theme::{Look, strong};

/// Name of the water row and its controls.
pub const WATER: &str = "Added water";
/// Key of the water row among the sliders' upper ends.
const WATER_TOP: &str = "water";
/// Place that stands for the water row while its slider is held.
const WATER_ROW: usize = usize::MAX;

/// The whole column.
pub fn rows_ui(ui: &mut Ui, page: &mut Page<'_>) {
    heading_ui(ui, page);
    let gap = page.look.sizes.gap;
    let below = page.look.sizes.big_button + 2.0 * gap;
    let height = (ui.available_height() - below).max(page.look.sizes.big_button);
    ScrollArea::vertical()
        .id_salt("ingredients")
        .max_height(height)
        .min_scrolled_height(height)
        .auto_shrink([false, false])
        .show(ui, |ui| {
            // Room for the scroll bar, so that it never covers a control.
            ui.set_max_width(ui.available_width() - gap);
            if page.project.mix.ingredients.is_empty() {
                ui.label("An empty heap. Add a material, or press one of the buttons below.");
            }
            let names = row_names(page);
            for (row, name) in names.iter().enumerate() {
                ui.push_id(row, |ui| ingredient_ui(ui, page, row, name));
                ui.separator();
            }
            water_ui(ui, page);
        });
    ui.add_space(gap * 0.5);
    buckets_ui(ui, page);
}

/// Height at which so many rows need no scrolling.
pub fn wanted_height(rows: usize, look: Look<'_>) -> f32 {
    let sizes = look.sizes;
    let row = 2.0 * sizes.control_height + 3.0 * sizes.gap;
    let around = sizes.control_height + sizes.big_button + 4.0 * sizes.gap;
    (rows as f32 + 1.0) * row + around
}

fn heading_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal(|ui| {
        ui.heading("Ingredients");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            plain_button(ui, page, Action::PickMaterial, "Add material…");
        });
    });
}

/// What each row is called; rows of the same material are told apart by their place.
fn row_names(page: &Page<'_>) -> Vec<String> {
    let ingredients = &page.project.mix.ingredients;
    let mut names: Vec<String> = Vec::with_capacity(ingredients.len());
    for (row, ingredient) in ingredients.iter().enumerate() {
        let name = page.name_of(&ingredient.material);
        let twice = ingredients
            .iter()
            .enumerate()
            .any(|(other, i)| other != row && i.material == ingredient.material);
        names.push(if twice {
            format!("{name} (row {})", row + 1)
        } else {
            name
        });
    }
    names
}

/// One ingredient: two lines.
fn ingredient_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    ui.horizontal(|ui| {
        let material = page
            .catalogue
            .find(&page.project.mix.ingredients[row].material);
        let share = page
            .shown
            .blend
            .as_ref()
            .and_then(|blend| blend.shares.get(row).copied());
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            remove_ui(ui, page, row, name);
            lock_ui(ui, page, row, name);
            if let Some(share) = share
                && ui.available_width() >= page.look.sizes.share_from_width
            {
                share_ui(ui, page, &share);
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let label = egui::Label::new(strong(name)).truncate();
                let response = ui.add(label);
                match material {
                    Some(material) => {
                        let shares = share.map(|share| share_text(&share)).unwrap_or_default();
                        let text = format!("{}\n{shares}", material_text(material, page));
                        response.on_hover_text(text)
                    }
                    None => response.on_hover_text(
                        "This material is not in the catalogue; remove it or choose another.",
                    ),
                };
            });
        });
    });
    amount_ui(ui, page, row, name);
}

/// "C 62 %  N 31 %  water 20 %".
fn share_text(share: &PartShare) -> String {
    let percent = |part: f64| format!("{:.0} %", part * 100.0);
    format!(
        "C {}  N {}  water {}",
        percent(share.carbon),
        percent(share.nitrogen),
        percent(share.water)
    )
}

fn share_ui(ui: &mut Ui, page: &Page<'_>, share: &PartShare) {
    ui.label(
        RichText::new(share_text(share))
            .small()
            .color(page.look.colours.text_weak.0),
    )
    .on_hover_text("Its share of the mix's carbon, nitrogen and water.");
}

fn lock_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let locked = &mut page.project.mix.ingredients[row].locked;
    let word = if *locked { "locked" } else { "lock" };
    let name = format!("Lock {name}");
    if ui
        .add(Button::selectable(*locked, RichText::new(word).small()))
        .named(&name)
        .on_hover_text("Keeps this amount as it is when advice is worked out.")
        .clicked()
    {
        *locked = !*locked;
    }
}

fn remove_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let button = Button::new(RichText::new("×")).frame_when_inactive(false);
    styled_button(
        ui,
        page,
        Action::Remove(row),
        button,
        &format!("Remove {name}"),
    );
}

/// Slider, typed value and measure of one ingredient.
fn amount_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    ui.horizontal(|ui| {
        let amount = page.project.mix.ingredients[row].amount.clone();
        let material = page.project.mix.ingredients[row].material.clone();
        let key = format!("{material}/{}", amount.measure.singular());
        let first_top = first_top(&amount.measure);
        let mut value = amount.value;
        let sizes = page.look.sizes;
        let tail = sizes.value_width + sizes.measure_width + 2.0 * sizes.gap;
        let hint = format!("How much {name} goes in, in {}.", amount.measure.plural());
        let control = Control {
            name,
            hint: &hint,
            key: &key,
            row,
            first_top,
            most: bounds::AMOUNT.high,
            tail,
        };
        slider_ui(ui, page, &control, &mut value);
        value_ui(ui, &control, sizes.value_width, &mut value);
        page.project.mix.ingredients[row].amount.value = value;
        measure_ui(ui, page, row, name);
    });
}

/// What a slider with its typed value needs to know.
struct Control<'a> {
    name: &'a str,
    hint: &'a str,
    /// Under which its upper end is remembered.
    key: &'a str,
    row: usize,
    first_top: f64,
    most: f64,
    /// Width taken by what follows the slider.
    tail: f32,
}

/// A slider whose upper end grows once the value comes near it, but never while it is dragged.
fn slider_ui(ui: &mut Ui, page: &mut Page<'_>, control: &Control<'_>, value: &mut f64) {
    let held = page
        .state
        .held_slider
        .filter(|(row, _)| *row == control.row)
        .map(|(_, top)| top);
    let known = page.state.slider_tops.get(control.key).copied();
    let top = held
        .unwrap_or_else(|| grown_top(known.unwrap_or(control.first_top), *value).min(control.most));
    page.state.slider_tops.insert(control.key.to_owned(), top);
    ui.spacing_mut().slider_width = (ui.available_width() - control.tail).max(40.0);
    ui.visuals_mut().selection.bg_fill = page.look.colours.accent.0;
    let decimals = if top <= 20.0 { 2 } else { 1 };
    let response = ui
        .add(
            Slider::new(value, 0.0..=top)
                .show_value(false)
                .clamping(egui::SliderClamping::Edits)
                .max_decimals(decimals),
        )
        .named(control.name)
        .on_hover_text(control.hint);
    if response.dragged() {
        page.state.held_slider = Some((control.row, top));
    } else if held.is_some() {
        page.state.held_slider = None;
    }
}

fn value_ui(ui: &mut Ui, control: &Control<'_>, width: f32, value: &mut f64) {
    let size = vec2(width, ui.spacing().interact_size.y);
    ui.add(
        DragValue::new(value)
            .range(0.0..=control.most)
            .speed(control.first_top / 200.0)
            .max_decimals(2)
            .custom_formatter(|value, _| typed_text(value))
            .min_size(size),
    )
    .named(control.name)
    .on_hover_text(format!("{} Click to type it.", control.hint));
}

/// A text of at most so many letters, the last one `…` where it was longer.
fn elided(text: &str, letters: usize) -> String {
    let text = text.trim();
    if text.chars().count() <= letters {
        return text.to_owned();
    }
    let kept: String = text.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// A value as it stands in its field: at most two decimals, no trailing zeros.
fn typed_text(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn measure_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let amount = page.project.mix.ingredients[row].amount.clone();
    let word = if amount.value == 1.0 {
        amount.measure.singular().to_owned()
    } else {
        amount.measure.plural()
    };
    let units = page.state.settings.units;
    ComboBox::from_id_salt("measure")
        .selected_text(word)
        .width(
            ui.available_width()
                .min(page.look.sizes.measure_width * 1.3),
        )
        .truncate()
        .show_ui(ui, |ui| {
            for measure in measures(units, &amount.measure) {
                let text = format!("{} ({})", measure.singular(), measure.size_text());
                let chosen = measure == amount.measure;
                if ui
                    .selectable_label(chosen, text)
                    .on_hover_text(Action::SetMeasure(row, measure.clone()).tooltip())
                    .clicked()
                    && !chosen
                {
                    page.ask(Action::SetMeasure(row, measure));
                }
            }
        })
        .response
        .named(&format!("Measure of {name}"))
        .on_hover_text("How its amount is said; changing it keeps the stuff the same.");
}

/// The measures offered: those of the units shown first, the present one always among them.
fn measures(units: UnitSystem, present: &Measure) -> Vec<Measure> {
    let us = |measure: &Measure| {
        matches!(
            measure,
            Measure::Pail | Measure::CubicFoot | Measure::CubicYard | Measure::Pound
        )
    };
    let mut all: Vec<Measure> = Measure::READY.to_vec();
    if units == UnitSystem::UsCustomary {
        all.sort_by_key(|measure| !us(measure));
    }
    if !all.contains(present) {
        all.push(present.clone());
    }
    all
}

/// Where a slider of this measure ends at first.
pub fn first_top(measure: &Measure) -> f64 {
    match measure {
        Measure::Gram => 2000.0,
        Measure::Litre => 200.0,
        Measure::Kilogram => 50.0,
        Measure::Pound => 100.0,
        Measure::CubicFoot | Measure::Caddy | Measure::Fork => 20.0,
        Measure::CubicYard => 5.0,
        _ => 10.0,
    }
}

/// The upper end for a value: the given one, grown in steps of 2 until the value fits with room.
pub fn grown_top(top: f64, value: f64) -> f64 {
    let mut top = top;
    while value.is_finite() && value >= 0.95 * top {
        top *= 2.0;
    }
    top
}

/// Added water: slider, typed value, unit.
fn water_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let litres_in_one = match units {
        UnitSystem::Metric => 1.0,
        UnitSystem::UsCustomary => LITRE_PER_US_GALLON,
    };
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if let Some(blend) = &page.shown.blend {
                let text = format!("water {:.0} %", blend.added_water_share * 100.0);
                ui.label(
                    RichText::new(text)
                        .small()
                        .color(page.look.colours.text_weak.0),
                )
                .on_hover_text("Its share of all the water in the mix.");
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.label(strong(WATER))
                    .on_hover_text("Water poured on while mixing.");
            });
        });
    });
    ui.horizontal(|ui| {
        let sizes = page.look.sizes;
        let before = page.project.mix.added_water_l / litres_in_one;
        let mut value = before;
        let key = format!("{WATER_TOP}/{}", units.volume_unit());
        let hint = format!("Water poured on while mixing, in {}.", units.volume_unit());
        let control = Control {
            name: WATER,
            hint: &hint,
            key: &key,
            row: WATER_ROW,
            first_top: 50.0,
            most: bounds::ADDED_WATER.high / litres_in_one,
            tail: sizes.value_width + sizes.measure_width + 2.0 * sizes.gap,
        };
        slider_ui(ui, page, &control, &mut value);
        value_ui(ui, &control, sizes.value_width, &mut value);
        // Written only when moved: a conversion there and back must not change the recipe.
        if value != before {
            page.project.mix.added_water_l = value * litres_in_one;
        }
        ui.label(match units {
            UnitSystem::Metric => "litres",
            UnitSystem::UsCustomary => "gallons",
        });
    });
}

/// The two big buttons, each with its chooser.
fn buckets_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let gap = page.look.sizes.gap;
    let width = (ui.available_width() - gap) / 2.0;
    ui.horizontal(|ui| {
        for side in [Side::Green, Side::Brown] {
            let size = vec2(width, page.look.sizes.big_button);
            ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
                ui.push_id(side as u8, |ui| bucket_ui(ui, page, side, size.x));
            });
        }
    });
}

fn bucket_ui(ui: &mut Ui, page: &mut Page<'_>, side: Side, width: f32) {
    let sizes = page.look.sizes;
    let chooser = sizes.chooser_width;
    let (word, chosen, colour) = match side {
        Side::Green => ("green", &page.facts.buckets.0, page.look.colours.green),
        _ => ("brown", &page.facts.buckets.1, page.look.colours.brown),
    };
    let text = format!("+1 bucket {chosen}");
    let button_width = width - chooser - sizes.gap;
    let letters = ((button_width - 3.0 * sizes.gap) / (sizes.body * 0.62)) as usize;
    let short = elided(chosen.split([',', '(']).next().unwrap_or(chosen), letters);
    let button = Button::new(strong(format!("+1 bucket\n{short}")))
        .stroke(egui::Stroke::new(sizes.needle, colour.0))
        .min_size(vec2(button_width, sizes.big_button));
    let size = vec2(button_width, sizes.big_button);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        styled_button(ui, page, Action::AddBucket(side), button, &text);
    });
    let current = match side {
        Side::Green => page.state.buckets.green.clone(),
        _ => page.state.buckets.brown.clone(),
    };
    ComboBox::from_id_salt("bucket")
        .selected_text("")
        .width(chooser)
        .show_ui(ui, |ui| {
            let materials = page.catalogue.materials();
            for material in materials.iter().filter(|material| material.side() == side) {
                if ui
                    .selectable_label(material.id == current, material.name.as_str())
                    .clicked()
                {
                    page.ask(Action::ChooseBucket(side, material.id.clone()));
                }
            }
        })
        .response
        .named(&format!("Choose the {word} material"))
        .on_hover_text("Chooses what the button adds a bucket of.");
}

/// The tooltip of a material: main values with trust and source, its texture, what to know.
pub fn material_text(material: &Material, page: &Page<'_>) -> String {
    let mut lines = vec![material.name.clone()];
    let percent = |value: &Sourced| {
        format!(
            "{:.0} % ({:.0} to {:.0})",
            value.typical * 100.0,
            value.low * 100.0,
            value.high * 100.0
        )
    };
    if let Some(cn) = &material.carbon_to_nitrogen {
        let text = format!("{:.0} to 1 ({:.0} to {:.0})", cn.typical, cn.low, cn.high);
        lines.push(format!("C:N {text}; {}", origin(cn, page)));
    }
    lines.push(format!(
        "moisture {}; {}",
        percent(&material.moisture),
        origin(&material.moisture, page)
    ));
    let units = page.state.settings.units;
    lines.push(format!(
        "bulk density {:.0} {}; {}",
        units.density(material.bulk_density.typical),
        units.density_unit(),
        origin(&material.bulk_density, page)
    ));
    lines.push(format!("texture: {}", material.structure.phrase()));
    if !material.texture.is_empty() {
        lines.push(material.texture.clone());
    }
    lines.join("\n")
}

/// How far a value is to be trusted, and where it was read.
fn origin(value: &Sourced, page: &Page<'_>) -> String {
    let trust = match value.confidence {
        Confidence::Read => "read in",
        Confidence::Derived => "derived from",
        Confidence::Recalled => "from memory",
    };
    let mut titles = value
        .sources
        .iter()
        .filter(|code| !matches!(code.as_str(), "MEM" | "OWN"))
        .map(|code| {
            page.catalogue
                .source(code)
                .map_or(code.as_str(), |source| source.title.as_str())
        });
    let first = match (value.confidence, titles.next()) {
        (Confidence::Read | Confidence::Derived, Some(first)) => first,
        _ => return trust.to_owned(),
    };
    match titles.count() {
        0 => format!("{trust} {first}"),
        more => format!("{trust} {first} and {more} more"),
    }
}

/// One garden bucket added to an amount, whatever it is said in.
pub fn plus_bucket(amount: &Amount, density_kg_per_m3: f64) -> Amount {
    let Extent::VolumeM3(bucket_m3) = Measure::Bucket.one() else {
        return amount.clone();
    };
    let litre = Amount::new(
        (amount.volume_m3(density_kg_per_m3) + bucket_m3) / CUBIC_METRE_PER_LITRE,
        Measure::Litre,
    );
    litre.said_in(amount.measure.clone(), density_kg_per_m3)
}
