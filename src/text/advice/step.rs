//! A step of advice in words: what is done, what it brings, what it makes worse.
//!
//! In: a [`Step`], units. Out: a piece of a sentence.
//!
//! Not here: other advice (`say`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::mix::Fit;
use crate::outcome::advice::{GaugeMove, Step, StepOf, Way};
use crate::quantity::{Amount, Extent, LITRE_PER_CUBIC_METRE, Measure, UnitSystem};
use crate::text::mix::{gauge_name, gauge_value, verdict};
use crate::text::spoken::beside_others;
use crate::text::{amount, list, number};

/// Small counts in words.
const NUMBERS: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// A count in words while it is small: "two", "two and a half", "15".
pub(super) fn count(count: f64) -> String {
    let whole = count.floor();
    let rest = count - whole;
    match NUMBERS.get(whole as usize) {
        Some(word) if rest == 0.0 => (*word).to_owned(),
        Some(word) if rest == 0.5 && whole > 0.0 => format!("{word} and a half"),
        _ => number::rounded(count),
    }
}

/// The subject of a sentence, and the verb that goes with it.
struct Doing {
    what: String,
    brings: &'static str,
}

impl Doing {
    fn one(what: String) -> Self {
        let brings = "brings";
        Self { what, brings }
    }

    /// The same, roughly.
    fn about(self) -> Self {
        let what = format!("about {}", self.what);
        Self { what, ..self }
    }

    fn several(what: String) -> Self {
        let brings = "bring";
        Self { what, brings }
    }
}

/// A step as a sentence without its capital: "two buckets of dry leaves bring moisture to 58 %."
pub(super) fn step(step: &Step, units: UnitSystem) -> String {
    let doing = doing(&step.of, units);
    let (better, worse) = (better(&step.better, units), worse(&step.worse, units));
    let brings = format!("{} {} {}", doing.what, doing.brings, list(&better));
    if worse.is_empty() {
        format!("{brings}.")
    } else {
        format!("{brings}, but {}.", list(&worse))
    }
}

fn doing(of: &StepOf, units: UnitSystem) -> Doing {
    match of {
        StepOf::NoWater => Doing::one("adding no water".to_owned()),
        StepOf::Water { litres } if *litres < 0.0 => {
            Doing::one(format!("{} less water", poured(-litres, units)))
        }
        StepOf::Water { litres } => Doing::one(format!("{} of water", poured(*litres, units))),
        StepOf::LeaveOut(named) => Doing::one(format!("leaving out the {}", beside_others(named))),
        StepOf::Ingredient { named, amount, way } => {
            quantity(amount, *way, beside_others(named), units)
        }
        StepOf::Fetch { called, amount } => quantity(amount, Way::Fresh, called, units),
    }
}

/// "20 L", "5.28 gal".
fn poured(litres: f64, units: UnitSystem) -> String {
    number::small_volume(litres / LITRE_PER_CUBIC_METRE, units)
}

/// A number with its unit, where an amount is measured out and not counted.
fn measured_out(of: &Amount, units: UnitSystem) -> Option<String> {
    let plain = matches!(
        of.measure,
        Measure::Litre | Measure::Kilogram | Measure::Gram | Measure::Pound
    );
    let in_grams = of.measure == Measure::Gram && units == UnitSystem::Metric;
    if in_grams {
        return Some(format!("{} g", number::rounded(of.value)));
    }
    if let Measure::Own { name, .. } = &of.measure {
        // No rule makes several of any name.
        return Some(format!("{} × {name}", number::rounded(of.value)));
    }
    plain.then(|| match of.extent() {
        Extent::VolumeM3(m3) => number::small_volume(m3, units),
        Extent::MassKg(kg) => number::mass(kg, units),
    })
}

/// "two more buckets of straw", "half a barrow less straw", "40 L more straw".
fn quantity(much: &Amount, way: Way, of: &str, units: UnitSystem) -> Doing {
    if let Some(said) = measured_out(much, units) {
        return Doing::one(match way {
            Way::More => format!("{said} more {of}"),
            Way::Less => format!("{said} less {of}"),
            Way::Fresh => format!("{said} of {of}"),
        });
    }
    if let Some(barrows) = amount::in_barrows(much) {
        return quantity(&barrows, way, of, units).about();
    }
    let (one, several) = amount::counted(&much.measure);
    if much.value == 0.5 || much.value == 0.75 {
        let half = match much.value {
            0.5 => format!("half a {one}"),
            _ => format!("three quarters of a {one}"),
        };
        return Doing::one(match way {
            Way::More => format!("{half} more {of}"),
            Way::Less => format!("{half} less {of}"),
            Way::Fresh => format!("{half} of {of}"),
        });
    }
    let many = count(much.value);
    if much.value == 1.0 {
        return Doing::one(match way {
            Way::More => format!("one more {one} of {of}"),
            Way::Less => format!("one {one} fewer of {of}"),
            Way::Fresh => format!("one {one} of {of}"),
        });
    }
    Doing::several(match way {
        Way::More => format!("{many} more {several} of {of}"),
        Way::Less => format!("{many} fewer {several} of {of}"),
        Way::Fresh => format!("{many} {several} of {of}"),
    })
}

/// Whether a gauge reads the same before and after.
fn is_hidden(moved: &GaugeMove, units: UnitSystem) -> bool {
    gauge_value(moved.gauge, moved.from, units) == gauge_value(moved.gauge, moved.to, units)
}

/// What gets better, the greatest gain first: "moisture to 58 %".
fn better(moves: &[GaugeMove], units: UnitSystem) -> Vec<String> {
    let mut seen: Vec<&GaugeMove> = moves.iter().filter(|it| !is_hidden(it, units)).collect();
    // A sentence needs something to say, however little it is.
    if seen.is_empty() {
        seen.extend(moves.first());
    }
    let named = seen.iter().filter(|it| it.worth_naming).count().max(1);
    let first = seen.into_iter().take(named);
    first.map(|it| gets_better(it, units)).collect()
}

fn gets_better(moved: &GaugeMove, units: UnitSystem) -> String {
    let value = |value| gauge_value(moved.gauge, value, units);
    let (name, is) = (gauge_name(moved.gauge), value(moved.to));
    let word = verdict(moved.gauge, moved.to_fit);
    // A value that is shown as the very edge of its band needs no word against it.
    if moved.to_fit == Fit::Good || is == value(moved.edge) {
        format!("{name} to {is}")
    } else if side(moved.from_fit) == side(moved.to_fit) {
        format!("{name} to {is} (still {word})")
    } else {
        format!("{name} to {is} ({word})")
    }
}

/// Below its best part, in it, above it.
fn side(fit: Fit) -> i8 {
    match fit {
        Fit::TooLow | Fit::Low => -1,
        Fit::Good => 0,
        Fit::High | Fit::TooHigh => 1,
    }
}

/// What gets worse: "free air space falls to 18 % (airless)".
fn worse(moves: &[GaugeMove], units: UnitSystem) -> Vec<String> {
    let seen = moves.iter().filter(|it| !is_hidden(it, units));
    seen.map(|moved| {
        let (name, is) = (
            gauge_name(moved.gauge),
            gauge_value(moved.gauge, moved.to, units),
        );
        let word = verdict(moved.gauge, moved.to_fit);
        if moved.to > moved.from {
            format!("{name} rises to {is} ({word})")
        } else {
            format!("{name} falls to {is} ({word})")
        }
    })
    .collect()
}
