//! A mix in words: gauges with their values and verdicts, what drives them, amounts, steps.
//!
//! In: gauges, bands, ingredients. Out: words and short lines.
//!
//! Not here: a whole balance (`balance`), advice (`advice`).
//!
//! Tested by: `tests/science/words.rs`, `tests/window/gauge.rs`, `tests/document/export.rs`.

use crate::material::{Catalogue, Material};
use crate::mix::balance::{BalanceStep, StepSubject};
use crate::mix::{Fit, Gauge, Ingredient, Mix, PartShare, TargetBand};
use crate::quantity::{Amount, LITRE_PER_CUBIC_METRE, Range, UnitSystem};

use super::{amount, list, material, number, spoken};

/// Most ingredients named as driving a gauge.
const DRIVERS: usize = 2;
/// Share below which an ingredient is not named as driving a gauge: it would be said as 0 %.
const LEAST_SHARE: f64 = 0.005;

/// What a gauge is called inside a sentence.
pub fn gauge_name(gauge: Gauge) -> &'static str {
    match gauge {
        Gauge::Moisture => "moisture",
        Gauge::CarbonNitrogen => "C:N",
        Gauge::AirSpace => "free air space",
        Gauge::Volume => "volume",
        Gauge::Density => "bulk density",
    }
}

/// What a gauge is called at the beginning of a line.
pub fn gauge_title(gauge: Gauge) -> &'static str {
    match gauge {
        Gauge::Moisture => "Moisture",
        Gauge::CarbonNitrogen => "C:N",
        Gauge::AirSpace => "Free air space",
        Gauge::Volume => "Volume",
        Gauge::Density => "Bulk density",
    }
}

/// A gauge's value with its unit, from SI: "58 %", "30.7", "450 kg/m³".
pub fn gauge_value(gauge: Gauge, value: f64, units: UnitSystem) -> String {
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => number::percent(value),
        Gauge::CarbonNitrogen if value.is_infinite() => "no nitrogen".to_owned(),
        Gauge::CarbonNitrogen => number::ratio(value),
        Gauge::Volume => number::volume(value, units),
        Gauge::Density => number::density(value, units),
    }
}

/// Two values of a gauge with their unit: "52 % to 63 %", "18.2 to 31.0".
pub fn gauge_span(gauge: Gauge, ends: (f64, f64), units: UnitSystem) -> String {
    let [low, high] = [ends.0, ends.1].map(|value| gauge_value(gauge, value, units));
    number::span(&low, &high)
}

/// A limit of a gauge as it stands below its scale: "25", "50", "593"; a large volume with its unit.
pub fn gauge_tick(gauge: Gauge, value: f64, units: UnitSystem) -> String {
    match gauge {
        Gauge::Volume => number::volume_tick(value, units),
        _ => number::rounded(gauge_number(gauge, value, units)),
    }
}

/// A gauge's value as the bare number of [`gauge_value`], for screen readers; a volume in L or gallons.
pub fn gauge_number(gauge: Gauge, value: f64, units: UnitSystem) -> f64 {
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => 100.0 * value,
        Gauge::CarbonNitrogen => value,
        Gauge::Volume => units.volume(value),
        Gauge::Density => units.density(value),
    }
}

/// A gauge in one sentence, as it is spoken: "Moisture 58 %, moist, likely 52 % to 63 %, pinned 55 %".
pub fn spoken(said: &GaugeSaid<'_>) -> String {
    let value = gauge_value(said.gauge, said.range.typical, said.units);
    let mut pieces = vec![
        format!("{} {value}", gauge_title(said.gauge)),
        said.word.to_owned(),
    ];
    pieces.extend(said.likely());
    pieces.extend(said.compared());
    pieces.join(", ")
}

/// What the tooltip of a gauge says: value, range, band and its source, what drives it.
pub fn explained(said: &GaugeSaid<'_>, band: Option<TargetBand>, driven_by: &str) -> String {
    let value = gauge_value(said.gauge, said.range.typical, said.units);
    let mut lines = vec![format!(
        "{} {value}: {}",
        gauge_title(said.gauge),
        said.word
    )];
    if let Some(likely) = said.likely() {
        lines.push(format!("{likely} (the faint bar across)"));
    }
    if let Some(band) = band {
        lines.push(format!(
            "works from {}, best from {}",
            band_span(said.gauge, band.works, said.units),
            band_span(said.gauge, band.best, said.units)
        ));
        lines.push(format!("source: {}", band_source(said.gauge)));
    }
    if !driven_by.is_empty() {
        lines.push(driven_by.to_owned());
    }
    lines.join("\n")
}

/// The ends of a band, "20 to 40", "40 to 65 %".
fn band_span(gauge: Gauge, (low, high): (f64, f64), units: UnitSystem) -> String {
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => number::percent_span(low, high),
        Gauge::CarbonNitrogen => number::span(&number::rounded(low), &number::rounded(high)),
        Gauge::Volume | Gauge::Density => gauge_span(gauge, (low, high), units),
    }
}

/// A gauge as it is spoken or explained.
#[derive(Debug, Clone, Copy)]
pub struct GaugeSaid<'a> {
    /// Which.
    pub gauge: Gauge,
    /// Likely range and value, SI.
    pub range: Range,
    /// The word for the side it lies on.
    pub word: &'a str,
    /// Another value to compare against, SI, and what it is called.
    pub compared: Option<(&'a str, f64)>,
    /// Units shown.
    pub units: UnitSystem,
}

impl GaugeSaid<'_> {
    /// "likely 52 % to 63 %", if the range is wide enough to be seen.
    fn likely(&self) -> Option<String> {
        let span = likely(self.gauge, self.range, self.units);
        let finite = self.range.low.is_finite() && self.range.high.is_finite();
        (finite && !span.is_empty()).then(|| format!("likely {span}"))
    }

    /// "pinned 55 %".
    fn compared(&self) -> Option<String> {
        let (name, value) = self.compared?;
        Some(format!(
            "{name} {}",
            gauge_value(self.gauge, value, self.units)
        ))
    }
}

/// Where a gauge lies against its band: "too dry", "moist".
pub fn verdict(gauge: Gauge, fit: Fit) -> &'static str {
    let words = match gauge {
        Gauge::CarbonNitrogen => [
            "too green",
            "on the green side",
            "balanced",
            "on the brown side",
            "too brown",
        ],
        Gauge::Moisture => [
            "too dry",
            "on the dry side",
            "moist",
            "on the wet side",
            "too wet",
        ],
        Gauge::AirSpace => [
            "airless",
            "short of air",
            "well aired",
            "airy",
            "very loose",
        ],
        Gauge::Density => ["fluffy", "light", "about right", "heavy", "too heavy"],
        Gauge::Volume => ["too little", "not full", "full", "over-full", "too much"],
    };
    match fit {
        Fit::TooLow => words[0],
        Fit::Low => words[1],
        Fit::Good => words[2],
        Fit::High => words[3],
        Fit::TooHigh => words[4],
    }
}

/// A gauge with its verdict, for a class: "C:N 30.7: balanced".
pub fn gauge_and_verdict(gauge: Gauge, value: f64, band: TargetBand, units: UnitSystem) -> String {
    format!(
        "{} {}: {}",
        gauge_title(gauge),
        gauge_value(gauge, value, units),
        verdict(gauge, band.judge(value))
    )
}

/// Said of the volume in place of a verdict where the heap has no fixed size.
pub const NO_FIXED_SIZE: &str = "no fixed size";

/// Where the limits of a gauge's band come from.
pub fn band_source(gauge: Gauge) -> &'static str {
    match gauge {
        Gauge::CarbonNitrogen => "Cooperband 2002: works 20-40, best 25-35",
        Gauge::Moisture => "The Composting Handbook 2022: works 40-65 %, best 50-60 %",
        Gauge::AirSpace => {
            "Technical Note 24 on compost bulk density: above 20 %, best 35-60 %, read once settled. Best reaches on to 70 % here by this program's own runs, in which balanced mixes of so much air heat well; straw, leaves and hay alone measure 38-99 % (Ahn and others 2008, abstract). Upper end of what works: common practice"
        }
        Gauge::Density => {
            "Cooperband 2002: up to 593 kg/m3 (1000 lb/yd3); the lower ends are this program's own: in its runs balanced mixes from 170 kg/m3 up heat well"
        }
        Gauge::Volume => "the room of the chosen heap",
    }
}

/// The likely range of a gauge; empty where rounding leaves nothing of it.
pub fn likely(gauge: Gauge, range: Range, units: UnitSystem) -> String {
    let [low, high] = [range.low, range.high].map(|value| gauge_value(gauge, value, units));
    if range.is_sound() && low != high {
        number::span(&low, &high)
    } else {
        String::new()
    }
}

/// Something that ingredients bring into a mix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugeDriver {
    /// Carbon.
    Carbon,
    /// Nitrogen.
    Nitrogen,
    /// Water.
    Water,
    /// Volume.
    Volume,
    /// Dry matter.
    DryMatter,
}

impl GaugeDriver {
    /// An ingredient's share of it.
    pub fn share(self, part: &PartShare) -> f64 {
        match self {
            Self::Carbon => part.carbon,
            Self::Nitrogen => part.nitrogen,
            Self::Water => part.water,
            Self::Volume => part.volume,
            Self::DryMatter => part.dry_mass,
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Carbon => "carbon",
            Self::Nitrogen => "nitrogen",
            Self::Water => "water",
            Self::Volume => "volume",
            Self::DryMatter => "dry matter",
        }
    }
}

/// Ingredients with so large a share of something, the largest first: "Grass 62 %".
pub fn largest_shares(mut shares: Vec<(f64, &str)>, least: f64, most: usize) -> Vec<String> {
    shares.sort_by(|a, b| b.0.total_cmp(&a.0));
    let named = shares
        .iter()
        .filter(|(share, _)| *share >= least)
        .take(most);
    named
        .map(|(share, name)| format!("{name} {}", number::percent(*share)))
        .collect()
}

/// "nitrogen mostly from Grass 62 %, Leaves 30 %", or that no ingredient brings any.
pub fn mostly_from(what: GaugeDriver, shares: Vec<(f64, &str)>) -> String {
    let named = largest_shares(shares, LEAST_SHARE, DRIVERS);
    let what = what.name();
    if named.is_empty() {
        format!("no {what} from any ingredient")
    } else {
        format!("{what} mostly from {}", named.join(", "))
    }
}

/// The share of the water that was poured on: "added water 12 %".
pub fn added_water(share: f64) -> String {
    format!("added water {}", number::percent(share))
}

/// The share of the water that was poured on, beside its row: "water 12 %".
pub fn share_of_water(share: f64) -> String {
    format!("water {}", number::percent(share))
}

/// An ingredient's share of carbon, nitrogen and water: "C 62 %  N 31 %  water 20 %".
pub fn part_share(share: &PartShare) -> String {
    format!(
        "C {}  N {}  water {}",
        number::percent(share.carbon),
        number::percent(share.nitrogen),
        number::percent(share.water)
    )
}

/// Name of an ingredient, with its state in brackets where that differs from the catalogue's.
pub fn ingredient_name(row: &Ingredient, catalogue: &Catalogue) -> String {
    let Some(found) = catalogue.find(&row.material) else {
        return row.material.clone();
    };
    match material::condition(row.condition, found).as_str() {
        "" => found.name.clone(),
        state => format!("{} ({state})", found.name),
    }
}

/// Name of a material by its id; the id where it is unknown.
pub fn name_of<'a>(id: &'a str, catalogue: &'a Catalogue) -> &'a str {
    catalogue
        .find(id)
        .map_or(id, |found: &Material| &found.name)
}

/// Everything a mix brings: "2 buckets of Grass and 3 L of water", or "nothing".
pub fn contents(mix: &Mix, catalogue: &Catalogue, units: UnitSystem) -> String {
    let rows = mix.ingredients.iter();
    let mut pieces: Vec<String> = rows
        .map(|row| amount::amount_of(&row.amount, name_of(&row.material, catalogue)))
        .collect();
    if mix.added_water_l > 0.0 {
        pieces.push(amount::water(mix.added_water_l, units));
    }
    if pieces.is_empty() {
        return "nothing".to_owned();
    }
    list(&pieces)
}

/// Water poured on while mixing: "20 L".
pub fn poured(litres: f64, units: UnitSystem) -> String {
    number::small_volume(litres / LITRE_PER_CUBIC_METRE, units)
}

/// The row of the poured water in a list of ingredients.
pub const POURED_WATER: &str = "water, poured on";

/// What a step of a balance moves, inside a sentence: "straw", "water".
pub fn step_name(step: &BalanceStep) -> &str {
    match &step.of {
        StepSubject::Water => "water",
        StepSubject::Material(material) => spoken::alone(material),
    }
}

/// A step of a balance as its difference: "+ 2 buckets of straw".
pub fn step_by(step: &BalanceStep) -> String {
    let by = step.to.value - step.from.value;
    let sign = if by < 0.0 { "\u{2212}" } else { "+" };
    let by = Amount::new(by.abs(), step.to.measure.clone());
    let said = amount::carried_of(&by, step_name(step));
    // Short, for a button: the sentence beside it says what it brings.
    format!("{sign} {}", said.trim_start_matches("about "))
}

/// A step of a balance as what there is then: "2 buckets of straw", "no straw".
pub fn step_to(step: &BalanceStep) -> String {
    if step.to.value > 0.0 {
        amount::carried_of(&step.to, step_name(step))
    } else {
        format!("no {}", step_name(step))
    }
}

/// What there is before a step: "now 3 buckets", "none now".
pub fn step_from(step: &BalanceStep) -> String {
    if step.from.value > 0.0 {
        format!("now {}", amount::carried(&step.from))
    } else {
        "none now".to_owned()
    }
}

/// A step that mends one gauge, as a button is named: "moisture: + 10 L of water".
pub fn fix_name(gauge: Gauge, step: &BalanceStep) -> String {
    format!("{}: {}", gauge_name(gauge), step_by(step))
}

/// What a step brings a gauge to: "+ 10 L of water: moisture is then 55 %."
pub fn fix_hint(gauge: Gauge, step: &BalanceStep, then: f64, units: UnitSystem) -> String {
    format!(
        "{}: {} is then {}.",
        step_by(step),
        gauge_name(gauge),
        gauge_value(gauge, then, units)
    )
}
