//! What a probe would read: values at a place in the cross-section on a day, and the height of a heap.
//!
//! In: a [`Projection`] with fields. Out: temperature, moisture or oxygen at a [`Place`], in straight lines between the
//! middles of cells and between fields; height from the volume.
//!
//! A place is a share of the present size, so that it sinks with the heap; on a slope the way outward ends at the slope.
//! Nearer to the skin than the middle of the last cell, the value of that cell counts. An operation (turned, watered)
//! comes at once: the field before it holds until it is done.
//!
//! Not here: temperatures that a run records by the hour (`record`).
//!
//! Tested by: `tests/science/inside.rs`.

use super::places::between;
use super::projection::{Field, Projection, SectionGrid, SectionValue};

/// A place in the cross-section, as shares of the heap's present size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// From the middle (0) to the side at its height (1).
    pub out: f64,
    /// From the ground (0) to the top (1).
    pub up: f64,
}

impl Projection {
    /// A value at a place on a day, in the unit of the value; `None` without fields, beyond the run, or for a place
    /// that is no number.
    pub fn value_at(&self, value: SectionValue, place: Place, day: f64) -> Option<f64> {
        let last = self.fields.last()?;
        if !(0.0..=last.day + 1e-9).contains(&day) || !(place.out + place.up).is_finite() {
            return None;
        }
        // Of fields at one moment the last counts: it is the state after an operation.
        let after = self.fields.partition_point(|field| field.day <= day + 1e-9);
        let before = self.fields.get(after.checked_sub(1)?)?;
        let at = |field: &Field| {
            let grid = self.grids.get(field.grid)?;
            in_section(grid, value.values(field), place)
        };
        let own = at(before)?;
        let Some(next) = self.fields.get(after).filter(|next| !next.jumped) else {
            return Some(own);
        };
        let length = next.day - before.day;
        let share = if length > 0.0 {
            (day - before.day) / length
        } else {
            0.0
        };
        Some(own + share.clamp(0.0, 1.0) * (at(next)? - own))
    }

    /// Height of the middle of the heap on a day, m: that as built, less what slumped, rotted and was pressed together;
    /// `None` without fields or beyond the run.
    pub fn height_m(&self, day: f64) -> Option<f64> {
        if !(0.0..=self.records.last()?.day + 1e-9).contains(&day) {
            return None;
        }
        let after = self.records.partition_point(|record| record.day <= day);
        let before = self.records.get(after.checked_sub(1)?)?;
        let share_of = |volume_m3: f64, grid: &SectionGrid| {
            let built: f64 = grid.volume_m3.iter().sum();
            let height = grid.edges_up_m.last()?;
            (built > 0.0).then(|| height * (volume_m3 / built).min(1.0))
        };
        let laid = self.grids.partition_point(|grid| grid.from_day <= day);
        let grid = self.grids.get(laid.checked_sub(1)?)?;
        let own = share_of(before.volume_m3, grid)?;
        let next_laid = self.grids.get(laid).map_or(f64::INFINITY, |g| g.from_day);
        match self.records.get(after) {
            Some(next) if next.day < next_laid && next.day > before.day => {
                let share = (day - before.day) / (next.day - before.day);
                Some(own + share * (share_of(next.volume_m3, grid)? - own))
            }
            _ => Some(own),
        }
    }
}

/// A value at a place of one field, on straight lines between middles of cells.
fn in_section(grid: &SectionGrid, values: &[f32], place: Place) -> Option<f64> {
    let rows = grid.edges_up_m.len().checked_sub(1)?;
    let top = *grid.edges_up_m.last()?;
    let z = place.up.clamp(0.0, 1.0) * top;
    let middle = |row: usize| 0.5 * (grid.edges_up_m[row] + grid.edges_up_m[row + 1]);
    let rows = between(rows, middle, z)?;
    let low = in_row(grid, values, rows.first, place.out);
    let high = in_row(grid, values, rows.second, place.out);
    match (low, high) {
        (Some(low), Some(high)) => Some(low + rows.share * (high - low)),
        (only, None) | (None, only) => only,
    }
}

/// The same along one row; `None` for a row without cells.
fn in_row(grid: &SectionGrid, values: &[f32], row: usize, out: f64) -> Option<f64> {
    let first = grid.places.partition_point(|place| place.1 < row);
    let cells = grid.places[first..].iter();
    let count = cells.take_while(|place| place.1 == row).count();
    let last = count.checked_sub(1)?;
    // Cells of a row lie side by side from the middle on.
    let middle = |i: usize| {
        let column = grid.places[first + i].0;
        0.5 * (grid.edges_across_m[column] + grid.edges_across_m[column + 1])
    };
    let reach = grid.edges_across_m[grid.places[first + last].0 + 1];
    let x = out.clamp(0.0, 1.0) * reach;
    let value = |i: usize| values.get(first + i).map(|value| f64::from(*value));
    let cells = between(count, middle, x)?;
    let inner = value(cells.first)?;
    Some(inner + cells.share * (value(cells.second)? - inner))
}
