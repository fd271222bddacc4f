//! Forty-eight balanced mixes drawn from the catalogue: what decides how hot a heap gets.
//!
//! Every one is right by the book: C:N 24-36, 55-62 % moist, a full bay of 1 m3 in 15 degC. By common practice such heaps
//! reach 55-66 degC; only loose strawy ones stay cool (Michel et al. 2004, abstract: straw rows with 75-93 % free air
//! space). A model in which the permeability alone ranks them teaches the wrong lesson, so its rank correlation with
//! the peak has to stay below 0.8.

use heapwright::heap::cell::permeability_m2;
use heapwright::heap::{Heap, Shape};
use heapwright::mix::Totals;
use rayon::prelude::*;

use crate::support::garden::Garden;
use crate::support::heaps::place;
use crate::support::published::case;

const GREENS: [&str; 12] = [
    "grass_fresh",
    "grass_wilted",
    "weeds_soft",
    "veg_scraps",
    "coffee_grounds",
    "cattle_fym",
    "horse_straw",
    "rabbit_manure",
    "sheep_manure",
    "comfrey",
    "bean_haulm_green",
    "poultry_litter",
];
const BROWNS: [&str; 10] = [
    "leaves_mixed",
    "leaves_shredded",
    "straw",
    "wood_chips_arb",
    "shrub_trimmings",
    "sawdust",
    "cardboard",
    "hay_grass",
    "tree_trimmings_leafy",
    "corn_stalks",
];
const COUNT: usize = 48;

/// A small generator (xorshift64*, Vigna 2016) from a fixed seed.
struct Lots(u64);

impl Lots {
    /// A number from 0 to 1.
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn one_of<'a>(&mut self, names: &[&'a str]) -> &'a str {
        names[(self.share() * names.len() as f64) as usize]
    }
}

/// Mixes of two greens and two browns, kept when they can be balanced.
pub(crate) fn mixes() -> Vec<Garden> {
    let mut lots = Lots(11);
    let mut found = Vec::new();
    while found.len() < COUNT {
        let (cn, moisture) = (lots.between(24.0, 36.0), lots.between(0.55, 0.62));
        let parts = [
            (lots.one_of(&GREENS), lots.between(0.5, 2.0)),
            (lots.one_of(&GREENS), lots.between(0.5, 2.0)),
            (lots.one_of(&BROWNS), lots.between(0.2, 1.0)),
        ];
        let brown = lots.one_of(&BROWNS);
        let start = Garden::by_volume(&parts);
        let leaner = Garden::by_mass(&[(brown, 1.0)]).totals().cn();
        if start.totals().cn() > cn || leaner < 1.3 * cn {
            continue;
        }
        let mix = start.brought_to_cn(cn, brown);
        if mix.totals().moisture() <= moisture {
            found.push(mix.wetted_to(moisture).filling(1.0));
        }
    }
    found
}

/// The bay that holds each of them.
pub(crate) fn bay() -> Heap {
    let shape = Shape::SlattedBin {
        width_m: 1.0,
        length_m: 1.0,
        height_m: 1.0,
    };
    let mut heap = place(shape, 15.0);
    heap.days = 60.0;
    heap
}

/// Permeability of a mix as built, m2.
fn permeability(totals: &Totals) -> f64 {
    permeability_m2(totals.particle_size_m(), totals.free_air_space())
}

/// Rank correlation (Spearman) of numbers without ties.
fn spearman(a: &[f64], b: &[f64]) -> f64 {
    let ranks = |values: &[f64]| -> Vec<f64> {
        let below = |x: &f64| values.iter().filter(|y| *y < x).count() as f64;
        values.iter().map(below).collect()
    };
    let squares = ranks(a)
        .into_iter()
        .zip(ranks(b))
        .map(|(a, b)| (a - b).powi(2));
    let n = a.len() as f64;
    1.0 - 6.0 * squares.sum::<f64>() / (n * (n * n - 1.0))
}

#[test]
fn balanced_mixes_heat_whatever_they_are_made_of() {
    let heap = "48 mixes of two greens and two browns by lot, C:N 24-36, 55-62 % moist, full bay of 1 m3, 15 degC";
    case(
        "MIXES",
        heap,
        "common practice; Michel et al. 2004 (abstract)",
        |told| {
            let heap = bay();
            let all: Vec<(Totals, f64)> = mixes()
                .par_iter()
                .map(|mix| (mix.totals(), mix.run(&heap).summary.peak_c))
                .collect();
            let mut peaks: Vec<f64> = all.iter().map(|(_, peak)| *peak).collect();
            let of = |number: fn(&Totals) -> f64| -> Vec<f64> {
                all.iter().map(|(totals, _)| number(totals)).collect()
            };
            told.wanted("rank correlation of peak and permeability", -0.8..=0.8)
                .got(spearman(&peaks, &of(permeability)));
            told.also(
                "rank correlation of peak and C:N",
                spearman(&peaks, &of(Totals::cn)),
            );
            let cold = all.iter().filter(|(totals, peak)| {
                let dense = totals.wet_kg() / totals.volume_m3() > 250.0;
                *peak < 45.0 && dense && totals.free_air_space() <= 0.75
            });
            told.wanted(
                "mixes above 250 kg/m3, not strawy, below 45 degC",
                0.0..=0.0,
            )
            .got(cold.count() as f64);
            peaks.sort_by(f64::total_cmp);
            told.wanted("median of the peaks, degC", 55.0..=66.0)
                .got(0.5 * (peaks[COUNT / 2 - 1] + peaks[COUNT / 2]));
            told.also("coolest peak, degC", peaks[0]);
            told.also("hottest peak, degC", peaks[COUNT - 1]);
        },
    );
}
