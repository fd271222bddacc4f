//! The oxygen solver against diffusion with a sink.
//!
//! A half constant far above the air makes the use first order, `S y / y_air`; one far below makes it zero order.

use heapwright::heap::grid::{Facing, Grid, OnFaces, Symmetry};
use heapwright::heap::oxygen::{OXYGEN_PER_AIR, Oxygen, PoreOxygen, Supply};
use heapwright::heap::rot::OXYGEN_IN_AIR;
use heapwright::heap::transport::Carriers;

use crate::bench::{near, upright};
use crate::support::heap_math::uniform;

/// Which faces are open to the air.
struct Still {
    grid: Grid,
    outward: Vec<f64>,
    upward: Vec<f64>,
    exposed: Vec<f64>,
    wanted: Vec<f64>,
    half: f64,
    /// Air that rises through a square metre, kg/s.
    rising: f64,
}

const DT: f64 = 3600.0;

impl Still {
    /// Diffusivity 1 kg/m s in still air, `sink` kg of oxygen per m3 and second wanted in open air.
    fn new(grid: Grid, open: Facing, sink: f64, half: f64) -> Self {
        let (mut outward, mut upward) = (vec![0.0; grid.len], vec![0.0; grid.len]);
        for c in grid.cells() {
            if grid.active[c + 1] {
                outward[c] =
                    2.0 * grid.outward_area_m2[c] / (grid.width_m[c] + grid.width_m[c + 1]);
            }
            let above = c + grid.stride;
            if grid.active[above] {
                upward[c] =
                    2.0 * grid.upward_area_m2[c] / (grid.height_m[c] + grid.height_m[above]);
            }
        }
        let exposed = grid.exposed.iter().map(|face| {
            let g = face.area_m2 / face.depth_m;
            if face.facing == open { g } else { 0.0 }
        });
        Self {
            exposed: exposed.collect(),
            wanted: grid.volume_m3.iter().map(|v| v * sink * DT).collect(),
            grid,
            outward,
            upward,
            half,
            rising: 0.0,
        }
    }

    /// Oxygen of every cell, share of the wish that was met overall, after so many passes from open air.
    fn solve(&self, passes: usize) -> (Vec<f64>, f64) {
        let mut y = vec![OXYGEN_IN_AIR; self.grid.len];
        let met = self.go_on(&mut y, passes);
        (y, met)
    }

    /// The same from what is there.
    fn go_on(&self, y: &mut [f64], passes: usize) -> f64 {
        let still = vec![0.0; self.grid.len];
        let upward = self.grid.upward_area_m2.iter().map(|a| a * self.rising);
        let upward: Vec<f64> = upward.collect();
        let exposed = self.grid.exposed.iter().map(|face| match face.facing {
            Facing::Base => -self.rising * face.area_m2,
            Facing::Top => self.rising * face.area_m2,
            Facing::Side => 0.0,
        });
        let exposed: Vec<f64> = exposed.collect();
        let supply = Supply {
            carriers: Carriers {
                flow: OnFaces {
                    outward: &still,
                    upward: &upward,
                    exposed: &exposed,
                },
                diffusion: OnFaces {
                    outward: &self.outward,
                    upward: &self.upward,
                    exposed: &self.exposed,
                },
            },
            store: &still,
            wanted: &self.wanted,
            half: self.half,
            dt: DT,
        };
        let mut oxygen = Oxygen::new(&self.grid);
        let pores = PoreOxygen {
            fraction: y,
            carried_kg: &mut vec![0.0; self.grid.len],
        };
        oxygen.solve(&self.grid, &supply, pores, passes);
        let used: f64 = self
            .grid
            .cells()
            .map(|c| oxygen.share[c] * self.wanted[c])
            .sum();
        used / self.wanted.iter().sum::<f64>()
    }
}

/// Sink that makes the Thiele modulus 2 over a length of 1.
const FIRST_ORDER: f64 = 4.0 * OXYGEN_IN_AIR * OXYGEN_PER_AIR;

#[test]
fn a_slab_with_a_first_order_sink_follows_thiele() {
    // Thiele modulus 2: 1 / cosh 2 = 0.265802 of the air in the middle, effectiveness 0.482014. A slab of half
    // thickness 1 with its top open; 64 cells; second order leaves 2e-4.
    let grid = uniform(&upright(Symmetry::Flat, 1.0, 1.0), 3, 64);
    let slab = Still::new(grid, Facing::Top, FIRST_ORDER, 1e6);
    let (y, effective) = slab.solve(100);
    near(
        "middle",
        y[slab.grid.cell(1, 0)] / OXYGEN_IN_AIR,
        0.265_802,
        3e-4,
    );
    near("effectiveness", effective, 0.482_014, 3e-4);
}

#[test]
fn a_cylinder_with_a_first_order_sink_follows_thiele() {
    // 1 / I0(2) = 0.438676 on the axis, effectiveness 2 I1(2) / (2 I0(2)) = 0.697775.
    let grid = uniform(&upright(Symmetry::Round, 1.0, 1.0), 64, 3);
    let drum = Still::new(grid, Facing::Side, FIRST_ORDER, 1e6);
    let (y, effective) = drum.solve(100);
    near(
        "axis",
        y[drum.grid.cell(0, 1)] / OXYGEN_IN_AIR,
        0.438_676,
        3e-4,
    );
    near("effectiveness", effective, 0.697_775, 3e-4);
}

#[test]
fn a_zero_order_sink_leaves_an_airless_core_at_the_known_depth() {
    // Oxygen reaches sqrt(2 D C0 / r) deep; below that there is none. With r = 8 times what would just reach the middle
    // of a slab of 1 it goes 0.3536 deep, so that share of the wish is met.
    let grid = uniform(&upright(Symmetry::Flat, 1.0, 1.0), 3, 128);
    let sink = 8.0 * 2.0 * OXYGEN_IN_AIR * OXYGEN_PER_AIR;
    let slab = Still::new(grid, Facing::Top, sink, 1e-6);
    let (y, met) = slab.solve(200);
    near("share met", met, (1.0f64 / 8.0).sqrt(), 0.01);
    assert!(y[slab.grid.cell(1, 0)] < 1e-5 * OXYGEN_IN_AIR);
    assert!(y[slab.grid.cell(1, 100)] > 0.0);
}

#[test]
fn rising_air_with_a_first_order_sink_follows_the_formula() {
    // Air of speed v rises through a column of diffusivity 1 and first-order use k: y = y0 exp(l x) with
    // l = (v - sqrt(v2 + 4 k)) / 2 (textbook: convection, dispersion and decay), far from the top. v = 2, k = 4: -1.2361.
    // 64 cells over 4 m; upwind weights would be 2 % off at 1 m.
    let grid = uniform(&upright(Symmetry::Flat, 1.0, 4.0), 3, 64);
    let mut column = Still::new(grid, Facing::Base, FIRST_ORDER, 1e6);
    column.rising = 2.0;
    let (y, _) = column.solve(20);
    for row in [0, 8, 16, 32] {
        let x = (row as f64 + 0.5) * 4.0 / 64.0;
        let c = column.grid.cell(1, row);
        let expected = (-1.236_068 * x).exp();
        near("oxygen", y[c] / OXYGEN_IN_AIR, expected, 2e-3);
    }
}

#[test]
fn a_warm_start_needs_one_pass_a_step() {
    // A run starts from its last step. Ten calls of one pass, from open air, against 40 passes at once, in a heap whose
    // use is first order and in one that is short of oxygen: a thousandth of the air.
    let grid = Grid::graded(&upright(Symmetry::Round, 0.5, 1.0), 16, 16);
    for half in [1e6, 0.02] {
        let heap = Still::new(grid.clone(), Facing::Top, 2.0 * FIRST_ORDER, half);
        let many = heap.solve(40).0;
        let mut y = vec![OXYGEN_IN_AIR; grid.len];
        for _ in 0..10 {
            heap.go_on(&mut y, 1);
        }
        for c in heap.grid.cells() {
            near("oxygen", y[c], many[c], 0.001 * OXYGEN_IN_AIR);
        }
    }
}
