//! Rot: how fast the pools of a cell are eaten, and what holds that back.
//!
//! In: temperature, moisture, air space and pools of one cell. Out: rates per day, per cubic metre
//! of heap as built.
//!
//! Equations: (1) uptake `r_i = k_i C_i phi`, (2) `phi = f_T f_W f_A f_N f_O2 X / (X + Kx C)`,
//! (3) growth `Y sum r_i`, death `b f_T f_O2 X`, of which a share becomes humus and the rest is
//! respired at once. (4) Nitrogen is freed at the ratio of what rots; microbes need `1 / R` per kg
//! of their carbon; short of it they first waste carbon (lower yield), then slow down (`f_N`).
//!
//! All carbon has the same share of organic matter, so mass closes; heat and water follow from the
//! oxygen used. Not here: supply of oxygen (`oxygen`), heat and water balances (`transport`).
//!
//! Tested by: `tests/science/rot.rs`, `tests/science/one_cell.rs`.

/// Rates and shares of the kinetics.
///
/// Marks: "lit." = inside the range of published values named; "tuned" = chosen inside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kinetics {
    /// Fast pool at the optimum, per day. Default 0.26 (lit. 0.10-0.40, from memory; tuned).
    pub fast_per_day: f64,
    /// Medium pool at the optimum, per day. Default 0.042 (0.020-0.040 derived from Michel, Reddy
    /// and Forney 1993 at 50 degC; tuned).
    pub medium_per_day: f64,
    /// Slow pool at the optimum, per day. Default 0.012 (0.012-0.016 for acid-insoluble matter, same
    /// source; the catalogue's slow pool also holds cellulose).
    pub slow_per_day: f64,
    /// Share of eaten carbon built into microbes where nitrogen suffices. Default 0.40 (lit. 0.25-0.50).
    pub yield_full: f64,
    /// The same where nitrogen is short. Default 0.27 (tuned, 0.20-0.30).
    pub yield_least: f64,
    /// C:N of microbes. Default 8 (lit. 5-12).
    pub microbe_cn: f64,
    /// Death of microbes at the optimum, per day. Default 0.04 (tuned, 0.02-0.06).
    pub death_per_day: f64,
    /// Share of dead carbon that becomes humus. Default 0.30 (tuned, 0.25-0.45).
    pub humus_share: f64,
    /// Microbial carbon per food carbon at which eating is half as fast. Default 0.012 (tuned, 0.01-0.05).
    pub crowding: f64,
    /// Microbial carbon at the start, share of all carbon. Default 0.01 (tuned, 0.003-0.05).
    pub microbes_at_start: f64,
    /// Time in which microbes can use up mineral nitrogen, d. Default 0.25 (tuned).
    pub mineral_use_days: f64,
    /// Cardinal temperatures least, best, greatest, degC. Default -1, 56, 72 (Rosso form; values tuned
    /// inside 0-5, 55-60, 72-82; the least lies lower so that cold heaps start as slowly as observed).
    pub cardinal_c: [f64; 3],
    /// Oxygen at which rot is half as fast, mole fraction. Default 0.02 (lit. 0.008-0.04, from memory).
    pub half_oxygen: f64,
    /// Share of the mineral nitrogen that is free to leave. Default 1.0 (tuned, 0.6-1).
    pub ammonia_free_share: f64,
    /// How much higher the pH of the pore water is than [`acidity`] gives, as lime makes it. Default 0.
    pub ph_raise: f64,
}

impl Default for Kinetics {
    fn default() -> Self {
        Self {
            fast_per_day: 0.26,
            medium_per_day: 0.042,
            slow_per_day: 0.012,
            yield_full: 0.40,
            yield_least: 0.27,
            microbe_cn: 8.0,
            death_per_day: 0.04,
            humus_share: 0.30,
            crowding: 0.012,
            microbes_at_start: 0.01,
            mineral_use_days: 0.25,
            cardinal_c: [-1.0, 56.0, 72.0],
            half_oxygen: 0.02,
            ammonia_free_share: 1.0,
            ph_raise: 0.0,
        }
    }
}

/// Oxygen in open air, mole fraction of dry air.
pub const OXYGEN_IN_AIR: f64 = 0.2095;
/// Oxygen used per carbon oxidised, kg/kg: 32/12 for the carbon, 6 % more for the hydrogen (tuned, so
/// that heat per kg of dry matter lies at 18.6 MJ; stoichiometry of plant matter gives 1.18-1.6 kg
/// per kg of dry matter).
pub const OXYGEN_PER_CARBON: f64 = 32.0 / 12.0 * 1.06;
/// Heat per oxygen used, J/kg (oxycalorific rule, 13-14.5 MJ/kg; from memory).
pub const HEAT_PER_OXYGEN_J_PER_KG: f64 = 14.0e6;
/// Carbon dioxide per carbon, kg/kg (44/12).
pub const CARBON_DIOXIDE_PER_CARBON: f64 = 44.0 / 12.0;
/// Share of the nitrogen that sits in the fast, medium and slow pool, is never freed, and is mineral
/// at the start (tuned).
pub const NITROGEN_SHARES: [f64; 5] = [0.40, 0.22, 0.13, 0.20, 0.05];

/// Heat per carbon oxidised, J/kg.
pub const HEAT_PER_CARBON_J_PER_KG: f64 = HEAT_PER_OXYGEN_J_PER_KG * OXYGEN_PER_CARBON;

/// What of a cell rots, per cubic metre of heap as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotPools {
    /// Carbon in the fast, medium and slow pool, kg/m3.
    pub carbon: [f64; 3],
    /// Carbon in living microbes, kg/m3.
    pub microbes: f64,
    /// Mineral nitrogen, kg/m3.
    pub mineral_nitrogen: f64,
    /// Nitrogen per carbon of each pool, kg/kg; fixed for a mix.
    pub nitrogen_per_carbon: [f64; 3],
}

/// Rates of a cell at full oxygen, per day and cubic metre; multiply all by the oxygen factor.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rates {
    /// Carbon taken from each pool, kg.
    pub uptake: [f64; 3],
    /// Carbon built into microbes, kg.
    pub growth: f64,
    /// Microbial carbon that dies, kg.
    pub death: f64,
    /// Carbon that becomes humus, kg.
    pub humus: f64,
    /// Carbon oxidised, kg.
    pub oxidised: f64,
    /// Mineral nitrogen freed, net of what microbes take, kg (negative: taken up).
    pub nitrogen_freed: f64,
}

impl Rates {
    /// All rates times one factor.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self {
            uptake: self.uptake.map(|rate| rate * factor),
            growth: self.growth * factor,
            death: self.death * factor,
            humus: self.humus * factor,
            oxidised: self.oxidised * factor,
            nitrogen_freed: self.nitrogen_freed * factor,
        }
    }
}

/// Temperature response, 0-1: cardinal model with inflection.
///
/// Source: Rosso, Lobry and Flandrois 1993, J. Theor. Biol. 162:447-463.
/// Checked: `tests/science/rot.rs`, tabulated values.
pub fn temperature_factor(temperature_c: f64, cardinal_c: [f64; 3]) -> f64 {
    let [least, best, most] = cardinal_c;
    let t = temperature_c;
    if t <= least || t >= most {
        return 0.0;
    }
    (t - most) * (t - least).powi(2)
        / ((best - least)
            * ((best - least) * (t - best) - (best - most) * (best + least - 2.0 * t)))
}

/// Moisture response, 0-1, of moisture on a wet basis.
///
/// Source: Haug 1993, F1 (form from memory); agrees with Cornell, Getting the right mix: strongly
/// reduced below 35-40 %, nearly nil below 30 %.
/// Checked: `tests/science/rot.rs`.
pub fn moisture_factor(moisture: f64) -> f64 {
    1.0 / (1.0 + (7.0622 - 17.684 * moisture).exp())
}

/// Response to free air space, 0-1: clumps go airless inside below about an eighth of air.
///
/// Transport limits oxygen already, so this acts only near the bottom end (tuned).
pub fn air_space_factor(free_air_space: f64) -> f64 {
    1.0 / (1.0 + (-30.0 * (free_air_space - 0.12)).exp())
}

/// Rates at full oxygen. `surroundings` is the product of temperature, moisture and air-space factor;
/// `temperature` is the temperature factor alone, which also drives death.
pub fn rates(pools: &RotPools, surroundings: f64, temperature: f64, kinetics: &Kinetics) -> Rates {
    let k = kinetics;
    let [c1, c2, c3] = pools.carbon;
    let x = pools.microbes;
    let speed = [
        k.fast_per_day * c1,
        k.medium_per_day * c2,
        k.slow_per_day * c3,
    ];
    let eager: f64 = speed.iter().sum();
    let freed: f64 = speed
        .iter()
        .zip(pools.nitrogen_per_carbon)
        .map(|(s, n)| s * n)
        .sum();
    let crowded = x + k.crowding * (c1 + c2 + c3);
    let death = k.death_per_day * temperature * x;
    let humus = k.humus_share * death;
    let nitrogen_of_dead = (death - humus) / k.microbe_cn;
    if eager <= 0.0 || crowded <= 0.0 || surroundings <= 0.0 {
        let oxidised = death - humus;
        return Rates {
            death,
            humus,
            oxidised,
            nitrogen_freed: nitrogen_of_dead,
            ..Rates::default()
        };
    }
    let phi = surroundings * x / crowded;
    // Nitrogen at hand, kg/m3 d, beside what the food itself frees.
    let at_hand = pools.mineral_nitrogen.max(0.0) / k.mineral_use_days + nitrogen_of_dead;
    let supply = at_hand + freed * phi;
    let affordable = if phi > 0.0 {
        k.microbe_cn * supply / (eager * phi)
    } else {
        k.yield_full
    };
    let growth_share = affordable.clamp(k.yield_least, k.yield_full);
    let short = phi * (eager * k.yield_least / k.microbe_cn - freed);
    let nitrogen_factor = if short > at_hand {
        at_hand / short
    } else {
        1.0
    };
    let eaten = phi * nitrogen_factor;
    let growth = growth_share * eager * eaten;
    Rates {
        uptake: speed.map(|s| s * eaten),
        growth,
        death,
        humus,
        oxidised: eager * eaten - growth + death - humus,
        nitrogen_freed: freed * eaten - growth / k.microbe_cn + nitrogen_of_dead,
    }
}

/// Acidity of the pore water: sour while the fast pool lasts, alkaline after.
///
/// `8.4 - 1.8 s^2`, s the share of the fast pool that is left (tuned between the usual 6-6.5 of fresh
/// and 8-8.5 of hot material).
pub fn acidity(fast_left_share: f64) -> f64 {
    8.4 - 1.8 * fast_left_share * fast_left_share
}

/// pKa of ammonium, `0.09018 + 2729.92 / T`: the free share of mineral nitrogen is `1 / (1 + 10^(pKa - pH))`.
///
/// Source: Emerson et al. 1975 (from memory).
/// Checked: `tests/science/rot.rs`, tabulated values.
pub fn ammonia_pka(temperature_c: f64) -> f64 {
    0.09018 + 2729.92 / (temperature_c + 273.15)
}

/// Partition of ammonia between gas and water, m3 water per m3 gas: `10^(1.69 - 1477.7 / T)` (form from memory).
///
/// Checked: `tests/science/rot.rs`, tabulated values.
pub fn ammonia_partition(temperature_c: f64) -> f64 {
    1.0 / 10f64.powf(-1.69 + 1477.7 / (temperature_c + 273.15))
}
