//! A heap as a gardener states it: catalogue ids with amounts, the state they are in, water to a moisture.
//!
//! Every published case is built here and nowhere else, so particle size, pools, density and nitrogen come from the
//! catalogue for all of them. What a case needs otherwise is a change of the catalogue or of a law, for everyone.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{Addition, Ended, Heap, Projection, Resolution, simulate};
use heapwright::material::Condition;
use heapwright::mix::{
    Blend, CarbonNitrogen, Ingredient, Mix, Part, Totals, blend, carbon_nitrogen_partner,
    water_to_add_kg,
};
use heapwright::quantity::{Amount, Measure};
use rayon::prelude::*;

use super::closes;
use super::materials::built_in;

/// A mix in the making; what is said later is done later, so water comes after what brings carbon and nitrogen.
#[derive(Debug, Clone, Default)]
pub struct Garden {
    /// What is in it so far.
    pub mix: Mix,
}

impl Garden {
    /// So many parts of each by loose volume.
    pub fn by_volume(parts: &[(&str, f64)]) -> Self {
        Self::of(parts, &Measure::Barrow)
    }

    /// So many parts of each by mass as it is.
    pub fn by_mass(parts: &[(&str, f64)]) -> Self {
        Self::of(parts, &Measure::Kilogram)
    }

    fn of(parts: &[(&str, f64)], measure: &Measure) -> Self {
        let ingredient =
            |&(id, parts): &(&str, f64)| Ingredient::new(id, Amount::new(parts, measure.clone()));
        Self {
            mix: Mix {
                ingredients: parts.iter().map(ingredient).collect(),
                added_water_l: 0.0,
            },
        }
    }

    /// That material in another state than as listed.
    #[must_use]
    pub fn with(mut self, id: &str, condition: Condition) -> Self {
        let mut found = self.mix.ingredients.iter_mut();
        let ingredient = found.find(|ingredient| ingredient.material == id);
        ingredient.expect("an ingredient of the mix").condition = condition;
        self
    }

    /// With so much of a material that the mix comes to this C:N.
    #[must_use]
    pub fn brought_to_cn(mut self, cn: f64, id: &str) -> Self {
        let shares = |totals: &Totals| CarbonNitrogen {
            carbon: totals.carbon_kg / totals.wet_kg(),
            nitrogen: totals.nitrogen_kg / totals.wet_kg(),
        };
        let (own, partner) = (self.totals(), Self::by_mass(&[(id, 1.0)]).totals());
        let parts = carbon_nitrogen_partner(shares(&own), shares(&partner), cn);
        let kilograms = parts.expect("a partner that pulls the right way") * own.wet_kg();
        let amount = Amount::new(kilograms, Measure::Kilogram);
        self.mix.ingredients.push(Ingredient::new(id, amount));
        self
    }

    /// With so much of a material that it is this share of the dry matter of the rest.
    #[must_use]
    pub fn dressed_with(mut self, share: f64, id: &str) -> Self {
        let dry = self.totals().dry_kg;
        let own = Self::by_mass(&[(id, 1.0)]).totals().dry_kg;
        let amount = Amount::new(share * dry / own, Measure::Kilogram);
        self.mix.ingredients.push(Ingredient::new(id, amount));
        self
    }

    /// Watered to this moisture; what is wetter stays as wet as it is.
    #[must_use]
    pub fn wetted_to(mut self, moisture: f64) -> Self {
        let totals = self.totals();
        self.mix.added_water_l += water_to_add_kg(totals.wet_kg(), totals.moisture(), moisture);
        self
    }

    /// So much of it that it fills this volume as built, m3.
    #[must_use]
    pub fn filling(self, volume_m3: f64) -> Self {
        let times = volume_m3 / self.totals().volume_m3();
        self.times(times)
    }

    /// So much of it that it weighs this as it is, kg.
    #[must_use]
    pub fn weighing(self, kilograms: f64) -> Self {
        let times = kilograms / self.totals().wet_kg();
        self.times(times)
    }

    fn times(mut self, times: f64) -> Self {
        for ingredient in &mut self.mix.ingredients {
            ingredient.amount.value *= times;
        }
        self.mix.added_water_l *= times;
        self
    }

    /// Its ingredients, resolved.
    pub fn parts(&self) -> Vec<Part<'_>> {
        self.mix.resolve(built_in()).expect("a mix that can be")
    }

    /// The blend of it.
    pub fn blend(&self) -> Blend {
        let parts = self.mix.resolve(built_in());
        blend(&parts.expect("a mix that can be"), self.mix.added_water_l)
    }

    /// The sums of it.
    pub fn totals(&self) -> Totals {
        self.blend().totals
    }

    /// The fate of this mix in a heap, on the fine grid, every balance closed to 1e-9.
    pub fn run(&self, heap: &Heap) -> Projection {
        fate(&self.totals(), &[], heap, &Resolution::fine())
    }

    /// The same on the coarse grid, for runs of years.
    pub fn run_coarsely(&self, heap: &Heap) -> Projection {
        fate(&self.totals(), &[], heap, &Resolution::coarse())
    }
}

/// A run to its end, every balance closed to 1e-9.
pub fn fate(
    totals: &Totals,
    later: &[Addition],
    heap: &Heap,
    resolution: &Resolution,
) -> Projection {
    heap.check().unwrap();
    let stop = AtomicBool::new(false);
    let projection = simulate(totals, later, heap, resolution, &stop).expect("something to rot");
    assert_eq!(projection.ended, Ended::Finished);
    closes("a published case", &projection.ledger);
    projection
}

/// The same sums with another amount of nitrogen. The one place where sums of a mix are changed by hand: carbon to
/// nitrogen alone, at fixed density, moisture and pools, is something no material can do.
pub fn at_cn(totals: &Totals, cn: f64) -> Totals {
    let factor = totals.cn() / cn;
    Totals {
        nitrogen_kg: totals.nitrogen_kg * factor,
        nitrogen_at_once_kg: totals.nitrogen_at_once_kg * factor,
        ..*totals
    }
}

/// Days on which the centre is above this.
pub fn days_above(p: &Projection, limit_c: f64) -> f64 {
    let pairs = p.records.windows(2);
    pairs
        .filter(|pair| pair[0].centre_c > limit_c)
        .map(|pair| pair[1].day - pair[0].day)
        .sum()
}

/// First day on which the centre reaches this; the last day and one if it does not.
pub fn day_of(p: &Projection, limit_c: f64) -> f64 {
    let record = p.records.iter().find(|r| r.centre_c >= limit_c);
    record.or(p.records.last()).map_or(f64::NAN, |r| {
        r.day + f64::from(u8::from(r.centre_c < limit_c))
    })
}

/// Mean of a record's number over days from one to another.
pub fn mean_of(
    p: &Projection,
    days: std::ops::Range<f64>,
    number: impl Fn(&heapwright::heap::Record) -> f64,
) -> f64 {
    let inside = p.records.iter().filter(|r| days.contains(&r.day));
    let (sum, count) = inside.fold((0.0, 0.0), |(sum, count), r| (sum + number(r), count + 1.0));
    sum / count
}

/// Runs at the same time, answers in order.
pub fn at_once<T: Send, R: Send, const N: usize>(
    all: [T; N],
    run: impl Fn(T) -> R + Sync + Send,
) -> [R; N] {
    let answers: Vec<R> = all.into_par_iter().map(run).collect();
    let same = answers.try_into();
    same.ok().expect("as many answers as questions")
}
