//! What comes out and what it feeds, in words.
//!
//! In: the product, what it feeds, published ranges. Out: sentences, numbers.
//!
//! Not here: the calculation (`outcome::produce`, `outcome::nutrient`), beds (`usage`).
//!
//! Tested by: `tests/science/outcome_produce.rs`, `tests/document/export.rs`.

use crate::outcome::nutrient::{Feeding, HUNGRY_CN, ReleaseSeries};
use crate::outcome::produce::{Produce, Property, Published};
use crate::quantity::{Range, UnitSystem};
use crate::text::number;

use super::facts::NamedNumber;
use super::usage::{enough_for, nutrient};

/// Where the product's numbers come from.
pub(super) const PRODUCT_SOURCE: &str = "the simulation; phosphate and potash from the catalogue's values of the ingredients, mostly from memory, what rain washes out of them not calculated";

/// How much comes out.
pub(super) fn product(out: &Produce, units: UnitSystem) -> String {
    let volume_m3 = out.volume_m3.typical;
    format!(
        "About {} would come out ({} at {} moisture), {}",
        number::volume(volume_m3, units),
        number::mass(out.mass_kg.typical, units),
        number::percent(out.moisture.typical),
        enough_for(volume_m3, units)
    )
}

/// What is in it, in a sentence.
pub fn composition(out: &Produce) -> String {
    format!(
        "It would hold N {}, P₂O₅ {}, K₂O {} of its dry matter.",
        fine_percent(out.nitrogen_share().typical),
        fine_percent(out.phosphate_share().typical),
        fine_percent(out.potash_share().typical)
    )
}

/// What it feeds in its first year.
pub(super) fn feeding(
    series: Option<&ReleaseSeries>,
    feeding: &Feeding,
    units: UnitSystem,
) -> String {
    let name = series.map_or("compost", |series| series.name.as_str());
    if feeding.hungry {
        return format!("As {name}, its C:N is above {HUNGRY_CN}, so it ties nitrogen up at first");
    }
    let [first, ..] = feeding.nitrogen_kg;
    let nitrogen = nitrogen(first, units);
    format!("As {name}, it frees about {nitrogen} in the first year")
}

/// What it feeds in each year.
pub(super) fn feeding_numbers(feeding: &Feeding, units: UnitSystem) -> Vec<NamedNumber> {
    let years = feeding.nitrogen_kg.iter().zip(1..);
    years
        .map(|(kg, year)| NamedNumber::new(format!("year {year}"), nitrogen(*kg, units)))
        .collect()
}

/// "527 g of nitrogen".
fn nitrogen(kg: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{:.0} g of nitrogen", 1000.0 * kg),
        UnitSystem::UsCustomary => format!("{} of nitrogen", nutrient(kg, units)),
    }
}

/// A small share: "1.3 %".
fn fine_percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

/// What is in it, and the same beside published ranges.
pub(super) fn product_numbers(
    out: &Produce,
    published: &[Published],
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let range = |r: Range| {
        let [low, typical, high] = [r.low, r.typical, r.high].map(|share| 100.0 * share);
        format!("{typical:.1} % ({low:.1} to {high:.1})")
    };
    let mut numbers = vec![
        NamedNumber::new("mass", number::mass(out.mass_kg.typical, units)),
        NamedNumber::new("volume", number::volume(out.volume_m3.typical, units)),
        NamedNumber::new("moisture", fine_percent(out.moisture.typical)),
        NamedNumber::new("C:N", number::whole(out.cn.typical)),
        NamedNumber::new("N of dry matter", range(out.nitrogen_share())),
        NamedNumber::new("P₂O₅ of dry matter", range(out.phosphate_share())),
        NamedNumber::new("K₂O of dry matter", range(out.potash_share())),
        NamedNumber::new(
            "carbon breathed out",
            number::mass(out.carbon_lost_kg.typical, units),
        ),
        NamedNumber::new(
            "heat made",
            format!("{:.0} MJ", out.heat_made_j.typical / 1.0e6),
        ),
    ];
    numbers.extend(published.iter().filter_map(|it| beside(out, it)));
    numbers
}

/// What a published range is on.
fn property(property: Property) -> &'static str {
    match property {
        Property::Nitrogen => "nitrogen",
        Property::Phosphate => "phosphate",
        Property::Potash => "potash",
        Property::CarbonNitrogen => "C:N",
        Property::Moisture => "moisture",
        Property::DryMatterLost => "loss of dry matter",
        Property::VolumeLost => "loss of volume",
        Property::Acidity => "pH",
    }
}

/// A published range, and on which side of it the product lies.
fn beside(out: &Produce, published: &Published) -> Option<NamedNumber> {
    let value = out.value_of(published.of)?;
    let (low, high) = published.between;
    let place = if value < low {
        "below"
    } else if value > high {
        "above"
    } else {
        "inside"
    };
    let shown = match published.of {
        Property::CarbonNitrogen | Property::Acidity => {
            number::span(&number::whole(low), &number::whole(high))
        }
        _ => number::span(&fine_percent(low), &fine_percent(high)),
    };
    Some(NamedNumber::new(
        format!(
            "published {}, {}",
            property(published.of),
            published.compost
        ),
        format!("{shown}: {place} ({})", published.source),
    ))
}
