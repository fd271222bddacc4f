//! The chemistry of a mix in closed form: C:N, moisture, densities, air space, and their ranges.
//!
//! In: ingredients with materials and amounts, added water. Out: [`Blend`].
//!
//! Masses add; so do water, carbon and nitrogen. C:N is the ratio of the sums,
//! `sum(Q (1 - M) C) / sum(Q (1 - M) N)`, never a mean of ratios (Cornell Composting, C/N page;
//! USDA NEH 637 ch. 2). Loose volumes add, each less what it settles by when piled.
//!
//! Ranges: every ingredient brings four uncertain values (moisture, C:N, carbon, bulk density).
//! Each is moved alone to its low and its high end; the resulting moves of a gauge are added in
//! quadrature, those up and those down apart (first-order propagation of independent inputs,
//! JCGM 100:2008 eq. 10, with the two sides kept). So a 10-90 % range in gives a 10-90 % range out.
//!
//! Not here: what the numbers should be (`target`), what to add (`adjust`).
//!
//! Held against: `tests/science/blend.rs` (handbook worked examples, Monte Carlo, properties).

use crate::material::Material;
use crate::quantity::{Extent, Range};

use super::Part;

/// Density of organic solids, kg/m3 (Richard et al. 2004, Biotechnol. Prog. 20:1372; from memory).
pub const ORGANIC_DENSITY_KG_PER_M3: f64 = 1600.0;
/// Density of ash, kg/m3 (same source; from memory).
pub const ASH_DENSITY_KG_PER_M3: f64 = 2500.0;
/// Density of water, kg/m3.
pub const WATER_DENSITY_KG_PER_M3: f64 = 1000.0;

/// The gauges of a mix, each with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauges {
    /// Carbon to nitrogen by mass, total. Infinite when there is carbon but no nitrogen.
    pub cn: Range,
    /// The same with the carbon that lignin withholds left out (see [`degradable_share`]).
    pub cn_available: Range,
    /// Water, share of wet mass (wet basis), 0-1.
    pub moisture: Range,
    /// Volume as built (piled and lightly trodden), m3.
    pub volume_m3: Range,
    /// Air-filled share of that volume, 0-1.
    pub free_air_space: Range,
    /// Wet mass by volume as built, kg/m3.
    pub wet_bulk_density_kg_per_m3: Range,
    /// Dry mass by volume as built, kg/m3.
    pub dry_bulk_density_kg_per_m3: Range,
}

/// What share of the whole one ingredient brings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartShare {
    /// Of the carbon.
    pub carbon: f64,
    /// Of the nitrogen.
    pub nitrogen: f64,
    /// Of the water, added water counted in the whole.
    pub water: f64,
    /// Of the dry matter.
    pub dry_mass: f64,
    /// Of the volume as built.
    pub volume: f64,
}

/// A mix reckoned through.
#[derive(Debug, Clone, PartialEq)]
pub struct Blend {
    /// Gauges with ranges; `None` for an empty mix or one without dry matter.
    pub gauges: Option<Gauges>,
    /// One per ingredient, in order. Shares of a quantity nobody brings are 0.
    pub shares: Vec<PartShare>,
    /// Share of the water that was added while mixing.
    pub added_water_share: f64,
    /// The sums behind the gauges, from typical values.
    pub totals: Totals,
}

/// Sums over a mix. All add over ingredients.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Totals {
    /// Dry matter, kg.
    pub dry_kg: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Carbon, kg.
    pub carbon_kg: f64,
    /// Carbon not withheld by lignin, kg.
    pub carbon_available_kg: f64,
    /// Nitrogen, kg.
    pub nitrogen_kg: f64,
    /// Ash, kg.
    pub ash_kg: f64,
    /// Carbon that rots fast, kg.
    pub carbon_fast_kg: f64,
    /// Carbon that rots at medium speed, kg.
    pub carbon_medium_kg: f64,
    /// Carbon that rots slowly, kg.
    pub carbon_slow_kg: f64,
    /// Loose volume as measured, m3.
    pub loose_volume_m3: f64,
    /// Volume when piled and lightly trodden, before pores are checked, m3.
    pub piled_volume_m3: f64,
    /// Piled volume by effective particle size, m2 (for the Sauter mean).
    pub volume_by_particle_size_m2: f64,
    /// Piled volume times what it slumps by within weeks, m3 (for the mean slump).
    pub volume_that_slumps_m3: f64,
    /// Water that the solids hold against gravity, kg.
    pub water_held_kg: f64,
    /// Phosphate (P2O5), kg.
    pub phosphate_kg: f64,
    /// Potash (K2O), kg.
    pub potash_kg: f64,
}

impl Totals {
    const COUNT: usize = 16;

    fn as_array(&self) -> [f64; Self::COUNT] {
        let Self {
            dry_kg,
            water_kg,
            carbon_kg,
            carbon_available_kg,
            nitrogen_kg,
            ash_kg,
            carbon_fast_kg,
            carbon_medium_kg,
            carbon_slow_kg,
            loose_volume_m3,
            piled_volume_m3,
            volume_by_particle_size_m2,
            volume_that_slumps_m3,
            water_held_kg,
            phosphate_kg,
            potash_kg,
        } = *self;
        [
            dry_kg,
            water_kg,
            carbon_kg,
            carbon_available_kg,
            nitrogen_kg,
            ash_kg,
            carbon_fast_kg,
            carbon_medium_kg,
            carbon_slow_kg,
            loose_volume_m3,
            piled_volume_m3,
            volume_by_particle_size_m2,
            volume_that_slumps_m3,
            water_held_kg,
            phosphate_kg,
            potash_kg,
        ]
    }

    fn from_array(a: [f64; Self::COUNT]) -> Self {
        Self {
            dry_kg: a[0],
            water_kg: a[1],
            carbon_kg: a[2],
            carbon_available_kg: a[3],
            nitrogen_kg: a[4],
            ash_kg: a[5],
            carbon_fast_kg: a[6],
            carbon_medium_kg: a[7],
            carbon_slow_kg: a[8],
            loose_volume_m3: a[9],
            piled_volume_m3: a[10],
            volume_by_particle_size_m2: a[11],
            volume_that_slumps_m3: a[12],
            water_held_kg: a[13],
            phosphate_kg: a[14],
            potash_kg: a[15],
        }
    }

    /// `self + sign * other`.
    fn plus(&self, other: &Self, sign: f64) -> Self {
        let (mut a, b) = (self.as_array(), other.as_array());
        for (x, y) in a.iter_mut().zip(b) {
            *x += sign * y;
        }
        Self::from_array(a)
    }

    /// Wet mass, kg.
    pub fn wet_kg(&self) -> f64 {
        self.dry_kg + self.water_kg
    }

    /// Volatile solids (what burns off), kg.
    pub fn volatile_solids_kg(&self) -> f64 {
        self.dry_kg - self.ash_kg
    }

    /// Volume of solids and water without any air, m3.
    pub fn airless_volume_m3(&self) -> f64 {
        self.volatile_solids_kg() / ORGANIC_DENSITY_KG_PER_M3
            + self.ash_kg / ASH_DENSITY_KG_PER_M3
            + self.water_kg / WATER_DENSITY_KG_PER_M3
    }

    /// Volume as built, m3: the piled volume, or more where solids and water need it.
    pub fn volume_m3(&self) -> f64 {
        self.piled_volume_m3.max(self.airless_volume_m3())
    }

    /// C:N by mass; infinite where there is no nitrogen.
    pub fn cn(&self) -> f64 {
        self.carbon_kg / self.nitrogen_kg
    }

    /// Moisture, wet basis.
    pub fn moisture(&self) -> f64 {
        self.water_kg / self.wet_kg()
    }

    /// Free air space, share of volume: `1 - d [(1-M)/p + M/1000]` with
    /// `1/p = V/1600 + (1-V)/2500` (mass balance; Richard et al. 2004, particle densities from memory).
    pub fn free_air_space(&self) -> f64 {
        1.0 - self.airless_volume_m3() / self.volume_m3()
    }

    /// Effective particle size for air flow, m: mean by specific surface (Sauter mean).
    pub fn particle_size_m(&self) -> f64 {
        self.piled_volume_m3 / self.volume_by_particle_size_m2
    }

    /// Share of its height a heap loses under its own weight within weeks, mean by volume.
    pub fn slump_share(&self) -> f64 {
        self.volume_that_slumps_m3 / self.piled_volume_m3
    }
}

/// Share of volatile solids that can rot, from lignin as a share of volatile solids.
///
/// Chandler et al. 1980: `B = 0.830 - 0.028 X`, X lignin in % of volatile solids; held above 0.05,
/// since the line turns negative past 29.6 %. The coefficients are from memory; the rule's use for
/// compost is confirmed by The Composting Handbook (2022), eq. 4.1.
pub fn degradable_share(lignin_of_volatile_solids: f64) -> f64 {
    (0.830 - 2.8 * lignin_of_volatile_solids).max(0.05)
}

/// The four uncertain values of a material, at the ends or in the middle of their ranges.
#[derive(Clone, Copy)]
struct Values {
    moisture: f64,
    cn: Option<f64>,
    nitrogen: f64,
    carbon: f64,
    bulk_density: f64,
}

impl Values {
    fn typical(material: &Material) -> Self {
        Self {
            moisture: material.moisture.typical,
            cn: material.carbon_to_nitrogen.as_ref().map(|cn| cn.typical),
            nitrogen: material.nitrogen.typical,
            carbon: material.carbon.typical,
            bulk_density: material.bulk_density.typical,
        }
    }

    /// The same with one value moved, for each end of each uncertain value.
    fn moved(material: &Material) -> [[Self; 2]; 4] {
        let typical = Self::typical(material);
        let with = |change: &dyn Fn(&mut Self, usize)| {
            [0, 1].map(|end| {
                let mut values = typical;
                change(&mut values, end);
                values
            })
        };
        let ends = |value: &crate::material::Sourced| [value.low, value.high];
        [
            with(&|v, end| v.moisture = ends(&material.moisture)[end]),
            with(&|v, end| match &material.carbon_to_nitrogen {
                Some(cn) => v.cn = Some(ends(cn)[end]),
                None => v.nitrogen = ends(&material.nitrogen)[end],
            }),
            with(&|v, end| v.carbon = ends(&material.carbon)[end]),
            with(&|v, end| v.bulk_density = ends(&material.bulk_density)[end]),
        ]
    }
}

/// What one ingredient adds to the sums. `fixed` holds what does not vary.
fn contribution(part: &Part<'_>, values: &Values) -> Totals {
    let material = part.material;
    let (wet_kg, loose_volume_m3) = match part.amount.extent() {
        Extent::VolumeM3(volume) => (volume * values.bulk_density, volume),
        Extent::MassKg(mass) => (mass, mass / values.bulk_density),
    };
    let dry_kg = wet_kg * (1.0 - values.moisture);
    let carbon_kg = dry_kg * values.carbon;
    // Where C:N is known it is the uncertain value and nitrogen follows from it.
    let nitrogen_kg = values
        .cn
        .map_or(dry_kg * values.nitrogen, |cn| carbon_kg / cn);
    let ash = material.ash.typical;
    let volatile = 1.0 - ash;
    let (degradable, per_volatile) = if volatile > 1e-9 {
        (
            degradable_share(material.lignin.typical / volatile),
            carbon_kg / volatile,
        )
    } else {
        (0.0, 0.0)
    };
    let piled_volume_m3 = loose_volume_m3 * (1.0 - material.settles_share);
    Totals {
        dry_kg,
        water_kg: wet_kg - dry_kg,
        carbon_kg,
        carbon_available_kg: carbon_kg * degradable,
        nitrogen_kg,
        ash_kg: dry_kg * ash,
        carbon_fast_kg: material.pools.fast * per_volatile,
        carbon_medium_kg: material.pools.medium * per_volatile,
        carbon_slow_kg: material.pools.slow * per_volatile,
        loose_volume_m3,
        piled_volume_m3,
        volume_by_particle_size_m2: piled_volume_m3 / material.structure.particle_size_m(),
        volume_that_slumps_m3: piled_volume_m3 * material.structure.slump_share(),
        water_held_kg: dry_kg * material.structure.holds_water_kg_per_kg(),
        phosphate_kg: dry_kg * material.phosphate.typical,
        potash_kg: dry_kg * material.potash.typical,
    }
}

/// The seven gauges of one set of sums, in the order of [`Gauges`].
fn gauge_values(totals: &Totals) -> [f64; 7] {
    let volume = totals.volume_m3();
    [
        totals.cn(),
        totals.carbon_available_kg / totals.nitrogen_kg,
        totals.moisture(),
        volume,
        totals.free_air_space(),
        totals.wet_kg() / volume,
        totals.dry_kg / volume,
    ]
}

/// Reckons a mix through. `added_water_l` is the water poured on, L.
///
/// Costs a few microseconds for 20 ingredients, so it can run on every frame.
pub fn blend(parts: &[Part<'_>], added_water_l: f64) -> Blend {
    let own: Vec<Totals> = parts
        .iter()
        .map(|part| contribution(part, &Values::typical(part.material)))
        .collect();
    let water = Totals {
        water_kg: added_water_l,
        ..Totals::default()
    };
    let totals = own.iter().fold(water, |sum, part| sum.plus(part, 1.0));
    let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
    let shares = own
        .iter()
        .map(|part| PartShare {
            carbon: share(part.carbon_kg, totals.carbon_kg),
            nitrogen: share(part.nitrogen_kg, totals.nitrogen_kg),
            water: share(part.water_kg, totals.water_kg),
            dry_mass: share(part.dry_kg, totals.dry_kg),
            volume: share(part.piled_volume_m3, totals.piled_volume_m3),
        })
        .collect();
    Blend {
        gauges: gauges(parts, &own, &totals),
        shares,
        added_water_share: share(added_water_l, totals.water_kg),
        totals,
    }
}

/// Gauges with ranges; `None` without dry matter.
fn gauges(parts: &[Part<'_>], own: &[Totals], totals: &Totals) -> Option<Gauges> {
    if totals.dry_kg <= 0.0 {
        return None;
    }
    let typical = gauge_values(totals);
    let mut down = [0.0; 7];
    let mut up = [0.0; 7];
    for (part, own) in parts.iter().zip(own) {
        let without = totals.plus(own, -1.0);
        for ends in Values::moved(part.material) {
            let [at_low, at_high] =
                ends.map(|values| gauge_values(&without.plus(&contribution(part, &values), 1.0)));
            for gauge in 0..7 {
                let moves = [
                    at_low[gauge] - typical[gauge],
                    at_high[gauge] - typical[gauge],
                ];
                let rise = moves[0].max(moves[1]).max(0.0);
                let fall = moves[0].min(moves[1]).min(0.0);
                up[gauge] += rise * rise;
                down[gauge] += fall * fall;
            }
        }
    }
    let ranges: [Range; 7] = std::array::from_fn(|gauge| {
        let (low, high) = (
            typical[gauge] - down[gauge].sqrt(),
            typical[gauge] + up[gauge].sqrt(),
        );
        match gauge {
            2 | 4 => Range::new(low.max(0.0), typical[gauge], high.min(1.0)),
            _ => Range::new(low.max(0.0), typical[gauge], high),
        }
    });
    let [
        cn,
        cn_available,
        moisture,
        volume_m3,
        free_air_space,
        wet,
        dry,
    ] = ranges;
    Some(Gauges {
        cn,
        cn_available,
        moisture,
        volume_m3,
        free_air_space,
        wet_bulk_density_kg_per_m3: wet,
        dry_bulk_density_kg_per_m3: dry,
    })
}
