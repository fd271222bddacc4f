//! More material: the heap is laid out anew at its present volume and that of what is added.
//!
//! In: a body and the sums of what is added. Out: the body on a new grid, old material below and new on top, or
//! all mixed; sums of both kept exactly, and the books with them.
//!
//! Not here: other operations (`event`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`.

use crate::mix::Totals;

use super::amounts::Amounts;
use super::body::{Body, Layout};
use super::cell::{Fresh, Matter, State, slump_to_come};
use super::grid::{Facing, Grid};
use super::operation::Placing;
use super::places::{nearest, row_volume_m3};
use super::rot::OXYGEN_IN_AIR;

/// Adds material of these sums.
pub(super) fn add(body: &mut Body<'_>, totals: &Totals, placing: Placing) {
    let old_volume = body.total(|c| body.properties.loose[c]);
    let volume = old_volume + totals.volume_m3();
    let skin = body.heap.shape.skin(volume);
    let grid = Grid::of_heap(&skin.outline, body.most_cells);
    let before = body.contents();
    let oxygen_before_kg = body.oxygen_stored_kg();

    let new = fresh_amounts(body, totals);
    let shares = Shares {
        old: old_volume / volume,
        new: 1.0 - old_volume / volume,
    };
    let cells = match placing {
        Placing::MixedIn => mixed_in(body, &grid, &new, &shares),
        Placing::OnTop => on_top(body, &grid, &new, &shares),
    };
    let (mut state, mut matter) = (State::empty(grid.len), Matter::empty(grid.len));
    for (c, amounts) in &cells {
        amounts.put_into(&mut state, &mut matter, *c, body.carbon_share);
        state.oxygen[*c] = OXYGEN_IN_AIR;
    }
    let layout = Layout {
        grid,
        skin,
        state,
        matter,
    };
    body.lay_out(layout, ground_below_c(body));
    body.book_addition(&before, oxygen_before_kg);
}

/// Shares of the new volume that old and new material fill.
struct Shares {
    old: f64,
    new: f64,
}

/// Amounts of a cell filled with fresh material.
fn fresh_amounts(body: &Body<'_>, totals: &Totals) -> Amounts {
    let fresh = Fresh::new(totals, totals.volume_m3(), &body.kinetics);
    let fresh_c = body.heap.fresh_temperature_c(body.day);
    let (mut state, mut matter) = (State::empty(1), Matter::empty(1));
    matter.fill(&mut state, 0, &fresh, fresh_c, body.carbon_share);
    Amounts::of(&state, &matter, 0, body.carbon_share)
}

/// Sum of all old material.
fn old_sum(body: &Body<'_>) -> Amounts {
    let mut sum = Amounts::default();
    for c in body.grid.cells() {
        sum.add(body.grid.volume_m3[c], &settled_amounts(body, c));
    }
    sum
}

/// Amounts of every cell of the new grid with everything mixed.
fn mixed_in(body: &Body<'_>, grid: &Grid, new: &Amounts, shares: &Shares) -> Vec<(usize, Amounts)> {
    let total = grid.total_volume_m3();
    let mean = old_sum(body).zip(new, |old, new| old / total + new * shares.new);
    grid.cells().map(|c| (c, mean)).collect()
}

/// A cell of the new grid on its way: old material in it and the part of it that is new.
struct Layered {
    cell: usize,
    old: Amounts,
    new_part: f64,
}

/// Amounts of every cell of the new grid with old material below and new on top. From the ground up by volume
/// the first share is old, looked up at the same relative place; then old and new are scaled to their sums.
fn on_top(body: &Body<'_>, grid: &Grid, new: &Amounts, shares: &Shares) -> Vec<(usize, Amounts)> {
    let total = grid.total_volume_m3();
    // Where nothing is frozen heat is scaled from 0 degC, so that a cell keeps its temperature.
    let frost = body.grid.cells().any(|c| body.state.temperature[c] < 0.0);
    let cold = if frost { 1.0 } else { 0.0 };
    let mut cells = Vec::new();
    let (mut old_in_new, mut new_volume) = (Amounts::default(), 0.0);
    let mut below = 0.0;
    for row in 0..grid.up {
        let row_volume = row_volume_m3(grid, row);
        let (start, end) = (below / total, (below + row_volume) / total);
        below += row_volume;
        let old_part = ((shares.old - start) / (end - start).max(1e-300)).clamp(0.0, 1.0);
        let middle = 0.5 * (start + end.min(shares.old).max(start)) / shares.old;
        for column in 0..grid.across {
            let c = grid.cell(column, row);
            if !grid.active[c] {
                continue;
            }
            let place = (column as f64 + 0.5) / grid.across as f64;
            let old = settled_amounts(body, nearest(&body.grid, place, middle))
                .counted_from_cold(cold, body.carbon_share);
            let v = grid.volume_m3[c];
            new_volume += v * (1.0 - old_part);
            old_in_new.add(v * old_part, &old);
            cells.push(Layered {
                cell: c,
                old: old.map(|amount| amount * old_part),
                new_part: 1.0 - old_part,
            });
        }
    }
    let scale = old_sum(body)
        .counted_from_cold(cold, body.carbon_share)
        .zip(&old_in_new, |wanted, got| {
            if got.abs() > 0.0 { wanted / got } else { 0.0 }
        });
    let fresh = shares.new * total / new_volume.max(1e-300);
    let filled = |cell: Layered| {
        let old = cell
            .old
            .zip(&scale, |amount, scale| amount * scale)
            .counted_from_cold(-cold, body.carbon_share);
        let all = old.zip(new, |old, new| old + new * cell.new_part * fresh);
        (cell.cell, all)
    };
    cells.into_iter().map(filled).collect()
}

/// Mean temperature of the ground under the heap, degC.
fn ground_below_c(body: &Body<'_>) -> f64 {
    let (mut sum, mut area) = (0.0, 0.0);
    for (face, node_c) in body.grid.exposed.iter().zip(&body.ground.node_c) {
        if face.facing == Facing::Base {
            sum += face.area_m2 * node_c;
            area += face.area_m2;
        }
    }
    sum / area
}

/// Amounts of an old cell as the new heap takes them: what it holds counts as built, and the slumping
/// it has behind it is done. Particle size and slumping are means by the present volume.
fn settled_amounts(body: &Body<'_>, c: usize) -> Amounts {
    let mut a = Amounts::of(&body.state, &body.matter, c, body.carbon_share);
    let loose = body.properties.loose[c];
    a.dry_as_built = body.dry(c);
    let kept = a.dry_as_built / body.matter.dry_as_built[c].max(1e-300);
    a.wood *= kept;
    a.fresh_ph *= kept;
    a.ph_raised *= kept;
    a.log_particle_size *= loose;
    a.slump_share = slump_to_come(a.slump_share, body.day - body.packed_since) * loose;
    a.water_held *= kept;
    a
}
