//! Wind, boards and a blanket of straw.
//!
//! Sources: Washington State University, Compost fundamentals, climatic conditions (page read): coarse matter lets wind in
//! and dries the windward face, the outer crust falls by several degF an inch. ISO 6946 resistances: foam of 50 mm holds
//! back ten times what plastic does. King et al. 2012 and common practice: a blanket keeps the edge warm. Least effects are
//! 2 K, what a probe can tell apart, and 2 points of moisture.

use heapwright::heap::{Board, Cover, Heap, Lid, Shape};

use super::right_mix;
use crate::support::garden::{Garden, at_once, mean_of};
use crate::support::heaps::{mesh_cube, place};
use crate::support::published::case;

#[test]
fn wind_cools_and_dries() {
    let heap = "the heap of T3 in wind of 0.3, 1.5, 4 and 6 m/s";
    let source = "WSU Compost fundamentals (page read)";
    case("WIND", heap, source, |told| {
        let runs = at_once([6.0, 4.0, 1.5, 0.3], |wind| {
            let mut heap = mesh_cube(1.0, 15.0);
            heap.climate.wind_m_per_s = wind;
            let p = right_mix().filling(1.0).run(&heap);
            let moisture = 100.0 * p.at(30.0).unwrap().moisture;
            (p.summary.peak_c, p.summary.days_above_55, moisture)
        });
        told.wanted("peak lower in 6 than in 0.3 m/s by, K", 2.0..=f64::INFINITY)
            .got(runs[3].0 - runs[0].0);
        told.rising(
            "days above 55 degC from 6 to 0.3 m/s",
            -0.1,
            &runs.map(|run| run.1),
        );
        told.wanted(
            "drier on day 30 in 6 than in 0.3 m/s by, points",
            2.0..=f64::INFINITY,
        )
        .got(runs[3].2 - runs[0].2);
    });
}

#[test]
fn thicker_boards_are_warmer() {
    let heap = "0.3 m3 of leaves and wilted grass 1:1 by volume, closed bins, 10 degC";
    case(
        "BOARDS",
        heap,
        "ISO 6946 resistances (as tabulated)",
        |told| {
            let mix = Garden::by_volume(&[("leaves_mixed", 1.0), ("grass_wilted", 1.0)])
                .wetted_to(0.58)
                .filling(0.3);
            told.built("the mix", &mix.totals());
            let boards = [Board::Plastic, Board::Timber, Board::Insulated];
            let peaks = at_once(boards, |board| {
                let side = 0.3f64.cbrt();
                let shape = Shape::SolidBin {
                    width_m: side,
                    length_m: side,
                    height_m: side,
                    lid: Lid::Closed,
                    board,
                };
                mix.run(&place(shape, 10.0)).summary.peak_c
            });
            told.rising("peak in plastic, timber, insulated, K", 0.0, &peaks);
            told.wanted("insulated warmer than plastic by, K", 2.0..=f64::INFINITY)
                .got(peaks[2] - peaks[0]);
        },
    );
}

#[test]
fn a_blanket_of_straw_warms_the_edge() {
    let heap =
        "the mix of T3, 1 m3 open and in a slatted bay, bare and under 10 cm of straw, 15 degC";
    case(
        "STRAW",
        heap,
        "King et al. 2012 (opening), common practice",
        |told| {
            let bay = Shape::SlattedBin {
                width_m: 1.0,
                length_m: 1.0,
                height_m: 1.0,
            };
            let edge = |heap: Heap| {
                let p = right_mix().filling(1.0).run(&heap);
                mean_of(&p, 1.0..15.0, |r| r.edge_c)
            };
            let under = |shape: &Shape, cover: Cover| {
                let mut heap = place(shape.clone(), 15.0);
                (heap.cover, heap.days) = (cover, 15.0);
                heap
            };
            let straw = Cover::Straw { thickness_m: 0.1 };
            let heaps = [
                under(&Shape::OpenHeap, Cover::Bare),
                under(&Shape::OpenHeap, straw),
                under(&bay, Cover::Bare),
                under(&bay, straw),
            ];
            let edges = at_once(heaps, edge);
            told.wanted(
                "open heap: edge in the first fortnight warmer by, K",
                2.0..=f64::INFINITY,
            )
            .got(edges[1] - edges[0]);
            told.wanted("bay, sides bare: edge warmer by, K", 0.3..=f64::INFINITY)
                .got(edges[3] - edges[2]);
        },
    );
}
