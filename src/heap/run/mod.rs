//! The run: steps through time, events, records, balances.
//!
//! In: a mix, later additions, a heap, settings. Out: a [`Projection`].
//!
//! Order of a step: look-up -> air flow (from the old temperatures) -> rot potentials (pools at
//! mid-step) -> exposed faces -> implicit heat and water -> rot at the mid-step temperature -> oxygen ->
//! what rot really did -> ammonia, rain, drainage -> judge the step -> take it or halve it.
//! Properties that change slowly, and with them the factored pressure matrix, are refreshed twice a day.
//!
//! Not here: what a operation does (`event`), what is recorded (`record`).
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/single_cell.rs`, `tests/science/ledgers.rs`,
//! `tests/science/heap_cases.rs`, `tests/science/heap_convergence.rs`, `tests/science/absurd_heaps.rs`.

mod books;
mod slow;
mod step;

use std::sync::atomic::{AtomicBool, Ordering};

use crate::mix::Totals;

use crate::heap::airflow::Airflow;
use crate::heap::ammonia::Ammonia;
use crate::heap::cell::{Fresh, Matter, Properties, State, heat_capacity};
use crate::heap::event;
use crate::heap::grid::Grid;
use crate::heap::moist_air as air;
use crate::heap::outside::{self, Ground, Skinned};
use crate::heap::oxygen::Oxygen;
use crate::heap::plan::Cover;
use crate::heap::projection::{Ended, Ledger, Projection};
use crate::heap::record::Recorder;
use crate::heap::rot::{Kinetics, Rates};
use crate::heap::shape::Skin;
use crate::heap::surface::Face;
use crate::heap::tables::Tables;
use crate::heap::transport::{PoreAir, Transport};
use crate::heap::{Addition, Heap, Settings};

pub(in crate::heap) const SECONDS_PER_DAY: f64 = 86_400.0;
/// Speed at which surplus water sinks, m/s (tuned: half a metre a day).
const DRAIN_M_PER_S: f64 = 0.5 / 86_400.0;
/// Shortest step, s; a run that needs less is stopped.
const SHORTEST_S: f64 = 1.0;
/// Steps no longer than this are taken whatever the change, s: thin layers take the weather's temperature at
/// once, and the implicit solve bears it.
const BRISK_S: f64 = 60.0;
/// Step after the start and after every operation, s.
const FIRST_STEP_S: f64 = 600.0;
/// Air changes of a cell's heat per step beyond which the buoyancy feedback needs shorter steps.
const ADVECTION_LIMIT: f64 = 6.0;
/// Outside these the model means nothing, degC.
const MEANINGFUL_C: (f64, f64) = (-100.0, 98.0);

/// Everything a run holds; scratch included, so that a step allocates nothing.
pub(in crate::heap) struct Run<'a> {
    pub(in crate::heap) heap: &'a Heap,
    pub(in crate::heap) kinetics: Kinetics,
    pub(in crate::heap) settings: Settings,
    pub(in crate::heap) grid: Grid,
    pub(in crate::heap) skin: Skin,
    pub(in crate::heap) carbon_share: f64,
    pub(in crate::heap) state: State,
    pub(in crate::heap) matter: Matter,
    pub(in crate::heap) properties: Properties,
    pub(in crate::heap) day: f64,
    pub(in crate::heap) packed_since: f64,
    pub(in crate::heap) cover: Cover,
    pub(in crate::heap) ledger: Ledger,
    pub(in crate::heap) wanted_carbon: f64,
    pub(in crate::heap) ground: Ground,
    pub(in crate::heap) oxygen: Oxygen,
    tables: Tables,
    airflow: Airflow,
    transport: Transport,
    ammonia: Ammonia,
    dressed: Vec<Skinned>,
    faces: Vec<Face>,
    exposed_diffusion: Vec<f64>,
    film_leaving: Vec<f64>,
    old_oxygen: Vec<f64>,
    old_carried: Vec<f64>,
    pore: PoreAir,
    density: Vec<f64>,
    activity: Vec<f64>,
    volatility: Vec<f64>,
    rates: Vec<Rates>,
    potential: Vec<f64>,
    slope_share: Vec<f64>,
    source: Vec<f64>,
    wanted: Vec<f64>,
    store: Vec<f64>,
    last: Vec<Rates>,
    new_temperature: Vec<f64>,
    new_water: Vec<f64>,
    next_refresh: f64,
    step_s: f64,
    steps: usize,
}

/// What one accepted or refused step looked like.
struct Trial {
    largest_change: f64,
    sound: bool,
}

/// Simulates a heap on a grid. `later` are the sums of the plan's additions. `stop` ends the run
/// early.
pub fn simulate_on_grid(
    first: &Totals,
    later: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    (settings, stop): (&Settings, &AtomicBool),
) -> Projection {
    let mut run = Run::start(first, later, heap, kinetics, settings);
    let mut recorder = Recorder::new(&run);
    let ended = run.go(later, &mut recorder, stop);
    recorder.finish(run, ended)
}

impl<'a> Run<'a> {
    fn start(
        first: &Totals,
        later: &[Addition],
        heap: &'a Heap,
        kinetics: &Kinetics,
        settings: &Settings,
    ) -> Self {
        let volume = first.volume_m3();
        let skin = heap.shape.skin(volume);
        let grid = Grid::of_heap(&skin.outline, settings.cells);
        let len = grid.len;
        let (mut carbon, mut organic) = (first.carbon_kg, first.volatile_solids_kg());
        for (_, more) in later {
            carbon += more.carbon_kg;
            organic += more.volatile_solids_kg();
        }
        let carbon_share = if carbon > 0.0 && organic > 0.0 {
            carbon / organic
        } else {
            0.47
        };
        let fresh = Fresh::new(first, volume, kinetics);
        let (mut state, mut matter) = (State::empty(len), Matter::empty(len));
        let day_of_year = heap.start_day_of_year - 1.0;
        for c in grid.cells() {
            matter.fill(
                &mut state,
                c,
                &fresh,
                heap.fresh_temperature_c(0.0),
                carbon_share,
            );
        }
        let zero = || vec![0.0; len];
        let mut run = Self {
            heap,
            kinetics: *kinetics,
            settings: *settings,
            skin,
            carbon_share,
            properties: Properties::new(len),
            day: 0.0,
            packed_since: 0.0,
            cover: heap.cover,
            ledger: Ledger::default(),
            wanted_carbon: 0.0,
            ground: Ground::new(&grid, heap.base, &heap.climate, day_of_year),
            oxygen: Oxygen::new(&grid),
            tables: Tables::new(kinetics.cardinal_c),
            airflow: Airflow::new(&grid),
            transport: Transport::new(&grid),
            ammonia: Ammonia::new(len),
            dressed: Vec::new(),
            faces: vec![Face::default(); grid.exposed.len()],
            exposed_diffusion: vec![0.0; grid.exposed.len()],
            film_leaving: zero(),
            old_oxygen: zero(),
            old_carried: zero(),
            pore: PoreAir {
                enthalpy: zero(),
                enthalpy_slope: zero(),
                humidity: zero(),
                humidity_slope: zero(),
            },
            density: zero(),
            activity: zero(),
            volatility: zero(),
            rates: vec![Rates::default(); len],
            potential: zero(),
            slope_share: zero(),
            source: zero(),
            wanted: zero(),
            store: zero(),
            last: vec![Rates::default(); len],
            new_temperature: zero(),
            new_water: zero(),
            next_refresh: 0.0,
            step_s: FIRST_STEP_S,
            steps: 0,
            grid,
            state,
            matter,
        };
        run.book_start();
        run
    }

    fn go(&mut self, later: &[Addition], recorder: &mut Recorder, stop: &AtomicBool) -> Ended {
        let heap = self.heap;
        let operations = heap.plan.in_order();
        let mut next = 0;
        self.refresh();
        recorder.take(self);
        loop {
            while next < operations.len() && operations[next].1.day <= self.day + 1e-9 {
                let (place, event) = operations[next];
                let addition = later
                    .iter()
                    .find(|(of, _)| *of == place)
                    .map(|(_, totals)| totals);
                event::carry_out(self, event, addition);
                self.after_operation();
                recorder.after_operation(self, &event.operation);
                next += 1;
            }
            if self.day >= heap.days - 1e-9 {
                return Ended::Finished;
            }
            if stop.load(Ordering::Relaxed) {
                return Ended::Cancelled { day: self.day };
            }
            let goal = operations
                .get(next)
                .map_or(heap.days, |(_, event)| event.day.min(heap.days));
            if !self.step_toward(goal) {
                return Ended::Stopped { day: self.day };
            }
            recorder.take(self);
        }
    }

    /// Takes one step, at most to `goal`; false when no step is short enough.
    fn step_toward(&mut self, goal: f64) -> bool {
        if self.day >= self.next_refresh {
            self.refresh();
        }
        let longest = self.settings.step_hours * 3600.0;
        let left = (goal - self.day) * SECONDS_PER_DAY;
        self.look_up();
        loop {
            let wanted = self.step_s.min(longest);
            // Two even steps rather than a long and a tiny one.
            let dt = if wanted >= left {
                left
            } else if 2.0 * wanted > left {
                0.5 * left
            } else {
                wanted
            };
            let dt = dt.min(self.advection_limit_s().max(BRISK_S)).min(left);
            let trial = self.try_step(dt);
            let tolerance = self.settings.change_k;
            if self.refuses(&trial, dt) {
                self.step_s = 0.4 * dt;
                if self.step_s < SHORTEST_S {
                    return false;
                }
                continue;
            }
            self.accept(dt);
            let factor = (tolerance / trial.largest_change.max(1e-3)).clamp(0.3, 1.5);
            self.step_s = (dt * factor).max(BRISK_S).max(if dt < wanted {
                wanted.min(dt * factor)
            } else {
                0.0
            });
            self.day = if dt >= left {
                goal
            } else {
                self.day + dt / SECONDS_PER_DAY
            };
            self.steps += 1;
            return true;
        }
    }

    /// Whether a step of `dt` seconds is to be tried again with a shorter one.
    fn refuses(&self, trial: &Trial, dt: f64) -> bool {
        let jumps = trial.largest_change > 3.0 * self.settings.change_k;
        !trial.sound || (jumps && dt > BRISK_S)
    }

    pub(in crate::heap) fn steps(&self) -> usize {
        self.steps
    }

    /// Air flow, diffusion and storage follow a new grid or state.
    pub(in crate::heap) fn replace_grid(&mut self, grid: Grid, skin: Skin) {
        let len = grid.len;
        let zero = || vec![0.0; len];
        self.ground = Ground::new(
            &grid,
            self.heap.base,
            &self.heap.climate,
            self.day_of_year(),
        );
        self.airflow = Airflow::new(&grid);
        self.transport = Transport::new(&grid);
        self.ammonia = Ammonia::new(len);
        self.oxygen = Oxygen::new(&grid);
        self.properties = Properties::new(len);
        self.faces = vec![Face::default(); grid.exposed.len()];
        self.exposed_diffusion = vec![0.0; grid.exposed.len()];
        self.pore = PoreAir {
            enthalpy: zero(),
            enthalpy_slope: zero(),
            humidity: zero(),
            humidity_slope: zero(),
        };
        for array in [
            &mut self.film_leaving,
            &mut self.old_oxygen,
            &mut self.old_carried,
            &mut self.density,
            &mut self.activity,
            &mut self.volatility,
            &mut self.potential,
            &mut self.slope_share,
            &mut self.source,
            &mut self.wanted,
            &mut self.store,
            &mut self.new_temperature,
            &mut self.new_water,
        ] {
            *array = zero();
        }
        self.rates = vec![Rates::default(); len];
        self.last = vec![Rates::default(); len];
        self.grid = grid;
        self.skin = skin;
    }

    pub(in crate::heap) fn day_of_year(&self) -> f64 {
        self.heap.start_day_of_year - 1.0 + self.day
    }

    fn after_operation(&mut self) {
        self.step_s = FIRST_STEP_S;
        self.last.fill(Rates::default());
        self.refresh();
    }

    /// Properties of the pore air at the present temperatures, and the flow they drive.
    fn look_up(&mut self) {
        let day = self.day_of_year();
        let weather = outside::weather(&self.heap.climate, false, day, day);
        // Lime shifts every cell alike.
        let sourer = 10f64.powf(-self.kinetics.ph_raise);
        for c in self.grid.cells() {
            let t = self.state.temperature[c];
            let at = self.tables.at(t);
            let dry = self.matter.dry(&self.state, c, self.carbon_share).max(1e-9);
            let activity = air::water_activity(self.left_after_drying(c, at.humidity) / dry);
            let (w, slope) = (activity * at.humidity, activity * at.humidity_slope);
            self.activity[c] = activity;
            self.density[c] = at.density;
            self.pore.humidity[c] = w;
            self.pore.humidity_slope[c] = slope;
            self.pore.enthalpy[c] = air::enthalpy_j_per_kg(t, w);
            self.pore.enthalpy_slope[c] = air::DRY_AIR_HEAT_CAPACITY_J_PER_KG_K
                + w * air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K
                + slope
                    * (air::VAPORISATION_AT_0C_J_PER_KG + air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K * t);
            let free = 1.0 / (1.0 + at.ammonium * self.properties.acidity[c] * sourer);
            self.volatility[c] = self.kinetics.ammonia_free_share * 1000.0 * free * at.volatility
                / at.density
                / self.state.water[c].max(1.0);
        }
        self.airflow.solve(
            &self.grid,
            &self.density,
            weather.density,
            &self.properties.settled,
        );
    }

    /// Water that this cell will about still hold after a step of the usual length, kg/m3: the activity is
    /// taken there, so that a drying cell closes before it is empty.
    fn left_after_drying(&self, c: usize, saturated: f64) -> f64 {
        let water = self.state.water[c];
        let stride = self.grid.stride;
        let (fo, fu) = (&self.airflow.outward, &self.airflow.upward);
        let leaving = fo[c].max(0.0)
            + (-fo[c - 1]).max(0.0)
            + fu[c].max(0.0)
            + (-fu[c - stride]).max(0.0)
            + self.transport.outward.diffusion[c]
            + self.transport.outward.diffusion[c - 1]
            + self.transport.upward.diffusion[c]
            + self.transport.upward.diffusion[c - stride]
            + self.film_leaving[c];
        let may_leave = self.step_s.min(self.settings.step_hours * 3600.0) * leaving * saturated
            / self.grid.volume_m3[c];
        water * water / (water + may_leave + 1e-12)
    }

    fn advection_limit_s(&self) -> f64 {
        let stride = self.grid.stride;
        let mut fastest = 0.0f64;
        for c in self.grid.cells() {
            let out = self.airflow.outward[c].max(0.0)
                + (-self.airflow.outward[c - 1]).max(0.0)
                + self.airflow.upward[c].max(0.0)
                + (-self.airflow.upward[c - stride]).max(0.0);
            let dry = self.matter.dry_as_built[c];
            let capacity = heat_capacity(dry, self.state.water[c]) * self.grid.volume_m3[c];
            fastest = fastest.max(out * self.pore.enthalpy_slope[c] / capacity);
        }
        if fastest > 0.0 {
            ADVECTION_LIMIT / fastest
        } else {
            f64::INFINITY
        }
    }
}
