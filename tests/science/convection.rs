use heapwright::heap::grid::{Facing, Grid, Symmetry};
use crate::bench::{Bench, Even, Wall, upright, orders};

fn layer(sym: Symmetry, r: f64, ra: f64, n: (usize, usize)) -> Bench {
    let grid = Grid::uniform(&upright(sym, r, 1.0), n.0, n.1);
    let mut b = Bench::new(grid, Even { permeance: ra, ..Even::UNIT });
    b.wall(Facing::Base, Wall::Held(1.0));
    b.wall(Facing::Top, Wall::Held(0.0));
    b
}
fn amp(b: &Bench) -> f64 {
    let mut s = 0.0;
    for c in b.grid.cells() { let (_, z) = b.centre(c); s += b.grid.volume_m3[c] * (b.temperature[c] - (1.0 - z)).powi(2); }
    s.sqrt()
}
fn j0(x: f64) -> f64 { // series
    let q = -0.25 * x * x; let mut t = 1.0; let mut s = 1.0;
    for k in 1..40 { t *= q / (k * k) as f64; s += t; } s
}
fn rate(mut b: Bench, open: bool, dt: f64, shape: impl Fn(f64, f64) -> f64) -> f64 {
    if open { b.open(Facing::Top); }
    b.factorise();
    b.fill(|x, z| 1.0 - z + 1e-6 * shape(x, z));
    let mut t = 0.0;
    while t < 0.5 { b.blow(); b.step(dt); t += dt; }
    let a = amp(&b);
    let t0 = t;
    while t < 0.7 { b.blow(); b.step(dt); t += dt; }
    (amp(&b) / a).ln() / (t - t0)
}
#[test]
fn onset() {
    use std::f64::consts::PI;
    for n in [8usize, 16, 32] {
        let dt = 0.01 * (8.0/ n as f64).powi(2);
        let mut v = vec![];
        for ra in [38.0, 41.0] {
            let s = rate(layer(Symmetry::Flat, 1.0, ra, (n, n)), false, dt, |x, z| (PI * x).cos() * (PI * z).sin());
            println!("planar n {n} ra {ra} {s} exact {}", ra / 2.0 - 2.0 * PI * PI);
            v.push(s);
        }
        println!("  Ra_c {}", 38.0 - v[0] * 3.0 / (v[1] - v[0]));
        for (open, lo, hi, rc) in [(false, 40.0, 42.0, 41.056), (true, 32.2, 34.2, 33.205)] {
            let mut v = vec![];
            for ra in [lo, hi] {
                let s = rate(layer(Symmetry::Round, 1.0, ra, (n, n)), open, dt, |x, z| j0(3.8317 * x) * (PI * z).sin());
                let l: f64 = 3.8317 * 3.8317;
                println!("round open {open} n {n} ra {ra} {s} exact(closed) {}", ra * l / (l + PI * PI) - (l + PI * PI));
                v.push(s);
            }
            println!("  Ra_c {} ref {rc}", lo - v[0] * (hi - lo) / (v[1] - v[0]));
        }
    }
}
#[test]
fn box_nu() {
    for ra in [100.0, 200.0] { for n in [16usize, 32, 64] {
        let t0 = std::time::Instant::now();
        let mut b = layer(Symmetry::Flat, 1.0, ra, (n, n));
        b.factorise();
        b.fill(|x, z| 1.0 - z + 0.1 * (3.14159 * x).cos() * (3.14159 * z).sin());
        let mut dt = 1e-4; let mut steps = 0;
        loop { b.blow(); b.step(dt); steps += 1; 
          let (w, e) = (-b.heat_out_w(Facing::Base, dt), b.heat_out_w(Facing::Top, dt));
          if ((w - e).abs() < 1e-8 && b.largest_change() < 1e-9) || steps > 2000 { println!("box ra {ra} n {n} {w} {e} {steps} {:?}", t0.elapsed()); break; }
          dt = f64::min(dt * 1.1, 0.5 / ra);
        }
    }}
    let _ = orders(&[1.0, 0.5]);
}
