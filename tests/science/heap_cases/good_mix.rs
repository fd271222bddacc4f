//! T3, T10, T14 and what the summary says: one cubic metre of a right mix.
//!
//! Sources: Cornell Waste Management Institute, Compost physics (page read): 60-70 degC in 3-5 days for large heaps,
//! 40-60 degC for weeks; Tatano et al. 2015 and King et al. 2012 (abstract, opening): too wet is colder and dense;
//! Smith, Aber and Rynk 2017 (abstract): 1.2 to 7.1 MJ recovered per kg of dry matter. Bands for 1 m3 in 15 degC are
//! set around these (50-68 degC on day 2-6, below 30 by day 40-90); 12 MJ per kg cannot be reached by stoichiometry,
//! and the share of vapour is the latent share of air that leaves saturated (0.9 of what moving air carries).

use std::cell::Cell;

use heapwright::heap::{Projection, SectionGrid};

use super::right_mix;
use crate::support::garden::{day_of, days_above, fate};
use crate::support::heaps::mesh_cube;
use crate::support::published::case;

use heapwright::heap::Resolution;

/// Mean of a field by volume over the cells that `which` picks by column and row, of those the whole section has.
pub(super) fn mean_in(
    values: &[f32],
    grid: &SectionGrid,
    which: impl Fn((usize, usize)) -> bool,
) -> f64 {
    let (mut sum, mut volume) = (0.0, 0.0);
    for ((value, place), v) in values.iter().zip(&grid.places).zip(&grid.volume_m3) {
        if which(*place) {
            sum += f64::from(*value) * v;
            volume += v;
        }
    }
    sum / volume
}

#[test]
fn t03_a_cubic_metre_of_a_good_mix_is_hot_within_a_week() {
    let heap = "1 m3 of litter, wilted grass and shredded leaves in mesh, 15 degC";
    let source = "Cornell, Compost physics (page read); bands for 1 m3 around it";
    case("T3", heap, source, |told| {
        let mix = right_mix().filling(1.0);
        told.built("the mix", &mix.totals());
        let p = mix.run(&mesh_cube(1.0, 15.0));
        told.wanted("peak, degC", 50.0..=68.0).got(p.summary.peak_c);
        told.wanted("day of peak", 2.0..=6.0)
            .got(p.summary.peak_day);
        told.wanted("days above 55 degC", 3.0..=12.0)
            .got(p.summary.days_above_55);
        let mut later = p.records.iter().filter(|r| r.day > p.summary.peak_day);
        let cool = later.find(|r| r.centre_c < 30.0);
        told.wanted("day below 30 degC", 40.0..=90.0)
            .got(cool.map_or(f64::INFINITY, |r| r.day));
    });
}

#[test]
fn t10_too_wet_is_colder_later_and_airless() {
    let heap = "the mix of T3 at 72 % against 58 %";
    let source = "Tatano et al. 2015 (abstract), King et al. 2012 (opening)";
    case("T10", heap, source, |told| {
        let heap = mesh_cube(1.0, 15.0);
        let right = right_mix().filling(1.0).run(&heap);
        let wet_mix = right_mix().wetted_to(0.72).filling(1.0);
        told.built("at 72 %", &wet_mix.totals());
        let wet = wet_mix.run(&heap);
        let (r, w) = (right.summary, wet.summary);
        told.wanted("peak lower by, K", 5.0..=f64::INFINITY)
            .got(r.peak_c - w.peak_c);
        told.wanted("peak later by, d", 2.0..=f64::INFINITY)
            .got(w.peak_day - r.peak_day);
        told.wanted("airless share, wet", 0.1..=1.0)
            .got(w.airless_share);
        told.wanted("airless share, right", 0.0..=0.06)
            .got(r.airless_share);
        let core = |p: &Projection| {
            let field = p.field_at(8.0).unwrap();
            let inside = |(c, r): (usize, usize)| c < 6 && (4..10).contains(&r);
            100.0 * mean_in(&field.oxygen, &p.grids[0], inside)
        };
        told.wanted("oxygen in the core on day 8, wet, %", 0.0..=5.0)
            .got(core(&wet));
        told.wanted("oxygen in the core on day 8, right, %", 5.0..=21.0)
            .got(core(&right));
    });
}

#[test]
fn t14_heat_made_and_its_ways_out() {
    let heap = "the heap of T3";
    let source =
        "Smith, Aber and Rynk 2017 (abstract); stoichiometry; latent share of saturated air";
    case("T14", heap, source, |told| {
        let mix = right_mix().filling(1.0);
        let heap = mesh_cube(1.0, 15.0);
        let p = mix.run(&heap);
        let l = &p.ledger;
        told.wanted("heat made, MJ per kg of dry matter", 3.0..=10.0)
            .got(l.heat_made_j / l.dry_start_kg / 1e6);
        let until = |days: f64| {
            let mut heap = heap.clone();
            heap.days = days;
            mix.run(&heap).ledger
        };
        let first = day_of(&p, 50.0);
        let (from, to) = (until(first), until(first + days_above(&p, 50.0)));
        let vapour = to.heat_vapour_j - from.heat_vapour_j;
        let rest = to.heat_surface_j + to.heat_ground_j - from.heat_surface_j - from.heat_ground_j;
        told.wanted("vapour's share of heat lost above 50 degC", 0.6..=0.9)
            .got(vapour / (vapour + rest));
    });
}

#[test]
fn the_summary_names_the_hottest_of_the_whole_heap() {
    // A probe pushed in anywhere can meet the hottest place; the centre is one place of many.
    let heap = "the heap of T3";
    case("HOTTEST", heap, "definition of the peak", |told| {
        let p = right_mix().filling(1.0).run(&mesh_cube(1.0, 15.0));
        let all = p.fields.iter().flat_map(|field| &field.temperature_c);
        let hottest = f64::from(all.fold(0.0f32, |most, t| most.max(*t)));
        told.wanted(
            "summary's hottest less the hottest cell ever, K",
            -0.5..=0.5,
        )
        .got(p.summary.hottest.temperature_c - hottest);
        // Where it was: the middle of the hottest cell of the picture next to that day, to a cell's length.
        let found = &p.summary.hottest;
        let field = p.field_at(found.day).unwrap();
        let grid = &p.grids[field.grid];
        let by_heat = |a: &(&f32, _), b: &(&f32, _)| a.0.total_cmp(b.0);
        let (_, (column, row)) = (field.temperature_c.iter().zip(&grid.places))
            .max_by(by_heat)
            .unwrap();
        for (edges, place, share) in [
            (&grid.edges_across_m, *column, found.out),
            (&grid.edges_up_m, *row, found.up),
        ] {
            let (low, high) = (edges[place], edges[place + 1]);
            let (middle, length) = (0.5 * (low + high), high - low);
            let at_m = share * edges.last().unwrap();
            assert!(
                (at_m - middle).abs() <= 1.5 * length,
                "{found:?}: {edges:?}"
            );
        }
    });
}

#[test]
fn every_balance_closes() {
    // `fate` tests each run of every case as well; here the largest gap is told.
    let heap = "the heap of T3";
    case(
        "LEDGERS",
        heap,
        "conservation of energy and matter",
        |told| {
            let worst = Cell::new(0.0f64);
            for days in [20.0, 120.0] {
                let mut heap = mesh_cube(1.0, 15.0);
                heap.days = days;
                let l = fate(
                    &right_mix().filling(1.0).totals(),
                    &[],
                    &heap,
                    &Resolution::fine(),
                )
                .ledger;
                let heat = l.heat_start_j + l.heat_made_j
                    - l.heat_surface_j
                    - l.heat_ground_j
                    - l.heat_vapour_j
                    - l.heat_drained_j
                    - l.heat_end_j;
                let water = l.water_start_kg + l.water_made_kg + l.water_rain_kg
                    - l.water_vapour_kg
                    - l.water_drained_kg
                    - l.water_end_kg;
                let carbon = l.carbon_end_kg + l.carbon_oxidised_kg - l.carbon_start_kg;
                for gap in [
                    heat / (l.heat_start_j + l.heat_made_j),
                    water / l.water_start_kg,
                    carbon / l.carbon_start_kg,
                ] {
                    worst.set(worst.get().max(gap.abs()));
                }
            }
            let within = f64::from(u8::from(worst.get() < 1e-9));
            told.wanted("heat, water and carbon close to 1e-9 (1: yes)", 1.0..=1.0)
                .got(within);
        },
    );
}
