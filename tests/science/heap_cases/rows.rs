//! T6 to T9 and C5-11: long rows of leaves, of dairy manure with sawdust or straw, of yard trimmings.
//!
//! Sources: Strom and Finstein, New Jersey leaf composting manual, table 1 (page read): leaves are ready after 36-60 months
//! turned once a year, 16-18 with a few turnings, 4-6 and 3-4 with much care. Michel, Rigot, Wilkinson and Pecchia 2004,
//! ASAE 044030 (abstract): dairy manure with straw, sawdust or sand, C:N 25-50, 2-38 % of the nitrogen lost, less than
//! 10 % above C:N 40; all sawdust rows above 55 degC within 10 days and for more than 60, straw rows cooler and none long
//! enough. Michel et al. 1996 (abstract): 7 turnings or 1 in 4 weeks, little effect on the temperature of yard trimmings.
//! City refuse rows (abstract): a dip at each turning, back within hours.

use heapwright::heap::{Heap, Projection, Record};

use super::yard_trimmings;
use crate::support::garden::{Garden, at_once, day_of};
use crate::support::heaps::{row, turned};
use crate::support::published::case;
use crate::support::ready_day;

#[test]
fn t06_leaves_finish_the_sooner_the_more_they_are_turned() {
    let heap = "100 m3 of wet packed leaves in a row 7 m wide, 11 degC, 90 mm of rain a month";
    let source = "Strom and Finstein, New Jersey manual, table 1 (page read)";
    case("T6", heap, source, |told| {
        let leaves = Garden::by_volume(&[("leaves_wet_packed", 1.0)]).filling(100.0);
        told.built("the leaves", &leaves.totals());
        let months = |(every, wet_to): (f64, Option<f64>)| {
            let mut heap = row(100.0, 7.0, 11.0);
            heap.climate.monthly_rain_mm = [90.0; 12];
            heap.days = 1100.0;
            let days = (1..).map(|i| f64::from(i) * every);
            let days: Vec<f64> = days.take_while(|day| *day < 1100.0).collect();
            heap.plan = turned(&days, wet_to);
            let projection = leaves.run_coarsely(&heap);
            // A heap that is not ready at the end of the run takes longer than the run.
            ready_day(&projection).unwrap_or(1100.0) / 30.4
        };
        let plans = [
            (7.0, Some(0.55)),
            (30.0, Some(0.55)),
            (120.0, None),
            (365.0, None),
        ];
        let [weekly, monthly, thrice, yearly] = at_once(plans, months);
        told.wanted("weekly, wetted: ready, months", 2.5..=4.5)
            .got(weekly);
        told.wanted("monthly, wetted: ready, months", 4.0..=7.0)
            .got(monthly);
        told.wanted("thrice a year: ready, months", 12.0..=18.0)
            .got(thrice);
        told.wanted("yearly: ready, months", 18.0..=60.0)
            .got(yearly);
    });
}

/// A row of a tonne of dairy manure with so much straw from the stable, brought to a C:N, turned six times in 100 days.
fn dairy_row(straw_kg: f64, bedding: &str, cn: f64) -> (Garden, Projection) {
    let (mix, heap) = dairy_heap(straw_kg, bedding, cn);
    let projection = mix.run(&heap);
    (mix, projection)
}

/// Its mix and its heap.
pub(crate) fn dairy_heap(straw_kg: f64, bedding: &str, cn: f64) -> (Garden, Heap) {
    let mut heap: Heap = row(15.0, 3.0, 15.0);
    heap.days = 100.0;
    heap.plan = turned(&[7.0, 14.0, 28.0, 42.0, 56.0, 77.0], None);
    let mix = Garden::by_mass(&[("cattle_fym", 1000.0), ("straw", straw_kg)])
        .brought_to_cn(cn, bedding)
        .filling(15.0);
    (mix, heap)
}

#[test]
fn t07_nitrogen_loss_falls_with_cn() {
    let heap = "15 m3 of dairy manure and straw brought to C:N 25 to 50 with sawdust, row turned six times in 100 days";
    let source = "Michel et al. 2004, ASAE 044030 (abstract)";
    case("T7", heap, source, |told| {
        let lost = |cn| {
            let (_, p) = dairy_row(100.0, "sawdust", cn);
            100.0 * p.summary.nitrogen_lost_share
        };
        let losses = at_once([25.0, 30.0, 35.0, 42.0, 50.0], lost);
        told.falling("nitrogen lost, %, C:N 25, 30, 35, 42, 50", 0.0, &losses);
        told.wanted("lost at C:N 25, %", 25.0..=45.0).got(losses[0]);
        told.wanted("lost at C:N 42, %", 0.0..=10.0).got(losses[3]);
        told.wanted("lost at C:N 50, %", 0.0..=10.0).got(losses[4]);
    });
}

#[test]
fn dairy_manure_with_straw_is_cooler_than_with_sawdust() {
    let heap = "15 m3 of dairy manure brought to C:N 40 with sawdust or straw, row turned six times in 100 days";
    let source = "Michel et al. 2004, ASAE 044030 (abstract)";
    case("C5-11", heap, source, |told| {
        let ((sawdust_mix, sawdust), (straw_mix, straw)) = rayon::join(
            || dairy_row(0.0, "sawdust", 40.0),
            || dairy_row(0.0, "straw", 40.0),
        );
        told.built("with sawdust", &sawdust_mix.totals());
        told.built("with straw", &straw_mix.totals());
        told.wanted("straw: air space", 0.75..=0.93)
            .got(straw_mix.totals().free_air_space());
        told.wanted("straw cooler by, K", 0.5..=f64::INFINITY)
            .got(sawdust.summary.peak_c - straw.summary.peak_c);
        told.wanted("sawdust: day of 55 degC", 0.0..=10.0)
            .got(day_of(&sawdust, 55.0));
        told.wanted("sawdust: days above 55 degC", 60.0..=100.0)
            .got(sawdust.summary.days_above_55);
    });
}

#[test]
fn t08_seven_turnings_or_one_make_little_difference_to_the_heat() {
    let heap = "15 m3 of leaves, grass and brush in a row, turned 7 times or once in 28 days";
    case("T8", heap, "Michel et al. 1996 (abstract)", |told| {
        told.built("the mix", &yard_trimmings().filling(15.0).totals());
        let with = |times: u32| {
            let mut heap = row(15.0, 3.0, 15.0);
            let day = |i: u32| 28.0 * f64::from(i) / f64::from(times);
            heap.plan = turned(&(1..=times).map(day).collect::<Vec<f64>>(), None);
            let p = yard_trimmings().filling(15.0).run(&heap);
            let peak = |spell: u32| {
                let (from, to) = (4.0 * f64::from(spell), 4.0 * f64::from(spell + 1));
                let within = p.records.iter().filter(|r| r.day >= from && r.day < to);
                within.map(|r| r.centre_c).fold(0.0, f64::max)
            };
            let mean = (0..7).map(peak).sum::<f64>() / 7.0;
            (mean, 100.0 * p.summary.nitrogen_lost_share)
        };
        let (often, once) = rayon::join(|| with(7), || with(1));
        told.wanted("mean of the peaks, once less often, K", -5.0..=5.0)
            .got(once.0 - often.0);
        told.rising("nitrogen lost, %, once, often", 0.0, &[once.1, often.1]);
    });
}

#[test]
fn t09_turning_dips_the_centre_and_it_is_back_within_a_day() {
    let heap = "the row of T8, turned on day 10";
    let source =
        "maturing of city refuse compost (abstract); 5-15 K below the mean of core and edge";
    case("T9", heap, source, |told| {
        let mut heap = row(15.0, 3.0, 15.0);
        heap.plan = turned(&[10.0], None);
        let p = yard_trimmings().filling(15.0).run(&heap);
        let after = p.records.iter().rfind(|r| (r.day - 10.0).abs() < 1e-9);
        let after = after.unwrap();
        let before: &Record = p.at(9.99).unwrap();
        let between = 0.5 * (before.centre_c + before.edge_c);
        told.wanted("dip below the mean of core and edge, K", 5.0..=15.0)
            .got(between - after.centre_c);
        told.wanted("a day later against before, K", -3.0..=20.0)
            .got(p.at(11.0).unwrap().centre_c - before.centre_c);
    });
}
