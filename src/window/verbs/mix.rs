//! Changing the mix: rows, measures, buckets, the balance.
//!
//! In: a row, a material, a measure. Out: a changed mix with its step in the history, or a balance to
//! look at.
//!
//! Not here: amounts typed into a row (`mix::ingredient_rows`), the balance itself (`mix::balance`).
//!
//! Tested by: `tests/window/mix.rs`, `tests/window/balance.rs`.

use crate::material::{Catalogue, Side};
use crate::mix::balance::{Balanced, Goal, Size, balance_handily, fill};
use crate::mix::{Ingredient, Mix, MixError};
use crate::quantity::{Amount, CUBIC_METRE_PER_LITRE, Extent, Measure};

use crate::text::{change, error};
use crate::window::piles::notices::Notice;
use crate::window::piles::preview::Preview;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// A new row with as much as a garden has of it at one go; a material that has a row gets no second one by mistake.
    pub(in crate::window) fn add_material(&mut self, id: &str) {
        self.state.picker = None;
        self.state.drawer = None;
        self.bring_kept(id);
        let known = self.stock.all.find(id);
        let Some(material) = known.or_else(|| self.shelf.kept_materials.find(id)) else {
            return;
        };
        let label = change::added(&material.name);
        let row = Ingredient::first_of(material);
        self.project.mix.ingredients.push(row);
        self.record_or_revert(&label);
    }

    pub(in crate::window) fn remove(&mut self, row: usize) {
        if row >= self.project.mix.ingredients.len() {
            return;
        }
        let removed = self.project.mix.ingredients.remove(row);
        self.state.held_slider = None;
        self.state.details = None;
        let name = self
            .stock
            .all
            .find(&removed.material)
            .map_or(removed.material.as_str(), |material| material.name.as_str());
        let label = change::removed(name);
        self.record_or_revert(&label);
    }

    pub(in crate::window) fn set_measure(&mut self, row: usize, measure: Measure) {
        let Some(ingredient) = self.project.mix.ingredients.get_mut(row) else {
            return;
        };
        let Some(material) = ingredient.material_in(&self.stock.all) else {
            return;
        };
        let density = material.bulk_density.typical;
        let label = change::measure_of(&material.name);
        ingredient.say_in(measure, density);
        self.record_or_revert(&label);
    }

    /// The smallest change that brings every gauge into its band, to be looked at.
    pub(in crate::window) fn balance(&mut self) {
        self.look_for_balance(balance_handily);
    }

    /// The bin filled with more of what is there, to be looked at.
    pub(in crate::window) fn fill_bin(&mut self) {
        self.look_for_balance(|mix, catalogue, goal| {
            let room_m3 = match goal.size {
                Size::Fill(room_m3) | Size::Within(room_m3) => room_m3,
                Size::Free => return balance_handily(mix, catalogue, goal),
            };
            fill(mix, catalogue, room_m3, goal)
        });
    }

    /// Puts an answer up to be looked at.
    fn look_for_balance(
        &mut self,
        find: impl FnOnce(&Mix, &Catalogue, &Goal) -> Result<Balanced, MixError>,
    ) {
        let room_m3 = self.project.heap.shape.room_m3();
        let mix = &self.project.mix;
        match find(mix, &self.stock.all, &Goal::of_room(room_m3)) {
            Ok(balanced) => {
                self.shown.preview = Some(Preview {
                    balanced,
                    way: None,
                    of: (mix.clone(), room_m3),
                });
            }
            Err(problem) => self.tell(Notice::problem(error::NOT_BALANCED, problem.to_string())),
        }
    }

    /// Changes the mix as the preview shows, in one step.
    pub(in crate::window) fn take_balance(&mut self) {
        if let Some(preview) = self.shown.preview.take() {
            self.project.mix = preview.mix().clone();
            self.state.held_slider = None;
            self.record_or_revert(change::BALANCED);
        }
    }

    pub(in crate::window) fn add_bucket(&mut self, side: Side) {
        self.add_buckets(side, 1.0);
    }

    /// So many buckets of the chosen green or brown.
    pub(in crate::window) fn add_buckets(&mut self, side: Side, buckets: f64) {
        let id = match side {
            Side::Green => self.state.buckets.green.clone(),
            _ => self.state.buckets.brown.clone(),
        };
        let Some(material) = self.stock.all.find(&id) else {
            return;
        };
        let added = Amount::new(buckets, Measure::Bucket);
        let label = change::buckets(&added, &material.name);
        let catalogue = &self.stock.all;
        let rows = &mut self.project.mix.ingredients;
        match rows.iter_mut().find(|row| row.material == id) {
            Some(row) => {
                let density = row
                    .material_in(catalogue)
                    .map_or(material.bulk_density.typical, |as_it_is| {
                        as_it_is.bulk_density.typical
                    });
                row.amount = plus_buckets(&row.amount, density, buckets);
            }
            None => rows.push(Ingredient::new(id, added)),
        }
        self.record_or_revert(&label);
    }
}

/// One garden bucket added to an amount, whatever it is said in.
pub fn plus_bucket(amount: &Amount, density_kg_per_m3: f64) -> Amount {
    plus_buckets(amount, density_kg_per_m3, 1.0)
}

/// So many garden buckets added to an amount, whatever it is said in.
fn plus_buckets(amount: &Amount, density_kg_per_m3: f64, buckets: f64) -> Amount {
    let Extent::VolumeM3(bucket_m3) = Measure::Bucket.one() else {
        return amount.clone();
    };
    let litre = Amount::new(
        (amount.volume_m3(density_kg_per_m3) + buckets * bucket_m3) / CUBIC_METRE_PER_LITRE,
        Measure::Litre,
    );
    litre.said_in(amount.measure.clone(), density_kg_per_m3)
}
