//! The books of a heap: what it holds and what it gained.
//!
//! In: the body. Out: sums over the heap, entries of its ledger.
//!
//! Not here: what crosses the skin in a step (`run::take`).
//!
//! Tested by: `tests/science/ledgers.rs`.

use super::body::Body;
use super::oxygen::OXYGEN_PER_AIR;

/// What a heap holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Contents {
    /// Heat beside that of dry matter and liquid water at 0 degC, J.
    pub(super) heat_j: f64,
    /// Water, kg.
    pub(super) water_kg: f64,
    /// Dry matter, kg.
    pub(super) dry_kg: f64,
    /// Carbon, kg.
    pub(super) carbon_kg: f64,
    /// Nitrogen, kg.
    pub(super) nitrogen_kg: f64,
}

impl Body<'_> {
    /// Oxygen in the pores and carried over, kg.
    pub(super) fn oxygen_stored_kg(&self) -> f64 {
        let held = self.grid.cells().map(|c| {
            self.pore_air_kg[c] * self.state.oxygen[c] * OXYGEN_PER_AIR + self.carried_oxygen_kg[c]
        });
        held.sum::<f64>() * self.skin.multiple
    }

    /// Sum over the heap of an amount per cubic metre as built.
    pub(super) fn total(&self, amount: impl Fn(usize) -> f64) -> f64 {
        let cells = self.grid.cells();
        cells
            .map(|c| amount(c) * self.grid.volume_m3[c])
            .sum::<f64>()
            * self.skin.multiple
    }

    /// What the heap holds.
    pub(super) fn contents(&self) -> Contents {
        let (s, m) = (&self.state, &self.matter);
        Contents {
            heat_j: self.total(|c| self.wet(c).enthalpy(s.temperature[c])),
            water_kg: self.total(|c| s.water[c]),
            dry_kg: self.total(|c| self.dry(c)),
            carbon_kg: self.total(|c| s.carbon_in(c) + m.inert_carbon[c]),
            nitrogen_kg: self.total(|c| m.nitrogen(s, c)),
        }
    }

    /// Opens the books.
    pub(super) fn book_start(&mut self) {
        let now = self.contents();
        let ledger = &mut self.ledger;
        ledger.heat_start_j = now.heat_j;
        ledger.water_start_kg = now.water_kg;
        ledger.dry_start_kg = now.dry_kg;
        ledger.carbon_start_kg = now.carbon_kg;
        ledger.nitrogen_start_kg = now.nitrogen_kg;
    }

    /// Books material added: what the heap held before it, stored oxygen included.
    pub(super) fn book_addition(&mut self, before: &Contents, oxygen_before_kg: f64) {
        let after = self.contents();
        let oxygen_kg = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_start_j += after.heat_j - before.heat_j;
        ledger.water_start_kg += after.water_kg - before.water_kg;
        ledger.dry_start_kg += after.dry_kg - before.dry_kg;
        ledger.carbon_start_kg += after.carbon_kg - before.carbon_kg;
        ledger.nitrogen_start_kg += after.nitrogen_kg - before.nitrogen_kg;
        ledger.oxygen_supplied_kg += oxygen_kg - oxygen_before_kg;
    }

    /// Closes the books.
    pub(super) fn book_end(&mut self) {
        let now = self.contents();
        self.ledger.oxygen_stored_kg = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_end_j = now.heat_j;
        ledger.water_end_kg = now.water_kg;
        ledger.dry_end_kg = now.dry_kg;
        ledger.carbon_end_kg = now.carbon_kg;
        ledger.nitrogen_end_kg = now.nitrogen_kg;
    }
}
