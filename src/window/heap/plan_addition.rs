//! What an entry of the plan adds to the heap: materials with amounts, and where they go.
//!
//! In: an entry of the plan. Out: the same, edited; nothing where it adds nothing.
//!
//! Not here: the entry's day (`plan_list`), the search for a material (`material_picker`).
//!
//! Tested by: `tests/window/heap_plan.rs`.

use eframe::egui::{ComboBox, Ui};

use crate::heap::{Operation, Placing};
use crate::material::Side;
use crate::mix::{Ingredient, Mix};
use crate::quantity::bounds;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::amount_control::{drag_speed, first_top, measure_picker_ui};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::QuantityField;

/// Rows for what this entry adds.
pub fn addition_ui(ui: &mut Ui, page: &mut Page<'_>, entry: usize) {
    let Operation::Add { mix, mut placing } =
        page.project.heap.plan.events[entry].operation.clone()
    else {
        return;
    };
    let mut edited = mix.clone();
    let mut dropped = None;
    for (place, ingredient) in edited.ingredients.iter_mut().enumerate() {
        ui.push_id(("addition", entry, place), |ui| {
            if ingredient_ui(ui, page, ingredient) {
                dropped = Some(place);
            }
        });
    }
    // An entry that adds nothing is dropped as a whole, by its own button.
    if let Some(place) = dropped
        && edited.ingredients.len() > 1
    {
        edited.ingredients.remove(place);
    }
    ui.horizontal(|ui| {
        ui.add_space(page.look.sizes.gap);
        for (way, label, tip) in [
            (
                Placing::OnTop,
                "on top",
                "Laid over what is there, as a layer.",
            ),
            (
                Placing::MixedIn,
                "mixed in",
                "Mixed through everything; the heap is turned for it.",
            ),
        ] {
            let name = format!("Entry {}: {label}", entry + 1);
            ui.radio_value(&mut placing, way, label)
                .named(&name)
                .on_hover_text(unbroken(tip));
        }
        action_button(ui, page, Action::PickForPlan(Some(entry)));
    });
    put_back(page, entry, edited, placing);
    brown_ui(ui, page, entry);
}

/// Materials that every recipe is offered to balance portions with.
const USUAL_BROWNS: [&str; 4] = ["leaves_dry_loose", "straw", "sawdust", "cardboard"];

/// The brown that portions are balanced with, and the button that does it.
fn brown_ui(ui: &mut Ui, page: &mut Page<'_>, entry: usize) {
    let recipe = page.project.mix.ingredients.iter();
    let mut browns: Vec<String> = recipe
        .map(|row| row.material.clone())
        .filter(|id| {
            let material = page.catalogue.find(id);
            material.is_some_and(|material| material.side() == Side::Brown)
        })
        .collect();
    browns.extend(USUAL_BROWNS.map(str::to_owned));
    let mut chosen = page.state.heap.portion_brown.clone();
    ui.horizontal(|ui| {
        ui.add_space(page.look.sizes.gap);
        ui.label("each portion with");
        let name = format!("Brown for entry {}", entry + 1);
        ComboBox::from_id_salt(("brown", entry))
            .selected_text(page.name_of(&chosen))
            .width(page.look.sizes.measure_width * 1.5)
            .truncate()
            .show_ui(ui, |ui| {
                for (place, id) in browns.iter().enumerate() {
                    if !browns[..place].contains(id) {
                        let label = page.name_of(id);
                        ui.selectable_value(&mut chosen, id.clone(), label);
                    }
                }
            })
            .response
            .named(&name)
            .on_hover_text(unbroken("What each portion is balanced with."));
        page.state.heap.portion_brown = chosen;
        action_button(ui, page, Action::BalancePortion(entry));
    });
}

fn put_back(page: &mut Page<'_>, entry: usize, mix: Mix, placing: Placing) {
    page.project.heap.plan.events[entry].operation = Operation::Add { mix, placing };
}

/// One material: amount, measure, name; whether it is to be dropped.
fn ingredient_ui(ui: &mut Ui, page: &mut Page<'_>, ingredient: &mut Ingredient) -> bool {
    let name = page.name_of(&ingredient.material);
    let units = page.state.settings.units;
    let full = format!("{name} added later");
    ui.horizontal(|ui| {
        ui.add_space(page.look.sizes.gap);
        let amount = &mut ingredient.amount;
        QuantityField::new(&full, 0.0, bounds::AMOUNT.high)
            .hint("How much is added. Drag it, or click to type it.")
            .speed(drag_speed(first_top(&amount.measure)))
            .show(ui, &mut amount.value);
        ui.scope(|ui| {
            ui.set_max_width(page.look.sizes.measure_width);
            let own = &mut page.project.measures;
            if let Some(measure) = measure_picker_ui(ui, &full, amount, (units, own), page.look)
                && let Some(material) = page.catalogue.find(&ingredient.material)
            {
                *amount = amount.said_in(measure, material.bulk_density.typical);
            }
        });
        ui.label(unbroken(&name));
        ui.button("×")
            .named(&format!("Remove {full}"))
            .on_hover_text("Takes this material out of the entry.")
            .clicked()
    })
    .inner
}
