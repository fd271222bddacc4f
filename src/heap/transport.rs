//! Heat and water carried and conducted between cells: linearly implicit, alternating direction.
//!
//! In: temperatures, enthalpy and humidity of the pore air with their slopes, face conductances, air
//! flow, heat sources, linearised exchange at exposed faces. Out: the change of temperature of every
//! cell, heat and water that left it, and what crossed each exposed face.
//!
//! For a face from `a` to `b` with air flow `F`:
//! (1) heat `Q = G (Ta - Tb) + F h_face + h_v Gv (wa - wb) + c_w T_up L`,
//! (2) water `M = F w_face + Gv (wa - wb) + L`, `L = Gl (Wa - Wb)`.
//! Upwind values carry half a cell of limited slope (monotonised central), so advection is second
//! order. With the Jacobians `JA`, `JB` of (1) and capacity `c`:
//! (3) outward sweep `(c + theta dt Lr) d* = R`, upward sweep `(c + theta dt Lz) d = c d*`; the fluxes
//! used are `Q + theta (JA d_a + JB d_b)`, with `d*` on outward and `d` on upward faces, which
//! conserves heat and water to rounding with the splitting.
//!
//! The limited slopes are those at the start of the step. Short waves therefore settle only while a
//! step carries at most 3 times what a cell holds; 6 times where carrying is at most 10 times
//! conduction over a cell, 20 times where it is at most 4 times. Cells behind an exposed face carry
//! their mean, without slope, so that air that enters cannot make them colder than itself.
//!
//! Not here: where the numbers come from (`cell`, `surface`, `run`).
//!
//! Tested by: `tests/science/transport.rs`, `tests/science/conduction.rs`, `tests/science/convection.rs`,
//! `tests/science/manufactured.rs`.

use super::grid::{Facing, Grid, OnFaces};

/// Weight of the new temperature, 0.5-1 (tuned, reason not recorded; a little over one half damps).
pub const THETA: f64 = 0.55;
/// Heat carried by diffusing vapour, J/kg: enthalpy of vapour near 30 degC (handbook value).
pub const VAPOUR_HEAT_J_PER_KG: f64 = 2.556e6;
/// Heat capacity of water, J/kg K.
pub const WATER_HEAT_CAPACITY_J_PER_KG_K: f64 = 4180.0;

/// Conductances and flows over one family of faces (outward or upward).
#[derive(Debug, Clone)]
pub struct Faces {
    /// Heat conduction, W/K.
    pub conduction: Vec<f64>,
    /// Vapour and gas diffusion, kg dry air per second.
    pub diffusion: Vec<f64>,
    /// Capillary water, m3/s (kg/s per kg/m3).
    pub capillary: Vec<f64>,
    /// One over the distance of the centres, 1/m; 0 at faces that are not between active cells.
    pub inverse_distance: Vec<f64>,
    heat: Vec<f64>,
    heat_a: Vec<f64>,
    heat_b: Vec<f64>,
    water: Vec<f64>,
    water_a: Vec<f64>,
    water_b: Vec<f64>,
}

impl Faces {
    fn new(len: usize) -> Self {
        let zero = || vec![0.0; len];
        Self {
            conduction: zero(),
            diffusion: zero(),
            capillary: zero(),
            inverse_distance: zero(),
            heat: zero(),
            heat_a: zero(),
            heat_b: zero(),
            water: zero(),
            water_a: zero(),
            water_b: zero(),
        }
    }
}

/// Exchange at one exposed face, linear in the temperature of the cell behind it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Exchange {
    /// Heat out of the heap at the old temperature, W.
    pub heat_w: f64,
    /// Its change with the cell's temperature, W/K.
    pub heat_slope: f64,
    /// Water out of the heap at the old temperature, kg/s.
    pub water: f64,
    /// Its change with the cell's temperature, kg/s K.
    pub water_slope: f64,
}

/// What carries gases through faces, kg dry air per second.
#[derive(Debug, Clone, Copy)]
pub struct Carriers<'a> {
    /// Air flow: outward, upward, and out of the heap positive.
    pub flow: OnFaces<'a>,
    /// Diffusion.
    pub diffusion: OnFaces<'a>,
}

/// Heat and water that crossed a face over a step, out of the heap positive.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Crossed {
    /// Heat, J.
    pub heat_j: f64,
    /// Water, kg.
    pub water_kg: f64,
}

/// What drives a step of transport, per cell or face.
#[derive(Debug, Clone, Copy)]
pub struct Drive<'a> {
    /// Temperature, degC.
    pub temperature: &'a [f64],
    /// Water, kg/m3 as built.
    pub water: &'a [f64],
    /// Heat made over the step, J.
    pub source: &'a [f64],
    /// Pore air.
    pub air: &'a PoreAir,
    /// Air flow through outward faces, kg/s.
    pub outward_flow: &'a [f64],
    /// Air flow through upward faces, kg/s.
    pub upward_flow: &'a [f64],
}

/// What the pore air of every cell holds, with slopes by temperature.
#[derive(Debug, Clone)]
pub struct PoreAir {
    /// Enthalpy, J per kg dry air.
    pub enthalpy: Vec<f64>,
    /// Slope of the enthalpy, J/kg K.
    pub enthalpy_slope: Vec<f64>,
    /// Humidity ratio, kg/kg.
    pub humidity: Vec<f64>,
    /// Slope of the humidity ratio, 1/K.
    pub humidity_slope: Vec<f64>,
}

impl PoreAir {
    /// Pore air not yet known.
    pub fn new(len: usize) -> Self {
        let zero = || vec![0.0; len];
        Self {
            enthalpy: zero(),
            enthalpy_slope: zero(),
            humidity: zero(),
            humidity_slope: zero(),
        }
    }
}

/// Transport over one grid, with its scratch.
#[derive(Debug, Clone)]
pub struct Transport {
    /// Outward faces.
    pub outward: Faces,
    /// Upward faces.
    pub upward: Faces,
    /// Heat capacity of each cell with what makes its source implicit, J/K; 1 outside the heap.
    pub capacity: Vec<f64>,
    /// Exchange at exposed faces, in the order of `Grid::exposed`.
    pub exposed: Vec<Exchange>,
    /// Change of temperature of each cell over the step, K.
    pub change: Vec<f64>,
    /// Heat that left each cell over the step, J.
    pub heat_out: Vec<f64>,
    /// Water that left each cell over the step, kg.
    pub water_out: Vec<f64>,
    /// What left through each exposed face over the step.
    pub exposed_out: Vec<Crossed>,
    first: Vec<f64>,
    residual: Vec<f64>,
    diagonal_outward: Vec<f64>,
    diagonal_upward: Vec<f64>,
    slope: Vec<f64>,
    eliminated: Vec<f64>,
}

/// The gentler of the two one-sided slopes doubled and their mean; 0 at an extremum.
fn limited(a: f64, b: f64) -> f64 {
    if a * b <= 0.0 {
        return 0.0;
    }
    let mean = 0.5 * (a + b);
    let (a, b) = (2.0 * a.abs(), 2.0 * b.abs());
    let least = if a < b { a } else { b };
    if mean.abs() < least {
        mean
    } else {
        least.copysign(mean)
    }
}

impl Transport {
    /// Transport over this grid with every conductance 0.
    pub fn new(grid: &Grid) -> Self {
        let zero = || vec![0.0; grid.len];
        let mut this = Self {
            outward: Faces::new(grid.len),
            upward: Faces::new(grid.len),
            capacity: vec![1.0; grid.len],
            exposed: vec![Exchange::default(); grid.exposed.len()],
            change: zero(),
            heat_out: zero(),
            water_out: zero(),
            exposed_out: vec![Crossed::default(); grid.exposed.len()],
            first: zero(),
            residual: zero(),
            diagonal_outward: zero(),
            diagonal_upward: zero(),
            slope: zero(),
            eliminated: zero(),
        };
        for c in grid.cells() {
            if grid.active[c + 1] {
                this.outward.inverse_distance[c] = 2.0 / (grid.width_m[c] + grid.width_m[c + 1]);
            }
            if grid.active[c + grid.stride] {
                this.upward.inverse_distance[c] =
                    2.0 / (grid.height_m[c] + grid.height_m[c + grid.stride]);
            }
        }
        this
    }

    /// One step of `dt` seconds.
    pub fn advance(&mut self, grid: &Grid, dt: f64, drive: &Drive<'_>) {
        slopes(
            &mut self.slope,
            drive.temperature,
            &self.outward.inverse_distance,
            &grid.width_m,
            1,
        );
        face_fluxes(&mut self.outward, drive, &self.slope, drive.outward_flow, 1);
        slopes(
            &mut self.slope,
            drive.temperature,
            &self.upward.inverse_distance,
            &grid.height_m,
            grid.stride,
        );
        face_fluxes(
            &mut self.upward,
            drive,
            &self.slope,
            drive.upward_flow,
            grid.stride,
        );
        self.sweeps(grid, dt, drive.source);
        self.settle_fluxes(grid, dt);
    }

    /// Residual and the two implicit sweeps.
    fn sweeps(&mut self, grid: &Grid, dt: f64, source: &[f64]) {
        let stride = grid.stride;
        let step = THETA * dt;
        let (o, u) = (&self.outward, &self.upward);
        for c in stride..grid.len - stride {
            let out = o.heat[c] - o.heat[c - 1] + u.heat[c] - u.heat[c - stride];
            self.residual[c] = source[c] - dt * out;
            self.diagonal_outward[c] = self.capacity[c] + step * (o.heat_a[c] - o.heat_b[c - 1]);
            self.diagonal_upward[c] =
                self.capacity[c] + step * (u.heat_a[c] - u.heat_b[c - stride]);
        }
        for (face, exchange) in grid.exposed.iter().zip(&self.exposed) {
            self.residual[face.cell] -= dt * exchange.heat_w;
            match face.facing {
                Facing::Side => self.diagonal_outward[face.cell] += step * exchange.heat_slope,
                Facing::Top | Facing::Base => {
                    self.diagonal_upward[face.cell] += step * exchange.heat_slope
                }
            }
        }
        // Outward: rows are independent; the loop over rows inside keeps their divisions in flight together.
        let x = &mut self.first;
        let e = &mut self.eliminated;
        for column in 0..grid.across {
            for row in 0..grid.up {
                let c = (row + 1) * stride + column + 1;
                let lower = -step * o.heat_a[c - 1];
                let pivot = self.diagonal_outward[c] - lower * e[c - 1];
                let inverse = 1.0 / pivot;
                e[c] = step * o.heat_b[c] * inverse;
                x[c] = (self.residual[c] - lower * x[c - 1]) * inverse;
            }
        }
        for column in (0..grid.across).rev() {
            for row in 0..grid.up {
                let c = (row + 1) * stride + column + 1;
                x[c] -= e[c] * x[c + 1];
            }
        }
        // Upward: columns side by side. Factors in the ghost ring are never written and stay 0.
        let d = &mut self.change;
        for row in 0..grid.up {
            for c in (row + 1) * stride + 1..=(row + 1) * stride + grid.across {
                let lower = -step * u.heat_a[c - stride];
                let pivot = self.diagonal_upward[c] - lower * e[c - stride];
                let inverse = 1.0 / pivot;
                d[c] = (self.capacity[c] * x[c] - lower * d[c - stride]) * inverse;
                e[c] = step * u.heat_b[c] * inverse;
            }
        }
        for row in (0..grid.up).rev() {
            for c in (row + 1) * stride + 1..=(row + 1) * stride + grid.across {
                d[c] -= e[c] * d[c + stride];
            }
        }
    }

    /// Heat and water that left every cell, with the fluxes the sweeps stand for.
    fn settle_fluxes(&mut self, grid: &Grid, dt: f64) {
        let stride = grid.stride;
        correct(&mut self.outward, &self.first, 1);
        correct(&mut self.upward, &self.change, stride);
        let (o, u) = (&self.outward, &self.upward);
        for c in stride..grid.len - stride {
            self.heat_out[c] = dt * (o.heat[c] - o.heat[c - 1] + u.heat[c] - u.heat[c - stride]);
            self.water_out[c] =
                dt * (o.water[c] - o.water[c - 1] + u.water[c] - u.water[c - stride]);
        }
        for ((face, exchange), out) in grid
            .exposed
            .iter()
            .zip(&self.exposed)
            .zip(&mut self.exposed_out)
        {
            let d = match face.facing {
                Facing::Side => self.first[face.cell],
                Facing::Top | Facing::Base => self.change[face.cell],
            };
            *out = Crossed {
                heat_j: dt * (exchange.heat_w + THETA * exchange.heat_slope * d),
                water_kg: dt * (exchange.water + THETA * exchange.water_slope * d),
            };
            self.heat_out[face.cell] += out.heat_j;
            self.water_out[face.cell] += out.water_kg;
        }
    }
}

/// Limited slopes of `t` times half a cell, K.
fn slopes(slope: &mut [f64], t: &[f64], inverse_distance: &[f64], size: &[f64], offset: usize) {
    let n = t.len();
    for c in offset..n - offset {
        let back = (t[c] - t[c - offset]) * inverse_distance[c - offset];
        let ahead = (t[c + offset] - t[c]) * inverse_distance[c];
        slope[c] = limited(back, ahead) * 0.5 * size[c];
    }
}

/// What the cells on one side of a family of faces hold, face by face.
struct Side<'a> {
    t: &'a [f64],
    water: &'a [f64],
    enthalpy: &'a [f64],
    enthalpy_slope: &'a [f64],
    humidity: &'a [f64],
    humidity_slope: &'a [f64],
    half_step: &'a [f64],
}

impl<'a> Side<'a> {
    /// The cells from `first` on of `count` faces. Slices of one length, so that the loop over them needs no checks.
    fn new(drive: &Drive<'a>, slope: &'a [f64], first: usize, count: usize) -> Self {
        let of = |values: &'a [f64]| &values[first..first + count];
        Self {
            t: of(drive.temperature),
            water: of(drive.water),
            enthalpy: of(&drive.air.enthalpy),
            enthalpy_slope: of(&drive.air.enthalpy_slope),
            humidity: of(&drive.air.humidity),
            humidity_slope: of(&drive.air.humidity_slope),
            half_step: of(slope),
        }
    }
}

/// Fluxes and Jacobians at the old temperatures.
fn face_fluxes(faces: &mut Faces, drive: &Drive<'_>, slope: &[f64], flow: &[f64], offset: usize) {
    let n = drive.temperature.len() - offset;
    let (a, b) = (
        Side::new(drive, slope, 0, n),
        Side::new(drive, slope, offset, n),
    );
    let (conduction, diffusion, capillary) = (
        &faces.conduction[..n],
        &faces.diffusion[..n],
        &faces.capillary[..n],
    );
    let flow = &flow[..n];
    let (heat, heat_a, heat_b) = (
        &mut faces.heat[..n],
        &mut faces.heat_a[..n],
        &mut faces.heat_b[..n],
    );
    let (water, water_a, water_b) = (
        &mut faces.water[..n],
        &mut faces.water_a[..n],
        &mut faces.water_b[..n],
    );
    for i in 0..n {
        let f = flow[i];
        let (ahead, back) = if f > 0.0 { (f, 0.0) } else { (0.0, f) };
        let g = conduction[i];
        let gv = diffusion[i];
        let l = capillary[i] * (a.water[i] - b.water[i]);
        let t_liquid = if l > 0.0 { a.t[i] } else { b.t[i] };
        let w_a = a.humidity[i] + a.humidity_slope[i] * a.half_step[i];
        let w_b = b.humidity[i] - b.humidity_slope[i] * b.half_step[i];
        let h_a = a.enthalpy[i] + a.enthalpy_slope[i] * a.half_step[i];
        let h_b = b.enthalpy[i] - b.enthalpy_slope[i] * b.half_step[i];
        let diffused = gv * (a.humidity[i] - b.humidity[i]);
        heat[i] = g * (a.t[i] - b.t[i])
            + ahead * h_a
            + back * h_b
            + VAPOUR_HEAT_J_PER_KG * diffused
            + WATER_HEAT_CAPACITY_J_PER_KG_K * t_liquid * l;
        water[i] = ahead * w_a + back * w_b + diffused + l;
        heat_a[i] =
            g + VAPOUR_HEAT_J_PER_KG * gv * a.humidity_slope[i] + ahead * a.enthalpy_slope[i];
        heat_b[i] =
            -g - VAPOUR_HEAT_J_PER_KG * gv * b.humidity_slope[i] + back * b.enthalpy_slope[i];
        water_a[i] = (ahead + gv) * a.humidity_slope[i];
        water_b[i] = (back - gv) * b.humidity_slope[i];
    }
}

/// Adds what the change of temperature makes of each flux.
fn correct(faces: &mut Faces, d: &[f64], offset: usize) {
    let n = d.len() - offset;
    let (d_a, d_b) = (&d[..n], &d[offset..]);
    let (heat, heat_a, heat_b) = (&mut faces.heat[..n], &faces.heat_a[..n], &faces.heat_b[..n]);
    let (water, water_a, water_b) = (
        &mut faces.water[..n],
        &faces.water_a[..n],
        &faces.water_b[..n],
    );
    for i in 0..n {
        heat[i] += THETA * (heat_a[i] * d_a[i] + heat_b[i] * d_b[i]);
        water[i] += THETA * (water_a[i] * d_a[i] + water_b[i] * d_b[i]);
    }
}
