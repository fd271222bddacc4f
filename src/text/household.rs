//! A mix said for a garden without scales: weights and cubic feet in buckets or barrows too.
//!
//! In: ingredients with their densities, the units. Out: lines, and what the measures named hold.
//!
//! Not here: amounts as entered (`amount`).
//!
//! Tested by: `tests/document/handout.rs`.

use crate::quantity::{Amount, Extent, LITRE_PER_CUBIC_METRE, Measure, UnitSystem};

use super::amount::MOST_BUCKETS;
use super::{amount, number};

/// Measures whose size is told below the mix, where one of them is named.
const TOLD: [Measure; 3] = [Measure::Bucket, Measure::Barrow, Measure::Sack];

/// An amount as a garden says it.
#[derive(Debug, Clone, PartialEq)]
pub struct Household {
    /// "12 kg, about 3 buckets".
    pub text: String,
    /// Measures it names.
    pub named: Vec<Measure>,
}

/// The amount as entered; what was weighed, or measured in what nobody lifts, in buckets or barrows too.
///
/// `density_kg_per_m3`: loose density of the material, above zero.
pub fn household(entered: &Amount, density_kg_per_m3: f64, units: UnitSystem) -> Household {
    let said = match (&entered.measure, units) {
        (Measure::Kilogram, UnitSystem::UsCustomary) => {
            entered.said_in(Measure::Pound, density_kg_per_m3)
        }
        _ => entered.clone(),
    };
    let own = match (&said.measure, units) {
        (Measure::Litre, UnitSystem::UsCustomary) => {
            number::volume(said.value / LITRE_PER_CUBIC_METRE, units)
        }
        _ => amount::amount(&said),
    };
    match handy(entered, density_kg_per_m3, units) {
        Some(handy) => Household {
            text: format!("{own}, about {}", amount::amount(&handy)),
            named: vec![said.measure, handy.measure],
        },
        None => Household {
            text: own,
            named: vec![said.measure],
        },
    }
}

/// In buckets or barrows to the nearest half; `None` where it is said in something handy already, or is less
/// than a quarter of a bucket.
fn handy(entered: &Amount, density_kg_per_m3: f64, units: UnitSystem) -> Option<Amount> {
    let weighed = matches!(entered.extent(), Extent::MassKg(_));
    let unwieldy = matches!(
        entered.measure,
        Measure::Litre | Measure::CubicFoot | Measure::CubicYard
    );
    if !(weighed || unwieldy) {
        return None;
    }
    let bucket = match units {
        UnitSystem::Metric => Measure::Bucket,
        UnitSystem::UsCustomary => Measure::Pail,
    };
    let mut handy = entered.said_in(bucket, density_kg_per_m3);
    if handy.value > MOST_BUCKETS {
        handy = entered.said_in(Measure::Barrow, density_kg_per_m3);
    }
    // Nobody fills a bucket closer than to half.
    handy.value = (2.0 * handy.value).round() / 2.0;
    (handy.value > 0.0).then_some(handy)
}

/// What a mix makes: "Makes 1.1 m³ and 430 kg."
pub fn makes(volume_m3: f64, wet_kg: f64, units: UnitSystem) -> String {
    format!(
        "Makes {} and {}.",
        number::volume(volume_m3, units),
        number::mass(wet_kg, units)
    )
}

/// What the measures hold that some amounts name: "A bucket holds 12 L."
pub fn measures_hold(named: &[Household], units: UnitSystem) -> Vec<String> {
    let used = |measure: &&Measure| named.iter().any(|one| one.named.contains(*measure));
    let told = TOLD.iter().filter(used);
    told.map(|measure| {
        let holds = amount::holds(measure, units);
        format!("A {} holds {holds}.", amount::one(measure))
    })
    .collect()
}

/// Water poured on, in a list of ingredients: "20 L" or "5.28 gal".
pub fn poured(litres: f64, units: UnitSystem) -> String {
    number::volume(litres / LITRE_PER_CUBIC_METRE, units)
}
