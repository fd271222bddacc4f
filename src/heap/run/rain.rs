//! Water from above and out below: rain, snow and its melt, drainage.
//!
//! In: a body and the length of a step. Out: the same with its cells wetted and drained, and the books kept.
//!
//! Snow that falls in frost lies on the heap and does not count as the heap's. Where the cell below is warm, it melts at the
//! heap's cost; over a frozen one it waits for milder air, which melts it at its own. It lies there only: what it keeps off
//! in cold and sun is not modelled.
//!
//! Not here: watering (`event`), steam (`transport`).
//!
//! Tested by: `tests/science/ledgers.rs`, `tests/science/ice.rs`.

use crate::heap::body::Body;
use crate::heap::grid::Facing;
use crate::heap::ice;
use crate::heap::transport::WATER_HEAT_CAPACITY_J_PER_KG_K;

use super::parts::SECONDS_PER_DAY;

/// Speed at which surplus water sinks, m/s (tuned: half a metre a day).
const DRAIN_M_PER_S: f64 = 0.5 / 86_400.0;
/// Snow that melts in a day per kelvin of the day's mean above 0 degC, kg/m2 (degree-day factors of 1-8, from memory).
const THAW_KG_PER_M2_DAY_K: f64 = 4.0;
/// Most of the warmth of a cell that melting snow takes in a step (tuned: it stays above 0 degC).
const MELTING_SHARE: f64 = 0.5;

/// What falls onto the top, and what melts on it.
pub(super) fn rain(body: &mut Body<'_>, dt: f64) {
    let day_of_year = body.day_of_year();
    let days = dt / SECONDS_PER_DAY;
    let climate = &body.heap.climate;
    let share = body.skin.rain_share * body.cover.rain_share();
    let fallen = days * share * climate.rain_mm_per_day(day_of_year);
    let air_c = climate.daily_mean_c(day_of_year);
    let frost = air_c < 0.0;
    let warmth = WATER_HEAT_CAPACITY_J_PER_KG_K * air_c;
    for i in 0..body.grid.exposed.len() {
        let face = body.grid.exposed[i];
        if face.facing != Facing::Top {
            continue;
        }
        if frost {
            body.snow_kg_per_m2[i] += fallen;
        } else if fallen > 0.0 {
            let_in(body, face.cell, fallen * face.area_m2, warmth);
        }
        if body.snow_kg_per_m2[i] > 0.0 {
            melt(body, i, days * THAW_KG_PER_M2_DAY_K * air_c.max(0.0));
        }
    }
}

/// Water of this enthalpy (J/kg) from outside.
fn let_in(body: &mut Body<'_>, c: usize, kg: f64, enthalpy_j_per_kg: f64) {
    body.pour(c, kg, enthalpy_j_per_kg);
    body.ledger.water_rain_kg += kg * body.skin.multiple;
    body.ledger.heat_drained_j -= kg * body.skin.multiple * enthalpy_j_per_kg;
}

/// Snow on exposed face `i`: the air melts so much of it, kg/m2, and the heap what its warmth allows.
fn melt(body: &mut Body<'_>, i: usize, by_air: f64) {
    let face = body.grid.exposed[i];
    let (c, area, lying) = (face.cell, face.area_m2, body.snow_kg_per_m2[i]);
    let by_air = by_air.min(lying);
    if by_air > 0.0 {
        let_in(body, c, by_air * area, 0.0);
    }
    let warmth = body.wet(c).enthalpy(body.state.temperature[c]).max(0.0);
    let most = MELTING_SHARE * warmth * body.grid.volume_m3[c] / (ice::MELTING_J_PER_KG * area);
    let by_heap = most.min(lying - by_air);
    if by_heap > 0.0 {
        let_in(body, c, by_heap * area, ice::ice_enthalpy_j_per_kg(0.0));
    }
    body.snow_kg_per_m2[i] = lying - by_air - by_heap;
}

/// Surplus water down, row by row from the top, and out at the base.
pub(super) fn drain(body: &mut Body<'_>, dt: f64) {
    for row in (0..body.grid.up).rev() {
        for column in 0..body.grid.across {
            let c = body.grid.cell(column, row);
            if body.grid.active[c] {
                drain_cell(body, c, row, dt);
            }
        }
    }
}

/// Surplus water sinks at its speed: implicit, from the top down, so any step is stable.
fn drain_cell(body: &mut Body<'_>, c: usize, row: usize, dt: f64) {
    let wet = body.wet(c);
    let held = body.matter.water_held[c] * wet.dry / body.matter.dry_as_built[c];
    let surplus = wet.water - held;
    if surplus <= 0.0 {
        return;
    }
    let cells = dt * DRAIN_M_PER_S / (body.grid.height_m[c] * body.properties.settled[c]);
    let t = body.state.temperature[c];
    let kg = cells / (1.0 + cells) * surplus * wet.liquid_share(t) * body.grid.volume_m3[c];
    // The water takes its heat and its share of the mineral nitrogen along; a cell without ice keeps its temperature.
    let volume = body.grid.volume_m3[c];
    let warmth = WATER_HEAT_CAPACITY_J_PER_KG_K * t;
    let nitrogen_kg = body.state.mineral[c].max(0.0) * kg / body.state.water[c];
    body.state.mineral[c] -= nitrogen_kg / volume;
    if t < 0.0 {
        body.pour(c, -kg, warmth);
    } else {
        body.state.water[c] -= kg / volume;
    }
    if row > 0 {
        let below = c - body.grid.stride;
        body.state.mineral[below] += nitrogen_kg / body.grid.volume_m3[below];
        body.pour(below, kg, warmth);
    } else {
        let multiple = body.skin.multiple;
        body.ledger.nitrogen_drained_kg += nitrogen_kg * multiple;
        body.ledger.water_drained_kg += kg * multiple;
        body.ledger.heat_drained_j += kg * multiple * warmth;
    }
}
