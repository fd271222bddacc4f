//! How advice is said: counts of measures in words, names of materials, what a change brings.
//!
//! In: proposals and standings. Out: pieces of sentences.
//!
//! Not here: what is worth saying (`advice`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::material::Material;
use crate::mix::Gauge;
use crate::quantity::{Amount, Measure, UnitSystem};

use super::draft::Draft;
use super::propose::{Moved, Proposal};
use super::standing::{Reading, Standing};

const NUMBERS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// A count in words while it is small: "two", "two and a half", "15".
pub(super) fn count_text(count: f64) -> String {
    let whole = count.floor();
    let rest = count - whole;
    match NUMBERS.get(whole as usize) {
        Some(word) if rest == 0.0 => (*word).to_owned(),
        Some(word) if rest == 0.5 && whole > 0.0 => format!("{word} and a half"),
        _ => crate::outcome::said::rounded(count),
    }
}

/// Which way a quantity goes.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    /// To what is there.
    More,
    /// From what is there.
    Less,
    /// There is none yet.
    Fresh,
}

/// "two more buckets of", "half a barrow less of", "40 L more of", and whether it takes "bring".
fn quantity_text(step: &Amount, way: Way) -> (String, bool) {
    let count = step.value.abs();
    let unit = match step.measure {
        Measure::Litre => Some("L"),
        Measure::Kilogram => Some("kg"),
        Measure::Gram => Some("g"),
        Measure::Pound => Some("lb"),
        _ => None,
    };
    let more = match way {
        Way::More => " more",
        Way::Less => " less",
        Way::Fresh => "",
    };
    if let Some(unit) = unit {
        return (
            format!("{} {unit}{more} of", crate::outcome::said::rounded(count)),
            false,
        );
    }
    let (one, many) = match &step.measure {
        Measure::Pail => ("five-gallon pail", "five-gallon pails"),
        other => super::said::measure(other),
    };
    if count == 0.5 {
        let article = if one.starts_with(['a', 'e', 'i', 'o', 'u']) {
            "an"
        } else {
            "a"
        };
        return (format!("half {article} {one}{more} of"), false);
    }
    let count_word = count_text(count);
    let more = if way == Way::Less { " fewer" } else { more };
    if count == 1.0 {
        (format!("one{more} {one} of"), false)
    } else {
        (format!("{count_word}{more} {many} of"), true)
    }
}

/// A material's name inside a sentence: the part before the first comma, the rest only where
/// another row begins alike.
pub(super) fn name_text(material: &Material, rows: &Draft<'_>) -> String {
    let own = material.moisture.sources.iter().any(|code| code == "OWN");
    let lowered = |name: &str| {
        let mut letters = name.chars();
        match (letters.next(), letters.clone().next()) {
            (Some(first), Some(next)) if !own && next.is_lowercase() => {
                first.to_lowercase().chain(letters).collect()
            }
            _ => name.to_owned(),
        }
    };
    let Some((short, rest)) = material.name.split_once(", ") else {
        return lowered(&material.name);
    };
    let also =
        |other: &Material| other.id != material.id && other.name.split(", ").next() == Some(short);
    if rows.rows.iter().any(|row| also(row.material)) {
        format!("{} ({rest})", lowered(short))
    } else {
        lowered(short)
    }
}

/// An amount of water: "20 L of water" or "5 gal of water".
fn water_text(litres: f64, units: UnitSystem) -> String {
    let shown = units.volume(litres / 1000.0);
    format!(
        "{} {} of water",
        crate::outcome::said::rounded(shown),
        units.volume_unit()
    )
}

/// What is done, and whether the verb is "bring" (else "brings").
fn doing_text(proposal: &Proposal<'_>, before: &Draft<'_>) -> (String, bool) {
    let step = &proposal.step;
    match proposal.moved {
        Moved::Water if proposal.all_of_it => ("adding no water".to_owned(), false),
        Moved::Water if step.value < 0.0 => {
            let text = water_text(-step.value, before.units);
            (text.replace(" of water", " less water"), false)
        }
        Moved::Water => (water_text(step.value, before.units), false),
        Moved::Row(_, material) if proposal.all_of_it => {
            let name = name_text(material, before);
            (format!("leaving out the {name}"), false)
        }
        Moved::Row(place, material) => {
            let way = if step.value < 0.0 {
                Way::Less
            } else if before.rows[place].amount.value > 0.0 {
                Way::More
            } else {
                Way::Fresh
            };
            let (quantity, many) = quantity_text(step, way);
            (format!("{quantity} {}", name_text(material, before)), many)
        }
        Moved::Kind(material, _) => {
            let (quantity, many) = quantity_text(step, Way::Fresh);
            (format!("{quantity} {}", kind_text(material)), many)
        }
    }
}

/// A kind of material to look for, in general words.
fn kind_text(material: &Material) -> String {
    match material.id.as_str() {
        "leaves_dry_loose" => "dry leaves",
        "straw" => "dry straw",
        "cardboard" => "torn cardboard",
        "wood_chips_arb" => "wood chips",
        "grass_fresh" => "fresh grass clippings",
        "veg_scraps" => "raw vegetable scraps",
        "hay_legume" => "clover-rich hay",
        "poultry_pellets" => "poultry manure pellets",
        _ => return material.name.clone(),
    }
    .to_owned()
}

/// A gauge's value as shown: "58 %", "29", "450 kg/m³".
pub(super) fn value_text(gauge: Gauge, value: f64, units: UnitSystem) -> String {
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => format!("{:.0} %", 100.0 * value),
        Gauge::CarbonNitrogen if value.is_infinite() => "endless (no nitrogen)".to_owned(),
        Gauge::CarbonNitrogen if value < 10.0 => format!("{value:.1}"),
        Gauge::CarbonNitrogen => format!("{value:.0}"),
        Gauge::Volume => crate::outcome::said::volume(value, units),
        Gauge::Density => {
            format!("{:.0} {}", units.density(value), units.density_unit())
        }
    }
}

/// Joined as in speech: "a", "a and b", "a, b and c".
fn joined(pieces: &[String]) -> String {
    match pieces {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// The sentence for a proposal: what to do, what that brings, and what it makes worse. `None` where
/// rounding hides all it brings.
pub(super) fn proposal_text(proposal: &Proposal<'_>, before: &Draft<'_>) -> Option<String> {
    let (doing, many) = doing_text(proposal, before);
    let (from, to) = (before.standing()?, proposal.after.standing()?);
    let (better, worse) = effects(&from, &to, before.units);
    if better.is_empty() {
        return None;
    }
    let brings = if many { "bring" } else { "brings" };
    let mut text = format!("{doing} {brings} {}", joined(&better));
    if !worse.is_empty() {
        text.push_str(&format!(", but {}", joined(&worse)));
    }
    text.push('.');
    Some(text)
}

/// Least part of the gain that makes a gauge worth naming.
const WORTH_NAMING: f64 = 0.05;

/// What gets better ("moisture to 58 %"), the greatest gain first, and what gets worse outside its
/// band ("free air space falls to 18 % (airless)").
fn effects(from: &Standing, to: &Standing, units: UnitSystem) -> (Vec<String>, Vec<String>) {
    let mut better: Vec<(f64, String)> = Vec::new();
    let mut worse = Vec::new();
    for after in to.readings() {
        let Some(before) = from.reading(after.gauge) else {
            continue;
        };
        let is = value_text(after.gauge, after.value, units);
        if value_text(after.gauge, before.value, units) == is {
            continue;
        }
        let name = super::said::gauge_name(after.gauge);
        if got_worse(before, after) {
            let goes = if after.value > before.value {
                "rises"
            } else {
                "falls"
            };
            worse.push(format!("{name} {goes} to {is} ({})", after.judged.word));
        } else if before.off > after.off {
            // A value that is shown as the very edge of its band needs no word against it.
            let at_edge = is == value_text(after.gauge, after.edge, units);
            let still = if after.is_good() || at_edge {
                String::new()
            } else {
                still_text(before, after)
            };
            let gain = before.weighed() - after.weighed();
            better.push((gain, format!("{name} to {is}{still}")));
        }
    }
    better.sort_by(|a, b| b.0.total_cmp(&a.0));
    let named = better.iter().filter(|(gain, _)| *gain >= WORTH_NAMING);
    let named = named.count().max(1);
    let better = better.into_iter().take(named).map(|(_, text)| text);
    (better.collect(), worse)
}

/// Whether a gauge got worse outside its band in a way to mention: it left its band on a side that
/// matters, or it now fails and did not before or went further off, or what it costs grew.
fn got_worse(before: &Reading, after: &Reading) -> bool {
    let further = after.off > before.off;
    let left = before.is_good() && further && after.weight() > 0.0;
    let fails =
        after.fails() && (further || before.judged.fit != after.judged.fit && !before.fails());
    let crossed = after.fails() && before.fails() && before.judged.fit != after.judged.fit;
    left || fails || crossed || after.weighed() - before.weighed() >= WORTH_NAMING
}

fn still_text(before: &Reading, after: &Reading) -> String {
    let same_side = (before.judged.fit as u8).cmp(&2) == (after.judged.fit as u8).cmp(&2);
    let still = if same_side { "still " } else { "" };
    format!(" ({still}{})", after.judged.word)
}

/// Begins a sentence: capital letter.
pub(super) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
