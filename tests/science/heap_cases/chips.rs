//! T11, T12, W1 to W3: big heaps of fresh wood chips.
//!
//! Sources: BioEnergy Research 2016, s12155-015-9686-y (results read): two heaps of fresh willow chips. East Midlands,
//! mean 18 degC, 334 mm of rain: 13 degC to 66 on day 12, average falling from day 27, 20-40 degC after day 65, 46 days
//! above 40. Second site, mean 16 degC, 164 mm: 24 degC to 64 on day 6, about 60 for 19 to 29 days, 30-40 from day 31 on, 32
//! days above 40. BioEnergy Research 2016, s12155-016-9800-9 (results read): about 25 t dry, 55 % moist, 354 mm: top 62
//! degC on day 10, core 58 on day 20, dry matter -19.8 to -22.6 %, core to 38 % moisture, outer 0.3 m to 59, top 72 %. Bands
//! +-4 K on peaks, T11 and T12 as set around these. The sources give no C:N; the catalogue's arborist chips have 140
//! (60-250), their nitrogen being that of bark and twigs.

use heapwright::heap::{Heap, Projection, SectionGrid, Shape};

use super::good_mix::mean_in;
use crate::support::garden::{Garden, days_above};
use crate::support::heaps::place;
use crate::support::published::case;

/// Fresh chips of trees with their twigs, as wet as the sources'.
pub(crate) fn chips() -> Garden {
    Garden::by_volume(&[("wood_chips_arb", 1.0)])
        .wetted_to(0.55)
        .filling(150.0)
}

/// An open heap of chips in air of this mean, with so much rain a month.
pub(crate) fn chip_heap(mean_c: f64, rain_mm: f64, start_c: f64) -> Heap {
    let mut heap = place(Shape::OpenHeap, mean_c);
    heap.climate.monthly_rain_mm = [rain_mm; 12];
    heap.start_temperature_c = Some(start_c);
    heap
}

/// Mean over days of the centre, by the share of records, degC.
fn warmest_after(p: &Projection, day: f64) -> f64 {
    let later = p.records.iter().filter(|r| r.day >= day);
    later.map(|r| r.mean_c).fold(0.0, f64::max)
}

#[test]
fn t11_water_moves_from_the_core_to_the_skin() {
    let heap = "150 m3 of arborist chips, 55 % moist, open, 17 degC, 59 mm of rain a month";
    let source = "BioEnergy Research 2016, 9800-9 (results read)";
    case("T11", heap, source, |told| {
        let p = chips().run(&chip_heap(17.0, 59.0, 15.0));
        let field = p.field_at(90.0).unwrap();
        let grid = &p.grids[0];
        let depth = |place| depth_m(grid, place);
        let core = 100.0 * mean_in(&field.moisture, grid, |place| depth(place) > 0.8);
        let skin = 100.0 * mean_in(&field.moisture, grid, |place| depth(place) < 0.35);
        told.wanted("core on day 90, % moist", 25.0..=45.0)
            .got(core);
        told.wanted("outer 0.3 m on day 90, % moist", 56.0..=72.0)
            .got(skin);
    });
}

/// Depth of the middle of a cell below the slope of 45 degrees, m.
fn depth_m(grid: &SectionGrid, (column, row): (usize, usize)) -> f64 {
    let extent = grid.edges_across_m.last().unwrap();
    let height = grid.edges_up_m.last().unwrap();
    let middle = |edges: &[f64], i: usize| 0.5 * (edges[i] + edges[i + 1]);
    let x = middle(&grid.edges_across_m, column) / extent;
    let z = middle(&grid.edges_up_m, row) / height;
    (1.0 - x - z) * extent * std::f64::consts::FRAC_1_SQRT_2
}

#[test]
fn t12_a_chip_pile_heats_for_weeks() {
    let heap = "the heap of T11";
    let source = "BioEnergy Research 2016, both papers (results read)";
    case("T12", heap, source, |told| {
        told.built("the chips", &chips().totals());
        let s = chips().run(&chip_heap(17.0, 59.0, 15.0)).summary;
        told.wanted("peak, degC", 58.0..=66.0).got(s.peak_c);
        told.wanted("day of peak", 5.0..=20.0).got(s.peak_day);
        told.wanted("days above 40 degC", 30.0..=50.0)
            .got(s.days_above_40);
        told.wanted("dry matter lost, %", 5.0..=23.0)
            .got(100.0 * s.dry_matter_lost_share);
    });
}

#[test]
fn w1_the_midland_heap() {
    let heap = "150 m3 of arborist chips, 55 % moist, built at 13 degC, air 18 degC, 56 mm of rain a month";
    let source = "BioEnergy Research 2016, 9686-y, East Midlands (results read)";
    case("W1", heap, source, |told| {
        let p = chips().run(&chip_heap(18.0, 56.0, 13.0));
        told.wanted("peak, degC", 62.0..=70.0).got(p.summary.peak_c);
        told.wanted("day of peak", 6.0..=20.0)
            .got(p.summary.peak_day);
        told.wanted("days above 60 degC", 15.0..=30.0)
            .got(days_above(&p, 60.0));
        told.wanted("days above 40 degC", 36.0..=56.0)
            .got(p.summary.days_above_40);
        told.wanted("warmest mean after day 65, degC", 20.0..=40.0)
            .got(warmest_after(&p, 65.0));
    });
}

#[test]
fn w2_the_drier_heap_that_started_warm() {
    let heap = "150 m3 of arborist chips, 55 % moist, built at 24 degC, air 16 degC, 27 mm of rain a month";
    let source = "BioEnergy Research 2016, 9686-y, second site (results read)";
    case("W2", heap, source, |told| {
        let p = chips().run(&chip_heap(16.0, 27.0, 24.0));
        told.wanted("peak, degC", 60.0..=68.0).got(p.summary.peak_c);
        told.wanted("day of peak", 3.0..=12.0)
            .got(p.summary.peak_day);
        told.wanted("days above 40 degC", 25.0..=40.0)
            .got(p.summary.days_above_40);
        told.wanted("warmest mean after day 45, degC", 20.0..=40.0)
            .got(warmest_after(&p, 45.0));
    });
}

#[test]
fn w3_the_heap_that_was_weighed() {
    let heap = "the heap of T11";
    let source = "BioEnergy Research 2016, 9800-9 (results read)";
    case("W3", heap, source, |told| {
        let p = chips().run(&chip_heap(17.0, 59.0, 15.0));
        told.wanted("centre on day 20, degC", 54.0..=62.0)
            .got(p.at(20.0).unwrap().centre_c);
        let field = p.field_at(10.0).unwrap();
        let grid = &p.grids[0];
        let top = |(column, row): (usize, usize)| {
            column < 2 && (0.3..1.0).contains(&depth_m(grid, (column, row)))
        };
        told.wanted("top on day 10, degC", 58.0..=66.0).got(mean_in(
            &field.temperature_c,
            grid,
            top,
        ));
        told.wanted("dry matter lost, %", 15.0..=25.0)
            .got(100.0 * p.summary.dry_matter_lost_share);
    });
}
