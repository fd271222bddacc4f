//! What so much of one material brings to the sums, with its uncertain values typical or moved.
//!
//! In: a material, an extent, five values of it. Out: [`Totals`].
//!
//! Not here: the whole mix (`blend`), how moves combine (`spread`).
//!
//! Tested by: `tests/science/blend.rs`.

use crate::material::{Material, Sourced, Structure};
use crate::quantity::Extent;

use super::totals::{Totals, degradable_share};

/// Least volatile share of dry matter of what counts for the pH of a mix, 0-1 (tuned: leaves soil, ash and lime out).
const PH_LEAST_VOLATILE: f64 = 0.2;

/// The uncertain values of a material, each at an end or in the middle of its range.
#[derive(Clone, Copy)]
pub(super) struct Values {
    moisture: f64,
    carbon_to_nitrogen: Option<f64>,
    nitrogen: f64,
    carbon: f64,
    bulk_density_kg_per_m3: f64,
}

impl Values {
    /// All in the middle.
    pub(super) fn typical(material: &Material) -> Self {
        Self {
            moisture: material.moisture.typical,
            carbon_to_nitrogen: material.carbon_to_nitrogen.as_ref().map(|cn| cn.typical),
            nitrogen: material.nitrogen.typical,
            carbon: material.carbon.typical,
            bulk_density_kg_per_m3: material.bulk_density.typical,
        }
    }

    /// One value moved to its low and to its high end, for each uncertain value.
    ///
    /// Where C:N is known it is the uncertain one and nitrogen follows from it.
    pub(super) fn moved(material: &Material) -> [[Self; 2]; 4] {
        let typical = Self::typical(material);
        let ends = |value: &Sourced, set: fn(&mut Self, f64)| {
            [value.low, value.high].map(|end| {
                let mut values = typical;
                set(&mut values, end);
                values
            })
        };
        [
            ends(&material.moisture, |v, end| v.moisture = end),
            match &material.carbon_to_nitrogen {
                Some(cn) => ends(cn, |v, end| v.carbon_to_nitrogen = Some(end)),
                None => ends(&material.nitrogen, |v, end| v.nitrogen = end),
            },
            ends(&material.carbon, |v, end| v.carbon = end),
            ends(&material.bulk_density, |v, end| {
                v.bulk_density_kg_per_m3 = end
            }),
        ]
    }
}

/// What so much of a material brings, calculated with these values of it.
///
/// A liquid, or what dissolves, runs into the pores and adds no piled volume of its own; where the
/// pores cannot hold it [`Totals::volume_m3`] makes room.
pub(super) fn contribution(material: &Material, extent: Extent, values: &Values) -> Totals {
    let (wet_kg, loose_volume_m3) = match extent {
        Extent::VolumeM3(volume) => (volume * values.bulk_density_kg_per_m3, volume),
        Extent::MassKg(mass) => (mass, mass / values.bulk_density_kg_per_m3),
    };
    let dry_kg = wet_kg * (1.0 - values.moisture);
    let carbon_kg = dry_kg * values.carbon;
    let nitrogen_kg = values
        .carbon_to_nitrogen
        .map_or(dry_kg * values.nitrogen, |cn| carbon_kg / cn);
    let ash = material.ash.typical;
    let volatile = 1.0 - ash;
    let (degradable, carbon_per_volatile_kg) = if volatile > 1e-9 {
        (
            degradable_share(material.lignin.typical / volatile),
            carbon_kg / volatile,
        )
    } else {
        (0.0, 0.0)
    };
    let piled_volume_m3 = match material.structure {
        Structure::Liquid => 0.0,
        _ => loose_volume_m3 * (1.0 - material.settles_share),
    };
    // Ash, lime and soil have no buffering of their own that rot would change.
    let has_ph = volatile > PH_LEAST_VOLATILE;
    let dry_with_ph_kg = if has_ph { dry_kg } else { 0.0 };
    let traits = &material.traits;
    Totals {
        dry_kg,
        water_kg: wet_kg - dry_kg,
        carbon_kg,
        carbon_available_kg: carbon_kg * degradable,
        nitrogen_kg,
        ash_kg: dry_kg * ash,
        carbon_fast_kg: material.pools.fast * carbon_per_volatile_kg,
        carbon_medium_kg: material.pools.medium * carbon_per_volatile_kg,
        carbon_slow_kg: material.pools.slow * carbon_per_volatile_kg,
        loose_volume_m3,
        piled_volume_m3,
        volume_log_size_m3: piled_volume_m3 * (material.particle_size_m() * 1000.0).ln(),
        volume_that_slumps_m3: piled_volume_m3 * material.structure.slump_share(),
        water_held_kg: dry_kg * material.structure.holds_water_kg_per_kg(),
        phosphate_kg: dry_kg * material.phosphate.typical,
        potash_kg: dry_kg * material.potash.typical,
        nitrogen_at_once_kg: nitrogen_kg * traits.nitrogen_at_once,
        wood_kg: dry_kg * traits.wood,
        ph_dry_kg: dry_with_ph_kg * material.ph.typical,
        dry_with_ph_kg,
        liming_mol: dry_kg * traits.liming_mol_per_kg,
    }
}
