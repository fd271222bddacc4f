//! What fills the cells: state, and the properties that follow from it.
//!
//! In: amounts per cubic metre as built. Out: heat capacity, air space, permeability, conductivity,
//! diffusivity, settling.
//!
//! Constitutive laws only. Not here: balances (`transport`), rates (`rot`).
//!
//! Tested by: `tests/science/cell.rs`, and through `tests/science/heap_cases.rs`.

use crate::mix::{
    ASH_DENSITY_KG_PER_M3, ORGANIC_DENSITY_KG_PER_M3, Totals, WATER_DENSITY_KG_PER_M3, slumped_part,
};

use super::grid::Grid;
use super::rot::{self, Kinetics, Sourness};
use super::transport::WATER_HEAT_CAPACITY_J_PER_KG_K;

/// Heat capacity of dry solids, J/kg K (usual range 1200-1500, from memory).
pub const SOLIDS_HEAT_CAPACITY_J_PER_KG_K: f64 = 1300.0;
/// Conductivity of dry matter, W/m K (within Ahn et al. 2009).
const CONDUCTIVITY_DRY_W_PER_M_K: f64 = 0.06;
/// Its gain from dry to pores full of water, W/m K (within Ahn et al. 2009).
const CONDUCTIVITY_WATER_W_PER_M_K: f64 = 0.44;
/// Permeability is kept between these, m2; beyond the upper end the flow is no longer Darcian.
const PERMEABILITY_M2: (f64, f64) = (1.0e-13, 1.0e-6);
/// Air space through which nothing flows (tuned: wet beds with less than 0.25-0.30 go airless).
const CLOSED_AIR_SPACE: f64 = 0.25;
/// Permeability over the square of the particle size at an air space of 0.6, were it not for the next (tuned: garden
/// mixes of 300-450 kg/m3 in a full bay of 1 m3 reach 55-66 degC).
const PACKED_PERMEABILITY: f64 = 0.0115;
/// The same that loose matter nears but never passes (tuned to 2-4e-8 m2 for chips, compacted oak chips 2e-8 and
/// residues 3e-8 measured, and to 1-2e-8 for straw; hay 1-5e-8 from memory).
const LOOSE_PERMEABILITY: f64 = 0.020;
/// Share of slumping of an ordinary mix, for which `LOAD_POWER` holds (tuned: the mean of garden mixes).
const USUAL_SLUMP: f64 = 0.12;
/// Least air space assumed, share of the volume.
const AIR_SPACE_LEAST: f64 = 0.02;
/// Power of the dry mass left in the settling law (tuned, 0.7-1, reason not recorded).
const SETTLING_POWER: f64 = 0.8;
/// Load at which the density as built holds: half a metre of an ordinary mix, kg/m2. What bears less, and what dries, lies
/// looser than filled: so the simulation has it, not a record (tuned with the permeability; else four numbers more miss).
const LOAD_AS_BUILT_KG_PER_M2: f64 = 225.0;
/// Power with which density rises with the load above (tuned so that a metre-high heap keeps its density as built).
const LOAD_POWER: f64 = 0.08;

/// Everything that changes from step to step, per cell and cubic metre as built.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Temperature, degC.
    pub temperature: Vec<f64>,
    /// Water, kg.
    pub water: Vec<f64>,
    /// Carbon in the fast, medium and slow pool, kg.
    pub carbon: [Vec<f64>; 3],
    /// Carbon in living microbes, kg.
    pub microbes: Vec<f64>,
    /// Nitrogen in living microbes, kg.
    pub microbe_nitrogen: Vec<f64>,
    /// Carbon in humus, kg.
    pub humus: Vec<f64>,
    /// Mineral nitrogen, kg.
    pub mineral: Vec<f64>,
    /// Oxygen in the pores, mole fraction of dry air.
    pub oxygen: Vec<f64>,
    /// Share of the demand for oxygen that goes unmet, mean over about a day, 0-1.
    pub airless: Vec<f64>,
}

/// What changes only when the heap is worked on, per cell and cubic metre as built.
#[derive(Debug, Clone, PartialEq)]
pub struct Matter {
    /// Solids that are not calculated as carbon-bearing organic matter, kg.
    pub mineral_solids: Vec<f64>,
    /// Carbon that does not rot, kg.
    pub inert_carbon: Vec<f64>,
    /// Nitrogen per carbon of each pool, kg/kg.
    pub nitrogen_per_carbon: [Vec<f64>; 3],
    /// Nitrogen that is never freed (again), that of humus too, kg.
    pub fixed_nitrogen: Vec<f64>,
    /// Dry matter of wood as built, kg.
    pub wood: Vec<f64>,
    /// pH of the fresh mix without lime and ash times dry matter as built, kg.
    pub fresh_ph: Vec<f64>,
    /// Rise of the pH by lime and ash times dry matter as built, kg.
    pub ph_raised: Vec<f64>,
    /// Dry matter as built, kg.
    pub dry_as_built: Vec<f64>,
    /// Fast carbon as built, kg.
    pub fast_as_built: Vec<f64>,
    /// Logarithm of the effective particle size in m.
    pub log_particle_size: Vec<f64>,
    /// Share of height lost by slumping.
    pub slump_share: Vec<f64>,
    /// Water held against gravity, kg.
    pub water_held: Vec<f64>,
}

/// A fresh mix, per cubic metre as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fresh {
    /// Water, kg.
    pub water: f64,
    /// Carbon in each pool, kg, the first microbes taken out.
    pub carbon: [f64; 3],
    /// First microbes, kg.
    pub microbes: f64,
    /// Nitrogen in them, kg.
    pub microbe_nitrogen: f64,
    /// Dry matter of wood, kg.
    pub wood: f64,
    /// Mineral nitrogen, kg.
    pub mineral: f64,
    /// Nitrogen in each pool, kg.
    pub nitrogen: [f64; 3],
    /// Nitrogen never freed, kg.
    pub fixed_nitrogen: f64,
    /// Carbon that does not rot, kg.
    pub inert_carbon: f64,
    /// pH without lime and ash.
    pub ph: f64,
    /// Rise of the pH by lime and ash.
    pub ph_raised: f64,
    /// Dry matter, kg.
    pub dry: f64,
    /// Logarithm of the effective particle size in m.
    pub log_particle_size: f64,
    /// Share of height lost by slumping.
    pub slump_share: f64,
    /// Water held against gravity, kg.
    pub water_held: f64,
}

impl Fresh {
    /// The mix of these sums spread over `volume_m3`.
    pub fn new(totals: &Totals, volume_m3: f64, kinetics: &Kinetics) -> Self {
        let per = 1.0 / volume_m3;
        let pools = [
            totals.carbon_fast_kg,
            totals.carbon_medium_kg,
            totals.carbon_slow_kg,
        ]
        .map(|kg| kg * per);
        let food: f64 = pools.iter().sum();
        let nitrogen = totals.nitrogen_kg * per;
        // The first microbes are carbon and nitrogen of the mix itself.
        let microbes = (kinetics.microbes_at_start * food)
            .min(0.5 * nitrogen * kinetics.microbe_cn)
            .max(0.0);
        let left = if food > 0.0 {
            1.0 - microbes / food
        } else {
            1.0
        };
        let carbon = pools.map(|carbon| carbon * left);
        let inert_carbon = totals.carbon_kg * per - food;
        let microbe_nitrogen = microbes / kinetics.microbe_cn;
        let free = (totals.nitrogen_at_once_kg * per).min(nitrogen - microbe_nitrogen);
        let (dry, wood) = (totals.dry_kg * per, totals.wood_kg * per);
        let organic = OrganicNitrogen {
            nitrogen: nitrogen - microbe_nitrogen - free,
            pools: carbon,
            inert_carbon,
            wood_share: if dry > 0.0 { wood / dry } else { 0.0 },
        };
        let split = SplitNitrogen::new(&organic, kinetics);
        Self {
            water: totals.water_kg * per,
            carbon,
            microbes,
            microbe_nitrogen,
            wood,
            mineral: free + split.mineral,
            nitrogen: split.pools,
            fixed_nitrogen: split.fixed,
            inert_carbon,
            ph: totals.ph() - totals.ph_raised(),
            ph_raised: totals.ph_raised(),
            dry,
            log_particle_size: totals.particle_size_m().ln(),
            slump_share: totals.slump_share(),
            water_held: totals.water_held_kg * per,
        }
    }
}

/// Nitrogen and the carbon it goes with, per cubic metre, kg.
struct OrganicNitrogen {
    nitrogen: f64,
    pools: [f64; 3],
    inert_carbon: f64,
    /// Share of the dry matter that is wood, 0-1.
    wood_share: f64,
}

/// Organic nitrogen divided over the pools, what is mineral, and what is never freed, kg.
struct SplitNitrogen {
    pools: [f64; 3],
    mineral: f64,
    fixed: f64,
}

impl SplitNitrogen {
    /// Nitrogen follows carbon by the richness of each pool; without any carbon all of it is mineral.
    fn new(of: &OrganicNitrogen, kinetics: &Kinetics) -> Self {
        let OrganicNitrogen {
            nitrogen,
            pools,
            inert_carbon,
            wood_share,
        } = *of;
        let [.., inert_richness] = kinetics.richness;
        let weights: [f64; 3] = std::array::from_fn(|i| kinetics.richness[i] * pools[i].max(0.0));
        let inert = inert_richness * inert_carbon.max(0.0);
        let all = weights.iter().sum::<f64>() + inert;
        if all <= 0.0 {
            return Self {
                pools: [0.0; 3],
                mineral: nitrogen,
                fixed: 0.0,
            };
        }
        let (other, in_wood) = (kinetics.mineral_at_start, kinetics.mineral_at_start_in_wood);
        let mineral = (other + wood_share * (in_wood - other)) * nitrogen;
        let per = (nitrogen - mineral) / all;
        Self {
            pools: weights.map(|weight| weight * per),
            mineral,
            fixed: inert * per,
        }
    }
}

impl State {
    /// Cells that hold nothing, at 0 degC.
    pub fn empty(len: usize) -> Self {
        let zero = || vec![0.0; len];
        Self {
            temperature: zero(),
            water: zero(),
            carbon: [zero(), zero(), zero()],
            microbes: zero(),
            microbe_nitrogen: zero(),
            humus: zero(),
            mineral: zero(),
            oxygen: zero(),
            airless: zero(),
        }
    }

    /// Carbon in cell `c` that counts as organic matter with `inert`, kg/m3.
    #[inline]
    pub fn carbon_in(&self, c: usize) -> f64 {
        self.carbon[0][c] + self.carbon[1][c] + self.carbon[2][c] + self.microbes[c] + self.humus[c]
    }
}

impl Matter {
    /// Matter of cells that hold nothing.
    pub fn empty(len: usize) -> Self {
        let zero = || vec![0.0; len];
        Self {
            mineral_solids: zero(),
            inert_carbon: zero(),
            nitrogen_per_carbon: [zero(), zero(), zero()],
            fixed_nitrogen: zero(),
            wood: zero(),
            fresh_ph: zero(),
            ph_raised: zero(),
            dry_as_built: zero(),
            fast_as_built: zero(),
            log_particle_size: zero(),
            slump_share: zero(),
            water_held: zero(),
        }
    }

    /// Fills cell `c` of matter and state with a fresh mix at `temperature_c`; `carbon_share` is the
    /// carbon in a kilogram of organic matter, the same for the whole run.
    pub fn fill(
        &mut self,
        state: &mut State,
        c: usize,
        fresh: &Fresh,
        temperature_c: f64,
        carbon_share: f64,
    ) {
        state.temperature[c] = temperature_c;
        state.water[c] = fresh.water;
        for pool in 0..3 {
            state.carbon[pool][c] = fresh.carbon[pool];
            let carbon = fresh.carbon[pool];
            self.nitrogen_per_carbon[pool][c] = if carbon > 0.0 {
                fresh.nitrogen[pool] / carbon
            } else {
                0.0
            };
        }
        state.microbes[c] = fresh.microbes;
        state.microbe_nitrogen[c] = fresh.microbe_nitrogen;
        state.humus[c] = 0.0;
        state.mineral[c] = fresh.mineral;
        state.oxygen[c] = rot::OXYGEN_IN_AIR;
        self.inert_carbon[c] = fresh.inert_carbon;
        self.mineral_solids[c] =
            fresh.dry - (fresh.inert_carbon + state.carbon_in(c)) / carbon_share;
        self.fixed_nitrogen[c] = fresh.fixed_nitrogen;
        self.wood[c] = fresh.wood;
        state.airless[c] = 0.0;
        self.fresh_ph[c] = fresh.ph * fresh.dry;
        self.ph_raised[c] = fresh.ph_raised * fresh.dry;
        self.dry_as_built[c] = fresh.dry;
        self.fast_as_built[c] = fresh.carbon[0];
        self.log_particle_size[c] = fresh.log_particle_size;
        self.slump_share[c] = fresh.slump_share;
        self.water_held[c] = fresh.water_held;
    }

    /// Dry matter of cell `c`, kg/m3.
    #[inline]
    pub fn dry(&self, state: &State, c: usize, carbon_share: f64) -> f64 {
        self.mineral_solids[c] + (self.inert_carbon[c] + state.carbon_in(c)) / carbon_share
    }

    /// Nitrogen of cell `c`, kg/m3.
    pub fn nitrogen(&self, state: &State, c: usize) -> f64 {
        let food: f64 = (0..3)
            .map(|pool| self.nitrogen_per_carbon[pool][c] * state.carbon[pool][c])
            .sum();
        food + state.microbe_nitrogen[c] + state.mineral[c] + self.fixed_nitrogen[c]
    }
}

/// Heat capacity, J/m3 K, of solids and water, kg/m3.
pub fn heat_capacity(dry: f64, water: f64) -> f64 {
    SOLIDS_HEAT_CAPACITY_J_PER_KG_K * dry + WATER_HEAT_CAPACITY_J_PER_KG_K * water
}

/// How much more than usual matter yields to the load above it, 0.3-3, from its share of slumping (tuned: leaves, grass
/// and scraps yield to a high pile, chips do not).
fn softness(slump_share: f64) -> f64 {
    (slump_share / USUAL_SLUMP).clamp(0.3, 3.0)
}

/// Permeability, m2, of matter of this effective particle size and air space.
///
/// `d2 / (1 / (a e^2.5) + 1 / b)` with `e` the air space above the closed part, as a share of that at 0.6: rising with a
/// power of the *effective* air space (Das and Keener 1997, J. Environ. Eng. 123:275-281, abstract read: effective air
/// space explains 95 % of composts' permeability; the power is tuned between 2 of aggregated soils and the 3 to 6 of
/// Kozeny and Carman), and levelling off in loose matter, whose stalks and leaves hold much of the air inside or
/// behind themselves. Within the measured 5e-9 to 1e-7 m2 of chips; no numbers for garden mixes were found.
/// Checked: `tests/science/cell.rs`, tabulated values.
pub fn permeability_m2(size_m: f64, air_space: f64) -> f64 {
    let open = ((air_space - CLOSED_AIR_SPACE) / (0.6 - CLOSED_AIR_SPACE)).max(0.0);
    let packed = PACKED_PERMEABILITY * open * open * open.sqrt();
    let share = packed * LOOSE_PERMEABILITY / (packed + LOOSE_PERMEABILITY);
    (size_m * size_m * share).clamp(PERMEABILITY_M2.0, PERMEABILITY_M2.1)
}

/// Share of its present height that a packing of this age has still to lose by slumping.
pub fn slump_to_come(slump_share: f64, days: f64) -> f64 {
    let done = slumped_part(days);
    slump_share * (1.0 - done) / (1.0 - slump_share * done)
}

/// How a cell lies: solids and water as built (kg/m3), load above (kg/m2), part of its slumping done (0-1).
struct Packing {
    dry: f64,
    water: f64,
    load: f64,
    packed: f64,
}

/// Properties that change slowly and are refreshed twice a day.
#[derive(Debug, Clone)]
pub struct Properties {
    /// Height as a share of the height as built.
    pub settled: Vec<f64>,
    /// The same under the load at which the density as built holds: what a heap laid out anew starts from.
    pub loose: Vec<f64>,
    /// Air-filled share of the volume.
    pub air_space: Vec<f64>,
    /// Permeability, m2.
    pub permeability: Vec<f64>,
    /// Conductivity, W/m K.
    pub conductivity: Vec<f64>,
    /// Moisture factor times air-space factor of rot.
    pub rot_factor: Vec<f64>,
    // What it was at the last refresh; nothing after an operation.
    rot_factor_then: Vec<Option<f64>>,
    /// Share of the dry matter as built that is wood, 0-1.
    pub wood_share: Vec<f64>,
    /// `10^(8 - pH)`.
    pub acidity: Vec<f64>,
    ph: Vec<f64>,
    /// Share by which sour water holds rot back above 45 degC, 0-1.
    pub sour: Vec<f64>,
    load: Vec<f64>,
}

impl Properties {
    /// Properties not yet known.
    pub fn new(len: usize) -> Self {
        Self {
            settled: vec![1.0; len],
            loose: vec![1.0; len],
            air_space: vec![0.5; len],
            permeability: vec![0.0; len],
            conductivity: vec![0.0; len],
            rot_factor: vec![0.0; len],
            rot_factor_then: vec![None; len],
            wood_share: vec![0.0; len],
            acidity: vec![1.0; len],
            ph: vec![8.0; len],
            sour: vec![0.0; len],
            load: vec![0.0; len],
        }
    }

    /// pH of the pore water of a cell.
    pub fn ph(&self, cell: usize) -> f64 {
        self.ph[cell]
    }

    /// What was so far says nothing of what comes: an operation has changed the heap.
    pub fn break_trend(&mut self) {
        self.rot_factor_then.fill(None);
    }

    /// Refreshes all from the state; `compaction_days` is the age of the present packing.
    pub fn refresh(
        &mut self,
        grid: &Grid,
        state: &State,
        matter: &Matter,
        carbon_share: f64,
        compaction_days: f64,
    ) {
        let packed = slumped_part(compaction_days);
        self.load.fill(0.0);
        for row in (0..grid.up).rev() {
            for column in 0..grid.across {
                let c = grid.cell(column, row);
                if !grid.active[c] {
                    continue;
                }
                let dry = matter.dry(state, c, carbon_share);
                let water = state.water[c];
                let own = (dry + water) * grid.height_m[c];
                let load = self.load[c + grid.stride] + 0.5 * own;
                self.load[c] = self.load[c + grid.stride] + own;
                let packing = Packing {
                    dry,
                    water,
                    load,
                    packed,
                };
                self.refresh_cell(c, state, matter, &packing);
            }
        }
    }

    fn refresh_cell(&mut self, c: usize, state: &State, matter: &Matter, packing: &Packing) {
        let Packing {
            dry,
            water,
            load,
            packed,
        } = *packing;
        let mineral = matter.mineral_solids[c].max(0.0).min(dry);
        let solids = (dry - mineral) / ORGANIC_DENSITY_KG_PER_M3 + mineral / ASH_DENSITY_KG_PER_M3;
        let wet = water / WATER_DENSITY_KG_PER_M3;
        let pressed = ((load + 0.2 * LOAD_AS_BUILT_KG_PER_M2) / (1.2 * LOAD_AS_BUILT_KG_PER_M2))
            .powf(-LOAD_POWER * softness(matter.slump_share[c]));
        let slumped = 1.0 - matter.slump_share[c] * packed;
        let rotted = (dry / matter.dry_as_built[c]).powf(SETTLING_POWER);
        let least = (solids + wet) / (1.0 - AIR_SPACE_LEAST);
        let settled = (pressed * slumped * rotted).max(least);
        let air_space = 1.0 - (solids + wet) / settled;
        let size = matter.log_particle_size[c].exp();
        let saturation = wet / (wet + air_space * settled);
        let moisture = water / (water + dry);
        self.settled[c] = settled;
        self.loose[c] = (slumped * rotted).max(least);
        self.air_space[c] = air_space;
        self.permeability[c] = permeability_m2(size, air_space);
        self.conductivity[c] =
            CONDUCTIVITY_DRY_W_PER_M_K + CONDUCTIVITY_WATER_W_PER_M_K * saturation;
        // It serves until the next refresh: what it will be in the middle of that time, if it goes on as since the last one.
        let now = rot::moisture_factor(moisture) * rot::air_space_factor(air_space);
        let trend = self.rot_factor_then[c].map_or(0.0, |then| 0.5 * (now - then));
        self.rot_factor[c] = (now + trend).clamp(0.0, 1.0);
        self.rot_factor_then[c] = Some(now);
        self.wood_share[c] = matter.wood[c] / matter.dry_as_built[c];
        let fast = matter.fast_as_built[c];
        let built = 1.0 / matter.dry_as_built[c];
        let ph = rot::ph(&Sourness {
            fast_left: if fast > 0.0 {
                (state.carbon[0][c] / fast).clamp(0.0, 1.0)
            } else {
                0.0
            },
            fresh_ph: matter.fresh_ph[c] * built,
            raised: matter.ph_raised[c] * built,
            airless: state.airless[c],
        });
        self.ph[c] = ph;
        self.acidity[c] = (std::f64::consts::LN_10 * (8.0 - ph)).exp();
        self.sour[c] = rot::sour_stop(ph, self.wood_share[c]);
    }
}
