//! The books of a run: what the heap holds and what it gained.
//!
//! In: the run. Out: sums over the heap, entries of its ledger.
//!
//! Not here: what crosses the skin in a step (`step`).
//!
//! Tested by: `tests/science/ledgers.rs`.

use crate::heap::cell::heat_capacity;
use crate::heap::oxygen::OXYGEN_PER_AIR;

use super::Run;

/// Sums over the heap, for the books.
impl Run<'_> {
    /// Oxygen in the pores and carried over, kg.
    pub(in crate::heap) fn oxygen_stored_kg(&self) -> f64 {
        let cells = self.grid.cells();
        let held = cells.map(|c| {
            self.store[c] * self.state.oxygen[c] * OXYGEN_PER_AIR + self.oxygen.carried_kg[c]
        });
        held.sum::<f64>() * self.skin.multiple
    }

    /// Sum over the heap of an amount per cubic metre as built.
    pub(in crate::heap) fn total(&self, amount: impl Fn(usize) -> f64) -> f64 {
        let cells = self.grid.cells();
        cells
            .map(|c| amount(c) * self.grid.volume_m3[c])
            .sum::<f64>()
            * self.skin.multiple
    }

    /// Heat (J), water, dry matter, carbon and nitrogen (kg) in the heap.
    pub(in crate::heap) fn contents(&self) -> [f64; 5] {
        let (s, m) = (&self.state, &self.matter);
        [
            self.total(|c| {
                heat_capacity(m.dry(s, c, self.carbon_share), s.water[c]) * s.temperature[c]
            }),
            self.total(|c| s.water[c]),
            self.total(|c| m.dry(s, c, self.carbon_share)),
            self.total(|c| s.carbon_in(c) + m.inert_carbon[c]),
            self.total(|c| m.nitrogen(s, c, self.kinetics.microbe_cn)),
        ]
    }

    /// Books material added: contents and oxygen before and after.
    pub(in crate::heap) fn book_addition(
        &mut self,
        before: &[f64; 5],
        after: &[f64; 5],
        stored: f64,
    ) {
        let [heat, water, dry, carbon, nitrogen]: [f64; 5] =
            std::array::from_fn(|i| after[i] - before[i]);
        let now = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_start_j += heat;
        ledger.water_start_kg += water;
        ledger.dry_start_kg += dry;
        ledger.carbon_start_kg += carbon;
        ledger.nitrogen_start_kg += nitrogen;
        ledger.oxygen_supplied_kg += now - stored;
    }

    pub(super) fn book_start(&mut self) {
        let [heat, water, dry, carbon, nitrogen] = self.contents();
        let ledger = &mut self.ledger;
        ledger.heat_start_j = heat;
        ledger.water_start_kg = water;
        ledger.dry_start_kg = dry;
        ledger.carbon_start_kg = carbon;
        ledger.nitrogen_start_kg = nitrogen;
    }

    /// Closes the books.
    pub(in crate::heap) fn book_end(&mut self) {
        let [heat, water, dry, carbon, nitrogen] = self.contents();
        self.ledger.oxygen_stored_kg = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_end_j = heat;
        ledger.water_end_kg = water;
        ledger.dry_end_kg = dry;
        ledger.carbon_end_kg = carbon;
        ledger.nitrogen_end_kg = nitrogen;
    }
}
