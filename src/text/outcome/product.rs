//! What comes out and what it feeds, in words.
//!
//! In: the product, what it feeds, published ranges. Out: sentences, numbers.
//!
//! Not here: the calculation (`outcome::produce`, `outcome::nutrient`), beds (`usage`).
//!
//! Tested by: `tests/science/outcome_produce.rs`, `tests/document/export.rs`.

use crate::mix::bands;
use crate::outcome::finish::Stage;
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
    let moisture = out.moisture.typical;
    let told = format!(
        "About {} would come out ({} at {} moisture), {}",
        number::volume(volume_m3, units),
        number::mass(out.mass_kg.typical, units),
        number::percent(moisture),
        enough_for(volume_m3, units)
    );
    if moisture > bands::MOISTURE.works.1 {
        format!("{told}. That is too wet to sieve or spread well: let it drain and dry under cover")
    } else if moisture < bands::MOISTURE.works.0 {
        format!("{told}. That is dry: wet it before use, or it sheds water")
    } else {
        told
    }
}

/// What is in it, in a sentence; what lies beyond all published composts is said so.
pub fn composition(out: &Produce, published: &[Published]) -> String {
    let told = format!(
        "It would hold N {}, P₂O₅ {}, K₂O {} of its dry matter.",
        fine_percent(out.nitrogen_share().typical),
        fine_percent(out.phosphate_share().typical),
        fine_percent(out.potash_share().typical)
    );
    let nitrogen = published.iter().filter(|it| it.of == Property::Nitrogen);
    let most = nitrogen.max_by(|a, b| a.between.1.total_cmp(&b.between.1));
    match most {
        Some(most) if out.nitrogen_share().typical > most.between.1 => format!(
            "{told} That is more nitrogen than was found in {} (at most {}, {}): part of it may be lost in practice.",
            most.compost,
            fine_percent(most.between.1),
            most.source
        ),
        _ => told,
    }
}

/// What it feeds in its first year.
pub(super) fn feeding(
    series: Option<&ReleaseSeries>,
    feeding: &Feeding,
    units: UnitSystem,
) -> String {
    let name = what_it_is(series, feeding);
    if feeding.hungry {
        return format!(
            "By the end of the run it is {name}; its C:N is above {HUNGRY_CN}, so it ties nitrogen up at first where it is dug in"
        );
    }
    let [first, ..] = feeding.nitrogen_kg;
    let nitrogen = nitrogen(first, units);
    match feeding.stage {
        Stage::Raw => format!(
            "By the end of the run it is {name}. If it is let go on until it is fit to dig in, expect it to free about {nitrogen} in its first year"
        ),
        Stage::Young | Stage::Mature => format!(
            "By the end of the run it is {name}; it frees about {nitrogen} in the first year"
        ),
    }
}

/// What it is called by how far it is: "young plant compost", "not compost yet".
pub fn what_it_is(series: Option<&ReleaseSeries>, feeding: &Feeding) -> String {
    let name = series.map_or("compost", |series| series.name.as_str());
    match (feeding.stage, feeding.leaves) {
        (Stage::Mature, true) => "leafmould".to_owned(),
        (Stage::Young, true) => "young leafmould".to_owned(),
        (Stage::Raw, true) => "leaves on their way to leafmould".to_owned(),
        (Stage::Mature, false) => format!("mature {name}"),
        (Stage::Young, false) if feeding.hungry => "half-rotted, fit as mulch".to_owned(),
        (Stage::Young, false) => format!("young {name}"),
        (Stage::Raw, false) => "not compost yet".to_owned(),
    }
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
