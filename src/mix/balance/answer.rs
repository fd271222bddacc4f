//! The balance itself: settle, round, carry out, say how far it went.
//!
//! In: a mix, the catalogue, a goal. Out: [`Balanced`].
//!
//! Not here: the order of bands (`tiers`), whole measures (`round`), ways out (`ways`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::Catalogue;
use crate::mix::{Mix, MixError, blend};
use crate::quantity::Measure;

use super::carry::carried;
use super::measures::{beyond_best, in_measures, short_of};
use super::task::{LEAST_M3, Task};
use super::tiers::{Tier, settle};
use super::ways::{Nearest, ways_out};
use super::{Balanced, Goal, Limit, Reached, Rounding, Size};

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
    let settled = settle(&task, goal);
    let least_effort = task.effort(&settled.handfuls);
    let (handfuls, rounding) = in_measures(&task, &settled);
    let carried = carried(mix, catalogue, &task, (&handfuls, rounding))?;
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
