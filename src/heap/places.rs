//! Places in a grid: the order of cells from the skin inward, and the cell nearest to a point.
//!
//! In: a grid. Out: cells in order, cells and temperatures at a place.
//!
//! Not here: the cells themselves (`grid`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/heap_cases.rs`.

use super::grid::Grid;

/// Cells from the skin inward, by their distance to the ground, to the side at their height and to the
/// top above them.
pub(super) fn by_depth(grid: &Grid) -> Vec<usize> {
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

/// `count` cells, in each as many as its volume asks, in rising order.
pub(super) fn by_volume(grid: &Grid, count: usize) -> Vec<usize> {
    let total = grid.total_volume_m3();
    let mut places = Vec::with_capacity(count);
    let mut reached = 0.0;
    for c in grid.cells() {
        reached += grid.volume_m3[c] / total * count as f64;
        while (places.len() as f64) + 0.5 < reached && places.len() < count {
            places.push(c);
        }
    }
    while places.len() < count {
        places.push(grid.cell(0, 0));
    }
    places
}

/// Volume of a row, m3 (per metre of length if flat).
pub(super) fn row_volume_m3(grid: &Grid, row: usize) -> f64 {
    (0..grid.across)
        .map(|column| grid.volume_m3[grid.cell(column, row)])
        .sum()
}

/// The active cell of a grid at a share of its width and a share of its volume from the ground.
pub(super) fn nearest(grid: &Grid, share_across: f64, share_of_volume: f64) -> usize {
    let total = grid.total_volume_m3();
    let wanted = ((share_across * grid.across as f64) as usize).min(grid.across - 1);
    let mut below = 0.0;
    let mut found = grid.cell(0, 0);
    for row in 0..grid.up {
        if let Some(column) = (0..=wanted).rev().find(|&i| grid.active[grid.cell(i, row)]) {
            found = grid.cell(column, row);
        }
        below += row_volume_m3(grid, row);
        if below / total >= share_of_volume {
            break;
        }
    }
    found
}

/// Two neighbouring cells, and how far from the first to the second a point lies, 0-1.
pub(super) struct Between {
    pub(super) first: usize,
    pub(super) second: usize,
    pub(super) share: f64,
}

/// The cells of `count` in a line between whose middles a point lies; before the first and after the last of them the
/// outermost counts. `None` without cells.
pub(super) fn between(count: usize, middle: impl Fn(usize) -> f64, point: f64) -> Option<Between> {
    let last = count.checked_sub(1)?;
    let second = (0..count).find(|i| middle(*i) >= point).unwrap_or(last);
    let first = second.saturating_sub(1);
    let share = if first == second {
        0.0
    } else {
        ((point - middle(first)) / (middle(second) - middle(first))).clamp(0.0, 1.0)
    };
    Some(Between {
        first,
        second,
        share,
    })
}

/// Temperature at a distance from the middle (m) and a share of the height: straight between the middles of two rows, and
/// in a row straight over the square of the distance, as it is even about the middle; beyond the outermost middle that
/// cell counts.
pub(super) fn temperature_at(
    grid: &Grid,
    temperature: &[f64],
    distance_m: f64,
    height_share: f64,
) -> f64 {
    let z = height_share * grid.edges_up_m[grid.up];
    let middle = |row: usize| 0.5 * (grid.edges_up_m[row] + grid.edges_up_m[row + 1]);
    let at = |row: usize| in_row(grid, temperature, row, distance_m);
    match between(grid.up, middle, z) {
        Some(rows) => at(rows.first) * (1.0 - rows.share) + at(rows.second) * rows.share,
        None => at(0),
    }
}

/// The same in one row.
fn in_row(grid: &Grid, temperature: &[f64], row: usize, distance_m: f64) -> f64 {
    let of = |column: usize| temperature[grid.cell(column, row)];
    let square = |column: usize| {
        let middle = 0.5 * (grid.edges_across_m[column] + grid.edges_across_m[column + 1]);
        middle * middle
    };
    let cells = (0..grid.across)
        .take_while(|&column| grid.active[grid.cell(column, row)])
        .count();
    if cells < 2 {
        return of(0);
    }
    let place = distance_m * distance_m;
    let outer = (1..cells)
        .find(|&column| square(column) >= place)
        .unwrap_or(cells - 1);
    let (from, to) = (square(outer - 1), square(outer));
    let share = ((place - from) / (to - from)).min(1.0);
    of(outer - 1) + share * (of(outer) - of(outer - 1))
}
