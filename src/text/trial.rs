//! Trials in words: claim, effects, verdicts, evidence.
//!
//! In: a trial, effects of pairs, published evidence. Out: lines.
//!
//! Not here: the statistics (`forecast`), a whole trial on paper (`export::trial_text`).
//!
//! Tested by: `tests/science/trials.rs`.

use crate::assess::trial::{HowKnown, Published, Trial};
use crate::forecast::{Comparison, Effect, Measured, Verdict};
use crate::quantity::UnitSystem;

use super::{number, sentence};

/// The temperatures of the two times that are counted, degC.
const COUNTED_FROM_C: [f64; 2] = [40.0, 55.0];

/// What an effect is on.
pub fn effect_name(measured: Measured, units: UnitSystem) -> String {
    let [forty, fifty_five] = COUNTED_FROM_C.map(|at_c| number::temperature(at_c, units));
    match measured {
        Measured::Peak => "peak".to_owned(),
        Measured::DaysAbove40 => format!("time above {forty}"),
        Measured::DaysAbove55 => format!("time above {fifty_five}"),
        Measured::Finish => "day it is finished".to_owned(),
        Measured::NitrogenLost => "nitrogen lost".to_owned(),
        Measured::Airless => "decomposition limited by lack of air".to_owned(),
        Measured::DryMatterLost => "dry matter lost".to_owned(),
        Measured::EdgePeak => "peak near the skin".to_owned(),
    }
}

/// More of it in the second heap.
fn more(measured: Measured) -> &'static str {
    match measured {
        Measured::Peak | Measured::EdgePeak => "hotter",
        Measured::DaysAbove40 | Measured::DaysAbove55 => "hot for longer",
        Measured::Finish => "finishes later",
        Measured::NitrogenLost => "more nitrogen lost",
        Measured::Airless => "more airless",
        Measured::DryMatterLost => "more decomposed",
    }
}

/// Less of it in the second heap.
fn less(measured: Measured) -> &'static str {
    match measured {
        Measured::Peak | Measured::EdgePeak => "cooler",
        Measured::DaysAbove40 | Measured::DaysAbove55 => "hot for a shorter time",
        Measured::Finish => "finishes sooner",
        Measured::NitrogenLost => "less nitrogen lost",
        Measured::Airless => "less airless",
        Measured::DryMatterLost => "less decomposed",
    }
}

/// Nothing that a person could tell.
fn nothing(measured: Measured) -> &'static str {
    match measured {
        Measured::Peak | Measured::EdgePeak => "no difference you could feel",
        _ => "no difference you could notice",
    }
}

/// A difference with its sign, in the shown unit: "+0.3", "-2".
pub fn difference(measured: Measured, difference: f64, units: UnitSystem) -> String {
    let value = match measured {
        Measured::Peak | Measured::EdgePeak => units.temperature_difference(difference),
        Measured::NitrogenLost | Measured::Airless | Measured::DryMatterLost => 100.0 * difference,
        Measured::DaysAbove40 | Measured::DaysAbove55 | Measured::Finish => difference,
    };
    let rounded = (10.0 * value).round() / 10.0;
    let sign = if rounded > 0.0 { "+" } else { "" };
    format!("{sign}{}", number::rounded(rounded))
}

/// The unit of a difference.
pub fn difference_unit(measured: Measured, units: UnitSystem) -> &'static str {
    match measured {
        Measured::Peak | Measured::EdgePeak => units.temperature_unit(),
        Measured::DaysAbove40 | Measured::DaysAbove55 | Measured::Finish => "days",
        Measured::NitrogenLost | Measured::Airless | Measured::DryMatterLost => "percentage points",
    }
}

/// What to make of an effect: "clearly hotter".
pub fn verdict(effect: &Effect) -> String {
    let measured = effect.measured;
    let way = |is_more: bool| {
        if is_more {
            more(measured)
        } else {
            less(measured)
        }
    };
    match effect.verdict() {
        Verdict::Nothing => nothing(measured).to_owned(),
        Verdict::MostlyNothing => format!("mostly {}", nothing(measured)),
        Verdict::Clearly { more } => format!("clearly {}", way(more)),
        Verdict::Probably { more } => format!("probably {}", way(more)),
        Verdict::EitherWay => "could go either way".to_owned(),
    }
}

/// The effect that tells most of a trial: the surest; among those the peak, which every claim is about to begin with,
/// else the weightiest. Where none is even probable it is the peak.
pub fn telling(comparison: &Comparison) -> Option<&Effect> {
    let sureness = |effect: &Effect| match effect.verdict() {
        Verdict::Clearly { .. } => 2,
        Verdict::Probably { .. } => 1,
        Verdict::EitherWay | Verdict::MostlyNothing | Verdict::Nothing => 0,
    };
    let most = comparison.effects.iter().max_by(|a, b| {
        let is_peak = |effect: &Effect| effect.measured == Measured::Peak;
        let by_weight = a.weight().total_cmp(&b.weight());
        let by_kind = is_peak(a).cmp(&is_peak(b)).then(by_weight);
        sureness(a).cmp(&sureness(b)).then(by_kind)
    })?;
    if sureness(most) > 0 {
        return Some(most);
    }
    comparison.effect(Measured::Peak).or(Some(most))
}

/// What a class is told first, in a few words: "Clearly cooler near the skin", "Peak: could go either way".
pub fn headline(effect: &Effect, units: UnitSystem) -> String {
    let said = verdict(effect);
    match effect.verdict() {
        Verdict::EitherWay => sentence(&format!("{}: {said}", effect_name(effect.measured, units))),
        _ => sentence(&format!("{said}{}", of_what(effect.measured, units))),
    }
}

/// What the words of a verdict leave open.
fn of_what(measured: Measured, units: UnitSystem) -> String {
    let [forty, fifty_five] = COUNTED_FROM_C.map(|at_c| number::temperature(at_c, units));
    match measured {
        Measured::EdgePeak => " near the skin".to_owned(),
        Measured::DaysAbove40 => format!(" (above {forty})"),
        Measured::DaysAbove55 => format!(" (above {fifty_five})"),
        _ => String::new(),
    }
}

/// "peak +0.3 °C, between -0.1 and +0.8: no difference you could feel".
pub fn effect(effect: &Effect, units: UnitSystem) -> String {
    let measured = effect.measured;
    let number = |value| difference(measured, value, units);
    format!(
        "{} {} {}, between {} and {}: {}",
        effect_name(measured, units),
        number(effect.range.typical),
        difference_unit(measured, units),
        number(effect.range.low),
        number(effect.range.high),
        verdict(effect)
    )
}

/// How far a piece of evidence is to be trusted.
pub fn mark(mark: HowKnown) -> &'static str {
    match mark {
        HowKnown::Read => "read",
        HowKnown::SecondHand => "second-hand",
        HowKnown::Calculated => "calculated",
        HowKnown::Recalled => "from memory, unverified",
    }
}

/// Said of a trial one of whose heaps holds nothing that rots.
pub const NOTHING_ROTS: &str = "Nothing rots in one of the two heaps.";
/// Said of a trial that is told from papers alone.
pub const EVIDENCE_ONLY: &str = "The model cannot test this; evidence only.";

/// What people say.
pub fn claimed(trial: &Trial) -> String {
    format!("Claimed: {}", trial.claim)
}

/// What is right of it; nothing where nobody has written it.
pub fn answered(trial: &Trial) -> Option<String> {
    (!trial.answer.is_empty()).then(|| format!("What is known: {}", trial.answer))
}

/// A belief in a list: title, id and what is claimed.
pub fn listed(trial: &Trial) -> String {
    format!("{} ({}): {}", trial.title, trial.id, trial.claim)
}

/// How a belief is put to the test, for those that can be.
pub fn how_to_run(trial: &Trial) -> String {
    if trial.can_be_run() {
        format!("Test it: heapwright trials FILE --only {}", trial.id)
    } else {
        EVIDENCE_ONLY.to_owned()
    }
}

/// Where a lesson is: "Why it smells, stop 2 of 6".
pub fn stop_of(lesson: &str, at: usize, of: usize) -> String {
    format!("{lesson}, stop {at} of {of}")
}

/// What the class is shown once it has guessed.
pub fn then_shown(reveal: &str) -> String {
    format!("Then shown: {reveal}")
}

/// What is said at the next stop.
pub fn comes_next(say: &str) -> String {
    format!("Next: {say}")
}

/// What the run has found already.
pub fn will_say(headline: &str) -> String {
    format!("The model finds: {headline}.")
}

/// Said to the speaker where there are no notes.
pub const NO_NOTES: &str = "Notes belong to lessons, answers to trials; this is your own heap.";

/// The keys of a lesson or a trial.
pub const CLICKER_KEYS: &str =
    "Page Down, → or Space goes on, Page Up or ← goes back: the keys a clicker sends.";
/// The keys of a heap shown to a class.
pub const FULL_SCREEN_KEYS: &str = "F11 fills the screen, Esc leaves it.";
/// Said under the field in which a belief is looked for.
pub const NOTHING_FITS: &str = "Nothing fits; try one word alone.";

/// Said where no belief holds any of the words looked for.
pub const NO_BELIEF: &str =
    "Nothing was found; try one word, such as lime, rats or winter, or none to see them all.";

/// How hot both typical heaps would get, and how many pairs were run.
pub fn peaks(comparison: &Comparison, units: UnitSystem) -> String {
    let [first, second] = [&comparison.first, &comparison.second]
        .map(|heap| number::temperature(heap.typical().summary.peak_c, units));
    let pairs = number::count(comparison.pairs(), "pair", "pairs");
    format!("Typical peak {first} and {second}; {pairs}, with the same draws:")
}

/// How far a long run of trials is: which of how many is at work, and its pairs so far.
pub fn under_way(trial: &Trial, (place, of): (usize, usize), pairs: usize) -> String {
    let pairs = number::count(pairs, "pair", "pairs");
    format!("{place} of {of}: {}, {pairs} so far", trial.title)
}

/// A published finding.
pub fn found(evidence: &Published) -> String {
    format!("Published: {}", evidence.finding)
}

/// A published finding with its source and how it is known.
pub fn published(evidence: &Published) -> String {
    let (found, source) = (found(evidence), &evidence.source);
    format!("{found} [{source}; {}]", mark(evidence.mark))
}

/// What a trial leaves open.
pub fn cannot_tell(trial: &Trial) -> String {
    format!("The model cannot tell: {}", trial.cannot_tell)
}
