//! The lines of the outcome on what comes out and what it feeds.
//!
//! In: the product, what it feeds, the facts used. Out: [`Judgement`]s.
//!
//! Not here: the calculation (`produce`, `nutrient`), the other lines (`lines`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::quantity::{Range, UnitSystem};

use super::Trust;
use super::lines::{Judgement, Topic};
use super::nutrient::{Feeding, enough_text};
use super::produce::Produce;
use super::tables::Facts;

pub(super) fn produce_lines(
    out: &Produce,
    feeding: &Feeding,
    facts: &Facts,
    units: UnitSystem,
) -> Vec<Judgement> {
    let mut numbers = composition(out, units);
    numbers.extend(beside_published(out, facts));
    vec![
        Judgement {
            id: "produce".to_owned(),
            topic: Topic::Produce,
            text: format!(
                "About {} of compost would come out ({}), {}",
                crate::outcome::said::volume(out.volume_m3.typical, units),
                crate::outcome::said::mass(out.mass_kg.typical, units),
                enough_text(out.volume_m3.typical, units)
            ),
            numbers,
            source: "the simulation; phosphate and potash from the catalogue's values of the ingredients, mostly from memory, losses by rain not calculated".to_owned(),
            trust: Trust::Derived,
            likely: None,
        },
        feeding_line(feeding, facts),
    ]
}

fn feeding_line(feeding: &Feeding, facts: &Facts) -> Judgement {
    let [first, ..] = feeding.nitrogen_kg;
    let feeds = if feeding.hungry {
        "its C:N is above 25, so it ties nitrogen up at first".to_owned()
    } else {
        format!(
            "it frees about {:.0} g of nitrogen in the first year",
            1000.0 * first
        )
    };
    let series = facts.usage.series.iter().find(|s| s.kind == feeding.kind);
    let years = feeding.nitrogen_kg.iter().zip(1..).map(|(kg, year)| {
        let grams = 1000.0 * kg;
        (format!("year {year}"), format!("{grams:.0} g of nitrogen"))
    });
    Judgement {
        id: "feeding".to_owned(),
        topic: Topic::Produce,
        text: format!(
            "As {}, {feeds}",
            series.map_or("compost", |s| s.name.as_str())
        ),
        numbers: years.collect(),
        source: series.map_or_else(String::new, |s| s.source.clone()),
        trust: series.map_or(Trust::Recalled, |s| s.trust),
        likely: None,
    }
}

fn percent(share: f64) -> String {
    format!("{:.1} %", 100.0 * share)
}

/// What is in it.
fn composition(out: &Produce, units: UnitSystem) -> Vec<(String, String)> {
    let range = |r: Range| {
        format!(
            "{:.1} % ({:.1} to {:.1})",
            100.0 * r.typical,
            100.0 * r.low,
            100.0 * r.high
        )
    };
    vec![
        (
            "mass".to_owned(),
            crate::outcome::said::mass(out.mass_kg.typical, units),
        ),
        (
            "volume".to_owned(),
            crate::outcome::said::volume(out.volume_m3.typical, units),
        ),
        ("moisture".to_owned(), percent(out.moisture.typical)),
        ("C:N".to_owned(), format!("{:.0}", out.cn.typical)),
        ("N of dry matter".to_owned(), range(out.nitrogen_share())),
        (
            "P₂O₅ of dry matter".to_owned(),
            range(out.phosphate_share()),
        ),
        ("K₂O of dry matter".to_owned(), range(out.potash_share())),
        (
            "nitrogen lost as ammonia".to_owned(),
            crate::outcome::said::mass(out.ammonia_kg.typical, units),
        ),
        (
            "carbon breathed out".to_owned(),
            crate::outcome::said::mass(out.carbon_lost_kg.typical, units),
        ),
        (
            "heat made".to_owned(),
            format!("{:.0} MJ", out.heat_made_j.typical / 1.0e6),
        ),
    ]
}

/// The same beside published ranges.
fn beside_published(out: &Produce, facts: &Facts) -> Vec<(String, String)> {
    let mut numbers = Vec::new();
    for it in &facts.usage.published {
        let Some(value) = out.value_of(&it.of) else {
            continue;
        };
        let (low, high) = it.between;
        let place = if value < low {
            "below"
        } else if value > high {
            "above"
        } else {
            "inside"
        };
        let shown = if it.of == "cn" {
            format!("{low:.0} to {high:.0}")
        } else {
            format!("{} to {}", percent(low), percent(high))
        };
        numbers.push((
            format!("published {}, {}", it.of.replace('_', " "), it.compost),
            format!("{shown}: {place} ({})", it.source),
        ));
    }
    numbers
}
