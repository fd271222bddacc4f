//! Rot: how fast the pools of a cell are eaten, and what holds that back.
//!
//! In: temperature, moisture, air space and pools of one cell. Out: rates per day, per cubic metre
//! of heap as built.
//!
//! Equations: (1) uptake `r_i = k_i C_i phi`, (2) `phi = f_T f_W f_A f_N f_O2 X / (X + Kx C)`,
//! (3) growth `Y sum r_i`, death `b f_T f_O2 X`, of which a share becomes humus and the rest is
//! respired at once. (4) Nitrogen is freed at the ratio of what rots; new cells take `1 / R` of it per kg of
//! their carbon where there is plenty, less where there is less, down to `l_i` of pool i; below that eating,
//! and growth and heat with it, slows down (`f_N`). Carbon is never burnt off for lack of nitrogen (Manzoni et
//! al. 2012, abstract read: cells grow less per carbon where nitrogen is short; here all rates fall together, so
//! that poorer food never gives more heat). (5) Above about 65 degC cells die off and become food again (`die_off_per_day`).
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
    /// Slow pool at the optimum, per day. Default 0.015 (0.012-0.016 for acid-insoluble matter, same
    /// source; the catalogue's slow pool also holds cellulose).
    pub slow_per_day: f64,
    /// Share of eaten carbon built into microbes. Default 0.385 (lit. 0.25-0.50; tuned to Michel,
    /// Reddy and Forney 1993 together with the leanest cells).
    pub growth_yield: f64,
    /// C:N of microbes that have plenty of nitrogen. Default 7.8 (lit. 5-12; tuned: the richer the first cells are, the
    /// sooner a lean heap runs short).
    pub microbe_cn: f64,
    /// Nitrogen per carbon of the leanest cells that still grow on the fast, medium and slow pool, kg/kg.
    /// Default 1/11, 1/12, 1/18 (tuned to the medium pool of Michel, Reddy and Forney 1993 at C:N 48, and so that a
    /// heap of C:N 50 falls below 40 degC within a week; bacteria 5-12, fungi 8-18, from memory).
    pub lean_nitrogen: [f64; 3],
    /// The same for every pool where all dry matter is wood. Default 1/45 (tuned: 150 m3 of chips of C:N 140 heat to
    /// 58-66 degC and lose a fifth of their dry matter; threads of wood-rotting fungi hold down to 0.2 % of nitrogen, Levi and Cowling 1969, from memory).
    pub lean_nitrogen_on_wood: f64,
    /// How far eaters of the medium and slow pool are served with nitrogen before those of the fast pool, where it is
    /// short, 0-1: fungi carry it through their threads. Default 0.8 (tuned with the leanest cells; 0 shares it evenly).
    pub slow_first: f64,
    /// Death of microbes at the optimum, per day. Default 0.032 (tuned, 0.02-0.06).
    pub death_per_day: f64,
    /// Microbes that die of heat at 65 degC, per day; see [`die_off_per_day`]. Default 1 (tuned: big
    /// heaps peak at 60-68 degC).
    pub die_off_at_65_c_per_day: f64,
    /// Share of dead carbon that becomes humus. Default 0.50 (tuned, 0.25-0.5).
    pub humus_share: f64,
    /// Nitrogen per carbon of the fast, medium, slow and inert carbon of one mix, relative to each other. Default 1.6,
    /// 0.9, 0.6, 0.9 (tuned: proteins rot with the sugars; a small fast pool holds little of all nitrogen).
    pub richness: [f64; 4],
    /// Share of the nitrogen that is mineral at the start beside what the catalogue states as free at once, 0-1. Default
    /// 0.01 (tuned: leaves alone stay cold in winter, a lean mix starves soon).
    pub mineral_at_start: f64,
    /// The same where all dry matter is wood. Default 0.05 (tuned: heaps of fresh chips are hottest within the first
    /// twelve days).
    pub mineral_at_start_in_wood: f64,
    /// Mineral nitrogen that is nitrified and lost as dinitrogen, per day, at 30-38 degC where pores are half
    /// aired. Default 0.08 (tuned: food waste with leaves in a closed bin loses more than a fifth of it in a year).
    pub nitrified_and_lost_per_day: f64,
    /// Microbial carbon per food carbon at which eating is half as fast. Default 0.012 (tuned, 0.01-0.05).
    pub crowding: f64,
    /// Microbial carbon at the start, share of all carbon. Default 0.01 (tuned, 0.003-0.05).
    pub microbes_at_start: f64,
    /// Time in which microbes can use up mineral nitrogen, d. Default 0.25 (tuned).
    pub mineral_use_days: f64,
    /// Cardinal temperatures least, best, greatest, degC. Default -1, 56, 74 (Rosso form; values tuned
    /// inside 0-5, 55-60, 72-82; the least lies lower so that a right mix of a cubic metre starts at 0-3 degC, as
    /// observed). Heaps stay below the greatest because cells die of heat before.
    pub cardinal_c: [f64; 3],
    /// Oxygen at which rot is half as fast, mole fraction. Default 0.02 (lit. 0.008-0.04, from memory).
    pub half_oxygen: f64,
    /// Share of the mineral nitrogen that is free to leave. Default 1.0 (tuned, 0.6-1).
    pub ammonia_free_share: f64,
    /// How much higher the pH of the pore water is than [`ph`] gives, as lime makes it. Default 0.
    pub ph_raise: f64,
}

impl Default for Kinetics {
    fn default() -> Self {
        Self {
            fast_per_day: 0.26,
            medium_per_day: 0.042,
            slow_per_day: 0.015,
            growth_yield: 0.385,
            microbe_cn: 7.8,
            lean_nitrogen: [1.0 / 11.0, 1.0 / 12.0, 1.0 / 18.0],
            lean_nitrogen_on_wood: 1.0 / 45.0,
            slow_first: 0.8,
            death_per_day: 0.032,
            die_off_at_65_c_per_day: 1.0,
            humus_share: 0.50,
            richness: [1.6, 0.9, 0.6, 0.9],
            mineral_at_start: 0.01,
            mineral_at_start_in_wood: 0.05,
            nitrified_and_lost_per_day: 0.08,
            crowding: 0.012,
            microbes_at_start: 0.01,
            mineral_use_days: 0.25,
            cardinal_c: [-1.0, 56.0, 74.0],
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
/// pH once the fast pool is gone (common practice: finished hot compost 8-8.5).
const PH_IN_THE_END: f64 = 8.4;
/// Temperature above which cells begin to die of heat, degC (tuned with the next).
const DIE_OFF_FROM_C: f64 = 58.0;
/// How much warmer it has to be for the die-off of [`Kinetics`], K (tuned).
const DIE_OFF_SPAN_K: f64 = 7.0;

/// Heat per carbon oxidised, J/kg.
pub const HEAT_PER_CARBON_J_PER_KG: f64 = HEAT_PER_OXYGEN_J_PER_KG * OXYGEN_PER_CARBON;

/// What of a cell rots, per cubic metre of heap as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotPools {
    /// Carbon in the fast, medium and slow pool, kg/m3.
    pub carbon: [f64; 3],
    /// Carbon in living microbes, kg/m3.
    pub microbes: f64,
    /// Nitrogen in living microbes, kg/m3.
    pub microbe_nitrogen: f64,
    /// Mineral nitrogen, kg/m3.
    pub mineral_nitrogen: f64,
    /// Nitrogen per carbon of each pool, kg/kg; fixed for a mix.
    pub nitrogen_per_carbon: [f64; 3],
    /// Share of the dry matter as built that is wood, 0-1.
    pub wood: f64,
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
    /// Nitrogen built into microbes, kg.
    pub nitrogen_taken: f64,
    /// Nitrogen of the cells that die, kg.
    pub nitrogen_of_dead: f64,
    /// The part of it that goes into humus and is never freed, kg.
    pub nitrogen_buried: f64,
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
            nitrogen_taken: self.nitrogen_taken * factor,
            nitrogen_of_dead: self.nitrogen_of_dead * factor,
            nitrogen_buried: self.nitrogen_buried * factor,
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
    let x = pools.microbes;
    let speed = [
        k.fast_per_day * pools.carbon[0],
        k.medium_per_day * pools.carbon[1],
        k.slow_per_day * pools.carbon[2],
    ];
    // Nitrogen that growth at full speed lacks even in the leanest cells, beside what its food frees.
    let lack: [f64; 3] = std::array::from_fn(|i| {
        let leanest = k.lean_nitrogen[i];
        let leanest = leanest + pools.wood * (k.lean_nitrogen_on_wood - leanest);
        speed[i] * (k.growth_yield * leanest - pools.nitrogen_per_carbon[i])
    });
    let crowded = x + k.crowding * (pools.carbon[0] + pools.carbon[1] + pools.carbon[2]);
    let phi = if crowded > 0.0 {
        surroundings * x / crowded
    } else {
        0.0
    };
    let death_rate = k.death_per_day * temperature;
    let (death, dying) = (death_rate * x, death_rate * pools.microbe_nitrogen);
    let (humus, buried) = (k.humus_share * death, k.humus_share * dying);
    // Nitrogen at hand, kg/m3 d, beside what the food itself frees.
    let at_hand = pools.mineral_nitrogen.max(0.0) / k.mineral_use_days + dying - buried;
    let served = served(
        phi * lack[0],
        phi * (lack[1] + lack[2]),
        at_hand,
        k.slow_first,
    );
    let uptake = [
        speed[0] * phi * served.fast,
        speed[1] * phi * served.slow,
        speed[2] * phi * served.slow,
    ];
    let eaten: f64 = uptake.iter().sum();
    let brought: f64 = (0..3)
        .map(|i| uptake[i] * pools.nitrogen_per_carbon[i])
        .sum();
    let growth = k.growth_yield * eaten;
    let taken = (growth / k.microbe_cn).min(at_hand + brought);
    Rates {
        uptake,
        growth,
        death,
        humus,
        oxidised: eaten - growth + death - humus,
        nitrogen_freed: brought - taken + dying - buried,
        nitrogen_taken: taken,
        nitrogen_of_dead: dying,
        nitrogen_buried: buried,
    }
}

/// Shares of full speed for which there is nitrogen.
struct Served {
    fast: f64,
    slow: f64,
}

/// How far nitrogen at hand reaches, given what the leanest growth on the fast pool and on the other two lacks (kg/m3 d;
/// negative: it frees more than it needs). `slow_first` of the way from equal shares to serving the slow two first.
fn served(lack_fast: f64, lack_slow: f64, at_hand: f64, slow_first: f64) -> Served {
    let lack = lack_fast + lack_slow;
    if lack <= at_hand {
        return Served {
            fast: 1.0,
            slow: 1.0,
        };
    }
    let even = at_hand / lack;
    if lack_fast <= 0.0 || lack_slow <= 0.0 {
        return Served {
            fast: even,
            slow: even,
        };
    }
    let left = ((at_hand - lack_slow) / lack_fast).max(0.0);
    let fast = even + slow_first * (left - even);
    Served {
        fast,
        slow: ((at_hand - fast * lack_fast) / lack_slow).min(1.0),
    }
}

/// Cells that die of heat, per day, at this temperature.
///
/// `((T - 58) / 7)^4` times that at 65 degC, nothing below 58: 4 times as fast at 68, 12 times at 71 degC (tuned: above 60 degC conditions
/// are unfavourable and the choice of species shrinks, Strom 1985 and Finstein et al. 1986 as quoted in reviews; big
/// heaps peak at 60-68 degC).
pub fn die_off_per_day(temperature_c: f64, kinetics: &Kinetics) -> f64 {
    let over = ((temperature_c - DIE_OFF_FROM_C) / DIE_OFF_SPAN_K).max(0.0);
    kinetics.die_off_at_65_c_per_day * over * over * over * over
}

/// Nitrification followed by denitrification, 0-1: how fast against [`Kinetics::nitrified_and_lost_per_day`].
///
/// Nitrifiers work from 5 degC, best at 30-38, and no more at 48 degC (from memory); nitrate forms only where there is
/// oxygen `o` and is lost only where it lacks, so `4 o (1 - o)`, `o` over that of open air (tuned).
pub fn nitrogen_gas_factor(temperature_c: f64, oxygen: f64) -> f64 {
    let warm = ((temperature_c - 5.0) * 0.04)
        .min(0.1 * (48.0 - temperature_c))
        .clamp(0.0, 1.0);
    let o = oxygen * (1.0 / OXYGEN_IN_AIR);
    warm * (4.0 * o * (1.0 - o)).max(0.0)
}

/// What decides the acidity of the pore water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sourness {
    /// Share of the fast pool that is left, 0-1.
    pub fast_left: f64,
    /// pH of the fresh mix without lime and ash.
    pub fresh_ph: f64,
    /// Rise of the pH by lime and ash.
    pub raised: f64,
    /// Share of the demand for oxygen that went unmet over the last day or so, 0-1.
    pub airless: f64,
}

/// pH of the pore water: that of the fresh mix while the fast pool lasts, sour where that pool rots without air, 8.4
/// after it is gone.
///
/// `8.4 - (8.4 - fresh) min(1, 1.6 s^2) - 1.5 a sqrt(s) + raised`, s the share of the fast pool left, a that of the
/// demand for oxygen unmet (tuned: 6-6.5 while fresh and 8-8.5 once hot; food waste short of air falls to 4.7-6.1,
/// Sundberg et al. 2011, abstract read).
pub fn ph(of: &Sourness) -> f64 {
    let s = of.fast_left;
    PH_IN_THE_END
        - (PH_IN_THE_END - of.fresh_ph) * (1.6 * s * s).min(1.0)
        - 1.5 * of.airless * s.sqrt()
        + of.raised
}

/// Share by which sour water holds rot back above 45 degC, 0-0.95, where this share of the dry matter is wood: without
/// wood half of it at pH 6.2, nothing where all is wood.
///
/// Above 40 degC and below pH 6 together decay nearly stops (Sundberg 2005, abstract read: food waste, whose easy food
/// makes acids); steepness tuned. Wood is sour of itself, at pH 5 to 6, holds no such acids, and the fungi that rot it
/// grow best at pH 4 to 6 (from memory); heaps of fresh chips reach 64-66 degC in 6 to 12 days (BioEnergy Research 2016,
/// s12155-015-9686-y, results read).
/// Checked: `tests/science/rot.rs`.
pub fn sour_stop(ph: f64, wood: f64) -> f64 {
    0.95 * (1.0 - wood) / (1.0 + (6.0 * (ph - 6.2)).exp())
}

/// How far sourness acts at this temperature, 0-1: not below 35, fully above 45 degC (see [`sour_stop`]).
pub fn sour_gate(temperature_c: f64) -> f64 {
    (0.1 * (temperature_c - 35.0)).clamp(0.0, 1.0)
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
