//! The state of an ingredient: sliders for wilted, packed and chopped, and what they do in words; its place among the rows.
//!
//! In: a row of the mix. Out: its condition, edited.
//!
//! Not here: what a state does to a material (`material::Condition`).
//!
//! Tested by: `tests/window/materials.rs`.

use eframe::egui::{Button, Slider, Ui};

use crate::material::condition::{CHOPPED, PACKED, WILTED};
use crate::material::{Condition, Material};
use crate::text::material as material_words;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::{fill_strongly, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::widgets::named::Named;

/// The details of one row.
pub fn condition_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let Some(material) = page
        .project
        .mix
        .ingredients
        .get(row)
        .and_then(|ingredient| page.catalogue.find(&ingredient.material))
    else {
        return;
    };
    let mut condition = page.project.mix.ingredients[row].condition;
    sliders_ui(ui, page, material, &mut condition, name);
    page.project.mix.ingredients[row].condition = condition;
    let weak = page.look.colours.text_weak.0;
    for sentence in
        material_words::condition_effects(condition, material, page.state.settings.units)
    {
        ui.label(unbroken(sentence).small().color(weak));
    }
    order_ui(ui, page, row, name);
    ui.horizontal(|ui| {
        let id = material.id.clone();
        plain_button(ui, page, Action::ShowMaterial(id), "About this material…");
        if !condition.is_as_listed() {
            plain_button(ui, page, Action::AsListed(row), "As in the catalogue");
        }
    });
}

/// Moves the row among the others, for those who cannot drag it.
fn order_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let rows = page.project.mix.ingredients.len();
    ui.horizontal(|ui| {
        for (word, to) in [("up", row.checked_sub(1)), ("down", Some(row + 1))] {
            let to = to.filter(|to| *to < rows);
            let button = ui
                .add_enabled(to.is_some(), Button::new(format!("Move {word}")))
                .named(&format!("Move {name} {word}"))
                .on_hover_text(
                    "Changes the order of the rows; it makes no difference to the heap.",
                );
            if let (true, Some(to)) = (button.clicked(), to) {
                page.project.mix.ingredients.swap(row, to);
                page.state.details = Some(to);
            }
        }
    });
}

fn sliders_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    material: &Material,
    condition: &mut Condition,
    name: &str,
) {
    let slider = |ui: &mut Ui, value: &mut f64, bound: crate::quantity::Bound, words: [&str; 3]| {
        let [label, hint, ends] = words;
        ui.horizontal(|ui| {
            let tail = page.look.sizes.measure_width * 1.9;
            ui.spacing_mut().slider_width =
                (ui.available_width() - tail).max(page.look.sizes.least_width);
            fill_strongly(ui, page.look);
            ui.add(
                Slider::new(value, bound.low..=bound.high)
                    .show_value(false)
                    .step_by(0.05),
            )
            .named(&format!("{label}: {name}"))
            .on_hover_text(unbroken(hint));
            ui.label(unbroken(ends).small());
        });
        *value = value.clamp(bound.low, bound.high);
    };
    let mut any = false;
    if Condition::can_wilt(material) {
        any = true;
        let days = format!("fresh – wilted ({:.1} days)", condition.wilted_days);
        let hint = "Days it lay drying in the open; it loses water only.";
        slider(
            ui,
            &mut condition.wilted_days,
            WILTED,
            ["Wilted", hint, &days],
        );
    }
    if Condition::can_pack(material) {
        any = true;
        let hint = "How tightly it fills its measure, between the loosest and the densest figures in the sources.";
        slider(
            ui,
            &mut condition.packed,
            PACKED,
            ["Packed", hint, "loose – packed"],
        );
    }
    if Condition::can_chop(material) {
        any = true;
        let share = format!("whole – chopped ({:.0} %)", condition.chopped * 100.0);
        let hint = "How much of it was chopped, mown over or shredded.";
        slider(
            ui,
            &mut condition.chopped,
            CHOPPED,
            ["Chopped", hint, &share],
        );
    }
    if !any {
        ui.label("Nothing is known of this material in other states.");
    }
}
