//! The working memory of a run: every array of the solvers, made in one place for a grid.
//!
//! In: a grid. Out: arrays and solvers over it, so that a step allocates nothing.
//!
//! It may be dropped and made anew at any time. What it remembers of the step before (air flow, rates, shares of
//! oxygen) only serves as the first guess of the next one; nothing of the heap itself is kept here.
//!
//! Not here: the heap (`heap::body`), what is done with the arrays (`refresh`, `look_up`, `attempt`, `take`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`.

use crate::heap::airflow::Airflow;
use crate::heap::ammonia::Ammonia;
use crate::heap::grid::{Facing, Grid};
use crate::heap::ice::Freezing;
use crate::heap::outside::Skinned;
use crate::heap::oxygen::Oxygen;
use crate::heap::rot::Rates;
use crate::heap::surface::{Face, Outside};
use crate::heap::transport::{PoreAir, Transport};

/// Arrays over one grid; per cell, or per exposed face in the order of `Grid::exposed`.
pub(super) struct Scratch {
    /// Solver of the air flow.
    pub(super) airflow: Airflow,
    /// Solver of heat and water.
    pub(super) transport: Transport,
    /// Its way through freezing.
    pub(super) freezing: Freezing,
    /// Solver of oxygen.
    pub(super) oxygen: Oxygen,
    /// Solver of ammonia.
    pub(super) ammonia: Ammonia,

    /// How every exposed face is dressed; as the last operation left it.
    pub(super) dressed: Vec<Skinned>,

    /// How much the change of a cell counts toward the length of a step, 0-1.
    pub(super) step_weight: Vec<f64>,

    // Refreshed twice a day.
    /// Conductances of every exposed face.
    pub(super) faces: Vec<Face>,
    /// Diffusion through every exposed face, kg dry air per second.
    pub(super) exposed_diffusion: Vec<f64>,
    /// Gas film of all exposed faces of a cell, kg dry air per second.
    pub(super) film_kg_per_s: Vec<f64>,
    /// How well a cell lets gas diffuse: kg dry air per m and second.
    pub(super) gas_conductivity: Vec<f64>,
    /// Share of the water that is not ice, 0-1.
    pub(super) liquid_share: Vec<f64>,
    /// How well a cell lets air flow: kg dry air per m, second and Pa.
    pub(super) flow_conductivity: Vec<f64>,

    // Looked up before every step.
    /// Dry matter, kg/m3.
    pub(super) dry: Vec<f64>,
    /// Humidity and enthalpy of the pore air with their slopes.
    pub(super) pore_air: PoreAir,
    /// Density of the pore air, kg/m3.
    pub(super) air_density: Vec<f64>,
    /// Water activity, the relative humidity that the matter keeps, 0-1.
    pub(super) water_activity: Vec<f64>,
    /// Nitrogen per kg of pore air over mineral nitrogen per m3 as built, m3/kg.
    pub(super) volatility: Vec<f64>,

    // Worked out in every step.
    /// The air outside.
    pub(super) outside: Outside,
    /// Rates of rot per day and m3: at full oxygen first, then the real ones.
    pub(super) rates: Vec<Rates>,
    /// Microbes in the middle of the step, as expected, kg carbon/m3.
    pub(super) microbes: Vec<f64>,
    /// Heat at the start of the step, beside that of dry matter and liquid water at 0 degC, J.
    pub(super) heat_before: Vec<f64>,
    /// Change of the speed of rot per kelvin, as a share of it, 1/K.
    pub(super) rot_slope: Vec<f64>,
    /// Heat of rot expected over the step, J.
    pub(super) heat_source: Vec<f64>,
    /// Oxygen that rot would use over the step with ample supply, kg.
    pub(super) wanted_oxygen: Vec<f64>,
    /// Temperature after the step, degC.
    pub(super) new_temperature: Vec<f64>,
    /// Water after the step, kg/m3.
    pub(super) new_water: Vec<f64>,

    // Remembered.
    /// Rates of the step before, per day and m3; nought after an operation.
    pub(super) last_rates: Vec<Rates>,
    /// How fast microbes grew in the last step, net of those that died, as a share of them per day.
    pub(super) last_growth: Vec<f64>,
    /// Oxygen before the step, to be put back if it is refused, mole fraction.
    pub(super) old_oxygen: Vec<f64>,
    /// Oxygen carried over before the step, likewise, kg.
    pub(super) old_carried_oxygen: Vec<f64>,
}

impl Scratch {
    /// Working memory over this grid.
    pub(super) fn new(grid: &Grid, skin_weight: f64) -> Self {
        let zero = || vec![0.0; grid.len];
        let mut step_weight = vec![1.0; grid.len];
        for face in &grid.exposed {
            if face.facing != Facing::Base {
                step_weight[face.cell] = skin_weight;
            }
        }
        Self {
            airflow: Airflow::new(grid),
            transport: Transport::new(grid),
            freezing: Freezing::new(grid.len),
            oxygen: Oxygen::new(grid),
            ammonia: Ammonia::new(grid.len),
            dressed: Vec::new(),
            step_weight,
            faces: vec![Face::default(); grid.exposed.len()],
            exposed_diffusion: vec![0.0; grid.exposed.len()],
            film_kg_per_s: zero(),
            gas_conductivity: zero(),
            liquid_share: zero(),
            flow_conductivity: zero(),
            dry: zero(),
            pore_air: PoreAir::new(grid.len),
            air_density: zero(),
            water_activity: zero(),
            volatility: zero(),
            outside: Outside::default(),
            rates: vec![Rates::default(); grid.len],
            heat_before: zero(),
            rot_slope: zero(),
            heat_source: zero(),
            wanted_oxygen: zero(),
            new_temperature: zero(),
            new_water: zero(),
            last_rates: vec![Rates::default(); grid.len],
            last_growth: zero(),
            microbes: zero(),
            old_oxygen: zero(),
            old_carried_oxygen: zero(),
        }
    }
}
