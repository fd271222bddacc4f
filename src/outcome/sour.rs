//! Where a heap turns sour: food that rots short of air makes acid, and acid holds rot back while it is hot.
//!
//! In: a projection with fields. Out: how much of the heap is sour, field by field, and how acid it gets.
//!
//! The pH is the simulation's own, by which it slows rot (`heap::rot`); nothing is judged from the mix here. A fresh mix
//! may be acid by nature: that alone is not sour as long as it is cool and has air.
//!
//! Not here: what it smells of, causes and cures (`smell`).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use crate::heap::{Field, Projection, SectionGrid};

/// pH below which a place is sour (Sundberg 2005 and 2009, abstracts read: below 6 decay nearly stops above 40 degC, and
/// smell is strongest).
pub const SOUR_BELOW_PH: f64 = 6.0;
/// Temperature above which acid holds rot back, degC (the same).
const STALLS_ABOVE_C: f32 = 40.0;
/// Oxygen below which a place counts as airless, mole fraction (troubleshooting tables: less than 5 %).
pub const AIRLESS: f32 = 0.05;
/// Share of the volume from which it is worth a word (tuned).
const WORTH_A_WORD: f64 = 0.1;

/// How sour a heap is at one time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SourPoint {
    /// Share of the volume that is sour, 0-1.
    pub share: f64,
    /// Lowest pH there; infinite where nothing is sour.
    pub ph: f64,
}

/// How sour a heap turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Souring {
    /// First and last day of it.
    pub days: (f64, f64),
    /// Greatest share of the volume that is sour at once, 0-1.
    pub share: f64,
    /// Lowest pH in it.
    pub ph: f64,
}

/// How sour a heap is at one field.
pub fn sour_at(field: &Field, grid: &SectionGrid) -> SourPoint {
    let (mut sour, mut all, mut lowest) = (0.0, 0.0, f64::INFINITY);
    let air_and_warmth = field.oxygen.iter().zip(&field.temperature_c);
    let cells = field.ph.iter().zip(air_and_warmth);
    for ((ph, (oxygen, temperature_c)), volume_m3) in cells.zip(&grid.volume_m3) {
        let ph = f64::from(*ph);
        all += volume_m3;
        if ph < SOUR_BELOW_PH && (*oxygen < AIRLESS || *temperature_c > STALLS_ABOVE_C) {
            sour += volume_m3;
            lowest = lowest.min(ph);
        }
    }
    SourPoint {
        share: if all > 0.0 { sour / all } else { 0.0 },
        ph: lowest,
    }
}

/// Whether a heap turns sour, and how far; `None` where it does not.
pub fn souring(projection: &Projection) -> Option<Souring> {
    let points = projection.fields.iter().filter_map(|field| {
        let grid = projection.grids.get(field.grid)?;
        Some((field.day, sour_at(field, grid)))
    });
    let worth = points.filter(|(_, now)| now.share >= WORTH_A_WORD);
    worth.fold(None, |found: Option<Souring>, (day, now)| {
        let before = found.unwrap_or(Souring {
            days: (day, day),
            share: 0.0,
            ph: f64::INFINITY,
        });
        Some(Souring {
            days: (before.days.0, day),
            share: before.share.max(now.share),
            ph: before.ph.min(now.ph),
        })
    })
}
