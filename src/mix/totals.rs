//! The sums over a mix and what follows from them: moisture, C:N, volume, free air space.
//!
//! In: kilograms and cubic metres. Out: [`Totals`], which add, and ratios of them, which do not.
//!
//! Not here: how an ingredient comes to its kilograms (`lot`), uncertainty (`spread`).
//!
//! Tested by: `tests/science/blend.rs`.

use crate::material::Structure;

/// Density of organic solids, kg/m3 (Richard et al. 2004, Biotechnol. Prog. 20:1372; from memory).
pub const ORGANIC_DENSITY_KG_PER_M3: f64 = 1600.0;
/// Density of ash, kg/m3 (same source; from memory).
pub const ASH_DENSITY_KG_PER_M3: f64 = 2500.0;
/// Density of water, kg/m3.
pub const WATER_DENSITY_KG_PER_M3: f64 = 1000.0;

/// Slumping under its own weight, per day (tuned, reason not recorded; most of it is then over within two weeks).
pub const SETTLING_PER_DAY: f64 = 0.2;
/// Days after which a heap has settled for the first time (common practice: a new heap sinks within a fortnight).
const FIRST_SETTLING_DAYS: f64 = 14.0;

/// Buffering of plant matter, mol per kg dry matter and unit of pH (tuned: 0.1-0.5, from memory).
const BUFFER_MOL_PER_KG_PH: f64 = 0.3;
/// Greatest rise of the pH by lime and ash (common practice: limed compost stays below 9).
const PH_RAISED_MOST: f64 = 2.0;
/// pH of a mix of which nothing is known (common practice: fresh garden matter 6-7).
const USUAL_PH: f64 = 6.6;

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
    /// Piled volume times the logarithm of its effective particle size in mm, m3 (for the geometric mean).
    pub volume_log_size_m3: f64,
    /// Piled volume times what it slumps by within weeks, m3 (for the mean slump).
    pub volume_that_slumps_m3: f64,
    /// Water that the solids hold against gravity, kg.
    pub water_held_kg: f64,
    /// Phosphate (P2O5), kg.
    pub phosphate_kg: f64,
    /// Potash (K2O), kg.
    pub potash_kg: f64,
    /// Nitrogen that is mineral or becomes so within days (urea, ammonium, uric acid), kg.
    pub nitrogen_at_once_kg: f64,
    /// Dry matter of wood and bark, kg.
    pub wood_kg: f64,
    /// pH times dry matter, kg, of what has a pH of its own.
    pub ph_dry_kg: f64,
    /// Dry matter of what has a pH of its own, kg.
    pub dry_with_ph_kg: f64,
    /// Acid that lime and ash can neutralise, mol.
    pub liming_mol: f64,
}

impl Totals {
    /// Both together.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        self.plus_times(other, 1.0)
    }

    /// With so many times the other added; a negative number takes away.
    #[must_use]
    pub fn plus_times(&self, other: &Self, times: f64) -> Self {
        Self {
            dry_kg: self.dry_kg + times * other.dry_kg,
            water_kg: self.water_kg + times * other.water_kg,
            carbon_kg: self.carbon_kg + times * other.carbon_kg,
            carbon_available_kg: self.carbon_available_kg + times * other.carbon_available_kg,
            nitrogen_kg: self.nitrogen_kg + times * other.nitrogen_kg,
            ash_kg: self.ash_kg + times * other.ash_kg,
            carbon_fast_kg: self.carbon_fast_kg + times * other.carbon_fast_kg,
            carbon_medium_kg: self.carbon_medium_kg + times * other.carbon_medium_kg,
            carbon_slow_kg: self.carbon_slow_kg + times * other.carbon_slow_kg,
            loose_volume_m3: self.loose_volume_m3 + times * other.loose_volume_m3,
            piled_volume_m3: self.piled_volume_m3 + times * other.piled_volume_m3,
            volume_log_size_m3: self.volume_log_size_m3 + times * other.volume_log_size_m3,
            volume_that_slumps_m3: self.volume_that_slumps_m3 + times * other.volume_that_slumps_m3,
            water_held_kg: self.water_held_kg + times * other.water_held_kg,
            phosphate_kg: self.phosphate_kg + times * other.phosphate_kg,
            potash_kg: self.potash_kg + times * other.potash_kg,
            nitrogen_at_once_kg: self.nitrogen_at_once_kg + times * other.nitrogen_at_once_kg,
            wood_kg: self.wood_kg + times * other.wood_kg,
            ph_dry_kg: self.ph_dry_kg + times * other.ph_dry_kg,
            dry_with_ph_kg: self.dry_with_ph_kg + times * other.dry_with_ph_kg,
            liming_mol: self.liming_mol + times * other.liming_mol,
        }
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
        ratio(self.carbon_kg, self.nitrogen_kg)
    }

    /// C:N by mass with the carbon that lignin withholds left out; infinite without nitrogen.
    pub fn cn_available(&self) -> f64 {
        ratio(self.carbon_available_kg, self.nitrogen_kg)
    }

    /// Moisture, wet basis.
    pub fn moisture(&self) -> f64 {
        self.water_kg / self.wet_kg()
    }

    /// Free air space as built, share of volume: `1 - d [(1-M)/p + M/1000]` with
    /// `1/p = V/1600 + (1-V)/2500` (mass balance; Richard et al. 2004, particle densities from memory).
    pub fn free_air_space(&self) -> f64 {
        1.0 - self.airless_volume_m3() / self.volume_m3()
    }

    /// Part of the volume as built that slumping has taken once the heap has settled, m3.
    ///
    /// By the law of `heap::cell` after a fortnight, each material by its structure: mash and grass lose half, leaves
    /// a third, chips hardly anything. The law's load is that of a heap about a metre high.
    pub fn slumped_volume_m3(&self) -> f64 {
        slumped_part(FIRST_SETTLING_DAYS) * self.volume_that_slumps_m3
    }

    /// Free air space after the first settling, share of the volume then; 0 where solids and water fill it.
    pub fn settled_air_space(&self) -> f64 {
        let settled_m3 = self.piled_volume_m3 - self.slumped_volume_m3();
        let airless_m3 = self.airless_volume_m3();
        1.0 - airless_m3 / settled_m3.max(airless_m3)
    }

    /// Effective particle size for air flow, m: geometric mean by piled volume, which is the geometric mean of the
    /// permeabilities (fine matter fills the gaps of coarse, but does not rule alone). A mix of
    /// liquids alone has the size of [`Structure::Liquid`].
    pub fn particle_size_m(&self) -> f64 {
        if self.piled_volume_m3 > 0.0 {
            1.0e-3 * (self.volume_log_size_m3 / self.piled_volume_m3).exp()
        } else {
            Structure::Liquid.particle_size_m()
        }
    }

    /// pH of the fresh mix, mean by dry matter, raised by lime and ash; 6.6 where nothing tells.
    ///
    /// Lime raises by what it neutralises over the buffering of the dry matter, by 2 at most.
    pub fn ph(&self) -> f64 {
        let own = if self.dry_with_ph_kg > 0.0 {
            self.ph_dry_kg / self.dry_with_ph_kg
        } else {
            USUAL_PH
        };
        own + self.ph_raised()
    }

    /// Rise of the pH by lime and ash, 0-2.
    pub fn ph_raised(&self) -> f64 {
        if self.dry_kg > 0.0 {
            (self.liming_mol / (BUFFER_MOL_PER_KG_PH * self.dry_kg)).min(PH_RAISED_MOST)
        } else {
            0.0
        }
    }

    /// Share of its height a heap loses under its own weight within weeks, mean by volume.
    pub fn slump_share(&self) -> f64 {
        if self.piled_volume_m3 > 0.0 {
            self.volume_that_slumps_m3 / self.piled_volume_m3
        } else {
            Structure::Liquid.slump_share()
        }
    }
}

/// Part of its slumping that a packing has behind it at this age, d.
pub fn slumped_part(days: f64) -> f64 {
    1.0 - (-SETTLING_PER_DAY * days).exp()
}

/// Share of volatile solids that can rot, from lignin as a share of volatile solids.
///
/// Chandler et al. 1980: `B = 0.830 - 0.028 X`, X lignin in % of volatile solids; held above 0.05,
/// since the line turns negative past 29.6 %. The coefficients are from memory; the rule's use for
/// compost is confirmed by The Composting Handbook (2022), eq. 4.1.
pub fn degradable_share(lignin_of_volatile_solids: f64) -> f64 {
    (0.830 - 2.8 * lignin_of_volatile_solids).max(0.05)
}

/// Carbon by nitrogen; infinite where there is no nitrogen.
fn ratio(carbon_kg: f64, nitrogen_kg: f64) -> f64 {
    if nitrogen_kg > 0.0 {
        carbon_kg / nitrogen_kg
    } else {
        f64::INFINITY
    }
}
