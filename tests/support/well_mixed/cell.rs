//! The reference cell at one moment: its state, and the rate of every number of it.
//!
//! In: sums of a mix, a heap, kinetics; then a day and a state. Out: the state at the start, rates per day.
//!
//! All amounts are per cubic metre as built. Not here: steps, records and the ledger (the file above).
//!
//! Tested by: `tests/science/one_cell.rs` (LSODA).

use heapwright::heap::moist_air as air;
use heapwright::heap::rot::{self, Rates, RotPools, Sourness};
use heapwright::heap::{Heap, Kinetics};
use heapwright::mix::{
    ASH_DENSITY_KG_PER_M3, ORGANIC_DENSITY_KG_PER_M3, Totals, WATER_DENSITY_KG_PER_M3,
};

use crate::support::envelope::{Envelope, envelope};
use crate::support::heap_math::{ammonia_in_gas_kg_per_m3, oxygen_factor};
use crate::support::integrate::{SIZE, State};

const SECONDS_PER_DAY: f64 = 86_400.0;
const GRAVITY_M_PER_S2: f64 = 9.81;
/// Heat capacity of dry solids, J/kg K (usual range 1200-1500, from memory).
pub const SOLIDS_HEAT_CAPACITY_J_PER_KG_K: f64 = 1300.0;
/// Heat capacity of water, J/kg K.
pub const WATER_HEAT_CAPACITY_J_PER_KG_K: f64 = 4180.0;
/// Conductivity of dry matter and its gain to full saturation, W/m K (within Ahn et al. 2009).
const CONDUCTIVITY_DRY_W_PER_M_K: f64 = 0.06;
const CONDUCTIVITY_WATER_W_PER_M_K: f64 = 0.44;
/// Pressure of the wind at the middle of the side less that at the top, as a share of that of wind brought to rest.
const WIND_SIDE_OVER_TOP: f64 = 0.1;
/// Density of outside air for wind and gas film, kg/m3.
const FILM_AIR_KG_PER_M3: f64 = 1.2;
/// Time in which surplus water drains, d (tuned).
const DRAIN_DAYS: f64 = 0.25;
/// Settling under its own weight: time constant, per day, and power of the dry mass that is left (tuned).
const SETTLING_PER_DAY: f64 = 0.2;
const SETTLING_POWER: f64 = 0.8;
/// Conductivity of the soil over the depth to where it keeps the yearly mean, W/m2 K (1.2 over 0.75 m; tuned).
const GROUND_W_PER_M2_K: f64 = 1.6;
/// Depth of the skin that air crosses on entering, as a share of the height (tuned).
const ENTRY_DEPTH_SHARE: f64 = 0.15;
/// Outside these the model means nothing, degC.
const MEANINGFUL_C: (f64, f64) = (-60.0, 99.0);

// Places in the state. Below `CHECKED` the error is watched; the rest are running sums.
pub(super) const HEAT: usize = 0;
pub(super) const WATER: usize = 1;
const CARBON: usize = 2; // three pools
const MICROBES: usize = 5;
const HUMUS: usize = 6;
const MINERAL: usize = 7;
const MICROBE_NITROGEN: usize = 8;
const MEDIUM_NITROGEN: usize = 9; // nitrogen in the medium pool, which cells that die of heat join
const AIRLESS: usize = 10;
pub(super) const CHECKED: usize = 11;
pub(super) const OXIDISED: usize = 11;
const WANTED: usize = 12;
pub(super) const VAPOUR: usize = 13;
pub(super) const DRAINED: usize = 14;
pub(super) const RAINED: usize = 15;
pub(super) const AMMONIA: usize = 16;
pub(super) const HEAT_SURFACE: usize = 17;
pub(super) const HEAT_VAPOUR: usize = 18;
pub(super) const HEAT_DRAINED: usize = 19;
const BURIED: usize = 20;
pub(super) const NITROGEN_GAS: usize = 21;
pub(super) const NITROGEN_DRAINED: usize = 22;
pub(super) const OXYGEN_IN: usize = 23;
const _: () = assert!(OXYGEN_IN + 1 == SIZE);

/// What does not change during a run, per cubic metre as built.
pub(super) struct Cell<'a> {
    heap: &'a Heap,
    kinetics: Kinetics,
    envelope: Envelope,
    pub(super) volume_m3: f64,
    particle_size_m: f64,
    slump_share: f64,
    holds_per_dry: f64,
    ash: f64,
    inert_carbon: f64,
    carbon_share: f64,
    nitrogen_per_carbon: [f64; 3],
    nitrogen_fixed: f64,
    fast_at_start: f64,
    fresh_ph: f64,
    dry_at_start: f64,
    ground_c: f64,
}

/// The cell at one moment, from its state.
pub(super) struct Moment {
    pub(super) temperature_c: f64,
    pub(super) dry: f64,
    moisture: f64,
    pub(super) height_share: f64,
    free_air_space: f64,
}

/// The rates of one moment and what else a record shows.
pub(super) struct Change {
    pub(super) rate: State,
    pub(super) oxygen: f64,
}

impl<'a> Cell<'a> {
    /// The cell of a mix and its state at the start.
    pub(super) fn build(totals: &Totals, heap: &'a Heap, kinetics: &Kinetics) -> (Self, State) {
        let volume = totals.volume_m3();
        let per = 1.0 / volume;
        let dry = totals.dry_kg * per;
        let ash = totals.ash_kg * per;
        let organic = (dry - ash).max(1e-9);
        let carbon_total = totals.carbon_kg * per;
        let pools = [
            totals.carbon_fast_kg,
            totals.carbon_medium_kg,
            totals.carbon_slow_kg,
        ]
        .map(|kg| kg * per);
        let nitrogen = totals.nitrogen_kg * per;
        let food: f64 = pools.iter().sum();
        // The first microbes are carbon and nitrogen of the mix itself.
        let microbes = (kinetics.microbes_at_start * food)
            .min(0.5 * nitrogen * kinetics.microbe_cn)
            .max(0.0);
        let left = if food > 0.0 {
            1.0 - microbes / food
        } else {
            1.0
        };
        let pools = pools.map(|carbon| carbon * left);
        let nitrogen_left = nitrogen - microbes / kinetics.microbe_cn;
        let (nitrogen_per_carbon, mineral, fixed) =
            split_nitrogen(nitrogen_left, pools, carbon_total - food);
        let day_of_year = heap.start_day_of_year - 1.0;
        let start_c = heap
            .start_temperature_c
            .unwrap_or_else(|| heap.climate.daily_mean_c(day_of_year).max(10.0));
        let water = totals.water_kg * per;
        let mut state = [0.0; SIZE];
        state[HEAT] = heat_capacity(dry, water) * start_c;
        state[WATER] = water;
        state[CARBON..CARBON + 3].copy_from_slice(&pools);
        state[MICROBES] = microbes;
        state[MINERAL] = mineral;
        state[MICROBE_NITROGEN] = microbes / kinetics.microbe_cn;
        state[MEDIUM_NITROGEN] = nitrogen_per_carbon[1] * pools[1];
        let cell = Self {
            heap,
            kinetics: *kinetics,
            envelope: envelope(&heap.shape, volume),
            volume_m3: volume,
            particle_size_m: totals.particle_size_m(),
            slump_share: totals.slump_share(),
            holds_per_dry: totals.water_held_kg / totals.dry_kg,
            ash,
            inert_carbon: carbon_total - food,
            carbon_share: (carbon_total / organic).max(1e-6),
            nitrogen_per_carbon,
            nitrogen_fixed: fixed,
            fast_at_start: pools[0],
            fresh_ph: totals.ph() - totals.ph_raised(),
            dry_at_start: dry,
            ground_c: heap.climate.monthly_mean_c.iter().sum::<f64>() / 12.0,
        };
        (cell, state)
    }

    /// Carbon in the cell, kg/m3.
    pub(super) fn carbon(&self, state: &State) -> f64 {
        state[CARBON..=HUMUS].iter().sum::<f64>() + self.inert_carbon
    }

    /// Nitrogen in the cell, kg/m3.
    pub(super) fn nitrogen(&self, state: &State) -> f64 {
        let food: f64 = (0..3)
            .map(|i| self.nitrogen_per_carbon(state)[i] * state[CARBON + i])
            .sum();
        food + state[MICROBE_NITROGEN] + state[MINERAL] + state[BURIED] + self.nitrogen_fixed
    }

    /// Nitrogen per carbon of each pool, kg/kg.
    fn nitrogen_per_carbon(&self, state: &State) -> [f64; 3] {
        let [fast, _, slow] = self.nitrogen_per_carbon;
        [
            fast,
            state[MEDIUM_NITROGEN] / state[CARBON + 1].max(1e-12),
            slow,
        ]
    }

    /// Dry matter, kg/m3.
    pub(super) fn dry(&self, state: &State) -> f64 {
        self.ash + self.carbon(state) / self.carbon_share
    }

    pub(super) fn moment(&self, day: f64, state: &State) -> Moment {
        let dry = self.dry(state);
        let water = state[WATER].max(0.0);
        let organic = dry - self.ash;
        let compaction = 1.0 - self.slump_share * (1.0 - (-SETTLING_PER_DAY * day).exp());
        let airless = organic / ORGANIC_DENSITY_KG_PER_M3
            + self.ash / ASH_DENSITY_KG_PER_M3
            + water / WATER_DENSITY_KG_PER_M3;
        let settled = compaction * (dry / self.dry_at_start).powf(SETTLING_POWER);
        // A heap cannot be smaller than its solids and water with the last of the air.
        let height_share = settled.max(1.02 * airless);
        Moment {
            temperature_c: state[HEAT] / heat_capacity(dry, water),
            dry,
            moisture: water / (water + dry),
            height_share,
            free_air_space: 1.0 - airless / height_share,
        }
    }

    pub(super) fn is_meaningful(&self, state: &State) -> bool {
        let t = state[HEAT] / heat_capacity(self.dry(state), state[WATER].max(0.0));
        t > MEANINGFUL_C.0 && t < MEANINGFUL_C.1 && state.iter().all(|value| value.is_finite())
    }

    /// Air drawn through by its own warmth, kg dry air per second for the whole heap.
    fn draught_kg_per_s(
        &self,
        moment: &Moment,
        density_in: f64,
        density_out: f64,
        dry_density: f64,
    ) -> f64 {
        let e = &self.envelope;
        let f = moment.free_air_space;
        let d = self.particle_size_m;
        let packed = 0.0115 * ((f - 0.25) / 0.35).max(0.0).powf(2.5);
        let permeability = (d * d / (1.0 / packed + 1.0 / 0.02)).clamp(1.0e-13, 1.0e-6);
        let height = e.height_m * moment.height_share;
        let skin = ENTRY_DEPTH_SHARE * height;
        let entry_area = e.side_area_m2 * moment.height_share * e.side_open_share
            + e.plan_area_m2 * e.base_open_share;
        let resistance = height / e.plan_area_m2
            + skin / entry_area
            + skin * (1.0 / e.top_open_share - 1.0) / e.plan_area_m2;
        let wind = self.heap.climate.wind_m_per_s.min(6.0);
        let pressure = (density_out - density_in).max(0.0) * GRAVITY_M_PER_S2 * height
            + WIND_SIDE_OVER_TOP * 0.5 * FILM_AIR_KG_PER_M3 * wind * wind;
        dry_density * permeability / air::viscosity_pa_s(moment.temperature_c) * pressure
            / resistance
    }

    /// All rates at one moment, per day.
    pub(super) fn change(&self, day: f64, state: &State) -> Change {
        let k = &self.kinetics;
        let e = &self.envelope;
        let moment = self.moment(day, state);
        let t = moment.temperature_c;
        let day_of_year = self.heap.start_day_of_year - 1.0 + day;
        let ambient_c = self.heap.climate.air_c(day_of_year);
        let per = 1.0 / self.volume_m3;

        // Air inside and outside.
        let water = state[WATER].max(0.0);
        let w = air::humidity_ratio(t, air::water_activity(water / moment.dry));
        let w_out = air::humidity_ratio(ambient_c, self.heap.climate.relative_humidity);
        let specific_volume = air::volume_m3_per_kg(t, w);
        let density_in = (1.0 + w) / specific_volume;
        let density_out = air::density_kg_per_m3(ambient_c, w_out);
        let draught =
            self.draught_kg_per_s(&moment, density_in, density_out, 1.0 / specific_volume);

        // The skin: half the depth of the heap in series with the film; gas diffuses through the open part.
        let side = e.side_area_m2 * moment.height_share;
        let area = side + e.top_area_m2;
        let depth = 0.5 * self.volume_m3 * moment.height_share / area;
        let open_area = side * e.side_open_share + e.top_area_m2 * e.top_open_share;
        let diffusivity = moment.free_air_space.powi(2) * air::gas_diffusivity_m2_per_s(t);
        let film = 0.0023 + 0.0025 * self.heap.climate.wind_m_per_s.min(6.0);
        // kg dry air per second: half the depth, then the film.
        let diffusion =
            open_area / (depth * specific_volume / diffusivity + 1.0 / (FILM_AIR_KG_PER_M3 * film));
        let pore = moment.free_air_space + water / WATER_DENSITY_KG_PER_M3 / moment.height_share;
        let saturation = (water / WATER_DENSITY_KG_PER_M3 / moment.height_share / pore).min(1.0);
        let conductivity = CONDUCTIVITY_DRY_W_PER_M_K + CONDUCTIVITY_WATER_W_PER_M_K * saturation;
        let inside = depth / conductivity;
        let loss = side / (inside + 1.0 / e.side_u_w_per_m2_k)
            + e.top_area_m2 / (inside + 1.0 / e.top_u_w_per_m2_k);
        let ground_inside = 0.5 * e.height_m * moment.height_share / conductivity;
        let ground = e.plan_area_m2 / (ground_inside + 1.0 / GROUND_W_PER_M2_K);

        // Rot at full oxygen, then cut to the oxygen that comes in.
        let temperature = rot::temperature_factor(t, k.cardinal_c);
        let bed =
            rot::moisture_factor(moment.moisture) * rot::air_space_factor(moment.free_air_space);
        let ph = self.ph(state);
        let surroundings = temperature * bed * (1.0 - rot::sour_stop(ph, 0.0) * rot::sour_gate(t));
        let pools = RotPools {
            carbon: std::array::from_fn(|i| state[CARBON + i].max(0.0)),
            microbes: state[MICROBES].max(0.0),
            mineral_nitrogen: state[MINERAL].max(0.0),
            microbe_nitrogen: state[MICROBE_NITROGEN].max(0.0),
            wood: 0.0,
            nitrogen_per_carbon: self.nitrogen_per_carbon(state),
        };
        let wanted = rot::rates(&pools, surroundings, temperature, k);
        let supply = (draught + diffusion) * OXYGEN_PER_AIR * SECONDS_PER_DAY * per;
        let oxygen = oxygen_in_pores(
            supply,
            wanted.oxidised * rot::OXYGEN_PER_CARBON,
            k.half_oxygen,
        );
        let real = wanted.times(oxygen_factor(oxygen, k.half_oxygen));

        let air_kg_per_day = draught * SECONDS_PER_DAY * per;
        let fluxes = Fluxes {
            air: air_kg_per_day,
            diffused_air: diffusion * SECONDS_PER_DAY * per,
            specific_volume,
            vapour_difference: w - w_out,
            enthalpy_difference: air::enthalpy_j_per_kg(t, w)
                - air::enthalpy_j_per_kg(ambient_c, w_out),
            surface_j: (loss * (t - ambient_c) + ground * (t - self.ground_c))
                * SECONDS_PER_DAY
                * per,
            rain: e.rain_share
                * self.heap.climate.rain_mm_per_day(day_of_year)
                * e.plan_area_m2
                * per,
            rain_c: ambient_c.max(0.0),
            oxygen: supply * (rot::OXYGEN_IN_AIR - oxygen),
            unmet: 1.0 - oxygen_factor(oxygen, k.half_oxygen),
            nitrogen_gas: k.nitrified_and_lost_per_day
                * bed
                * rot::nitrogen_gas_factor(t, oxygen)
                * state[MINERAL].max(0.0),
        };
        Change {
            rate: self.rate(state, &moment, &wanted, &real, &fluxes),
            oxygen,
        }
    }

    /// The rate of every number of the state.
    fn rate(
        &self,
        state: &State,
        moment: &Moment,
        wanted: &Rates,
        real: &Rates,
        fluxes: &Fluxes,
    ) -> State {
        let t = moment.temperature_c;
        let water = state[WATER].max(0.0);
        let drained = (water - self.holds_per_dry * moment.dry).max(0.0) / DRAIN_DAYS;
        let diffused_vapour = fluxes.diffused_air * fluxes.vapour_difference;
        let vapour = fluxes.air * fluxes.vapour_difference + diffused_vapour;
        let heat_vapour = fluxes.air * fluxes.enthalpy_difference
            + diffused_vapour
                * (air::VAPORISATION_AT_0C_J_PER_KG + air::VAPOUR_HEAT_CAPACITY_J_PER_KG_K * t);
        let gas = ammonia_in_gas_kg_per_m3(
            state[MINERAL].max(0.0) * self.kinetics.ammonia_free_share / water.max(1.0),
            t,
            self.ph(state),
        );
        let ammonia = gas * fluxes.specific_volume * (fluxes.air + fluxes.diffused_air);
        let heat_drained = drained * WATER_HEAT_CAPACITY_J_PER_KG_K * t;
        let heat_rain = fluxes.rain * WATER_HEAT_CAPACITY_J_PER_KG_K * fluxes.rain_c;
        let made = real.oxidised * self.water_per_carbon();

        let nitrogen_drained = state[MINERAL].max(0.0) * drained / water.max(1.0);
        let die_off = rot::die_off_per_day(t, &self.kinetics);
        let dead = die_off * state[MICROBES];
        let dead_nitrogen = die_off * state[MICROBE_NITROGEN];
        let mut rate = [0.0; SIZE];
        rate[HEAT] = real.oxidised * rot::HEAT_PER_CARBON_J_PER_KG + heat_rain
            - fluxes.surface_j
            - heat_vapour
            - heat_drained;
        rate[WATER] = made + fluxes.rain - vapour - drained;
        for (pool, uptake) in real.uptake.iter().enumerate() {
            rate[CARBON + pool] = -uptake;
        }
        rate[CARBON + 1] += dead;
        rate[MICROBES] = real.growth - real.death - dead;
        rate[MICROBE_NITROGEN] = real.nitrogen_taken - real.nitrogen_of_dead - dead_nitrogen;
        rate[MEDIUM_NITROGEN] = dead_nitrogen - real.uptake[1] * self.nitrogen_per_carbon(state)[1];
        rate[AIRLESS] = fluxes.unmet - state[AIRLESS];
        rate[BURIED] = real.nitrogen_buried;
        rate[NITROGEN_GAS] = fluxes.nitrogen_gas;
        rate[NITROGEN_DRAINED] = nitrogen_drained;
        rate[HUMUS] = real.humus;
        rate[MINERAL] = real.nitrogen_freed - ammonia - fluxes.nitrogen_gas - nitrogen_drained;
        rate[OXIDISED] = real.oxidised;
        rate[WANTED] = wanted.oxidised;
        rate[VAPOUR] = vapour;
        rate[DRAINED] = drained;
        rate[RAINED] = fluxes.rain;
        rate[AMMONIA] = ammonia;
        rate[HEAT_SURFACE] = fluxes.surface_j;
        rate[HEAT_VAPOUR] = heat_vapour;
        rate[HEAT_DRAINED] = heat_drained - heat_rain;
        rate[OXYGEN_IN] = fluxes.oxygen;
        rate
    }

    /// pH of the pore water.
    fn ph(&self, state: &State) -> f64 {
        let fast_left = if self.fast_at_start > 0.0 {
            (state[CARBON] / self.fast_at_start).clamp(0.0, 1.0)
        } else {
            0.0
        };
        rot::ph(&Sourness {
            fast_left,
            fresh_ph: self.fresh_ph,
            raised: 0.0,
            airless: state[AIRLESS],
        })
    }

    /// Water made per carbon oxidised, kg/kg: what is left of matter and oxygen after carbon dioxide.
    pub(super) fn water_per_carbon(&self) -> f64 {
        1.0 / self.carbon_share + rot::OXYGEN_PER_CARBON - rot::CARBON_DIOXIDE_PER_CARBON
    }
}

/// What crosses the boundary at one moment, per day and cubic metre.
struct Fluxes {
    air: f64,
    diffused_air: f64,
    specific_volume: f64,
    vapour_difference: f64,
    enthalpy_difference: f64,
    surface_j: f64,
    rain: f64,
    rain_c: f64,
    oxygen: f64,
    unmet: f64,
    nitrogen_gas: f64,
}

/// Oxygen brought by a kilogram of dry air per unit of mole fraction, kg (32 / 28.97).
const OXYGEN_PER_AIR: f64 = 32.0 / 28.97;

fn heat_capacity(dry: f64, water: f64) -> f64 {
    SOLIDS_HEAT_CAPACITY_J_PER_KG_K * dry + WATER_HEAT_CAPACITY_J_PER_KG_K * water
}

/// Divides nitrogen by the richness of each pool and of what never rots: nitrogen per carbon of each, mineral, never
/// freed.
fn split_nitrogen(nitrogen: f64, pools: [f64; 3], inert: f64) -> ([f64; 3], f64, f64) {
    let (rich, mineral) = ([1.6, 0.9, 0.6], 0.01 * nitrogen);
    let all: f64 = rich.iter().zip(pools).map(|(r, c)| r * c).sum::<f64>() + 0.9 * inert;
    let per = (nitrogen - mineral) / all;
    (rich.map(|r| r * per), mineral, 0.9 * inert * per)
}

/// Oxygen at which supply `g (y_air - y)` equals use `s f(y)`, mole fraction.
///
/// `g`: kg per day and unit of mole fraction; `s`: kg per day in open air. The positive root of
/// `g y^2 + (g K - g y_air + s') y - g y_air K = 0` with `s' = s (1 + K / y_air)`.
fn oxygen_in_pores(g: f64, s: f64, half: f64) -> f64 {
    if s <= 0.0 {
        return rot::OXYGEN_IN_AIR;
    }
    if g <= 0.0 {
        return 0.0;
    }
    let c = g * rot::OXYGEN_IN_AIR * half;
    let b = g * (half - rot::OXYGEN_IN_AIR) + s * (1.0 + half / rot::OXYGEN_IN_AIR);
    let root = (b * b + 4.0 * g * c).sqrt();
    let y = if b >= 0.0 {
        2.0 * c / (b + root)
    } else {
        (root - b) / (2.0 * g)
    };
    y.min(rot::OXYGEN_IN_AIR)
}
