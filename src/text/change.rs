//! The word for a change of a project, for the undo menu.
//!
//! In: the project before and after. Out: a few words, "more Grass" or "title".
//!
//! Not here: when a step is taken (`document::history`).
//!
//! Tested by: `tests/window/undo.rs`.

use crate::diary::Diary;
use crate::document::Project;
use crate::heap::Heap;
use crate::material::Catalogue;
use crate::mix::Ingredient;
use crate::quantity::Amount;

use super::amount::amount_of;
use super::mix::name_of;

/// What undo calls a cure.
pub const CURED: &str = "the cure";
/// Told once a cure is in the recipe.
pub const CURED_TOLD: &str = "The cure is in the recipe; one undo takes it back.";

/// Turned once more, in the plan of a class.
pub const TURNED_ONCE: &str = "turned once";
/// Watered, in the plan of a class.
pub const CAN_OF_WATER: &str = "a can of water";
/// Half of everything.
pub const HALF_THE_SIZE: &str = "half the size";
/// An own material taken out.
pub const REMOVED_MATERIAL: &str = "removed own material";
/// A row back in the state of the catalogue.
pub const STATE_AS_LISTED: &str = "state as in the catalogue";
/// A balance taken over.
pub const BALANCED: &str = "balanced the mix";
/// A piece of advice carried out.
pub const ADVISED: &str = "followed the advice";
/// A proposed plan taken over.
pub const PROPOSED_PLAN: &str = "used the proposed plan";

/// The day the heap was built, said or corrected.
pub const BUILT: &str = "day it was built";
/// A reading entered.
pub const READING: &str = "a reading";
/// A reading changed.
pub const CHANGED_READING: &str = "changed a reading";
/// A reading taken out.
pub const DROPPED_READING: &str = "removed a reading";
/// A probe of a logger taken out.
pub const DROPPED_PROBE: &str = "removed a probe";
/// Something that was done to the heap.
pub const HAPPENED: &str = "what was done";
/// A planned entry that was done.
pub const WAS_DONE: &str = "done as planned";
/// A planned entry that was not done.
pub const NOT_DONE: &str = "not done";
/// Something that was done, taken out again.
pub const DROPPED_DONE: &str = "removed what was done";

/// An own material made or changed.
pub fn own_material(name: &str) -> String {
    format!("own material {name}")
}

/// An ingredient added.
pub fn added(name: &str) -> String {
    format!("added {name}")
}

/// An ingredient removed.
pub fn removed(name: &str) -> String {
    format!("removed {name}")
}

/// An ingredient said in another measure.
pub fn measure_of(name: &str) -> String {
    format!("measure of {name}")
}

/// Buckets of something added: "1 bucket of Grass".
pub fn buckets(added: &Amount, name: &str) -> String {
    amount_of(added, name)
}

/// A portion of the plan brought into its bands.
pub const PORTION_BALANCED: &str = "portion balanced";

/// Something that the plan adds.
pub fn plan_adds(name: &str) -> String {
    format!("plan adds {name}")
}

/// Names the first difference between two projects.
pub fn change(before: &Project, after: &Project, catalogue: &Catalogue) -> String {
    let (old, new) = (&before.mix.ingredients, &after.mix.ingredients);
    if old.len() != new.len() {
        return "ingredients".to_owned();
    }
    if let Some((old, new)) = old.iter().zip(new).find(|(old, new)| old != new) {
        return ingredient(old, new, catalogue);
    }
    water(before, after)
        .or_else(|| heap(&before.heap, &after.heap))
        .or_else(|| garden_and_page(before, after))
        .or_else(|| diary(&before.diary, &after.diary))
        .unwrap_or("change")
        .to_owned()
}

fn ingredient(old: &Ingredient, new: &Ingredient, catalogue: &Catalogue) -> String {
    let name = name_of(&new.material, catalogue);
    if old.condition != new.condition {
        format!("state of {name}")
    } else if old.locked != new.locked {
        if new.locked {
            format!("lock {name}")
        } else {
            format!("unlock {name}")
        }
    } else if old.stock != new.stock {
        format!("stock of {name}")
    } else if old.amount.value < new.amount.value {
        format!("more {name}")
    } else {
        format!("less {name}")
    }
}

/// The first of some words whose change is one.
fn first(changes: &[(bool, &'static str)]) -> Option<&'static str> {
    changes
        .iter()
        .find(|(changed, _)| *changed)
        .map(|(_, words)| *words)
}

fn water(before: &Project, after: &Project) -> Option<&'static str> {
    let (old, new) = (before.mix.added_water_l, after.mix.added_water_l);
    first(&[(old < new, "more water"), (old > new, "less water")])
}

fn heap(old: &Heap, new: &Heap) -> Option<&'static str> {
    let entries = (old.plan.events.len(), new.plan.events.len());
    first(&[
        (old.shape != new.shape, "shape of the heap"),
        (entries.0 < entries.1, "added to the plan"),
        (entries.0 > entries.1, "removed from the plan"),
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
    ])
}

fn diary(old: &Diary, new: &Diary) -> Option<&'static str> {
    let readings = (old.readings.len(), new.readings.len());
    let logs = (old.logs.len(), new.logs.len());
    first(&[
        (old.built != new.built, BUILT),
        (readings.0 < readings.1, READING),
        (readings.0 > readings.1, DROPPED_READING),
        (old.readings != new.readings, CHANGED_READING),
        (logs.0 < logs.1, "a logger's temperatures"),
        (logs.0 > logs.1, DROPPED_PROBE),
        (old.logs != new.logs, "probe of a logger"),
        (old.done != new.done, HAPPENED),
    ])
}

fn garden_and_page(before: &Project, after: &Project) -> Option<&'static str> {
    first(&[
        (before.beds.len() < after.beds.len(), "added a bed"),
        (before.beds.len() > after.beds.len(), "removed a bed"),
        (before.beds != after.beds, "bed"),
        (before.uses != after.uses, "what it is for"),
        (before.field_tests != after.field_tests, "field test"),
        (before.aim != after.aim, "aim"),
        (before.measures != after.measures, "own measures"),
        (before.own_materials != after.own_materials, "own materials"),
        (before.title != after.title, "title"),
        (before.season != after.season, "season"),
        (before.place != after.place, "place"),
        (before.notes != after.notes, "notes"),
    ])
}
