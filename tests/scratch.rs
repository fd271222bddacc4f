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
    let s = p.summary; let l = p.ledger;
    let heat = l.heat_start_j + l.heat_made_j - l.heat_surface_j - l.heat_ground_j - l.heat_vapour_j - l.heat_drained_j - l.heat_end_j;
    let water = l.water_start_kg + l.water_made_kg + l.water_rain_kg - l.water_vapour_kg - l.water_drained_kg - l.water_end_kg;
    let n = l.nitrogen_start_kg - l.nitrogen_end_kg - l.nitrogen_ammonia_kg;
    let c = l.carbon_start_kg - l.carbon_end_kg - l.carbon_oxidised_kg;
    let o = l.oxygen_supplied_kg - l.oxygen_used_kg - l.oxygen_stored_kg;
    println!("{name:22} peak {:5.1} d{:5.1} >40 {:5.1} >55 {:5.1} f55 {:.2} air {:.3} N {:.2} DM {:.2} fin {:?} M {:.2} V {:.2} steps {} {:.1}ms {:?} | h {:.0e} w {:.0e} n {:.0e} c {:.0e} o {:.0e}", s.peak_c, s.peak_day, s.days_above_40, s.days_above_55, p.share_held(55.0,3.0), s.airless_share, s.nitrogen_lost_share, s.dry_matter_lost_share, s.finished_day, p.records.last().unwrap().moisture, p.records.last().unwrap().volume_m3, p.steps, t.as_secs_f64()*1e3, p.ended, heat/l.heat_made_j, water/l.water_start_kg, n/l.nitrogen_start_kg, c/l.carbon_start_kg, o/l.oxygen_used_kg);
}
#[test]
fn look() {
    let (co, fi) = (Settings::coarse(), Settings::fine());
    for n in [6,8,12,16,24] { show(&format!("grid {n}"), GOOD, &mesh_cube(1.0,15.0), &Settings{cells:(n,n),..fi}); }
    show("good coarse", GOOD, &mesh_cube(1.0,15.0), &co);
    for v in [0.04, 0.2, 0.3,0.5, 0.73, 1.0, 3.0, 10.0] { show(&format!("good {v}"), Recipe{volume_m3:v,..GOOD}, &mesh_cube(v,15.0), &co); }
    for v in [0.2, 1.0] { show(&format!("closed {v}"), Recipe{volume_m3:v,..GOOD}, &closed_bin(v,15.0), &co); }
    for d in [0.25,0.5,0.7,1.4,2.0,4.0] { show(&format!("d {d}"), Recipe{particle_size_m:d*1e-3,..GOOD}, &mesh_cube(1.0,15.0), &co); }
    for m in [0.35,0.45,0.5,0.65,0.72] { show(&format!("m {m}"), Recipe{moisture:m,..GOOD}, &mesh_cube(1.0,15.0),&co); }
    for m in [0.65,0.72,0.78] { show(&format!("wetted m {m}"), GOOD.wetted_to(m), &mesh_cube(1.0,15.0),&co); }
    for c in [12.0,20.0,25.0,30.0,40.0,50.,60.0,90.] { show(&format!("cn {c}"), Recipe{cn:c,..GOOD}, &mesh_cube(1.0,15.0),&co); }
    for d in [200.,250.,300.0,350.,550.0] { show(&format!("dens {d}"), Recipe{density:d,..GOOD}, &mesh_cube(1.0,15.0),&co); }
    let mut h = mesh_cube(1.0,10.0); h.days=400.0;
    show("leaves", LEAVES, &h, &co);
    show("grass", GRASS, &mesh_cube(1.0,15.0), &co);
    for t in [0.0,5.0,10.0,20.0,28.0] {show(&format!("amb {t}"), GOOD, &mesh_cube(1.0,t),&co);}
    show("cone 1", GOOD, &place(Shape::OpenHeap, 15.0), &co);
    show("cone 1 fine", GOOD, &place(Shape::OpenHeap, 15.0), &fi);
    show("row 3", Recipe{volume_m3:30.0,..GOOD}, &place(Shape::Row{width_m:3.0,length_m:13.0}, 15.0), &co);
    show("tumbler", Recipe{volume_m3:0.15,..GOOD}, &place(Shape::Tumbler{diameter_m:0.5,length_m:0.8}, 15.0), &co);
    show("layer", Recipe{volume_m3:0.5,..GOOD}, &place(Shape::Layer{thickness_m:0.05}, 15.0), &co);
    let mut h = mesh_cube(1.0,15.0);
    h.plan.events = [10.0,24.0,45.0].map(|day| Event{day,deed:Deed::Turn{turning:Turning::Remix,wet_to:Some(0.55)}}).to_vec();
    show("turned", GOOD, &h, &co);
    for e in &mut h.plan.events { e.deed=Deed::Turn{turning:Turning::InsideOut,wet_to:Some(0.55)}; }
    show("inside out", GOOD, &h, &co);
}
