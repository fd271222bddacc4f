//! Amounts: everything in a cell that mixes, as amounts that can be added and shared out.
//!
//! In: cells of a body. Out: their amounts per cubic metre as built, sums and means of them, and cells filled
//! with them.
//!
//! Heat stands for temperature and nitrogen for its ratio to carbon, so mixing conserves heat, water, every
//! pool and nitrogen.
//!
//! Not here: who is mixed with whom (`event`, `addition`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`.

use super::cell::{Matter, State, heat_capacity};
use super::ice::{self, Wet};

/// How far below 0 degC heat is counted from where freezing changes its sign, K.
const COLDER_K: f64 = 100.0;

/// What one cell holds, per cubic metre as built.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Amounts {
    /// Heat beside that of dry matter and liquid water at 0 degC, J.
    pub(super) heat: f64,
    /// Water, kg.
    pub(super) water: f64,
    /// Carbon in the fast, medium and slow pool, kg.
    pub(super) carbon: [f64; 3],
    /// Carbon in living microbes, kg.
    pub(super) microbes: f64,
    /// Nitrogen in living microbes, kg.
    pub(super) microbe_nitrogen: f64,
    /// Carbon in humus, kg.
    pub(super) humus: f64,
    /// Mineral nitrogen, kg.
    pub(super) mineral: f64,
    /// Nitrogen in each pool, kg.
    pub(super) nitrogen: [f64; 3],
    /// Solids that are not calculated as organic matter, kg.
    pub(super) mineral_solids: f64,
    /// Carbon that does not rot, kg.
    pub(super) inert_carbon: f64,
    /// Nitrogen that is never freed, kg.
    pub(super) fixed_nitrogen: f64,
    /// Dry matter of wood as built, kg.
    pub(super) wood: f64,
    /// pH of the fresh mix times dry matter as built, kg.
    pub(super) fresh_ph: f64,
    /// Rise of the pH by lime and ash times dry matter as built, kg.
    pub(super) ph_raised: f64,
    /// Dry matter as built, kg.
    pub(super) dry_as_built: f64,
    /// Fast carbon as built, kg.
    pub(super) fast_as_built: f64,
    /// Logarithm of the effective particle size in m: mixes by volume, as permeability does in the geometric mean.
    pub(super) log_particle_size: f64,
    /// Share of height lost by slumping: mixes by volume.
    pub(super) slump_share: f64,
    /// Water held against gravity, kg.
    pub(super) water_held: f64,
}

impl Amounts {
    /// Amounts of cell `c`.
    pub(super) fn of(state: &State, matter: &Matter, c: usize, carbon_share: f64) -> Self {
        let wet = Wet {
            dry: matter.dry(state, c, carbon_share),
            water: state.water[c],
        };
        Self {
            heat: wet.enthalpy(state.temperature[c]),
            water: state.water[c],
            carbon: std::array::from_fn(|pool| state.carbon[pool][c]),
            microbes: state.microbes[c],
            microbe_nitrogen: state.microbe_nitrogen[c],
            humus: state.humus[c],
            mineral: state.mineral[c],
            nitrogen: std::array::from_fn(|pool| {
                matter.nitrogen_per_carbon[pool][c] * state.carbon[pool][c]
            }),
            mineral_solids: matter.mineral_solids[c],
            inert_carbon: matter.inert_carbon[c],
            fixed_nitrogen: matter.fixed_nitrogen[c],
            wood: matter.wood[c],
            fresh_ph: matter.fresh_ph[c],
            ph_raised: matter.ph_raised[c],
            dry_as_built: matter.dry_as_built[c],
            fast_as_built: matter.fast_as_built[c],
            log_particle_size: matter.log_particle_size[c],
            slump_share: matter.slump_share[c],
            water_held: matter.water_held[c],
        }
    }

    /// Fills cell `c` with these amounts.
    pub(super) fn put_into(
        &self,
        state: &mut State,
        matter: &mut Matter,
        c: usize,
        carbon_share: f64,
    ) {
        state.water[c] = self.water;
        for pool in 0..3 {
            let carbon = self.carbon[pool];
            state.carbon[pool][c] = carbon;
            matter.nitrogen_per_carbon[pool][c] = if carbon > 0.0 {
                self.nitrogen[pool] / carbon
            } else {
                0.0
            };
        }
        state.microbes[c] = self.microbes;
        state.microbe_nitrogen[c] = self.microbe_nitrogen;
        state.humus[c] = self.humus;
        state.mineral[c] = self.mineral;
        matter.mineral_solids[c] = self.mineral_solids;
        matter.inert_carbon[c] = self.inert_carbon;
        matter.fixed_nitrogen[c] = self.fixed_nitrogen;
        matter.wood[c] = self.wood;
        matter.fresh_ph[c] = self.fresh_ph;
        matter.ph_raised[c] = self.ph_raised;
        matter.dry_as_built[c] = self.dry_as_built;
        matter.fast_as_built[c] = self.fast_as_built;
        matter.log_particle_size[c] = self.log_particle_size;
        matter.slump_share[c] = self.slump_share;
        matter.water_held[c] = self.water_held;
        let wet = Wet {
            dry: matter.dry(state, c, carbon_share),
            water: state.water[c],
        };
        state.temperature[c] = wet.temperature(self.heat);
    }

    /// Dry matter, kg.
    fn dry(&self, carbon_share: f64) -> f64 {
        let pools: f64 = self.carbon.iter().sum();
        let carbon = self.inert_carbon + pools + self.microbes + self.humus;
        self.mineral_solids + carbon / carbon_share
    }

    /// The same with heat counted from a state colder than any (`share` 1), or back from it (-1): then heat has no change of
    /// sign at freezing and can be scaled like the other amounts.
    pub(super) fn counted_from_cold(mut self, share: f64, carbon_share: f64) -> Self {
        let sensible = COLDER_K * heat_capacity(self.dry(carbon_share), self.water);
        self.heat += share * (sensible + ice::MELTING_J_PER_KG * self.water);
        self
    }

    /// Every amount joined with its like in `other`. All fields are named, so none can be left out.
    pub(super) fn zip(&self, other: &Self, join: impl Fn(f64, f64) -> f64) -> Self {
        let pools = |a: [f64; 3], b: [f64; 3]| std::array::from_fn(|pool| join(a[pool], b[pool]));
        Self {
            heat: join(self.heat, other.heat),
            water: join(self.water, other.water),
            carbon: pools(self.carbon, other.carbon),
            microbes: join(self.microbes, other.microbes),
            microbe_nitrogen: join(self.microbe_nitrogen, other.microbe_nitrogen),
            humus: join(self.humus, other.humus),
            mineral: join(self.mineral, other.mineral),
            nitrogen: pools(self.nitrogen, other.nitrogen),
            mineral_solids: join(self.mineral_solids, other.mineral_solids),
            inert_carbon: join(self.inert_carbon, other.inert_carbon),
            fixed_nitrogen: join(self.fixed_nitrogen, other.fixed_nitrogen),
            wood: join(self.wood, other.wood),
            fresh_ph: join(self.fresh_ph, other.fresh_ph),
            ph_raised: join(self.ph_raised, other.ph_raised),
            dry_as_built: join(self.dry_as_built, other.dry_as_built),
            fast_as_built: join(self.fast_as_built, other.fast_as_built),
            log_particle_size: join(self.log_particle_size, other.log_particle_size),
            slump_share: join(self.slump_share, other.slump_share),
            water_held: join(self.water_held, other.water_held),
        }
    }

    /// Every amount changed alike.
    pub(super) fn map(&self, change: impl Fn(f64) -> f64) -> Self {
        self.zip(self, |amount, _| change(amount))
    }

    /// Adds `weight` times `more`.
    pub(super) fn add(&mut self, weight: f64, more: &Self) {
        *self = self.zip(more, |sum, amount| sum + weight * amount);
    }
}
