//! Handfuls carried out: the mix with other amounts, and what was done to it.
//!
//! In: a mix, a task, handfuls. Out: the mix after it with its steps and its blend.
//!
//! Not here: which handfuls (`tiers`, `round`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::{Catalogue, Material};
use crate::mix::{Blend, Change, Mix, MixError, blend};
use crate::quantity::{Amount, Measure, bounds};

use super::lever::{Lever, What};
use super::task::Task;
use super::{BalanceStep, Rounding, StepMaterial, StepSubject};

/// Grams from which on it is said in kilograms.
const KILOGRAMS_FROM_G: f64 = 2000.0;

/// A mix after its steps.
pub(super) struct Carried {
    pub(super) mix: Mix,
    pub(super) after: Blend,
    pub(super) steps: Vec<BalanceStep>,
}

/// The mix with so many handfuls of each lever.
///
/// # Errors
/// [`MixError`] if an amount has left its bound; ranges of levers keep it inside.
pub(super) fn carried(
    mix: &Mix,
    catalogue: &Catalogue,
    task: &Task<'_>,
    (handfuls, rounding): (&[f64], Rounding),
) -> Result<Carried, MixError> {
    let mut after = mix.clone();
    let mut steps: Vec<BalanceStep> = task
        .levers
        .iter()
        .zip(handfuls)
        .filter_map(|(lever, handfuls)| step(mix, lever, *handfuls, rounding))
        .collect();
    steps.sort_by_key(|step| match step.change {
        Change::Amount { row, .. } => row,
        Change::Water { .. } => usize::MAX - 1,
        Change::Add { .. } | Change::Scale { .. } => usize::MAX,
    });
    for step in &steps {
        step.change.apply(&mut after);
    }
    let parts = after.resolve(catalogue)?;
    let blended = blend(&parts, after.added_water_l);
    Ok(Carried {
        after: blended,
        steps,
        mix: after,
    })
}

/// The step of one lever, if it moves.
pub(super) fn step(
    mix: &Mix,
    lever: &Lever<'_>,
    handfuls: f64,
    rounding: Rounding,
) -> Option<BalanceStep> {
    if handfuls == lever.start {
        return None;
    }
    let value = match rounding {
        Rounding::AsCalculated => handfuls * lever.handful,
        // What multiplying by the handful has left of the whole number.
        _ => (handfuls * lever.handful * 1e6).round() / 1e6,
    };
    // Rounding in the last digit must not exceed what there is.
    let end = lever.range.1 * lever.handful;
    let value = if value > end * (1.0 + 1e-12) {
        end
    } else {
        value
    };
    let start = match lever.what {
        What::Row(row) => mix.ingredients.get(row)?.amount.value,
        What::Water => mix.added_water_l,
        What::Fetched => 0.0,
    };
    let moved = (value - start).abs() > 1e-9 * (1.0 + start.abs());
    if !moved {
        return None;
    }
    // The last bit may lie past the bound.
    let most = match lever.what {
        What::Water => bounds::ADDED_WATER.high,
        What::Row(_) | What::Fetched => bounds::AMOUNT.high,
    };
    let mut to = Amount::new(value.clamp(0.0, most), lever.measure.clone());
    let in_grams = lever.what == What::Fetched && to.measure == Measure::Gram;
    if in_grams && to.value >= KILOGRAMS_FROM_G {
        to = Amount::new(to.value / 1000.0, Measure::Kilogram);
    }
    let change = match (lever.what, lever.material.as_deref()) {
        (What::Row(row), _) => Change::Amount {
            row,
            amount: to.clone(),
        },
        (What::Fetched, Some(material)) => Change::Add {
            material: material.id.clone(),
            amount: to.clone(),
        },
        _ => Change::Water { litres: to.value },
    };
    Some(BalanceStep {
        change,
        of: lever
            .material
            .as_deref()
            .map_or(StepSubject::Water, |it| StepSubject::Material(told(it))),
        from: Amount::new(start, to.measure.clone()),
        to,
    })
}

/// A material as a step tells of it.
pub(super) fn told(material: &Material) -> StepMaterial {
    StepMaterial {
        id: material.id.clone(),
        name: material.name.clone(),
    }
}
