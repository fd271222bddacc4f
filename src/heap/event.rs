//! What an operation does to the cells: turning, watering, adding, covering.
//!
//! In: a body and an operation. Out: the body with its cells mixed, wetted or laid out anew, and the books kept.
//!
//! Everything in a cell that is an amount is mixed as an amount, so turning conserves heat, water, every
//! pool and nitrogen. What the work itself loses (heat and steam into the open air) is booked.
//!
//! Not here: when an operation is due (`run`), what it is (`operation`), how added material is laid (`addition`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`.

use crate::mix::{Totals, WATER_DENSITY_KG_PER_M3};

use super::addition;
use super::amounts::Amounts;
use super::body::Body;
use super::cell::heat_capacity;
use super::ice::Wet;
use super::operation::{Operation, Turning};
use super::places::by_depth;
use super::rot::OXYGEN_IN_AIR;
use super::transport::WATER_HEAT_CAPACITY_J_PER_KG_K;

/// Share of the heat above the air's that is lost while a heap is turned, 0-1 (tuned: about a quarter, so that a
/// turned heap falls by as much as turned heaps are seen to fall before they heat again).
const TURNING_LOSS: f64 = 0.25;
/// Share of that loss that leaves as steam, 0-1 (tuned, reason not recorded).
const STEAM_SHARE: f64 = 0.7;
/// Heat of vaporisation assumed while turning, J/kg (handbook value near 20 degC, from memory).
const STEAM_J_PER_KG: f64 = 2.45e6;
/// Age of the packing after turning, as a share of its age before, 0-1 (tuned: turning loosens most of it).
const PACKING_KEPT: f64 = 0.3;
/// Coldest water that is poured, degC (common practice: water from a tap or butt).
const WATER_COLDEST_C: f64 = 4.0;

/// Whether the heap still lies on the same cells after an operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cells {
    /// It does.
    Kept,
    /// It was laid out anew.
    New,
}

/// Does one operation. `addition` are the sums of what is added, if anything is.
pub(super) fn carry_out(
    body: &mut Body<'_>,
    operation: &Operation,
    addition: Option<&Totals>,
) -> Cells {
    match operation {
        Operation::Turn { turning, wet_to } => {
            match turning {
                Turning::Remix => remix(body),
                Turning::InsideOut => inside_out(body),
            }
            let kept = PACKING_KEPT * (body.day - body.packed_since);
            body.packed_since = body.day - kept;
            lose_heat(body);
            air_out(body);
            if let Some(wet_to) = wet_to {
                water(body, *wet_to);
            }
        }
        Operation::Water { wet_to } => water(body, *wet_to),
        Operation::Pour { litres } => pour_over(body, litres / 1000.0 * WATER_DENSITY_KG_PER_M3),
        Operation::Cover(cover) => body.cover = *cover,
        Operation::Add { placing, .. } => {
            if let Some(totals) = addition.filter(|totals| totals.dry_kg > 0.0) {
                addition::add(body, totals, *placing);
                return Cells::New;
            }
        }
    }
    Cells::Kept
}

fn amounts(body: &Body<'_>, c: usize) -> Amounts {
    Amounts::of(&body.state, &body.matter, c, body.carbon_share)
}

/// Everything in every cell becomes the mean by volume.
fn remix(body: &mut Body<'_>) {
    let (mut sum, mut volume) = (Amounts::default(), 0.0);
    for c in body.grid.cells() {
        let v = body.grid.volume_m3[c];
        volume += v;
        sum.add(v, &amounts(body, c));
    }
    let mean = sum.map(|s| s / volume);
    for c in body.grid.cells() {
        mean.put_into(&mut body.state, &mut body.matter, c, body.carbon_share);
    }
}

/// Amounts of a cell with the share of the whole volume that it fills.
struct Slice {
    share: f64,
    amounts: Amounts,
}

/// The outermost goes to the middle and the middle to the outside, by equal volumes.
fn inside_out(body: &mut Body<'_>) {
    let order = by_depth(&body.grid);
    let total = body.grid.total_volume_m3();
    let old: Vec<Slice> = order
        .iter()
        .map(|&c| Slice {
            share: body.grid.volume_m3[c] / total,
            amounts: amounts(body, c),
        })
        .collect();
    // Old material lies on the line 0..1 from the skin inward; new cells take it from the far end.
    let mut start = 0.0;
    for &c in &order {
        let end = start + body.grid.volume_m3[c] / total;
        let taken = mean_between(&old, 1.0 - end, 1.0 - start);
        taken.put_into(&mut body.state, &mut body.matter, c, body.carbon_share);
        start = end;
    }
}

/// Mean of what lies between two places of a line of shares.
fn mean_between(line: &[Slice], from: f64, to: f64) -> Amounts {
    let (mut sum, mut weight, mut start) = (Amounts::default(), 0.0, 0.0);
    for slice in line {
        let end = start + slice.share;
        let overlap = end.min(to) - start.max(from);
        if overlap > 0.0 {
            weight += overlap;
            sum.add(overlap, &slice.amounts);
        }
        start = end;
    }
    sum.map(|s| s / weight.max(1e-300))
}

/// Heat and steam lost to the air while the heap lies open.
fn lose_heat(body: &mut Body<'_>) {
    let air_c = body.heap.climate.daily_mean_c(body.day_of_year());
    let (mut heat_lost, mut water_lost) = (0.0, 0.0);
    for c in body.grid.cells() {
        let wet = body.wet(c);
        let t = body.state.temperature[c];
        let excess = (t - air_c).max(0.0);
        let heat = TURNING_LOSS * heat_capacity(wet.dry, wet.water) * excess;
        let steam = (STEAM_SHARE * heat / STEAM_J_PER_KG).min(0.5 * wet.water);
        let left = Wet {
            water: wet.water - steam,
            ..wet
        };
        body.state.water[c] = left.water;
        body.state.temperature[c] = left.temperature(wet.enthalpy(t) - heat);
        heat_lost += heat * body.grid.volume_m3[c];
        water_lost += steam * body.grid.volume_m3[c];
    }
    body.ledger.heat_vapour_j += heat_lost * body.skin.multiple;
    body.ledger.water_vapour_kg += water_lost * body.skin.multiple;
}

/// Pores fill with fresh air; what oxygen that brings counts as taken in.
fn air_out(body: &mut Body<'_>) {
    let before = body.oxygen_stored_kg();
    body.state.oxygen.fill(OXYGEN_IN_AIR);
    body.state.airless.fill(0.0);
    body.ledger.oxygen_supplied_kg += body.oxygen_stored_kg() - before;
}

/// Water poured evenly until the mean moisture is `wet_to`; nothing if it is that wet already.
fn water(body: &mut Body<'_>, wet_to: f64) {
    let now = body.contents();
    let whole = now.water_kg + now.dry_kg;
    let kg = crate::mix::water_to_add_kg(whole, now.water_kg / whole, wet_to);
    pour_over(body, kg);
}

/// Water poured evenly over everything, kg.
fn pour_over(body: &mut Body<'_>, kg: f64) {
    if kg <= 0.0 {
        return;
    }
    let water_c = body
        .heap
        .climate
        .daily_mean_c(body.day_of_year())
        .max(WATER_COLDEST_C);
    let warmth = WATER_HEAT_CAPACITY_J_PER_KG_K * water_c;
    let volume = body.grid.total_volume_m3();
    let each = kg / body.skin.multiple / volume;
    for c in 0..body.grid.len {
        if body.grid.active[c] {
            body.pour(c, each * body.grid.volume_m3[c], warmth);
        }
    }
    body.ledger.water_rain_kg += kg;
    body.ledger.heat_drained_j -= kg * warmth;
}
