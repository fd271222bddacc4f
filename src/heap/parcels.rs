//! Parcels: equal lumps followed through turnings and additions.
//!
//! In: places in a grid, what was done, the field from which it holds. Out: where every parcel lay, and when.
//!
//! Parcels are placed by volume; each remembers which cell it lay in from which field on, so its own heat
//! history can be read from the fields. Where a turning mixes at random, lots are drawn (seeded).
//!
//! Not here: the fields (`record`), what reads a parcel's history (`projection`).
//!
//! Tested by: `tests/science/events.rs`.

use super::grid::Grid;
use super::operation::Placing;
use super::places::{by_depth, by_volume};
use super::projection::Parcel;

/// Number of parcels followed (tuned, reason not recorded).
pub(super) const PARCELS: usize = 256;

/// Seed of the lots, any odd number (golden ratio times 2^64).
const SEED: u64 = 0x9E37_79B9_7F4A_7C15;

/// The parcels of a run.
pub(super) struct Parcels {
    list: Vec<Parcel>,
    seed: u64,
}

impl Parcels {
    /// No parcels.
    pub(super) fn none() -> Self {
        Self {
            list: Vec::new(),
            seed: SEED,
        }
    }

    /// Parcels laid out in a heap just built.
    pub(super) fn laid_in(grid: &Grid) -> Self {
        let mut parcels = Self {
            list: (0..PARCELS).map(|_| Parcel { stays: Vec::new() }).collect(),
            seed: SEED,
        };
        parcels.lay(&by_volume(grid, PARCELS), 0);
        parcels
    }

    /// What became of them.
    pub(super) fn into_list(self) -> Vec<Parcel> {
        self.list
    }

    fn lay(&mut self, places: &[usize], from_field: usize) {
        for (parcel, &cell) in self.list.iter_mut().zip(places) {
            parcel.stays.push((from_field, cell));
        }
    }

    /// Every parcel to a random place: a full remix has no memory of layers.
    pub(super) fn shuffle(&mut self, grid: &Grid, from_field: usize) {
        let mut places = by_volume(grid, PARCELS);
        self.mix(&mut places);
        self.lay(&places, from_field);
    }

    /// Parcels of the skin to the middle and the other way round.
    pub(super) fn turn_inside_out(&mut self, grid: &Grid, from_field: usize) {
        let depth = by_depth(grid);
        let rank = |cell: usize| depth.iter().position(|&c| c == cell).unwrap_or(0);
        let mut parcels: Vec<usize> = (0..self.list.len()).collect();
        parcels.sort_by_key(|&i| (self.list[i].stays.last().map_or(0, |stay| rank(stay.1)), i));
        let mut targets = by_volume(grid, PARCELS);
        targets.sort_by_key(|&cell| std::cmp::Reverse(rank(cell)));
        for (parcel, cell) in parcels.into_iter().zip(targets) {
            self.list[parcel].stays.push((from_field, cell));
        }
    }

    /// As many parcels as the share (0-1) of what is added begin anew; on top they lie highest. Which of the old
    /// ones are still followed is drawn by lot.
    pub(super) fn add(
        &mut self,
        grid: &Grid,
        added_share: f64,
        placing: Placing,
        from_field: usize,
    ) {
        let fresh = (added_share * PARCELS as f64).round() as usize;
        let mut lots: Vec<usize> = (0..self.list.len()).collect();
        self.mix(&mut lots);
        let (new, old) = lots.split_at(fresh.min(lots.len()));
        for &parcel in new {
            self.list[parcel].stays.clear();
        }
        // Places rise from the ground up.
        let mut order = old.to_vec();
        if placing == Placing::OnTop {
            order.sort_by_key(|&i| (self.list[i].stays.last().map(|stay| stay.1), i));
        }
        order.extend(new);
        if placing == Placing::MixedIn {
            self.mix(&mut order);
        }
        for (parcel, cell) in order.into_iter().zip(by_volume(grid, PARCELS)) {
            self.list[parcel].stays.push((from_field, cell));
        }
    }

    /// Into a random order (Fisher and Yates).
    fn mix(&mut self, list: &mut [usize]) {
        for i in (1..list.len()).rev() {
            let j = (self.random() % (i as u64 + 1)) as usize;
            list.swap(i, j);
        }
    }

    /// Next number of a small generator (xorshift64*, Vigna 2016).
    fn random(&mut self) -> u64 {
        self.seed ^= self.seed >> 12;
        self.seed ^= self.seed << 25;
        self.seed ^= self.seed >> 27;
        self.seed.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 16
    }
}
