//! Ways out where a mix cannot be balanced: what to fetch, to unlock or to have more of.
//!
//! In: a mix, the catalogue, a goal. Out: at most five [`WayOut`], cheapest first.
//!
//! Each is tried: one thing is allowed (another material, a locked row, more than the stock), the
//! balance is sought again and put into whole measures. Where no single thing helps, two
//! materials are tried together.
//! Not here: the nearest mix without them (`tiers`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::Catalogue;
use crate::mix::{Change, Mix, MixError};
use crate::quantity::Amount;

use super::carry::{Carried, carried, told};
use super::lever::{Lever, WEIGHT_OF_FETCHING, What};
use super::measures::{beyond_best, in_measures, short_of};
use super::task::Task;
use super::tiers::reachable;
use super::{Goal, Limit, StepMaterial, StepSubject, WayNeed, WayOut};

/// Greens that a garden or kitchen has (common practice).
const GREENS: [&str; 3] = ["grass_fresh", "veg_scraps", "weeds_soft"];
/// Browns that a garden or house has (common practice).
const BROWNS: [&str; 4] = ["leaves_dry_loose", "straw", "cardboard", "wood_chips_arb"];
/// Nitrogen by the handful: fertilisers, urine, manures (common practice).
const NITROGEN_SOURCES: [&str; 6] = [
    "urea",
    "urine",
    "poultry_pellets",
    "horse_straw",
    "cattle_fresh",
    "blood_meal",
];
/// Most rows that are tried unlocked or without their stock, so that the time is bounded.
const MOST_FREED: usize = 12;
/// Most that are named.
const MOST: usize = 5;

/// The nearest mix: a task with handfuls in measures.
#[derive(Clone, Copy)]
pub(super) struct Nearest<'a> {
    pub(super) task: &'a Task<'a>,
    pub(super) handfuls: &'a [f64],
    pub(super) fighting: &'a [Limit],
}

/// Where ways out are sought.
struct Place<'a, 'b> {
    mix: &'b Mix,
    catalogue: &'a Catalogue,
    goal: &'b Goal,
    nearest: Nearest<'a>,
}

/// The ways out, cheapest first.
///
/// # Errors
/// [`MixError`] if the mix cannot be resolved.
pub(super) fn ways_out<'a>(
    mix: &Mix,
    catalogue: &'a Catalogue,
    goal: &Goal,
    nearest: Nearest<'a>,
) -> Result<Vec<WayOut>, MixError> {
    let mut ways = Vec::new();
    let rows = nearest.fighting.iter().filter_map(|limit| match limit {
        Limit::Stock(row) | Limit::Locked(row) => Some(*row),
        Limit::Gauge { .. } | Limit::Dose(_) => None,
    });
    for row in rows.take(MOST_FREED) {
        ways.extend(with_row_freed(mix, catalogue, (goal, nearest), row)?);
    }
    let nitrogen: &[&str] = if goal.nitrogen_sources {
        &NITROGEN_SOURCES
    } else {
        &[]
    };
    let there = |id: &str| mix.ingredients.iter().any(|row| row.material == id);
    let place = Place {
        mix,
        catalogue,
        goal,
        nearest,
    };
    let levers = |ids: &[&str]| -> Vec<Lever<'a>> {
        let absent = ids.iter().filter(|id| !there(id));
        absent
            .filter_map(|id| catalogue.find(id))
            .map(Lever::fetched)
            .collect()
    };
    let greens = levers(&[&GREENS, nitrogen].concat());
    let browns = levers(&BROWNS);
    for lever in greens.iter().chain(&browns) {
        let fetched = std::slice::from_ref(lever);
        ways.extend(with_fetched(&place, fetched)?);
    }
    if ways.is_empty() || mix.ingredients.is_empty() {
        for green in &greens {
            for brown in &browns {
                let pair = [green.clone(), brown.clone()];
                ways.extend(with_fetched(&place, &pair)?);
            }
        }
    }
    ways.sort_by(|a, b| a.effort.total_cmp(&b.effort));
    ways.truncate(MOST);
    Ok(ways)
}

/// What is reached with a task, in whole measures; `None` if it does not work. The change is sought
/// from the nearest mix and carried out on the present one.
fn tried(place: &Place<'_, '_>, task: &Task<'_>) -> Result<Option<(Carried, bool, f64)>, MixError> {
    let from_nearest = task.starting_from(place.nearest.task, place.nearest.handfuls);
    let Some(settled) = reachable(&from_nearest, place.goal) else {
        return Ok(None);
    };
    let (handfuls, rounding) = in_measures(&from_nearest, &settled);
    if !task.takes(&handfuls, task.sums(&handfuls).volume_m3()) {
        return Ok(None);
    }
    let effort = from_nearest.effort(&handfuls).sqrt();
    let carried = carried(place.mix, place.catalogue, task, (&handfuls, rounding))?;
    let best = beyond_best(task, place.goal, &carried.after).is_empty();
    let works = short_of(task, place.goal, &carried.after).is_empty();
    Ok(works.then_some((carried, best, effort)))
}

fn with_fetched<'a>(
    place: &Place<'a, '_>,
    fetched: &[Lever<'a>],
) -> Result<Option<WayOut>, MixError> {
    let mut task = place.nearest.task.clone();
    task.extend(fetched.iter().cloned());
    let Some((carried, best, effort)) = tried(place, &task)? else {
        return Ok(None);
    };
    let needs: Vec<WayNeed> = carried
        .steps
        .iter()
        .filter_map(|step| match (&step.change, &step.of) {
            (Change::Add { amount, .. }, StepSubject::Material(material)) => Some(WayNeed::Add {
                material: material.clone(),
                amount: amount.clone(),
            }),
            _ => None,
        })
        .collect();
    Ok((!needs.is_empty()).then(|| way(needs, carried, (best, effort))))
}

/// The row unlocked, or its stock without end.
fn with_row_freed(
    mix: &Mix,
    catalogue: &Catalogue,
    (goal, nearest): (&Goal, Nearest<'_>),
    row: usize,
) -> Result<Option<WayOut>, MixError> {
    let Some(ingredient) = mix.ingredients.get(row) else {
        return Ok(None);
    };
    let mut freed = mix.clone();
    let limit = match (ingredient.locked, ingredient.stock) {
        (true, _) => {
            freed.ingredients[row].locked = false;
            None
        }
        (false, Some(stock)) => {
            freed.ingredients[row].stock = None;
            Some(stock)
        }
        (false, None) => return Ok(None),
    };
    let mut task = Task::new(&freed, catalogue, goal)?;
    if limit.is_some() {
        let of_row = |lever: &&mut Lever<'_>| lever.what == What::Row(row);
        if let Some(lever) = task.levers.iter_mut().find(of_row) {
            lever.weight = WEIGHT_OF_FETCHING;
        }
    }
    let place = Place {
        mix: &freed,
        catalogue,
        goal,
        nearest,
    };
    let Some((mut carried, best, effort)) = tried(&place, &task)? else {
        return Ok(None);
    };
    let unknown = || StepMaterial {
        id: ingredient.material.clone(),
        name: ingredient.material.clone(),
    };
    let material = catalogue
        .find(&ingredient.material)
        .map_or_else(unknown, told);
    let amount = carried.mix.ingredients[row].amount.clone();
    let need = match limit {
        None => WayNeed::Unlock {
            row,
            material,
            amount,
        },
        Some(stock) if amount.value > stock => {
            // The stock is what there is; with more fetched it grows to what is used.
            carried.mix.ingredients[row].stock = Some(amount.value);
            let more = Amount::new(amount.value - stock, amount.measure);
            WayNeed::More {
                row,
                material,
                more,
            }
        }
        Some(_) => return Ok(None),
    };
    Ok(Some(way(vec![need], carried, (best, effort))))
}

fn way(needs: Vec<WayNeed>, carried: Carried, (best, effort): (bool, f64)) -> WayOut {
    WayOut {
        needs,
        mix: carried.mix,
        after: carried.after,
        steps: carried.steps,
        best,
        effort,
    }
}
