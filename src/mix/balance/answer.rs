//! The balance itself: settle, round, carry out, say how far it went.
//!
//! In: a mix, the catalogue, a goal. Out: [`Balanced`].
//!
//! Not here: the order of bands (`tiers`), whole measures (`round`), ways out (`ways`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::Catalogue;
use crate::mix::{Blend, Gauge, Mix, MixError, blend};
use crate::quantity::Measure;

use super::carry::{Carried, carried};
use super::measures::{beyond_best, in_measures, short_of};
use super::task::{LEAST_M3, Task};
use super::tiers::{Settled, Tier, settle};
use super::ways::{Nearest, ways_out};
use super::{Balanced, Goal, Limit, Reached, Rounding, Size};

/// How often the most of each material is found anew where the heap comes out smaller than was sought.
const MOST_DOSINGS: usize = 6;
/// How much smaller than found the heap is then taken, so that it comes to an end.
const ROOM_BELOW_DOSE: f64 = 0.9;
/// What is left of the breach of a mix that a nearest mix is worth doing for; `tuned`: a tenth less is seen on a gauge.
const WORTH_DOING: f64 = 0.9;
/// Breach from which on further makes no difference, widths of what works.
const FAR: f64 = 100.0;

/// More buckets than this of one thing are said in barrows (common practice).
const MOST_BUCKETS: f64 = 20.0;

/// The smallest change that brings every gauge into its band.
///
/// Tries the best bands first, then what works, then the nearest mix that can be reached; see the
/// module. Costs some hundred microseconds for 20 ingredients, some milliseconds where ways out
/// must be sought.
///
/// # Errors
/// [`MixError`] if the mix holds an unknown material or an amount outside its bound.
pub fn balance(mix: &Mix, catalogue: &Catalogue, goal: &Goal) -> Result<Balanced, MixError> {
    let parts = mix.resolve(catalogue)?;
    let before = blend(&parts, mix.added_water_l);
    let task = Task::new(mix, catalogue, goal)?;
    let no_heap = before.totals.dry_kg <= 0.0 || before.totals.volume_m3() < LEAST_M3;
    if no_heap && matches!(goal.size, Size::Within(_)) {
        return Ok(Balanced {
            mix: mix.clone(),
            after: before.clone(),
            before,
            steps: Vec::new(),
            verdict: Reached::Nothing,
            rounding: Rounding::Whole,
            least_effort: 0.0,
        });
    }
    let (task, settled, (handfuls, rounding)) = dosed(task, goal);
    let least_effort = task.effort(&settled.handfuls);
    let mut carried = carried(mix, catalogue, &task, (&handfuls, rounding))?;
    let nearest = |fighting: Vec<Limit>| {
        let from = Nearest {
            task: &task,
            handfuls: &handfuls,
            fighting: &fighting,
        };
        let ways_out = ways_out(mix, catalogue, goal, from)?;
        Ok(Reached::Nearest { fighting, ways_out })
    };
    let verdict = match settled.tier {
        Tier::Nearest(fighting) => nearest(fighting)?,
        Tier::Best | Tier::Works => {
            // What the program found is put through the blend again.
            let short = short_of(&task, goal, &carried.after);
            let beyond_best = beyond_best(&task, goal, &carried.after);
            match (short.is_empty(), beyond_best.is_empty()) {
                (false, _) => nearest(short)?,
                (true, false) => Reached::Works { beyond_best },
                (true, true) => Reached::Best,
            }
        }
    };
    let failed = matches!(verdict, Reached::Nearest { .. });
    let there = mix
        .ingredients
        .iter()
        .all(|row| row.locked || row.stock.is_none_or(|stock| row.amount.value <= stock));
    if failed && there && !makes_up_better(&before, &carried.after, goal) {
        // More of the same that does not work is no answer.
        carried = Carried {
            mix: mix.clone(),
            after: before.clone(),
            steps: Vec::new(),
        };
    }
    Ok(Balanced {
        mix: carried.mix,
        before,
        after: carried.after,
        steps: carried.steps,
        verdict,
        rounding,
        least_effort,
    })
}

/// The task settled and put into measures, with no more of anything than the heap that comes of it takes.
///
/// The most of each is first that of the heap as sought, then that of the heap found; where that never comes to an end,
/// none is proposed.
fn dosed<'a>(mut task: Task<'a>, goal: &Goal) -> (Task<'a>, Settled, (Vec<f64>, Rounding)) {
    let mut tries = 0;
    loop {
        let settled = settle(&task, goal);
        let (handfuls, rounding) = in_measures(&task, &settled);
        let volume_m3 = task.sums(&handfuls).volume_m3();
        if tries == MOST_DOSINGS || task.takes(&handfuls, volume_m3) {
            return (task, settled, (handfuls, rounding));
        }
        tries += 1;
        let heap_m3 = if tries + 1 < MOST_DOSINGS {
            ROOM_BELOW_DOSE * volume_m3
        } else {
            0.0
        };
        task.dose_for(heap_m3);
    }
}

/// Whether a heap is nearer to what works than before in what it is made of, size aside; so it is too where it works
/// as it is and only its size falls short.
fn makes_up_better(before: &Blend, after: &Blend, goal: &Goal) -> bool {
    let breach = |blend: &Blend| -> f64 {
        let Some(gauges) = &blend.gauges else {
            return f64::INFINITY;
        };
        let bands = [
            (Gauge::CarbonNitrogen, goal.bands.cn),
            (Gauge::Moisture, goal.bands.moisture),
            (Gauge::AirSpace, goal.bands.free_air_space),
            (Gauge::Density, goal.bands.bulk_density_kg_per_m3),
        ];
        let each = bands.iter().map(|(gauge, band)| {
            let (value, (low, high)) = (gauges.value(*gauge), band.works);
            let over = (value - high).max(low - value).max(0.0) / (high - low);
            over.min(FAR)
        });
        each.sum()
    };
    let (was, is) = (breach(before), breach(after));
    was <= 0.0 || is < WORTH_DOING * was
}

/// The same, with rows that come to many buckets said in barrows and measured out in whole ones.
///
/// # Errors
/// As [`balance`].
pub fn balance_handily(
    mix: &Mix,
    catalogue: &Catalogue,
    goal: &Goal,
) -> Result<Balanced, MixError> {
    let answer = balance(mix, catalogue, goal)?;
    let mut said = mix.clone();
    let mut many = false;
    for (row, then) in said.ingredients.iter_mut().zip(&answer.mix.ingredients) {
        if then.amount.measure != Measure::Bucket || then.amount.value <= MOST_BUCKETS || row.locked
        {
            continue;
        }
        let Some(material) = row.material_in(catalogue) else {
            continue;
        };
        let density = material.bulk_density.typical;
        row.say_in(Measure::Barrow, density);
        many = true;
    }
    if !many {
        return Ok(answer);
    }
    let handy = balance(&said, catalogue, goal)?;
    Ok(if handy.verdict.rank() <= answer.verdict.rank() {
        handy
    } else {
        answer
    })
}

/// Fills the room with what is left: amounts only grow, up to their stock, and the gauges stay in
/// their bands.
///
/// # Errors
/// As [`balance`].
pub fn fill(
    mix: &Mix,
    catalogue: &Catalogue,
    room_m3: f64,
    goal: &Goal,
) -> Result<Balanced, MixError> {
    let goal = Goal {
        size: Size::Fill(room_m3),
        only_more: true,
        ..goal.clone()
    };
    balance(mix, catalogue, &goal)
}
