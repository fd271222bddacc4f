//! One gauge mended alone: wetter, browner, airier.
//!
//! In: a mix, the catalogue, a goal, a gauge. Out: single changes that bring it into its band, the
//! least effort first, each with the blend after it.
//!
//! One lever moves at a time. How far is in closed form, since each end of a band is linear in it
//! (the table in the module): `margin + slope d >= 0`. A fix that takes another gauge out of the best part of its
//! band, or further out than it is, is no fix.
//! Not here: several gauges at once (`answer`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::Catalogue;
use crate::mix::{Blend, Gauge, Mix, MixError, TargetBand, Totals};

use super::carry::{carried, step};
use super::lever::{Lever, What};
use super::task::{Demand, KEPT, Task, demands};
use super::{BalanceStep, BandEnd, Goal, Rounding};

/// Kinds worth fetching for one gauge (common practice).
const KINDS: [&str; 5] = [
    "leaves_dry_loose",
    "straw",
    "wood_chips_arb",
    "grass_fresh",
    "veg_scraps",
];
/// Most that are named.
const MOST: usize = 3;
/// Least part of the width of a best band by which another gauge is seen to get worse.
const SEEN: f64 = 0.02;
/// Finest last.
const FINENESS: [(f64, Rounding); 4] = [
    (1.0, Rounding::Whole),
    (0.5, Rounding::Halves),
    (0.25, Rounding::Quarters),
    (0.1, Rounding::Tenths),
];

/// One change that mends one gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Fix {
    /// What to do.
    pub step: BalanceStep,
    /// The mix then.
    pub mix: Mix,
    /// Its blend, for the ghost.
    pub after: Blend,
    /// Whether the gauge is in its best part then; else it works.
    pub best: bool,
    /// What it costs, handfuls.
    pub effort: f64,
}

/// Single changes that bring one gauge into the best part of its band, or where none can, to where
/// it works; at most three, the least effort first. Empty where it is in its best part, where there
/// is no dry matter, or where no single change can.
///
/// # Errors
/// [`MixError`] if the mix holds an unknown material or an amount outside its bound.
pub fn fixes(
    mix: &Mix,
    catalogue: &Catalogue,
    goal: &Goal,
    gauge: Gauge,
) -> Result<Vec<Fix>, MixError> {
    let mut task = Task::new(mix, catalogue, goal)?;
    let there = |id: &str| mix.ingredients.iter().any(|row| row.material == id);
    let absent = KINDS.iter().filter(|id| !there(id));
    let kinds = absent.filter_map(|id| catalogue.find(id));
    task.extend(kinds.map(Lever::fetched));
    let start = task.start();
    let sums = task.sums(&start);
    let band = task.band(&goal.bands, gauge);
    let best: Vec<Demand> = demands(gauge, goal.sought(gauge, &band)).collect();
    let in_best = best.iter().all(|demand| task.keeps(demand, &sums, KEPT));
    if sums.dry_kg <= 0.0 || in_best {
        return Ok(Vec::new());
    }
    let mut found = with_ends(mix, catalogue, (&task, goal), (&best, gauge))?;
    if found.is_empty() {
        let works: Vec<Demand> = demands(gauge, band.works).collect();
        if !works.iter().all(|demand| task.keeps(demand, &sums, KEPT)) {
            found = with_ends(mix, catalogue, (&task, goal), (&works, gauge))?;
        }
    }
    for fix in &mut found {
        let value = |blend: &Blend| blend.gauges.as_ref().map(|gauges| gauges.value(gauge));
        let inside = |band: &TargetBand, value: f64| value >= band.best.0 && value <= band.best.1;
        fix.best = value(&fix.after).is_some_and(|value| inside(&band, value));
    }
    Ok(found)
}

/// A fix by each lever that can.
fn with_ends(
    mix: &Mix,
    catalogue: &Catalogue,
    (task, goal): (&Task<'_>, &Goal),
    (ends, gauge): (&[Demand], Gauge),
) -> Result<Vec<Fix>, MixError> {
    let start = task.start();
    let before = task.sums(&start);
    let others = Gauge::ALL.into_iter().filter(|other| *other != gauge);
    let others: Vec<(Demand, Gauge)> = others
        .flat_map(|other| {
            let band = task.band(&goal.bands, other);
            let ends = demands(other, goal.sought(other, &band));
            ends.map(move |demand| (demand, other))
        })
        .collect();
    let mut reached = Vec::new();
    for (place, lever) in task.levers.iter().enumerate() {
        let Some((handfuls, rounding)) = reach(task, place, ends) else {
            continue;
        };
        let mut moved = start.clone();
        moved[place] = handfuls;
        let after = task.sums(&moved);
        let harmless = others.iter().all(|(demand, other)| {
            let band = task.band(&goal.bands, *other);
            !worsens(task, demand, &band, (&before, &after))
        });
        // What was too much before is another matter.
        let takes = lever.takes(handfuls, after.volume_m3());
        if harmless && takes && after.dry_kg > 0.0 && after.cn().is_finite() {
            let effort = lever.weight.sqrt() * (handfuls - lever.start).abs();
            reached.push((effort, place, moved, rounding));
        }
    }
    reached.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found = Vec::new();
    for (effort, place, moved, rounding) in reached.into_iter().take(MOST) {
        let Some(step) = step(mix, &task.levers[place], moved[place], rounding) else {
            continue;
        };
        let carried = carried(mix, catalogue, task, (&moved, rounding))?;
        found.push(Fix {
            step,
            mix: carried.mix,
            after: carried.after,
            best: false,
            effort,
        });
    }
    Ok(found)
}

/// Whether a gauge leaves the part of its band that is sought, or lies further outside than before by what is seen.
fn worsens(
    task: &Task<'_>,
    demand: &Demand,
    band: &TargetBand,
    (before, after): (&Totals, &Totals),
) -> bool {
    if task.keeps(demand, after, KEPT) {
        return false;
    }
    if task.keeps(demand, before, KEPT) {
        return true;
    }
    let (was, is) = (demand.value(before), demand.value(after));
    let further = match demand.side {
        BandEnd::Low => was - is,
        BandEnd::High => is - was,
    };
    let (low, high) = band.best;
    let width = if high.is_finite() {
        high - low
    } else {
        demand.bound.abs()
    };
    // Two infinities, of a mix without nitrogen, are as far.
    !further.is_nan() && further > SEEN * width
}

/// The amount of one lever, in measures, nearest to what there is, that keeps both ends.
fn reach(task: &Task<'_>, place: usize, ends: &[Demand]) -> Option<(f64, Rounding)> {
    let lever = &task.levers[place];
    let start = task.start();
    let sums = task.sums(&start);
    let (mut least, mut most) = lever.range;
    for demand in ends {
        let row = task.row(demand, &sums, 1.0);
        let slope = row.coefficients[place];
        if slope == 0.0 {
            if !task.keeps(demand, &sums, KEPT) {
                return None;
            }
            continue;
        }
        let end = lever.start - row.constant / slope;
        if slope > 0.0 {
            least = least.max(end);
        } else {
            most = most.min(end);
        }
    }
    // Leaving a row out is for the balance to propose, with what takes its place.
    if matches!(lever.what, What::Row(_)) && most <= 0.0 {
        return None;
    }
    if least.is_nan() || most.is_nan() || least > most {
        return None;
    }
    let nearest = lever.start.clamp(least, most);
    if !nearest.is_finite() {
        return None;
    }
    for (fineness, word) in FINENESS {
        let grain = fineness * lever.grain / lever.handful;
        let up = (nearest / grain - 1e-9).ceil() * grain;
        let down = (nearest / grain + 1e-9).floor() * grain;
        let value = if nearest > lever.start { up } else { down };
        if value >= least && value <= most {
            return Some((value, word));
        }
    }
    Some((nearest, Rounding::AsCalculated))
}
