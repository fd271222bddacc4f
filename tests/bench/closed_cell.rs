//! One closed cell for 30 days, the problem of `tests/reference/closed_cell.csv`: the simulator of the heap with a single
//! cell in its usual steps, and the same equations for a general solver (Dormand-Prince of `ode_solvers`).
//!
//! Shared by `one_cell` (time) and `frontier` (steps at equal accuracy).

use super::heaps::{GOOD, mesh_cube, project_with};
use heapwright::heap::cell::Fresh;
use heapwright::heap::rot::{self, Kinetics, Rates, RotPools};
use heapwright::heap::{Heap, Projection, Resolution};
use heapwright::mix::Totals;
use ode_solvers::{Dopri5, SVector, System};

/// Energy, water, three pools, microbes, humus, mineral nitrogen, nitrogen of microbes, per cubic metre.
pub type State = SVector<f64, 9>;

/// Heat capacities of solids and water as in the reference, J/kg K.
const HEAT_CAPACITY: (f64, f64) = (1300.0, 4180.0);
const DAYS: f64 = 30.0;
const START_C: f64 = 20.0;

/// The equations of the cell.
pub struct Cell {
    kinetics: Kinetics,
    /// Carbon in a kilogram of organic matter.
    carbon_share: f64,
    ash: f64,
    inert: f64,
    nitrogen_per_carbon: [f64; 3],
}

impl Cell {
    /// The cell of this mix and its state at the start.
    pub fn new(totals: &Totals) -> (Self, State) {
        let kinetics = Kinetics::default();
        let per = 1.0 / totals.volume_m3();
        let pools = [
            totals.carbon_fast_kg,
            totals.carbon_medium_kg,
            totals.carbon_slow_kg,
        ]
        .map(|kg| kg * per);
        let food: f64 = pools.iter().sum();
        let fresh = Fresh::new(totals, totals.volume_m3(), &kinetics);
        let (carbon, microbes) = (fresh.carbon, fresh.microbes);
        let cell = Self {
            carbon_share: totals.carbon_kg / (totals.dry_kg - totals.ash_kg),
            ash: totals.ash_kg * per,
            inert: totals.carbon_kg * per - food,
            nitrogen_per_carbon: std::array::from_fn(|i| fresh.nitrogen[i] / fresh.carbon[i]),
            kinetics,
        };
        let water = totals.water_kg * per;
        let capacity = HEAT_CAPACITY.0 * totals.dry_kg * per + HEAT_CAPACITY.1 * water;
        let start = State::from([
            capacity * START_C,
            water,
            carbon[0],
            carbon[1],
            carbon[2],
            microbes,
            0.0,
            fresh.mineral,
            fresh.microbe_nitrogen,
        ]);
        (cell, start)
    }

    fn dry(&self, y: &State) -> f64 {
        let carbon: f64 = y.iter().skip(2).take(5).sum();
        self.ash + (carbon + self.inert) / self.carbon_share
    }

    fn temperature_c(&self, y: &State) -> f64 {
        y[0] / (HEAT_CAPACITY.0 * self.dry(y) + HEAT_CAPACITY.1 * y[1])
    }

    fn rates(&self, y: &State) -> Rates {
        let pools = RotPools {
            carbon: [y[2], y[3], y[4]],
            microbes: y[5],
            microbe_nitrogen: y[8],
            wood: 0.0,
            mineral_nitrogen: y[7],
            nitrogen_per_carbon: self.nitrogen_per_carbon,
        };
        let moisture = rot::moisture_factor(y[1] / (y[1] + self.dry(y)));
        let warmth = rot::temperature_factor(self.temperature_c(y), self.kinetics.cardinal_c);
        rot::rates(&pools, moisture * warmth, warmth, &self.kinetics)
    }
}

impl System<f64, State> for &Cell {
    fn system(&self, _: f64, y: &State, dy: &mut State) {
        let rates = self.rates(y);
        let water =
            1.0 / self.carbon_share + rot::OXYGEN_PER_CARBON - rot::CARBON_DIOXIDE_PER_CARBON;
        dy[0] = rates.oxidised * rot::HEAT_PER_CARBON_J_PER_KG;
        dy[1] = rates.oxidised * water;
        for pool in 0..3 {
            dy[2 + pool] = -rates.uptake[pool];
        }
        dy[5] = rates.growth - rates.death;
        dy[6] = rates.humus;
        dy[7] = rates.nitrogen_freed;
        dy[8] = rates.nitrogen_taken - rates.nitrogen_of_dead;
        // Above 58 degC cells die of heat and are food again; their nitrogen stays theirs here.
        let dead = rot::die_off_per_day(self.temperature_c(y), &self.kinetics) * y[5];
        dy[3] += dead;
        dy[5] -= dead;
    }
}

/// Day and temperature of the reference.
fn reference() -> Vec<(f64, f64)> {
    include_str!("../reference/closed_cell.csv")
        .lines()
        .filter_map(|line| line.strip_prefix("balanced,"))
        .filter_map(|line| {
            let mut numbers = line.split(',').map(str::parse);
            Some((numbers.next()?.ok()?, numbers.next()?.ok()?))
        })
        .collect()
}

/// Every half day, so that each day of the reference is among them.
pub fn general(cell: &Cell, start: &State, tolerance: f64) -> Option<(Vec<(f64, f64)>, u32)> {
    let mut solver = Dopri5::new(cell, 0.0, DAYS, 0.5, *start, tolerance, tolerance);
    let stats = solver.integrate().ok()?;
    let temperatures = solver.y_out().iter().map(|y| cell.temperature_c(y));
    let days = solver.x_out().iter().copied();
    Some((days.zip(temperatures).collect(), stats.accepted_steps))
}

/// Farthest from the reference, K; straight between the two nearest times.
pub fn error_k(found: &[(f64, f64)]) -> f64 {
    let at = |day: f64| {
        let after = found
            .partition_point(|(x, _)| *x < day - 1e-9)
            .clamp(1, found.len() - 1);
        let ((x0, y0), (x1, y1)) = (found[after - 1], found[after]);
        y0 + (y1 - y0) * (day - x0) / (x1 - x0)
    };
    reference()
        .iter()
        .map(|(day, c)| (at(*day) - c).abs())
        .fold(0.0, f64::max)
}

/// The same cell for the simulator.
pub fn closed_cell() -> (Heap, Resolution) {
    let mut heap = mesh_cube(1.0, START_C);
    (heap.days, heap.start_temperature_c) = (DAYS, Some(START_C));
    let resolution = Resolution {
        cells: (1, 1),
        field_hours: None,
        isolated: true,
        ..Resolution::fine()
    };
    (heap, resolution)
}

/// Day and temperature of every record.
pub fn centre(p: &Projection) -> Vec<(f64, f64)> {
    p.records.iter().map(|r| (r.day, r.mean_c)).collect()
}

/// Steps and error (K) of the simulator.
pub fn ours() -> Option<(usize, f64)> {
    let (heap, resolution) = closed_cell();
    let p = project_with(&GOOD.totals(), &heap, &resolution)?;
    Some((p.steps, error_k(&centre(&p))))
}

/// Tolerance, error (K) and steps of the general solver at the loosest tolerance that is as near as `error`.
pub fn as_near_as(error: f64) -> Option<(f64, f64, u32)> {
    let (cell, start) = Cell::new(&GOOD.totals());
    let tolerances = (4..24).map(|half| 10f64.powf(-0.5 * f64::from(half)));
    let mut tried = tolerances.filter_map(|tolerance| {
        let (found, steps) = general(&cell, &start, tolerance)?;
        Some((tolerance, error_k(&found), steps))
    });
    tried.find(|(_, found, _)| *found <= error)
}
