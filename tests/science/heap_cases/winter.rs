//! T13 and the winter bins: frozen rows, and right mixes of a cubic metre in air of 0 to 3 degC.
//!
//! Sources: Lynch and Cherry 1996 (abstract): passive rows at -27 to 15 degC under 15-20 cm of compost all froze first, sunny
//! ends warmed first, thermophilic was reached. King et al. 2012, BioCycle 53:37 (opening read), after Brinton 2010: bins of
//! 0.76 m3 and more hold active temperature whatever the air if the recipe is right, from December to March in the US
//! Northeast; leaves alone are the control that does not. Active is taken as 45 degC within 40 days.

use heapwright::heap::{Cover, Heap, Projection};

use super::right_mix;
use crate::support::garden::{Garden, at_once, day_of};
use crate::support::heaps::{mesh_cube, row};
use crate::support::published::case;

/// Dairy manure and straw, C:N 30.
pub(crate) fn frozen_mix() -> Garden {
    Garden::by_mass(&[("cattle_fym", 1000.0)])
        .brought_to_cn(30.0, "straw")
        .filling(10.0)
}

/// Its row in a cold continental year.
pub(crate) fn frozen_row(start_c: f64, in_sun: bool) -> Heap {
    let mut heap = row(10.0, 3.0, 0.0);
    heap.climate.monthly_mean_c = [
        -12.0, -8.0, -2.0, 5.0, 11.0, 16.0, 18.0, 17.0, 12.0, 6.0, -1.0, -9.0,
    ];
    heap.start_day_of_year = 15.0;
    heap.start_temperature_c = Some(start_c);
    heap.cover = Cover::Compost { thickness_m: 0.18 };
    heap.in_sun = in_sun;
    heap.days = 240.0;
    heap
}

/// Leaves alone, wetted.
pub(crate) fn leaves_alone() -> Garden {
    Garden::by_volume(&[("leaves_mixed", 1.0)])
        .wetted_to(0.55)
        .filling(1.0)
}

#[test]
fn t13_a_frozen_heap_waits_for_the_thaw_and_the_sun_helps() {
    // The section knows no south, so a row in the sun stands for the sunny end.
    let heap = "10 m3 of dairy manure and straw to C:N 30, built in January at -15 degC, 18 cm of compost on it";
    case("T13", heap, "Lynch and Cherry 1996 (abstract)", |told| {
        let mix = frozen_mix();
        told.built("the mix", &mix.totals());
        let run = |(start_c, in_sun): (f64, bool)| -> Projection {
            mix.run(&frozen_row(start_c, in_sun))
        };
        let [sunny, shaded, cool] = at_once([(-15.0, true), (-15.0, false), (5.0, true)], run);
        told.wanted("frozen, shaded: day of 5 degC", 60.0..=130.0)
            .got(day_of(&shaded, 5.0));
        told.wanted("sunny sooner by, d", 3.0..=f64::INFINITY)
            .got(day_of(&shaded, 5.0) - day_of(&sunny, 5.0));
        told.wanted("frozen, sunny: peak, degC", 45.0..=70.0)
            .got(sunny.summary.peak_c);
        told.wanted("built at 5 degC: day of 55 degC", 5.0..=60.0)
            .got(day_of(&cool, 55.0));
    });
}

#[test]
fn a_right_mix_heats_in_winter_and_leaves_do_not() {
    let heap = "1 m3 in mesh in air of 0, 1, 2, 3 degC: the mix of T3; leaves alone";
    let source = "King et al. 2012, BioCycle 53:37 (opening read)";
    case("WINTER", heap, source, |told| {
        let air = [0.0, 1.0, 2.0, 3.0];
        let right = at_once(air, |air_c| {
            let p = right_mix().filling(1.0).run(&mesh_cube(1.0, air_c));
            (p.summary.peak_c, day_of(&p, 45.0))
        });
        for (air_c, (peak, day)) in air.into_iter().zip(right) {
            told.wanted(
                format!("right mix in {air_c} degC: peak, degC"),
                45.0..=70.0,
            )
            .got(peak);
            told.wanted(
                format!("right mix in {air_c} degC: day of 45 degC"),
                1.0..=40.0,
            )
            .got(day);
        }
        let leaves = leaves_alone().run(&mesh_cube(1.0, 2.0));
        told.wanted("leaves alone in 2 degC: peak, degC", 2.0..=20.0)
            .got(leaves.summary.peak_c);
    });
}
