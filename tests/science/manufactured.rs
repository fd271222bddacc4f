use crate::bench::{Bench, Even, orders, upright};
use heapwright::heap::grid::{Grid, Symmetry};
use std::f64::consts::PI;

#[derive(Clone, Copy, Debug)]
struct Set {
    symmetry: Symmetry,
    k: f64,
    c: f64,
    waves: f64,
}
const L: f64 = 1.0;
const H: f64 = 1.3;
const T0: f64 = 0.4;
const TAU: f64 = 0.1;
const END: f64 = 0.05;
impl Set {
    fn shape(&self, x: f64, z: f64) -> f64 {
        match self.symmetry {
            Symmetry::Round => {
                let s = (x / L).powi(2);
                (1.0 - s).powi(2) * (PI * z / H).cos()
            }
            Symmetry::Flat => (self.waves * PI * x / L).cos() * (self.waves * PI * z / H).cos(),
        }
    }
    fn psi(&self, x: f64, z: f64) -> f64 {
        match self.symmetry {
            Symmetry::Round => {
                let s = (x / L).powi(2);
                2.0 * PI * self.c * x * x * (1.0 - s).powi(2) * (PI * z / H).sin()
            }
            Symmetry::Flat => self.c * (PI * x / L).sin() * (PI * z / H).sin(),
        }
    }
    fn source(&self, x: f64, z: f64) -> f64 {
        let t = self.shape(x, z);
        match self.symmetry {
            Symmetry::Round => {
                let s = (x / L).powi(2);
                let (sn, cs) = (PI * z / H).sin_cos();
                let tr = -4.0 * x / L / L * (1.0 - s) * cs;
                let tz = -PI / H * (1.0 - s).powi(2) * sn;
                let ur = -self.c * x * (1.0 - s).powi(2) * PI / H * cs;
                let uz = 2.0 * self.c * (1.0 - s) * (1.0 - 3.0 * s) * sn;
                let lap = -8.0 / L / L * (1.0 - 2.0 * s) * cs - (PI / H).powi(2) * t;
                -t / TAU + ur * tr + uz * tz - self.k * lap
            }
            Symmetry::Flat => {
                let (a, b) = (self.waves * PI / L, self.waves * PI / H);
                let tx = -a * (a * x).sin() * (b * z).cos();
                let tz = -b * (a * x).cos() * (b * z).sin();
                let ux = -self.c * PI / H * (PI * x / L).sin() * (PI * z / H).cos();
                let uz = self.c * PI / L * (PI * x / L).cos() * (PI * z / H).sin();
                -t / TAU + ux * tx + uz * tz + self.k * (a * a + b * b) * t
            }
        }
    }
    fn errors(&self, n: usize, graded: bool) -> (f64, f64) {
        let o = upright(self.symmetry, L, H);
        let grid = if graded {
            Grid::graded(&o, n, n)
        } else {
            Grid::uniform(&o, n, n)
        };
        let mut b = Bench::new(
            grid,
            Even {
                conductivity: self.k,
                ..Even::UNIT
            },
        );
        for row in 0..n {
            for col in 0..n {
                let c = b.grid.cell(col, row);
                let (x0, x1) = (b.grid.edges_across_m[col], b.grid.edges_across_m[col + 1]);
                let (z0, z1) = (b.grid.edges_up_m[row], b.grid.edges_up_m[row + 1]);
                if col + 1 < n {
                    b.airflow.outward[c] = self.psi(x1, z0) - self.psi(x1, z1);
                }
                if row + 1 < n {
                    b.airflow.upward[c] = self.psi(x1, z1) - self.psi(x0, z1);
                }
            }
        }
        b.fill(|x, z| T0 + self.shape(x, z));
        let mut s = vec![0.0; b.grid.len];
        for c in b.grid.cells() {
            let (x, z) = b.centre(c);
            s[c] = self.source(x, z) * b.grid.volume_m3[c];
        }
        let steps = (10.0 * (n as f64 / 8.0).powi(2)).round() as usize;
        let dt = END / steps as f64;
        for i in 0..steps {
            let e = (-(i as f64 + 0.5) * dt / TAU).exp();
            for (w, s) in b.source_w.iter_mut().zip(&s) {
                *w = s * e;
            }
            b.step(dt);
        }
        let e = (-END / TAU).exp();
        let (mut l2, mut li) = (0.0, 0.0f64);
        for c in b.grid.cells() {
            let (x, z) = b.centre(c);
            let d = b.temperature[c] - T0 - e * self.shape(x, z);
            l2 += b.grid.volume_m3[c] * d * d;
            li = li.max(d.abs());
        }
        ((l2 / b.grid.total_volume_m3()).sqrt() / e, li / e)
    }
}
#[test]
fn mms() {
    for symmetry in [Symmetry::Flat, Symmetry::Round] {
        for (k, c) in [(0.0, 1.0), (0.1, 0.0), (0.1, 1.0), (0.01, 1.0)] {
            for graded in [false, true] {
                for waves in [1.0, 2.0] {
                    if waves > 1.0 && symmetry == Symmetry::Round {
                        continue;
                    }
                    let t = std::time::Instant::now();
                    let set = Set {
                        symmetry,
                        k,
                        c,
                        waves,
                    };
                    let e: Vec<_> = [8, 16, 32, 64]
                        .iter()
                        .map(|&n| set.errors(n, graded))
                        .collect();
                    let l2: Vec<_> = e.iter().map(|e| e.0).collect();
                    let li: Vec<_> = e.iter().map(|e| e.1).collect();
                    println!(
                        "{set:?} graded {graded} {:?}\n   L2 {l2:?} {:.2?}\n   Li {li:?} {:.2?}",
                        t.elapsed(),
                        orders(&l2),
                        orders(&li)
                    );
                }
            }
        }
    }
}
