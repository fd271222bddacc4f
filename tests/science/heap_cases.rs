use crate::support::heaps::*;
use heapwright::heap::simulate;
#[test]
fn look() {
    let show = |name: &str, r: Recipe, heap| {
        let t0 = std::time::Instant::now();
        let p = simulate(&r.totals(), &heap).unwrap();
        let s = p.summary;
        println!(
            "{name:28} peak {:5.1} d{:5.1}  >40 {:5.1} >55 {:5.1} airless {:.3} N {:.2} DM {:.2} fin {:?} endM {:.2} steps {} {:?} minO2 {:.3} fas {:.2}-> V {:.2} {:?}",
            s.peak_c,
            s.peak_day,
            s.days_above_40,
            s.days_above_55,
            s.airless_share,
            s.nitrogen_lost_share,
            s.dry_matter_lost_share,
            s.finished_day,
            p.records.last().unwrap().moisture,
            p.steps,
            t0.elapsed(),
            p.records.iter().map(|r| r.oxygen).fold(1.0, f64::min),
            r.totals().free_air_space(),
            p.records.last().unwrap().volume_m3,
            p.ended
        );
    };
    for v in [0.04, 0.06, 0.1, 0.2, 0.3, 0.5, 0.73, 1.0, 3.0, 10.0] {
        show(
            &format!("good {v}"),
            Recipe {
                volume_m3: v,
                ..GOOD
            },
            mesh_cube(v, 15.0),
        );
    }
    for v in [0.2, 1.0] {
        show(
            &format!("closed {v}"),
            Recipe {
                volume_m3: v,
                ..GOOD
            },
            closed_bin(v, 15.0),
        );
    }
    for d in [0.25, 0.5, 0.7, 1.4, 2.0, 4.0] {
        show(
            &format!("d {d}"),
            Recipe {
                particle_size_m: d * 1e-3,
                ..GOOD
            },
            mesh_cube(1.0, 15.0),
        );
    }
    for m in [0.35, 0.45, 0.5, 0.65, 0.72, 0.78] {
        show(
            &format!("m {m}"),
            Recipe {
                moisture: m,
                ..GOOD
            },
            mesh_cube(1.0, 15.0),
        );
    }
    for m in [0.65, 0.72, 0.78] {
        show(
            &format!("wetted m {m}"),
            Recipe {
                moisture: m,
                density: 450.0 * 0.42 / (1.0 - m),
                ..GOOD
            },
            mesh_cube(1.0, 15.0),
        );
    }
    for c in [12.0, 15.0, 20.0, 25.0, 30.0, 35., 40.0, 50., 60.0, 90.] {
        show(
            &format!("cn {c}"),
            Recipe { cn: c, ..GOOD },
            mesh_cube(1.0, 15.0),
        );
    }
    for d in [200., 250., 300.0, 350., 550.0] {
        show(
            &format!("dens {d}"),
            Recipe { density: d, ..GOOD },
            mesh_cube(1.0, 15.0),
        );
    }
    let leaves = Recipe {
        density: 240.0,
        moisture: 0.45,
        cn: 54.0,
        particle_size_m: 0.8e-3,
        pools: [0.155, 0.244, 0.4],
        slump: 0.3,
        holds: 3.0,
        volume_m3: 1.0,
    };
    let mut h = mesh_cube(1.0, 10.0);
    h.days = 500.0;
    show("leaves", leaves, h.clone());
    show(
        "leaves+w",
        Recipe {
            moisture: 0.58,
            density: 300.0,
            ..leaves
        },
        h,
    );
    let grass = Recipe {
        density: 382.0,
        moisture: 0.82,
        cn: 17.0,
        particle_size_m: 0.3e-3,
        pools: [0.466, 0.284, 0.18],
        slump: 0.5,
        holds: 4.5,
        volume_m3: 1.0,
    };
    show("grass", grass, mesh_cube(1.0, 15.0));
    show(
        "leaves+grass 1:1",
        Recipe {
            density: 314.0,
            moisture: 0.62,
            cn: 32.0,
            particle_size_m: 0.49e-3,
            pools: [0.25, 0.26, 0.32],
            slump: 0.35,
            holds: 3.5,
            volume_m3: 1.0,
        },
        mesh_cube(1.0, 10.0),
    );
    for t in [0.0, 5.0, 10.0, 20.0, 28.0] {
        show(&format!("amb {t}"), GOOD, mesh_cube(1.0, t));
    }
}
