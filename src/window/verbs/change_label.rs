//! The word for a change, for the undo menu.
//!
//! In: the project before and after. Out: a few words, "more Grass" or "title".
//!
//! Not here: when a step is taken (`document::history`).
//!
//! Tested by: `tests/window/undo.rs`.

use crate::document::Project;
use crate::material::Catalogue;
use crate::mix::Ingredient;

/// Names the first difference between two projects.
pub fn change_label(before: &Project, after: &Project, catalogue: &Catalogue) -> String {
    let (old, new) = (&before.mix.ingredients, &after.mix.ingredients);
    if old.len() == new.len() {
        if let Some((old, new)) = old.iter().zip(new).find(|(old, new)| old != new) {
            return ingredient_label(old, new, catalogue);
        }
    } else {
        return "ingredients".to_owned();
    }
    let (old, new) = (&before.heap, &after.heap);
    let changes = [
        (
            before.mix.added_water_l < after.mix.added_water_l,
            "more water",
        ),
        (
            before.mix.added_water_l > after.mix.added_water_l,
            "less water",
        ),
        (old.shape != new.shape, "shape of the heap"),
        (
            old.plan.events.len() < new.plan.events.len(),
            "added to the plan",
        ),
        (
            old.plan.events.len() > new.plan.events.len(),
            "dropped from the plan",
        ),
        (old.plan != new.plan, "plan"),
        (
            old.base != new.base || old.in_sun != new.in_sun,
            "place of the heap",
        ),
        (old.cover != new.cover, "cover"),
        (old.climate != new.climate, "climate"),
        (
            old.start_day_of_year != new.start_day_of_year,
            "day it is built",
        ),
        (old.days != new.days, "forecast length"),
        (before.beds.len() < after.beds.len(), "added a bed"),
        (before.beds.len() > after.beds.len(), "dropped a bed"),
        (before.beds != after.beds, "bed"),
        (before.uses != after.uses, "what it is for"),
        (before.field_tests != after.field_tests, "field test"),
        (before.own_materials != after.own_materials, "own materials"),
        (before.title != after.title, "title"),
        (before.season != after.season, "season"),
        (before.place != after.place, "place"),
        (before.notes != after.notes, "notes"),
    ];
    changes
        .into_iter()
        .find(|(changed, _)| *changed)
        .map_or("change", |(_, label)| label)
        .to_owned()
}

fn ingredient_label(old: &Ingredient, new: &Ingredient, catalogue: &Catalogue) -> String {
    let name = catalogue
        .find(&new.material)
        .map_or(new.material.as_str(), |material| material.name.as_str());
    let what = if old.condition != new.condition {
        "state of"
    } else if old.locked != new.locked {
        if new.locked { "lock" } else { "unlock" }
    } else if old.stock != new.stock {
        "stock of"
    } else if old.amount.value < new.amount.value {
        "more"
    } else {
        "less"
    };
    format!("{what} {name}")
}
