//! scratch
#[path = "support/heaps.rs"]
mod heaps;
use heaps::*;
use heapwright::heap::*;
use std::sync::atomic::AtomicBool;
fn show(name: &str, r: Recipe, heap: &Heap, set: &Settings) {
    let t0 = std::time::Instant::now();
    let p = simulate(&r.totals(), &[], heap, set, &AtomicBool::new(false)).unwrap();
    let t = t0.elapsed();
    let s = p.summary;
    let l = p.ledger;
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
    let n = l.nitrogen_start_kg - l.nitrogen_end_kg - l.nitrogen_ammonia_kg;
    let c = l.carbon_start_kg - l.carbon_end_kg - l.carbon_oxidised_kg;
    let o = l.oxygen_supplied_kg - l.oxygen_used_kg - l.oxygen_stored_kg;
    println!(
        "{name:22} peak {:5.1} d{:5.1} >40 {:5.1} >55 {:5.1} f55 {:.2} air {:.3} N {:.2} DM {:.2} fin {:?} M {:.2} V {:.2} steps {} {:.1}ms {:?} | h {:.0e} w {:.0e} n {:.0e} c {:.0e} o {:.0e}",
        s.peak_c,
        s.peak_day,
        s.days_above_40,
        s.days_above_55,
        p.share_held(55.0, 3.0),
        s.airless_share,
        s.nitrogen_lost_share,
        s.dry_matter_lost_share,
        s.finished_day,
        p.records.last().unwrap().moisture,
        p.records.last().unwrap().volume_m3,
        p.steps,
        t.as_secs_f64() * 1e3,
        p.ended,
        heat / l.heat_made_j,
        water / l.water_start_kg,
        n / l.nitrogen_start_kg,
        c / l.carbon_start_kg,
        o / l.oxygen_used_kg
    );
}
#[test]
fn look() {
    let (co, fi) = (Settings::coarse(), Settings::fine());
    let _ = show;
    for (name, set) in [
        ("coarse", co),
        ("member", Settings::member()),
        ("fine", fi),
        (
            "coarse sw2",
            Settings {
                oxygen_sweeps: 2,
                ..co
            },
        ),
        (
            "nofield",
            Settings {
                field_hours: None,
                ..co
            },
        ),
    ] {
        let mut best = f64::MAX;
        let mut steps = 0;
        for _ in 0..15 {
            let t0 = std::time::Instant::now();
            let p = simulate(
                &GOOD.totals(),
                &[],
                &mesh_cube(1.0, 15.0),
                &set,
                &AtomicBool::new(false),
            )
            .unwrap();
            best = best.min(t0.elapsed().as_secs_f64());
            steps = p.steps;
        }
        let n = (set.cells.0 * set.cells.1) as f64;
        println!(
            "{name}: {:.2} ms steps {steps} {:.0} ns/cell step",
            best * 1e3,
            best * 1e9 / n / steps as f64
        );
    }
}
