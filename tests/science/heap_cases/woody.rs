//! T1 and T2: the same chipped garden waste in small vessels and in a big heap.
//!
//! Source: a garden trial (secondary account of 2010, read): 0.3 m3 open, 0.3 m3 in plastic and 0.75 m3 in timber, in
//! air below 10 degC, stay within a few degrees of the air; 30 m3 of the same are at about 70 degC quickly and above
//! 50 for months. The bands are those of that account, with 10 K for "a few degrees" in a small vessel.

use heapwright::heap::{Board, Heap, Lid, Projection, Shape};

use crate::support::garden::{Garden, days_above};
use crate::support::heaps::{mesh_cube, place};
use crate::support::published::case;

const TRIAL: &str = "garden trial, secondary account of 2010 (read)";

/// Shrub and tree trimmings from the chipper, as they lie in late autumn: C:N 47, 55 % moist.
pub(crate) fn woody(volume_m3: f64) -> Garden {
    Garden::by_volume(&[("shrub_trimmings", 3.0), ("tree_trimmings_leafy", 1.0)])
        .wetted_to(0.55)
        .filling(volume_m3)
}

/// A bin of solid walls that just holds this volume.
pub(crate) fn bin(volume_m3: f64, board: Board, lid: Lid) -> Heap {
    let side = volume_m3.cbrt();
    let shape = Shape::SolidBin {
        width_m: side,
        length_m: side,
        height_m: side,
        lid,
        board,
    };
    place(shape, 7.0)
}

fn in_plastic() -> Projection {
    woody(0.3).run(&bin(0.3, Board::Plastic, Lid::Closed))
}

fn big() -> Projection {
    woody(30.0).run(&place(Shape::OpenHeap, 7.0))
}

#[test]
fn t01_woody_waste_stays_cold_in_small_heaps_and_heats_in_a_big_one() {
    let heap =
        "shrub and tree trimmings 3:1, air 7 degC; 0.3 m3 in mesh and in plastic, 30 m3 open";
    case("T1", heap, TRIAL, |told| {
        told.built("as chipped", &woody(30.0).totals());
        let mesh = woody(0.3).run(&mesh_cube(0.3, 7.0)).summary.peak_c;
        told.wanted("0.3 m3 mesh: peak, degC", 7.0..=17.0).got(mesh);
        told.wanted("0.3 m3 plastic: peak, degC", 7.0..=17.0)
            .got(in_plastic().summary.peak_c);
        let p = big();
        told.wanted("30 m3: peak, degC", 60.0..=72.0)
            .got(p.summary.peak_c);
        told.wanted("30 m3: day of peak", 3.0..=14.0)
            .got(p.summary.peak_day);
        told.wanted("30 m3: days above 50 degC", 45.0..=120.0)
            .got(days_above(&p, 50.0));
    });
}

#[test]
fn t02_open_plastic_timber_and_big_heap_rank_as_observed() {
    let heap = "the same, 0.3 m3 open, mesh, plastic; 0.75 m3 timber; 30 m3";
    case("T2", heap, TRIAL, |told| {
        let peak = |volume_m3, heap: &Heap| woody(volume_m3).run(heap).summary.peak_c;
        let open = peak(0.3, &place(Shape::OpenHeap, 7.0));
        let plastic = in_plastic().summary.peak_c;
        let timber = peak(0.75, &bin(0.75, Board::Timber, Lid::Open));
        told.rising(
            "peak of open, plastic, timber, 30 m3, K",
            0.0,
            &[open, plastic, timber, big().summary.peak_c],
        );
        told.wanted("0.75 m3 timber: peak, degC", 7.0..=17.0)
            .got(timber);
    });
}
