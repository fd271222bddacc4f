//! Where nitrogen and water went, in words.
//!
//! In: [`NitrogenFate`], [`WaterFate`]. Out: sentences, numbers.
//!
//! Not here: whether it is worth a line (`outcome::fate`), what is left (`product`).
//!
//! Tested by: `tests/science/outcome_produce.rs`, `tests/document/export.rs`.

use crate::outcome::fate::{NitrogenFate, NitrogenLoss, NitrogenWay, WaterFate, WaterFrom};
use crate::quantity::UnitSystem;
use crate::text::{list, number};

use super::facts::NamedNumber;
use super::usage::nutrient;

/// Where the loss of nitrogen and its cures stand.
pub(super) const NITROGEN_SOURCE: &str = "the simulation; more is lost at low C:N and less with more browns (Michel et al. 2004, abstract), cures as in the troubleshooting tables of extension services";
/// Where the story of the water stands.
pub(super) const WATER_SOURCE: &str =
    "the simulation: rain as each month's mean, what drains and what leaves as vapour";
/// Water too little to be told beside the rest, share of all that was put in.
const NO_WATER: f64 = 0.01;

/// How nitrogen leaves, after "7 % would".
fn leaves(way: NitrogenWay) -> &'static str {
    match way {
        NitrogenWay::Ammonia => "leave as ammonia",
        NitrogenWay::NitrogenGas => "leave as nitrogen gas from places short of air",
        NitrogenWay::RainedOut | NitrogenWay::SeepedOut => "wash out with drained water",
    }
}

/// What keeps it.
fn cure(way: NitrogenWay) -> &'static str {
    match way {
        NitrogenWay::Ammonia => "more browns",
        NitrogenWay::NitrogenGas => "coarse dry browns to let air in",
        NitrogenWay::RainedOut => "a sheet against rain",
        NitrogenWay::SeepedOut => "a drier mix",
    }
}

/// A share that may be small: "0.6 %", "7 %".
fn part(share: f64) -> String {
    if share < 0.0095 {
        format!("{:.1} %", 100.0 * share)
    } else {
        number::percent(share)
    }
}

/// Where the nitrogen went: "Of its nitrogen 7 % would leave as ammonia and 4 % wash out with drained water; ...".
pub(super) fn nitrogen(fate: &NitrogenFate) -> String {
    let said = |loss: &NitrogenLoss| format!("{} {}", part(loss.share), leaves(loss.way));
    let mut ways: Vec<String> = fate.losses.iter().map(said).collect();
    if let Some(first) = fate.losses.first() {
        ways[0] = format!("{} would {}", part(first.share), leaves(first.way));
    }
    let cures = fate.losses.iter().filter(|loss| loss.wants_cure);
    let cures: Vec<String> = cures.map(|loss| cure(loss.way).to_owned()).collect();
    let told = format!("Of its nitrogen {}", list(&ways));
    if cures.is_empty() {
        told
    } else {
        format!("{told}. What keeps more of it: {}", list(&cures))
    }
}

/// The amounts behind it.
pub(super) fn nitrogen_numbers(fate: &NitrogenFate, units: UnitSystem) -> Vec<NamedNumber> {
    let name = |way| match way {
        NitrogenWay::Ammonia => "nitrogen lost as ammonia",
        NitrogenWay::NitrogenGas => "nitrogen lost as nitrogen gas",
        NitrogenWay::RainedOut | NitrogenWay::SeepedOut => "nitrogen washed out",
    };
    let amount = |kg: f64| match units {
        UnitSystem::Metric => format!("{:.0} g", 1000.0 * kg),
        UnitSystem::UsCustomary => nutrient(kg, units),
    };
    fate.losses
        .iter()
        .map(|loss| NamedNumber::new(name(loss.way), amount(loss.kg)))
        .collect()
}

/// A weight in whole units, as it is told: "98 kg", "217 lb".
fn whole_mass(kg: f64, units: UnitSystem) -> String {
    format!("{} {}", number::whole(units.mass(kg)), units.mass_unit())
}

/// Where the water came from and went, and what comes of it.
pub(super) fn water(fate: &WaterFate, units: UnitSystem) -> String {
    let falls = match fate.from {
        WaterFrom::Rain => "rain would bring",
        WaterFrom::RainAndWatering => "rain and watering would bring",
    };
    let moved = [
        (falls, "", fate.fell_kg),
        ("", " would drain away", fate.drained_kg),
        ("", " would leave as vapour", fate.vapour_kg),
    ];
    let told = moved
        .iter()
        .filter(|(_, _, kg)| *kg > NO_WATER * fate.put_in_kg);
    let told: Vec<String> = told
        .map(|(before, after, kg)| {
            let water = whole_mass(*kg, units);
            format!("{before} {water}{after}").trim_start().to_owned()
        })
        .collect();
    let (put_in, came_out) = (
        whole_mass(fate.put_in_kg, units),
        whole_mass(fate.came_out_kg, units),
    );
    let moved = list(&told);
    let story = if fate.came_out_kg > fate.put_in_kg {
        format!(
            "More would come out than went in ({came_out} from {put_in}), and the gain is water: {moved}"
        )
    } else {
        format!("Of water, {moved}")
    };
    if fate.ends_too_wet && fate.fell_kg > fate.drained_kg {
        format!("{story}. It ends wet: a sheet over it would keep rain off")
    } else {
        story
    }
}

/// The amounts behind it.
pub(super) fn water_numbers(fate: &WaterFate, units: UnitSystem) -> Vec<NamedNumber> {
    [
        ("put in", fate.put_in_kg),
        ("came out", fate.came_out_kg),
        ("rain and watering", fate.fell_kg),
        ("drained", fate.drained_kg),
        ("vapour", fate.vapour_kg),
    ]
    .into_iter()
    .map(|(name, kg)| NamedNumber::new(name, number::mass(kg, units)))
    .chain([NamedNumber::new(
        "moisture at the end",
        number::percent(fate.moisture),
    )])
    .collect()
}
