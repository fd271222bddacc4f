//! The run: steps through time, events, records, balances.
//!
//! In: a mix, later additions, a heap, settings. Out: a [`Projection`].
//!
//! Order of a step: look-up -> air flow (from the old temperatures) -> rot potentials (pools at
//! mid-step) -> exposed faces -> implicit heat and water -> rot at the mid-step temperature -> oxygen ->
//! what rot really did -> ammonia, rain, drainage -> judge the step -> take it or halve it.
//! Properties that change slowly, and with them the factored pressure matrix, are refreshed twice a day.
//!
//! Not here: what a deed does (`event`), what is recorded (`record`).
//!
//! Held against: `tests/science/one_cell.rs`, `tests/science/single_cell.rs`, `tests/science/ledgers.rs`,
//! `tests/science/heap_cases.rs`, `tests/science/heap_convergence.rs`, `tests/science/absurd_heaps.rs`.

mod step;

use std::sync::atomic::{AtomicBool, Ordering};

use crate::mix::Totals;

use crate::heap::airflow::Airflow;
use crate::heap::ammonia::Ammonia;
use crate::heap::cell::{Fresh, Matter, Properties, State, heat_capacity};
use crate::heap::event;
use crate::heap::grid::{Facing, Grid};
use crate::heap::moist_air as air;
use crate::heap::outside::{self, Ground, Skinned};
use crate::heap::oxygen::{OXYGEN_PER_AIR, Oxygen};
use crate::heap::plan::Cover;
use crate::heap::projection::{Ended, Ledger, Projection};
use crate::heap::record::Recorder;
use crate::heap::rot::{Kinetics, Rates};
use crate::heap::shape::Skin;
use crate::heap::surface::{self, Face};
use crate::heap::tables::Tables;
use crate::heap::transport::{PoreAir, Transport};
use crate::heap::{Addition, Heap, Settings};

pub(in crate::heap) const SECONDS_PER_DAY: f64 = 86_400.0;
/// Capillary conductivity for water, m2/s (tuned; smooths the drying front).
const CAPILLARY_M2_PER_S: f64 = 3.0e-9;
/// Largest share of a cell's water difference that capillarity may move in one step.
const CAPILLARY_SHARE: f64 = 0.2;
/// Time in which surplus water drains, s (tuned).
const DRAIN_S: f64 = 21_600.0;
/// Shortest step, s; a run that needs less is stopped.
const SHORTEST_S: f64 = 1.0;
/// Steps no longer than this are taken whatever the change, s: thin layers take the weather's temperature at
/// once, and the implicit solve bears it.
const BRISK_S: f64 = 60.0;
/// Step after the start and after every deed, s.
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
        let deeds = heap.plan.in_order();
        let mut next = 0;
        self.refresh();
        recorder.take(self);
        loop {
            while next < deeds.len() && deeds[next].1.day <= self.day + 1e-9 {
                let (place, event) = deeds[next];
                let addition = later
                    .iter()
                    .find(|(of, _)| *of == place)
                    .map(|(_, totals)| totals);
                event::carry_out(self, event, addition);
                self.after_deed();
                recorder.after_deed(self, &event.deed);
                next += 1;
            }
            if self.day >= heap.days - 1e-9 {
                return Ended::Finished;
            }
            if stop.load(Ordering::Relaxed) {
                return Ended::Cancelled { day: self.day };
            }
            let goal = deeds
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

    fn after_deed(&mut self) {
        self.step_s = FIRST_STEP_S;
        self.last.fill(Rates::default());
        self.refresh();
    }

    /// Refreshes everything that changes slowly.
    fn refresh(&mut self) {
        let packed_days = self.day - self.packed_since;
        let stored = self.oxygen_stored_kg();
        self.properties.refresh(
            &self.grid,
            &self.state,
            &self.matter,
            self.carbon_share,
            packed_days,
        );
        self.dressed = outside::dress(&self.grid, &self.skin, self.cover);
        self.refresh_faces_between();
        self.refresh_exposed();
        self.airflow.factorise(&self.grid);
        // Settling squeezes air out and turning lets air in; its oxygen counts as taken in.
        self.ledger.oxygen_supplied_kg += self.oxygen_stored_kg() - stored;
        self.next_refresh = self.day + self.settings.refresh_hours / 24.0;
    }

    fn refresh_faces_between(&mut self) {
        let (grid, p) = (&self.grid, &self.properties);
        let cap = CAPILLARY_SHARE / (self.settings.step_hours * 3600.0);
        for c in grid.cells() {
            let t = self.state.temperature[c];
            let dry_density = 1.0 / air::volume_m3_per_kg(t, self.tables.at(t).humidity);
            let diffusivity = p.air_space[c] * p.air_space[c] * air::gas_diffusivity_m2_per_s(t);
            self.store[c] = grid.volume_m3[c] * p.settled[c] * p.air_space[c] * dry_density;
            // Per-cell conductivities, parked in scratch: heat, gas, flow.
            self.density[c] = diffusivity * dry_density;
            self.activity[c] = p.permeability[c] * dry_density / air::viscosity_pa_s(t);
        }
        for c in grid.cells() {
            for (faces, flow, other, area, half_a, half_b) in [
                (
                    &mut self.transport.outward,
                    &mut self.airflow.outward_conductance,
                    c + 1,
                    grid.outward_area_m2[c] * 0.5 * (p.settled[c] + p.settled[c + 1]),
                    0.5 * grid.width_m[c],
                    0.5 * grid.width_m[c + 1],
                ),
                (
                    &mut self.transport.upward,
                    &mut self.airflow.upward_conductance,
                    c + grid.stride,
                    grid.upward_area_m2[c],
                    0.5 * grid.height_m[c] * p.settled[c],
                    0.5 * grid.height_m[c + grid.stride] * p.settled[c + grid.stride],
                ),
            ] {
                if area <= 0.0 {
                    continue;
                }
                let series = |x: &[f64]| area / (half_a / x[c] + half_b / x[other]);
                faces.conduction[c] = series(&p.conductivity);
                faces.diffusion[c] = series(&self.density);
                flow[c] = series(&self.activity);
                let smaller = grid.volume_m3[c].min(grid.volume_m3[other]);
                faces.capillary[c] =
                    (CAPILLARY_M2_PER_S * area / (half_a + half_b)).min(cap * smaller);
            }
        }
    }

    fn refresh_exposed(&mut self) {
        let p = &self.properties;
        let film = outside::film_w_per_m2_k(self.heap.climate.wind_m_per_s);
        self.film_leaving.fill(0.0);
        for (i, face) in self.grid.exposed.iter().enumerate() {
            let c = face.cell;
            let dressed = &self.dressed[i];
            let upright = face.facing == Facing::Side;
            let stretch = if upright { p.settled[c] } else { 1.0 };
            let depth = face.depth_m * if upright { 1.0 } else { p.settled[c] };
            let area = face.area_m2 * stretch * dressed.area_factor;
            let beside = if dressed.on_ground {
                self.ground.resistance_m2_k_per_w()
            } else {
                1.0 / film
            };
            let open_area = area * dressed.open_share;
            self.faces[i] = Face {
                inside_w_per_k: p.conductivity[c] * area / depth,
                film_w_per_k: area / (beside + dressed.resistance_m2_k_per_w),
                gas_film_kg_per_s: if dressed.on_ground {
                    0.0
                } else {
                    surface::gas_film_kg_per_s(open_area)
                },
            };
            self.film_leaving[c] += self.faces[i].gas_film_kg_per_s;
            // Air has to pass the half cell and then find the gaps; without gaps nothing passes.
            let passage = area / (depth + dressed.constriction_m);
            let inside = self.density[c] * passage;
            let film_flow = surface::gas_film_kg_per_s(open_area);
            self.exposed_diffusion[i] = if open_area > 0.0 && !dressed.on_ground {
                inside * film_flow / (inside + film_flow)
            } else {
                0.0
            };
            self.airflow.exposed_conductance[i] = self.activity[c] * passage;
            if self.settings.isolated {
                self.faces[i] = Face::default();
                self.exposed_diffusion[i] = 0.0;
                self.airflow.exposed_conductance[i] = 0.0;
            }
        }
    }

    /// Properties of the pore air at the present temperatures, and the flow they drive.
    fn look_up(&mut self) {
        let day = self.day_of_year();
        let weather = outside::weather(&self.heap.climate, false, day, day);
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
            let free = 1.0 / (1.0 + at.ammonium * self.properties.acidity[c]);
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

/// Sums over the heap, for the books.
impl Run<'_> {
    /// Oxygen in the pores and carried over, kg.
    pub(in crate::heap) fn oxygen_stored_kg(&self) -> f64 {
        let cells = self.grid.cells();
        let held = cells.map(|c| {
            self.store[c] * self.state.oxygen[c] * OXYGEN_PER_AIR + self.oxygen.carried_kg[c]
        });
        held.sum::<f64>() * self.skin.multiple
    }

    /// Sum over the heap of an amount per cubic metre as built.
    pub(in crate::heap) fn total(&self, amount: impl Fn(usize) -> f64) -> f64 {
        let cells = self.grid.cells();
        cells
            .map(|c| amount(c) * self.grid.volume_m3[c])
            .sum::<f64>()
            * self.skin.multiple
    }

    /// Heat (J), water, dry matter, carbon and nitrogen (kg) in the heap.
    pub(in crate::heap) fn contents(&self) -> [f64; 5] {
        let (s, m) = (&self.state, &self.matter);
        [
            self.total(|c| {
                heat_capacity(m.dry(s, c, self.carbon_share), s.water[c]) * s.temperature[c]
            }),
            self.total(|c| s.water[c]),
            self.total(|c| m.dry(s, c, self.carbon_share)),
            self.total(|c| s.carbon_in(c) + m.inert_carbon[c]),
            self.total(|c| m.nitrogen(s, c, self.kinetics.microbe_cn)),
        ]
    }

    /// Books material added: contents and oxygen before and after.
    pub(in crate::heap) fn book_addition(
        &mut self,
        before: &[f64; 5],
        after: &[f64; 5],
        stored: f64,
    ) {
        let [heat, water, dry, carbon, nitrogen]: [f64; 5] =
            std::array::from_fn(|i| after[i] - before[i]);
        let now = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_start_j += heat;
        ledger.water_start_kg += water;
        ledger.dry_start_kg += dry;
        ledger.carbon_start_kg += carbon;
        ledger.nitrogen_start_kg += nitrogen;
        ledger.oxygen_supplied_kg += now - stored;
    }

    fn book_start(&mut self) {
        let [heat, water, dry, carbon, nitrogen] = self.contents();
        let ledger = &mut self.ledger;
        ledger.heat_start_j = heat;
        ledger.water_start_kg = water;
        ledger.dry_start_kg = dry;
        ledger.carbon_start_kg = carbon;
        ledger.nitrogen_start_kg = nitrogen;
    }

    /// Closes the books.
    pub(in crate::heap) fn book_end(&mut self) {
        let [heat, water, dry, carbon, nitrogen] = self.contents();
        self.ledger.oxygen_stored_kg = self.oxygen_stored_kg();
        let ledger = &mut self.ledger;
        ledger.heat_end_j = heat;
        ledger.water_end_kg = water;
        ledger.dry_end_kg = dry;
        ledger.carbon_end_kg = carbon;
        ledger.nitrogen_end_kg = nitrogen;
    }
}
