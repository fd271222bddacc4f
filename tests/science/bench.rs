//! A test bench for the kernels: one even material on a grid, walls set by the test.
//!
//! Nothing of the heap's own laws is used: conductivity, heat capacity and air properties are
//! constants, and every exposed face is insulated, held at a temperature or behind a film.

use heapwright::heap::airflow::Airflow;
use heapwright::heap::grid::{Exposed, Facing, Grid, Outline, Symmetry};
use heapwright::heap::ice::{Freezing, Wet};
use heapwright::heap::transport::{Drive, Exchange, PoreAir, Transport};

/// Upright outline of these dimensions.
pub fn upright(symmetry: Symmetry, extent_m: f64, height_m: f64) -> Outline {
    Outline {
        symmetry,
        extent_m,
        height_m,
        upright: true,
    }
}

/// What stands outside an exposed face.
#[derive(Debug, Clone, Copy)]
pub enum Wall {
    /// No heat.
    Insulated,
    /// Surface held at this temperature.
    Held(f64),
    /// No conduction; air leaves at the temperature of the cell, and enters at 0 degC.
    Leaving,
    /// Film of this U (W/m2K) to surroundings at this temperature.
    Film(f64, f64),
}

/// Constants of the material and its air.
#[derive(Debug, Clone, Copy)]
pub struct Even {
    /// Conductivity, W/m K.
    pub conductivity: f64,
    /// Heat capacity, J/m3 K.
    pub capacity: f64,
    /// Heat capacity of the air, J/kg K.
    pub air_capacity: f64,
    /// Air conductance of a cube of 1 m, kg/s Pa; 0 where no air moves.
    pub permeance: f64,
}

impl Even {
    /// Everything 1 and no air: lengths, times and temperatures are then free of dimension.
    pub const UNIT: Self = Self {
        conductivity: 1.0,
        capacity: 1.0,
        air_capacity: 1.0,
        permeance: 0.0,
    };
}

/// A grid with one even material, its temperatures and its solvers.
pub struct Bench {
    pub grid: Grid,
    pub even: Even,
    pub transport: Transport,
    pub airflow: Airflow,
    freezing: Freezing,
    pub temperature: Vec<f64>,
    /// Heat source of every cell, W.
    pub source_w: Vec<f64>,
    walls: Vec<Wall>,
    air: PoreAir,
    still: Vec<f64>,
    joules: Vec<f64>,
    density: Vec<f64>,
}

impl Bench {
    /// Every face insulated, closed to air, every cell at 0 degC.
    pub fn new(grid: Grid, even: Even) -> Self {
        let mut transport = Transport::new(&grid);
        let mut airflow = Airflow::new(&grid);
        for c in grid.cells() {
            transport.capacity[c] = even.capacity * grid.volume_m3[c];
            let outward = grid.outward_area_m2[c] * transport.outward.inverse_distance[c];
            let upward = grid.upward_area_m2[c] * transport.upward.inverse_distance[c];
            transport.outward.conduction[c] = even.conductivity * outward;
            transport.upward.conduction[c] = even.conductivity * upward;
            airflow.outward_conductance[c] = even.permeance * outward;
            airflow.upward_conductance[c] = even.permeance * upward;
        }
        let zero = || vec![0.0; grid.len];
        Self {
            even,
            freezing: Freezing::new(grid.len),
            transport,
            temperature: zero(),
            source_w: zero(),
            walls: vec![Wall::Insulated; grid.exposed.len()],
            air: PoreAir {
                enthalpy: zero(),
                enthalpy_slope: vec![even.air_capacity; grid.len],
                humidity: zero(),
                humidity_slope: zero(),
            },
            still: zero(),
            joules: zero(),
            density: zero(),
            airflow,
            grid,
        }
    }

    /// Sets the wall of every exposed face that looks this way.
    pub fn wall(&mut self, facing: Facing, wall: Wall) {
        for (face, its) in self.grid.exposed.iter().zip(&mut self.walls) {
            if face.facing == facing {
                *its = wall;
            }
        }
    }

    /// Opens every exposed face that looks this way to air; call `factorise` afterwards.
    pub fn open(&mut self, facing: Facing) {
        let permeance = self.even.permeance;
        for (face, g) in self
            .grid
            .exposed
            .iter()
            .zip(&mut self.airflow.exposed_conductance)
        {
            if face.facing == facing {
                *g = permeance * face.area_m2 / face.depth_m;
            }
        }
    }

    /// Factors the matrix of the air flow.
    pub fn factorise(&mut self) {
        self.airflow.factorise(&self.grid);
    }

    /// Sets every temperature to `f(distance from the middle, height)`.
    pub fn fill(&mut self, f: impl Fn(f64, f64) -> f64) {
        for c in self.grid.cells() {
            let (x, z) = self.centre(c);
            self.temperature[c] = f(x, z);
        }
    }

    /// Centre of a cell, m.
    pub fn centre(&self, cell: usize) -> (f64, f64) {
        let (column, row) = (cell % self.grid.stride - 1, cell / self.grid.stride - 1);
        let (x, z) = (&self.grid.edges_across_m, &self.grid.edges_up_m);
        (
            0.5 * (x[column] + x[column + 1]),
            0.5 * (z[row] + z[row + 1]),
        )
    }

    /// Air flow driven by density `1 - T / 9.81`, so that a kelvin lifts with 1 N/m3.
    pub fn blow(&mut self) {
        for (density, t) in self.density.iter_mut().zip(&self.temperature) {
            *density = 1.0 - t / heapwright::heap::airflow::GRAVITY_M_PER_S2;
        }
        let settled = vec![1.0; self.grid.len];
        self.airflow.solve(&self.grid, &self.density, 1.0, &settled);
    }

    /// Heat conductance from the centre of the cell to what stands outside, and its temperature.
    fn outside(&self, face: &Exposed, wall: Wall) -> (f64, f64) {
        let half = face.depth_m / self.even.conductivity;
        match wall {
            Wall::Insulated | Wall::Leaving => (0.0, 0.0),
            Wall::Held(t) => (face.area_m2 * face.slope_factor / half, t),
            Wall::Film(u, t) => (face.area_m2 * face.slope_factor / (half + 1.0 / u), t),
        }
    }

    /// One step; air that crosses an exposed face does so at the temperature outside.
    pub fn step(&mut self, dt: f64) {
        self.solve(dt, None);
        for (t, d) in self.temperature.iter_mut().zip(&self.transport.change) {
            *t += d;
        }
    }

    /// One step of matter that freezes: its enthalpy is what is balanced. `even.capacity` does not count.
    pub fn step_freezing(&mut self, dt: f64, wet: Wet) {
        for c in self.grid.cells() {
            self.transport.capacity[c] = self.grid.volume_m3[c] * wet.capacity(self.temperature[c]);
        }
        self.solve(dt, Some(wet));
        for c in self.grid.cells() {
            let gain =
                (self.source_w[c] * dt - self.transport.heat_out[c]) / self.grid.volume_m3[c];
            let t = &mut self.temperature[c];
            *t = wet.temperature(wet.enthalpy(*t) + gain);
        }
    }

    fn solve(&mut self, dt: f64, freezing: Option<Wet>) {
        for (index, face) in self.grid.exposed.iter().enumerate() {
            let (g, outside) = self.outside(face, self.walls[index]);
            let carried = self.airflow.exposed[index] * self.even.air_capacity;
            let t = self.temperature[face.cell];
            let (heat_w, heat_slope) = match self.walls[index] {
                Wall::Leaving => (carried.max(0.0) * t, carried.max(0.0)),
                _ => (g * (t - outside) + carried * outside, g),
            };
            self.transport.exposed[index] = Exchange {
                heat_w,
                heat_slope,
                ..Exchange::default()
            };
        }
        for (h, t) in self.air.enthalpy.iter_mut().zip(&self.temperature) {
            *h = self.even.air_capacity * t;
        }
        for (j, w) in self.joules.iter_mut().zip(&self.source_w) {
            *j = w * dt;
        }
        let drive = Drive {
            temperature: &self.temperature,
            water: &self.still,
            source: &self.joules,
            air: &self.air,
            outward_flow: &self.airflow.outward,
            upward_flow: &self.airflow.upward,
        };
        self.transport.advance(&self.grid, dt, &drive);
        if let Some(wet) = freezing {
            let (grid, transport) = (&self.grid, &mut self.transport);
            self.freezing
                .follow(transport, grid, dt, &drive, |_| wet, |_, capacity| capacity);
        }
    }

    /// Heat that crossed the exposed faces looking this way in the last step, W out of the heap.
    pub fn heat_out_w(&self, facing: Facing, dt: f64) -> f64 {
        let faces = self.grid.exposed.iter().zip(&self.transport.exposed_out);
        faces
            .filter(|(face, _)| face.facing == facing)
            .map(|(_, out)| out.heat_j / dt)
            .sum()
    }

    /// Largest change of the last step, K.
    pub fn largest_change(&self) -> f64 {
        let changes = self.grid.cells().map(|c| self.transport.change[c].abs());
        changes.fold(0.0, |most, d| if d <= most { most } else { d })
    }

    /// Mean temperature by volume.
    pub fn mean(&self) -> f64 {
        let heat: f64 = self
            .grid
            .cells()
            .map(|c| self.grid.volume_m3[c] * self.temperature[c])
            .sum();
        heat / self.grid.total_volume_m3()
    }
}

/// Order of convergence seen between errors on grids refined twofold.
pub fn orders(errors: &[f64]) -> Vec<f64> {
    errors.windows(2).map(|e| (e[0] / e[1]).log2()).collect()
}

/// Value at 0 of the parabola, level at 0, through two points: a middle between mirrored cells.
pub fn at_middle(near: (f64, f64), next: (f64, f64)) -> f64 {
    let (a, b) = (near.0 * near.0, next.0 * next.0);
    (near.1 * b - next.1 * a) / (b - a)
}

/// Fails unless the errors fall with at least this order from each grid to the next.
#[track_caller]
pub fn falls(what: &str, errors: &[f64], least: f64) {
    let seen = orders(errors);
    assert!(
        seen.iter().all(|order| *order >= least),
        "{what}: errors {errors:?} fall with orders {seen:.2?}, wanted {least}"
    );
}

/// Fails unless `got` lies within `allowed` of `wanted`.
#[track_caller]
pub fn near(what: &str, got: f64, wanted: f64, allowed: f64) {
    assert!(
        (got - wanted).abs() <= allowed,
        "{what}: got {got}, wanted {wanted} within {allowed}"
    );
}

/// Numbers that look random and are the same on every run.
pub struct Noise(u64);

impl Noise {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number, 0 to 1 (multiplier of Knuth's MMIX generator).
    pub fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}
