//! What a operation does to the cells: turning, watering, adding, covering.
//!
//! In: a run and a operation. Out: the run with its cells mixed, wetted or laid out anew, and the books kept.
//!
//! Everything in a cell that is an amount is mixed as an amount, so turning conserves heat, water, every
//! pool and nitrogen. What the work itself loses (heat and steam into the open air) is booked.
//!
//! Not here: when a operation is due (`run`), what it is (`plan`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`.

use crate::mix::Totals;

use super::cell::{Fresh, Matter, State, heat_capacity, slump_to_come};
use super::grid::{Facing, Grid};
use super::plan::{Event, Operation, Placing, Turning};
use super::run::Run;
use super::transport::WATER_HEAT_CAPACITY_J_PER_KG_K;

/// Share of the heat above the air's that is lost while a heap is turned (tuned, about a quarter).
const TURNING_LOSS: f64 = 0.25;
/// Share of that loss that leaves as steam (tuned).
const STEAM_SHARE: f64 = 0.7;
/// Heat of vaporisation assumed while turning, J/kg.
const STEAM_J_PER_KG: f64 = 2.45e6;
/// Age of the packing after turning, as a share of its age before (tuned: turning loosens most of it).
const PACKING_KEPT: f64 = 0.3;
/// Coldest water that is poured, degC.
const WATER_COLDEST_C: f64 = 4.0;

/// Amounts of one cell per cubic metre as built, in a fixed order: heat first, then all of state and
/// matter that mixes.
type Amounts = [f64; 19];

/// Does one operation. `addition` are the sums of what is added, if anything is.
pub fn carry_out(run: &mut Run<'_>, event: &Event, addition: Option<&Totals>) {
    match &event.operation {
        Operation::Turn { turning, wet_to } => {
            match turning {
                Turning::Remix => remix(run),
                Turning::InsideOut => inside_out(run),
            }
            let kept = PACKING_KEPT * (run.day - run.packed_since);
            run.packed_since = run.day - kept;
            lose_heat(run);
            air_out(run);
            if let Some(wet_to) = wet_to {
                water(run, *wet_to);
            }
        }
        Operation::Water { wet_to } => water(run, *wet_to),
        Operation::Cover(cover) => run.cover = *cover,
        Operation::Add { placing, .. } => {
            if let Some(totals) = addition.filter(|totals| totals.dry_kg > 0.0) {
                add(run, totals, *placing);
            }
        }
    }
}

fn amounts(state: &State, matter: &Matter, c: usize, carbon_share: f64) -> Amounts {
    let capacity = heat_capacity(matter.dry(state, c, carbon_share), state.water[c]);
    let pool_nitrogen = |pool: usize| matter.nitrogen_per_carbon[pool][c] * state.carbon[pool][c];
    [
        capacity * state.temperature[c],
        state.water[c],
        state.carbon[0][c],
        state.carbon[1][c],
        state.carbon[2][c],
        state.microbes[c],
        state.humus[c],
        state.mineral[c],
        pool_nitrogen(0),
        pool_nitrogen(1),
        pool_nitrogen(2),
        matter.mineral_solids[c],
        matter.inert_carbon[c],
        matter.fixed_nitrogen[c],
        matter.dry_as_built[c],
        matter.fast_as_built[c],
        matter.inverse_particle_size[c],
        matter.slump_share[c],
        matter.water_held[c],
    ]
}

fn set_amounts(state: &mut State, matter: &mut Matter, c: usize, a: &Amounts, carbon_share: f64) {
    state.water[c] = a[1];
    for pool in 0..3 {
        state.carbon[pool][c] = a[2 + pool];
        matter.nitrogen_per_carbon[pool][c] = if a[2 + pool] > 0.0 {
            a[8 + pool] / a[2 + pool]
        } else {
            0.0
        };
    }
    state.microbes[c] = a[5];
    state.humus[c] = a[6];
    state.mineral[c] = a[7];
    matter.mineral_solids[c] = a[11];
    matter.inert_carbon[c] = a[12];
    matter.fixed_nitrogen[c] = a[13];
    matter.dry_as_built[c] = a[14];
    matter.fast_as_built[c] = a[15];
    matter.inverse_particle_size[c] = a[16];
    matter.slump_share[c] = a[17];
    matter.water_held[c] = a[18];
    state.temperature[c] = a[0] / heat_capacity(matter.dry(state, c, carbon_share), state.water[c]);
}

/// Everything in every cell becomes the mean by volume.
fn remix(run: &mut Run<'_>) {
    let (mut sum, mut volume) = ([0.0; 19], 0.0);
    for c in run.grid.cells() {
        let v = run.grid.volume_m3[c];
        volume += v;
        for (s, a) in sum
            .iter_mut()
            .zip(amounts(&run.state, &run.matter, c, run.carbon_share))
        {
            *s += v * a;
        }
    }
    let mean = sum.map(|s| s / volume);
    let cells: Vec<usize> = run.grid.cells().collect();
    for c in cells {
        set_amounts(&mut run.state, &mut run.matter, c, &mean, run.carbon_share);
    }
}

/// The outermost goes to the middle and the middle to the outside, by equal volumes.
fn inside_out(run: &mut Run<'_>) {
    let order = by_depth(&run.grid);
    let total = run.grid.total_volume_m3();
    let old: Vec<(f64, Amounts)> = order
        .iter()
        .map(|&c| {
            (
                run.grid.volume_m3[c] / total,
                amounts(&run.state, &run.matter, c, run.carbon_share),
            )
        })
        .collect();
    // Old material lies on the line 0..1 from the skin inward; new cells take it from the far end.
    let mut start = 0.0;
    for &c in &order {
        let end = start + run.grid.volume_m3[c] / total;
        let taken = slice_of(&old, 1.0 - end, 1.0 - start);
        set_amounts(&mut run.state, &mut run.matter, c, &taken, run.carbon_share);
        start = end;
    }
}

/// Cells from the skin inward, by their distance to the ground, to the side at their height and to the
/// top above them.
pub fn by_depth(grid: &Grid) -> Vec<usize> {
    let (across, up) = (&grid.edges_across_m, &grid.edges_up_m);
    let mut side = vec![0.0f64; grid.up];
    let mut top = vec![0.0f64; grid.across];
    let places = || (0..grid.up).flat_map(|row| (0..grid.across).map(move |column| (column, row)));
    let active = |&(column, row): &(usize, usize)| grid.active[grid.cell(column, row)];
    for (column, row) in places().filter(active) {
        side[row] = side[row].max(across[column + 1]);
        top[column] = top[column].max(up[row + 1]);
    }
    let mut order: Vec<(f64, usize)> = Vec::with_capacity(grid.len);
    for (column, row) in places().filter(active) {
        let x = 0.5 * (across[column] + across[column + 1]);
        let z = 0.5 * (up[row] + up[row + 1]);
        let depth = (side[row] - x).min(top[column] - z).min(z);
        order.push((depth, grid.cell(column, row)));
    }
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    order.into_iter().map(|(_, c)| c).collect()
}

/// Mean of what lies between two places of a line of shares.
fn slice_of(line: &[(f64, Amounts)], from: f64, to: f64) -> Amounts {
    let (mut sum, mut weight, mut start) = ([0.0; 19], 0.0, 0.0);
    for (share, amounts) in line {
        let end = start + share;
        let overlap = end.min(to) - start.max(from);
        if overlap > 0.0 {
            weight += overlap;
            for (s, a) in sum.iter_mut().zip(amounts) {
                *s += overlap * a;
            }
        }
        start = end;
    }
    sum.map(|s| s / weight.max(1e-300))
}

/// Heat and steam lost to the air while the heap lies open.
fn lose_heat(run: &mut Run<'_>) {
    let air_c = run.heap.climate.daily_mean_c(run.day_of_year());
    let cells: Vec<usize> = run.grid.cells().collect();
    let (mut heat_lost, mut water_lost) = (0.0, 0.0);
    for c in cells {
        let dry = run.matter.dry(&run.state, c, run.carbon_share);
        let water = run.state.water[c];
        let capacity = heat_capacity(dry, water);
        let t = run.state.temperature[c];
        let heat = TURNING_LOSS * capacity * (t - air_c).max(0.0);
        let steam = (STEAM_SHARE * heat / STEAM_J_PER_KG).min(0.5 * water);
        run.state.water[c] = water - steam;
        run.state.temperature[c] = (capacity * t - heat) / heat_capacity(dry, water - steam);
        heat_lost += heat * run.grid.volume_m3[c];
        water_lost += steam * run.grid.volume_m3[c];
    }
    run.ledger.heat_vapour_j += heat_lost * run.skin.multiple;
    run.ledger.water_vapour_kg += water_lost * run.skin.multiple;
}

/// Pores fill with fresh air; what oxygen that brings counts as taken in.
fn air_out(run: &mut Run<'_>) {
    let before = run.oxygen_stored_kg();
    run.state.oxygen.fill(super::rot::OXYGEN_IN_AIR);
    run.ledger.oxygen_supplied_kg += run.oxygen_stored_kg() - before;
}

/// Water poured evenly until the mean moisture is `wet_to`; nothing if it is that wet already.
fn water(run: &mut Run<'_>, wet_to: f64) {
    let [_, water, dry, ..] = run.contents();
    let kg = crate::mix::water_to_add_kg(water + dry, water / (water + dry), wet_to);
    if kg <= 0.0 {
        return;
    }
    let water_c = run
        .heap
        .climate
        .daily_mean_c(run.day_of_year())
        .max(WATER_COLDEST_C);
    let volume = run.grid.total_volume_m3();
    let each = kg / run.skin.multiple / volume;
    let cells: Vec<usize> = run.grid.cells().collect();
    for c in cells {
        run.pour(c, each * run.grid.volume_m3[c], water_c);
    }
    run.ledger.water_rain_kg += kg;
    run.ledger.heat_drained_j -= kg * WATER_HEAT_CAPACITY_J_PER_KG_K * water_c;
}

/// More material: the heap is laid out anew at its present volume and that of what is added.
fn add(run: &mut Run<'_>, totals: &Totals, placing: Placing) {
    let old_volume = run.total(|c| run.properties.loose[c]);
    let ground_c = ground_below_c(run);
    let volume = old_volume + totals.volume_m3();
    let skin = run.heap.shape.skin(volume);
    let grid = Grid::of_heap(&skin.outline, run.settings.cells);
    let fresh = Fresh::new(totals, totals.volume_m3(), &run.kinetics);
    let fresh_c = run.heap.fresh_temperature_c(run.day);
    let before = run.contents();
    let stored = run.oxygen_stored_kg();

    let mut one = (State::empty(1), Matter::empty(1));
    one.1.fill(&mut one.0, 0, &fresh, fresh_c, run.carbon_share);
    let new = amounts(&one.0, &one.1, 0, run.carbon_share);
    let layout = laid_out(run, &grid, &new, old_volume / volume, placing);

    let (mut state, mut matter) = (State::empty(grid.len), Matter::empty(grid.len));
    for (c, cell) in &layout {
        set_amounts(&mut state, &mut matter, *c, cell, run.carbon_share);
        state.oxygen[*c] = super::rot::OXYGEN_IN_AIR;
    }
    run.replace_grid(grid, skin);
    run.ground.node_c.fill(ground_c);
    run.state = state;
    run.matter = matter;
    run.packed_since = run.day;
    let after = run.contents();
    run.book_addition(&before, &after, stored);
}

/// Amounts of every cell of the new grid: old material below and new on top, or all mixed. Old and new
/// sums are kept exactly.
fn laid_out(
    run: &Run<'_>,
    grid: &Grid,
    new: &Amounts,
    old_share: f64,
    placing: Placing,
) -> Vec<(usize, Amounts)> {
    let old_grid = &run.grid;
    let new_share = 1.0 - old_share;
    let mut old_sum = [0.0; 19];
    for c in old_grid.cells() {
        let own = settled_amounts(run, c);
        for (s, a) in old_sum.iter_mut().zip(own) {
            *s += old_grid.volume_m3[c] * a;
        }
    }
    let total = grid.total_volume_m3();
    if placing == Placing::MixedIn {
        let mean: Amounts = std::array::from_fn(|i| old_sum[i] / total + new[i] * new_share);
        return grid.cells().map(|c| (c, mean)).collect();
    }
    // From the ground up by volume: the first `old_share` is old, looked up at the same relative place.
    let mut cells = Vec::new();
    let (mut old_in_new, mut new_volume) = ([0.0; 19], 0.0);
    let mut below = 0.0;
    for row in 0..grid.up {
        let row_volume: f64 = (0..grid.across)
            .map(|i| grid.volume_m3[grid.cell(i, row)])
            .sum();
        let (start, end) = (below / total, (below + row_volume) / total);
        below += row_volume;
        let old_part = ((old_share - start) / (end - start).max(1e-300)).clamp(0.0, 1.0);
        let middle = 0.5 * (start + end.min(old_share).max(start)) / old_share;
        for column in 0..grid.across {
            let c = grid.cell(column, row);
            if !grid.active[c] {
                continue;
            }
            let place = (column as f64 + 0.5) / grid.across as f64;
            let old = settled_amounts(run, nearest(old_grid, place, middle));
            let v = grid.volume_m3[c];
            new_volume += v * (1.0 - old_part);
            for (s, a) in old_in_new.iter_mut().zip(old) {
                *s += v * old_part * a;
            }
            cells.push((c, old.map(|a| a * old_part), 1.0 - old_part));
        }
    }
    let scale: Amounts = std::array::from_fn(|i| {
        if old_in_new[i].abs() > 0.0 {
            old_sum[i] / old_in_new[i]
        } else {
            0.0
        }
    });
    let fresh = new_share * total / new_volume.max(1e-300);
    cells
        .into_iter()
        .map(|(c, old, new_part)| {
            (
                c,
                std::array::from_fn(|i| old[i] * scale[i] + new[i] * new_part * fresh),
            )
        })
        .collect()
}

/// Mean temperature of the ground under the heap, degC.
fn ground_below_c(run: &Run<'_>) -> f64 {
    let (mut sum, mut area) = (0.0, 0.0);
    for (face, node_c) in run.grid.exposed.iter().zip(&run.ground.node_c) {
        if face.facing == Facing::Base {
            sum += face.area_m2 * node_c;
            area += face.area_m2;
        }
    }
    sum / area
}

/// Amounts of an old cell as the new heap takes them: what it holds now counts as built, and the slumping
/// it has behind it is done. Particle size and slumping are means by the volume of now.
fn settled_amounts(run: &Run<'_>, c: usize) -> Amounts {
    let mut a = amounts(&run.state, &run.matter, c, run.carbon_share);
    let loose = run.properties.loose[c];
    a[14] = run.matter.dry(&run.state, c, run.carbon_share);
    a[16] *= loose;
    a[17] = slump_to_come(a[17], run.day - run.packed_since) * loose;
    a[18] *= a[14] / run.matter.dry_as_built[c].max(1e-300);
    a
}

/// The active cell of a grid at a share of its width and a share of its volume from the ground.
fn nearest(grid: &Grid, across: f64, share: f64) -> usize {
    let total = grid.total_volume_m3();
    let mut below = 0.0;
    let mut found = grid.cell(0, 0);
    for row in 0..grid.up {
        let row_volume: f64 = (0..grid.across)
            .map(|i| grid.volume_m3[grid.cell(i, row)])
            .sum();
        let wanted = ((across * grid.across as f64) as usize).min(grid.across - 1);
        if let Some(column) = (0..=wanted).rev().find(|&i| grid.active[grid.cell(i, row)]) {
            found = grid.cell(column, row);
        }
        below += row_volume;
        if below / total >= share {
            break;
        }
    }
    found
}
