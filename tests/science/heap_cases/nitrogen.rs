//! Nitrogen that leaves: rich food in a closed bin, grass alone, lime and ash.
//!
//! Sources: Eklind and Kirchmann 2000, Bioresour. Technol. 74 (abstract): household waste with litter lost 43-62 % of its
//! nitrogen in 590 days, 70 % without; a closed bin of a year is asked for 20 %. Michel, Reddy and Forney 1993 (abstract):
//! the more grass the more nitrogen lost; grass alone is asked for 10 %, well above the 6 % of a mix. Emerson et al. 1975:
//! free ammonia rises with pH, so lime and ash raise the loss.

use heapwright::material::Condition;

use super::right_mix;
use crate::support::garden::{Garden, at_once};
use crate::support::heaps::{closed_bin, mesh_cube};
use crate::support::published::case;

#[test]
fn cooked_food_loses_nitrogen_in_a_closed_bin() {
    let heap = "0.3 m3 of cooked food and leaves by volume in a closed bin, 15 degC, 365 days";
    let source = "Eklind and Kirchmann 2000 (abstract): 43-62 % in 590 days";
    case("N-FOOD", heap, source, |told| {
        let mut heap = closed_bin(0.3, 15.0);
        heap.days = 365.0;
        let lost = |leaves: f64| {
            let mix = Garden::by_volume(&[("food_waste_cooked", 1.0), ("leaves_mixed", leaves)]);
            let summary = mix.filling(0.3).run(&heap).summary;
            100.0 * summary.nitrogen_lost_share
        };
        let [equal, more] = at_once([1.0, 3.0], lost);
        told.wanted("1:1: nitrogen lost, %", 20.0..=70.0).got(equal);
        told.wanted("1:3: nitrogen lost, %", 20.0..=70.0).got(more);
    });
}

#[test]
fn grass_alone_loses_nitrogen_and_mats_less_when_wilted() {
    let heap = "1 m3 of fresh grass in mesh, 15 degC, 120 days; the same wilted for two days";
    let source = "Michel, Reddy and Forney 1993 (abstract): most with most grass; common practice";
    case("N-GRASS", heap, source, |told| {
        let grass = Garden::by_volume(&[("grass_fresh", 1.0)]);
        let two_days = Condition {
            wilted_days: 2.0,
            ..Condition::default()
        };
        let mixes = [grass.clone(), grass.with("grass_fresh", two_days)];
        told.built("wilted", &mixes[1].clone().filling(1.0).totals());
        let run = |mix: Garden| mix.filling(1.0).run(&mesh_cube(1.0, 15.0)).summary;
        let [fresh, wilted] = at_once(mixes, run);
        told.wanted("nitrogen lost, %", 10.0..=60.0)
            .got(100.0 * fresh.nitrogen_lost_share);
        told.wanted("airless share, fresh less wilted", 0.02..=1.0)
            .got(fresh.airless_share - wilted.airless_share);
    });
}

#[test]
fn lime_and_ash_drive_nitrogen_out() {
    let heap = "the mix of T3 with poultry manure to C:N 20; with lime at 1 %, with ash at 3 % of the dry matter";
    case(
        "N-LIME",
        heap,
        "Emerson et al. 1975 (from memory)",
        |told| {
            let rich = right_mix().brought_to_cn(20.0, "poultry_fresh");
            told.built("without", &rich.clone().filling(1.0).totals());
            let mixes = [
                rich.clone(),
                rich.clone().dressed_with(0.01, "lime"),
                rich.dressed_with(0.03, "wood_ash"),
            ];
            let [plain, lime, ash] = at_once(mixes, |mix| {
                let summary = mix.filling(1.0).run(&mesh_cube(1.0, 15.0)).summary;
                100.0 * summary.nitrogen_lost_share
            });
            told.wanted("more lost with lime, points", 1.0..=f64::INFINITY)
                .got(lime - plain);
            told.wanted("more lost with ash, points", 1.0..=f64::INFINITY)
                .got(ash - plain);
        },
    );
}
