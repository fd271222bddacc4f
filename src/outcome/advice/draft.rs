//! A mix while advice is being thought out: rows with their materials, sums, what has been moved.
//!
//! In: a mix and its blend. Out: the same with one thing changed, blended again.
//!
//! Not here: which change is worth making (`propose`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::material::Material;
use crate::mix::{Part, Totals, blend};
use crate::quantity::{Amount, bounds};

use super::said::NamedMaterial;
use super::standing::Standing;

/// One row of the mix under advice.
#[derive(Clone)]
pub(super) struct Row<'a> {
    pub(super) material: &'a Material,
    pub(super) amount: Amount,
    /// Most there is of it, in the amount's own measure.
    pub(super) stock: Option<f64>,
    /// Whether it must be left alone: locked, or moved by advice already.
    pub(super) settled: bool,
}

impl Row<'_> {
    /// Most that may be in this row, in the amount's own measure.
    pub(super) fn most(&self) -> f64 {
        self.stock
            .map_or(bounds::AMOUNT.high, |stock| stock.min(bounds::AMOUNT.high))
    }
}

/// A mix under advice.
#[derive(Clone)]
pub(super) struct Draft<'a> {
    pub(super) rows: Vec<Row<'a>>,
    pub(super) water_l: f64,
    /// Whether advice has moved the water already.
    pub(super) water_settled: bool,
    pub(super) totals: Totals,
    pub(super) room_m3: Option<f64>,
}

impl<'a> Draft<'a> {
    /// The sums again, by blending the rows in full.
    fn blended(mut self) -> Self {
        let parts: Vec<Part<'_>> = self
            .rows
            .iter()
            .map(|row| Part::new(row.material, &row.amount))
            .collect();
        self.totals = blend(&parts, self.water_l).totals;
        self
    }

    /// A material of it, with those it must be told apart from.
    pub(super) fn named(&self, material: &Material) -> NamedMaterial {
        let others = self.rows.iter().map(|row| &row.material.id);
        NamedMaterial {
            id: material.id.clone(),
            name: material.name.clone(),
            beside: others.filter(|id| **id != material.id).cloned().collect(),
        }
    }

    /// Against its bands; `None` without dry matter.
    pub(super) fn standing(&self) -> Option<Standing> {
        Standing::of(&self.totals, self.room_m3)
    }

    /// Badness with so many times the other added; `None` if no dry matter is left.
    pub(super) fn badness_with(&self, other: &Totals, times: f64) -> Option<f64> {
        let totals = self.totals.plus_times(other, times);
        Standing::of(&totals, self.room_m3).map(|standing| standing.badness())
    }

    /// With the row's amount set.
    pub(super) fn with_amount(&self, row: usize, amount: Amount) -> Self {
        let mut draft = self.clone();
        if let Some(row) = draft.rows.get_mut(row) {
            row.amount = amount;
            row.settled = true;
        }
        draft.blended()
    }

    /// With the added water set.
    pub(super) fn with_water(&self, litres: f64) -> Self {
        let mut draft = self.clone();
        draft.water_l = litres;
        draft.water_settled = true;
        draft.blended()
    }

    /// Whether there is so many times as much of everything, and in amounts a file can hold.
    pub(super) fn can_scale(&self, by: f64) -> bool {
        let rows = self
            .rows
            .iter()
            .all(|row| by * row.amount.value <= row.most());
        rows && by * self.water_l <= bounds::ADDED_WATER.high
    }

    /// Whether there is so many times as much of everything.
    pub(super) fn has(&self, by: f64) -> bool {
        self.rows.iter().all(|row| {
            let there = row.stock.unwrap_or(f64::INFINITY);
            by * row.amount.value <= there
        })
    }

    /// So many times as much of everything.
    pub(super) fn scaled(&self, by: f64) -> Self {
        let mut draft = self.clone();
        for row in &mut draft.rows {
            row.amount.value *= by;
        }
        draft.water_l *= by;
        draft.blended()
    }

    /// With a material put in.
    pub(super) fn with_material(&self, material: &'a Material, amount: Amount) -> Self {
        let mut draft = self.clone();
        draft.rows.push(Row {
            material,
            amount,
            stock: None,
            settled: true,
        });
        draft.blended()
    }
}
