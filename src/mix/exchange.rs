//! Greens in the place of browns, or the other way round, in a heap of the same size.
//!
//! In: a mix, its catalogue, how much of the heap is to be brown. Out: the mix with greens and browns exchanged, and
//! watered as a gardener would who mixes them.
//!
//! Volumes are as piled, which add. Materials of one side keep their proportions; what is neither green nor brown
//! stays as it is.
//!
//! Not here: what either does to a heap (`heap`), which mix would be right (`balance`).
//!
//! Tested by: `tests/science/exchange.rs`.

use crate::material::{Catalogue, Side};
use crate::quantity::{Amount, Measure};

use super::{Ingredient, Mix, MixError, Part, bands, blend, water_to_add_kg};

/// Greens and browns of a mix, m3 as piled.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sides {
    /// Of all greens.
    pub greens_m3: f64,
    /// Of all browns.
    pub browns_m3: f64,
}

impl Sides {
    /// Greens and browns of a mix; liquids have no volume as piled.
    ///
    /// # Errors
    /// [`MixError`] names the first row that cannot be used.
    pub fn of(mix: &Mix, catalogue: &Catalogue) -> Result<Self, MixError> {
        let parts = mix.resolve(catalogue)?;
        let piled = piled_m3(&parts, mix.added_water_l);
        let on = |side| {
            let both = parts.iter().zip(&piled);
            both.filter(|(part, _)| part.material.side() == side)
                .map(|(_, m3)| m3)
                .sum()
        };
        Ok(Self {
            greens_m3: on(Side::Green),
            browns_m3: on(Side::Brown),
        })
    }

    /// Both together, m3.
    pub fn both_m3(&self) -> f64 {
        self.greens_m3 + self.browns_m3
    }

    /// Browns among greens and browns, 0-1; `None` where there is neither to exchange.
    pub fn brown_share(&self) -> Option<f64> {
        let both = self.both_m3();
        (both > 0.0).then(|| self.browns_m3 / both)
    }

    /// The same with so much more of it brown, m3, negative: green; no more than there is to give way.
    pub fn brown_share_with(&self, more_m3: f64) -> Option<f64> {
        let both = self.both_m3();
        let share = (self.browns_m3 + more_m3) / both;
        (both > 0.0).then(|| share.clamp(0.0, 1.0))
    }
}

/// Part of a heap that is exchanged at one go: enough to see, and small enough to stop in time (common practice).
pub const EXCHANGED_AT_ONCE: f64 = 0.05;

/// What comes in on a side that the mix has nothing of, by id.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Newcomers<'a> {
    /// A green.
    pub green: &'a str,
    /// A brown.
    pub brown: &'a str,
}

/// The mix with so much of its greens and browns brown (0-1), in the same volume as piled.
///
/// It is watered so that it is no drier than it was, or than the best of its band begins; water that was poured on is
/// left out as far as it would make it wetter than it was, or than that band ends.
///
/// # Errors
/// [`MixError`] names the first row that cannot be used.
pub fn exchanged(
    mix: &Mix,
    catalogue: &Catalogue,
    brown_share: f64,
    newcomers: Newcomers<'_>,
) -> Result<Mix, MixError> {
    let before = Sides::of(mix, catalogue)?;
    let Some(present) = before.brown_share() else {
        return Ok(mix.clone());
    };
    let moisture = blend(&mix.resolve(catalogue)?, mix.added_water_l)
        .totals
        .moisture();
    let browns_m3 = brown_share.clamp(0.0, 1.0) * before.both_m3();
    let after = Sides {
        greens_m3: before.both_m3() - browns_m3,
        browns_m3,
    };
    let mut mix = mix.clone();
    if present > 0.0 {
        scale(
            &mut mix,
            catalogue,
            Side::Brown,
            after.browns_m3 / before.browns_m3,
        );
    } else {
        begin(
            &mut mix,
            catalogue,
            (Side::Brown, newcomers.brown),
            after.browns_m3,
        )?;
    }
    if present < 1.0 {
        scale(
            &mut mix,
            catalogue,
            Side::Green,
            after.greens_m3 / before.greens_m3,
        );
    } else {
        begin(
            &mut mix,
            catalogue,
            (Side::Green, newcomers.green),
            after.greens_m3,
        )?;
    }
    water(&mut mix, catalogue, moisture)?;
    Ok(mix)
}

/// Volume as piled of every part, m3.
fn piled_m3(parts: &[Part<'_>], added_water_l: f64) -> Vec<f64> {
    let blend = blend(parts, added_water_l);
    let all_m3 = blend.totals.piled_volume_m3;
    let shares = blend.shares.iter();
    shares.map(|share| share.volume * all_m3).collect()
}

/// Whether a row is on a side.
fn is_on(row: &Ingredient, catalogue: &Catalogue, side: Side) -> bool {
    let material = row.material_in(catalogue);
    material.is_some_and(|material| material.side() == side)
}

/// So many times as much of everything on a side.
fn scale(mix: &mut Mix, catalogue: &Catalogue, side: Side, by: f64) {
    let rows = mix.ingredients.iter_mut();
    for row in rows.filter(|row| is_on(row, catalogue, side)) {
        row.amount.value *= by;
    }
}

/// So much, m3 as piled, of a side that the mix has nothing of: equal parts of its empty rows, else the newcomer.
fn begin(
    mix: &mut Mix,
    catalogue: &Catalogue,
    (side, newcomer): (Side, &str),
    m3: f64,
) -> Result<(), MixError> {
    if m3 <= 0.0 {
        return Ok(());
    }
    let is_empty = |row: &Ingredient| row.amount.value == 0.0 && is_on(row, catalogue, side);
    if !mix.ingredients.iter().any(is_empty) && catalogue.find(newcomer).is_some() {
        let nothing = Amount::new(0.0, Measure::Barrow);
        mix.ingredients.push(Ingredient::new(newcomer, nothing));
    }
    let mut room_of_one = Vec::new();
    for (place, row) in mix.ingredients.iter().enumerate() {
        if is_empty(row) {
            let mut one = row.clone();
            one.amount.value = 1.0;
            let ingredients = vec![one];
            let added_water_l = 0.0;
            let one = Mix {
                ingredients,
                added_water_l,
            };
            let piled: f64 = piled_m3(&one.resolve(catalogue)?, 0.0).iter().sum();
            if piled > 0.0 {
                room_of_one.push((place, piled));
            }
        }
    }
    let each_m3 = m3 / room_of_one.len().max(1) as f64;
    for (place, piled) in room_of_one {
        if let Some(row) = mix.ingredients.get_mut(place) {
            row.amount.value = each_m3 / piled;
        }
    }
    Ok(())
}

/// Waters a mix that was so moist before.
fn water(mix: &mut Mix, catalogue: &Catalogue, before: f64) -> Result<(), MixError> {
    let (low, high) = bands::MOISTURE.best;
    let (low, high) = (low.min(before), high.max(before));
    let dry_of_water = blend(&mix.resolve(catalogue)?, 0.0).totals;
    let (wet_kg, moisture) = (dry_of_water.wet_kg(), dry_of_water.moisture());
    let to = |target| water_to_add_kg(wet_kg, moisture, target);
    mix.added_water_l = mix.added_water_l.clamp(to(low), to(high));
    Ok(())
}
