//! A material of one's own in words: formulas with their numbers, doubts, what was taken over.
//!
//! In: what `material::own` calculated. Out: lines.
//!
//! Not here: the calculation (`material::own`).
//!
//! Tested by: `tests/science/own_materials.rs`, `tests/window/materials.rs`.

use crate::material::Material;
use crate::material::own::{Basis, Doubt, Squeeze, Working};

use super::number;

/// A percentage to a tenth: "45.2".
fn tenths(share: f64) -> String {
    format!("{:.1}", 100.0 * share)
}

/// A formula with its numbers.
pub fn working(working: &Working) -> String {
    match *working {
        Working::Density {
            full_kg,
            empty_kg,
            bucket_l,
            density_kg_per_m3,
        } => format!(
            "bulk density = (full - empty) / volume = ({full_kg} - {empty_kg}) kg / {bucket_l} L = {density_kg_per_m3:.0} kg/m³"
        ),
        Working::Moisture {
            wet_g,
            dry_g,
            moisture,
        } => format!(
            "moisture = (fresh - dried) / fresh = ({wet_g} - {dry_g}) g / {wet_g} g = {}",
            number::percent(moisture)
        ),
        Working::DryBasis {
            nitrogen_pct,
            moisture,
            nitrogen,
        } => format!(
            "dry basis = as received / (1 - moisture): nitrogen {nitrogen_pct} % / (1 - {moisture:.3}) = {:.2} %",
            100.0 * nitrogen
        ),
        Working::Ash { organic } => format!(
            "ash = 100 - organic matter = 100 - {} = {} %",
            tenths(organic),
            tenths(1.0 - organic)
        ),
        Working::Carbon { organic, carbon } => format!(
            "carbon = (100 - ash) / 1.8 = {} / 1.8 = {} % (from {} to {})",
            tenths(organic),
            tenths(carbon.typical),
            tenths(carbon.low),
            tenths(carbon.high)
        ),
        Working::CarbonNitrogen { carbon, nitrogen } => format!(
            "C:N = carbon / nitrogen = {} / {:.2} = {}",
            tenths(carbon),
            100.0 * nitrogen,
            number::ratio(carbon / nitrogen)
        ),
    }
}

/// Where a formula is from.
pub fn working_source(working: &Working) -> &'static str {
    match working {
        Working::Density { .. } => {
            "Eawag (Zabaleta), after Cooperband, The Art and Science of Composting, 2002"
        }
        Working::Moisture { .. } => {
            "Richard and Trautmann, Cornell Composting in Schools, moisture page"
        }
        Working::DryBasis { .. } => "mass balance; the same in every handbook",
        Working::Ash { .. } => {
            "Richard, Estimating Carbon Content, Cornell Waste Management Institute 1996"
        }
        Working::Carbon { .. } => {
            "Adams et al. 1951, in Richard, Estimating Carbon Content, Cornell Waste Management Institute 1996"
        }
        Working::CarbonNitrogen { .. } => "definition",
    }
}

/// What does not fit.
pub fn doubt(doubt: &Doubt) -> String {
    match doubt {
        Doubt::Squeeze {
            squeeze: shown,
            moisture,
        } => {
            let (low, high) = shown.moisture_band();
            format!(
                "The squeeze (\"{}\") suggests {} moisture, the scale {}. Fresh leaves and stems give no water though they are wet; otherwise dry the sample longer or weigh again.",
                squeeze(*shown),
                number::percent_span(low, high),
                number::percent(*moisture)
            )
        }
        Doubt::NoMoisture => "The moisture is 0 %; is that what the report says?".to_owned(),
        Doubt::NoNitrogen => "The total nitrogen is 0 %; is that what the report says?".to_owned(),
    }
}

/// What a handful shows when it is squeezed hard.
pub fn squeeze(squeeze: Squeeze) -> &'static str {
    match squeeze {
        Squeeze::Dusty => "dry and dusty, no ball",
        Squeeze::FallsApart => "a ball that falls apart",
        Squeeze::Holds => "a ball that holds, a drop or two",
        Squeeze::Drips => "water drips out",
    }
}

/// What a squeeze speaks for, as a tooltip.
pub fn squeeze_tip(squeeze: Squeeze) -> String {
    let (low, high) = squeeze.moisture_band();
    format!("Suggests {} moisture.", number::percent_span(low, high))
}

/// What a report's percentages are of.
pub fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Dry => "of dry matter",
        Basis::AsReceived => "as received (wet)",
    }
}

/// The note that a measured material is kept with.
pub fn likeness_note(like: &Material) -> String {
    format!("What was not measured is taken from \"{}\".", like.name)
}

/// A name for a copy, to begin with.
pub fn copy_name(like: &Material) -> String {
    format!("{} (own)", like.name)
}
