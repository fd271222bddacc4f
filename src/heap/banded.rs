//! Banded systems: the active cells of a grid as rows, and the one operation that eliminating them consists of.
//!
//! In: a grid. Out: the row of every cell and how far apart the rows of neighbours lie; one line less a share of another.
//!
//! Lines are laid out with room for [`padded`] numbers beyond the band, so that they are worked through in fours
//! without a remainder; what lies there is nought and stays so.
//!
//! Not here: the systems themselves (`airflow`, `oxygen`).
//!
//! Tested by: `tests/science/airflow.rs`, `tests/science/oxygen.rs`.

use super::grid::Grid;

/// Numbers that are worked on together.
const TOGETHER: usize = 4;

/// The active cells of a grid as the rows of a banded matrix.
#[derive(Debug, Clone)]
pub(super) struct Rows {
    /// Row of each cell; the largest number outside the heap.
    pub(super) order: Vec<usize>,
    /// The cell of each row.
    pub(super) cells: Vec<usize>,
    /// Farthest that a neighbour's row lies off the diagonal.
    pub(super) band: usize,
}

impl Rows {
    /// Rows in the order of [`Grid::cells`].
    pub(super) fn of(grid: &Grid) -> Self {
        let cells: Vec<usize> = grid.cells().collect();
        let mut order = vec![usize::MAX; grid.len];
        for (row, &c) in cells.iter().enumerate() {
            order[c] = row;
        }
        let above = cells.iter().filter(|&&c| grid.active[c + grid.stride]);
        let apart = above.map(|&c| order[c + grid.stride] - order[c]);
        let band = apart.max().unwrap_or(1).max(1);
        Self { order, cells, band }
    }
}

/// The least whole number of fours that holds so many numbers.
pub(super) fn padded(count: usize) -> usize {
    count.next_multiple_of(TOGETHER)
}

/// Takes a share of one line off another; both whole fours long.
#[inline]
pub(super) fn take_off(to: &mut [f64], share: f64, line: &[f64]) {
    let (to, _) = to.as_chunks_mut::<TOGETHER>();
    let (line, _) = line.as_chunks::<TOGETHER>();
    for (to, line) in to.iter_mut().zip(line) {
        for i in 0..TOGETHER {
            to[i] -= share * line[i];
        }
    }
}

/// The first fours of a line.
#[inline]
pub(super) fn in_fours<const FOURS: usize>(line: &[f64]) -> [[f64; TOGETHER]; FOURS] {
    let mut fours = [[0.0; TOGETHER]; FOURS];
    for (four, from) in fours.iter_mut().zip(line.as_chunks::<TOGETHER>().0) {
        *four = *from;
    }
    fours
}

/// Takes a share of a line of known length off another.
#[inline]
pub(super) fn take_off_known<const FOURS: usize>(
    to: &mut [f64],
    share: f64,
    line: &[[f64; TOGETHER]; FOURS],
) {
    if let Some(to) = to.as_chunks_mut::<TOGETHER>().0.first_chunk_mut::<FOURS>() {
        for (to, line) in to.iter_mut().zip(line) {
            for i in 0..TOGETHER {
                to[i] -= share * line[i];
            }
        }
    }
}
