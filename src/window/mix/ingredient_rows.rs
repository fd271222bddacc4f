//! The rows of a mix: name, shares, slider, typed value, measure, lock, remove; the water row.
//!
//! In: the mix and its blend. Out: edited amounts, asked-for actions.
//!
//! Not here: what the amounts lead to (`gauges`, `heat_plot`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{self, Align, Button, Layout, RichText, ScrollArea, Ui};

use crate::mix::PartShare;
use crate::quantity::{LITRE_PER_US_GALLON, UnitSystem, bounds};
use crate::text::amount;
use crate::text::material as material_words;
use crate::text::mix::part_share;

use crate::window::action::Action;
use crate::window::mix::buckets::buckets_ui;
use crate::window::mix::condition_row::condition_ui;
use crate::window::page::Page;
use crate::window::theme::{Look, strong};
use crate::window::widgets::amount_control::{
    Control, first_top, measure_picker_ui, slider_ui, value_ui,
};
use crate::window::widgets::buttons::{plain_button, styled_button};
use crate::window::widgets::named::Named;

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
            plain_button(ui, page, Action::OpenDrawer, "Materials…");
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
            .stages
            .blend()
            .and_then(|blend| blend.shares.get(row).copied());
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            remove_ui(ui, page, row, name);
            lock_ui(ui, page, row, name);
            state_ui(ui, page, row, name);
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
                        let shares = share.map(|share| part_share(&share)).unwrap_or_default();
                        let text = format!(
                            "{}\n{shares}",
                            material_words::tooltip(
                                material,
                                page.catalogue,
                                page.state.settings.units
                            )
                        );
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
    if page.state.details == Some(row) {
        condition_ui(ui, page, row, name);
    }
}

fn share_ui(ui: &mut Ui, page: &Page<'_>, share: &PartShare) {
    ui.label(
        RichText::new(part_share(share))
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
        .on_hover_text("Keeps this amount as it is when advice is given.")
        .clicked()
    {
        *locked = !*locked;
    }
}

/// Opens how wilted, packed or chopped it is; marked where it differs from the catalogue.
fn state_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let open = page.state.details == Some(row);
    let listed = page.project.mix.ingredients[row].condition.is_as_listed();
    let word = if listed { "state" } else { "state *" };
    let button = Button::selectable(open, RichText::new(word).small());
    let action = Action::ToggleDetails(row);
    styled_button(ui, page, action, button, &format!("State of {name}"));
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
        let key = format!("{material}/{}", amount::one(&amount.measure));
        let first_top = first_top(&amount.measure);
        let mut value = amount.value;
        let sizes = page.look.sizes;
        let tail = sizes.value_width + sizes.measure_width + 2.0 * sizes.gap;
        let hint = format!(
            "How much {name} goes in, in {}.",
            amount::several(&amount.measure)
        );
        let control = Control {
            name,
            hint: &hint,
            key: &key,
            row,
            first_top,
            most: bounds::AMOUNT.high,
            tail,
            mark: mark_of(page, row),
        };
        slider_ui(ui, page.state, page.look, &control, &mut value);
        value_ui(ui, &control, sizes.value_width, &mut value);
        page.project.mix.ingredients[row].amount.value = value;
        measure_ui(ui, page, row, name);
    });
}

/// Where a balance that is looked at would put this row, in the row's own measure.
fn mark_of(page: &Page<'_>, row: usize) -> Option<f64> {
    let then = &page.shown.preview.as_ref()?.mix().ingredients.get(row)?;
    let now = page.project.mix.ingredients.get(row)?;
    let density = now.material_in(page.catalogue)?.bulk_density.typical;
    let said = then.amount.said_in(now.amount.measure.clone(), density);
    Some(said.value)
}

fn measure_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let amount = page.project.mix.ingredients[row].amount.clone();
    let units = page.state.settings.units;
    if let Some(measure) = measure_picker_ui(ui, name, &amount, units, page.look) {
        page.ask(Action::SetMeasure(row, measure));
    }
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
            if let Some(blend) = page.shown.stages.blend() {
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
            mark: page
                .shown
                .preview
                .as_ref()
                .map(|preview| preview.mix().added_water_l / litres_in_one),
        };
        slider_ui(ui, page.state, page.look, &control, &mut value);
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
