//! What was learnt of a diary, as the Diary view says it: how much, of what, and where to measure next.
//!
//! In: what was learnt. Out: short sentences.
//!
//! Not here: the learning (`forecast::learn`), dates and places (`diary`).
//!
//! Tested by: `tests/window/diary_learnt.rs`.

use crate::forecast::Unknown;
use crate::forecast::learn::{Gained, Learnt, NextReading, NotLearnt};
use crate::quantity::UnitSystem;

use super::diary::{date, place};
use super::{list, number, sentence};

/// While learning is under way.
pub const LEARNING: &str = "Learning from the readings…";
/// The switch: what the recipe says.
pub const AS_PLANNED: &str = "as planned";
/// What the switch does.
pub const AS_PLANNED_TIP: &str =
    "Projects the heap as the recipe says, whatever was measured; likelihoods and plans go by it.";
/// The switch: what the readings say.
pub const AS_LEARNT: &str = "as learnt";
/// What the switch does.
pub const AS_LEARNT_TIP: &str =
    "Projects the heap as the readings say; likelihoods and plans go by it.";
/// Most inputs that are spoken of.
const MOST_SPOKEN: usize = 3;

/// How much was learnt: "From 19 values: the band from here on is 7 °C wide instead of 22 °C."
pub fn gained(values: usize, gained: &Gained, units: UnitSystem) -> String {
    let width = |kelvin: f64| number::temperature_difference(kelvin, units);
    let values = number::count(values, "value", "values");
    format!(
        "Learnt from {values}: from here on the band of the centre is {} wide, and was {} before them.",
        width(gained.width_after_k),
        width(gained.width_before_k)
    )
}

/// What the readings say of the inputs: "They say: drier than assumed and packed looser than assumed."
pub fn spoken(learnt: &Learnt) -> String {
    let told = learnt.spoken_of();
    let words: Vec<&str> = told
        .iter()
        .take(MOST_SPOKEN)
        .map(|it| shift(it.unknown, it.shift))
        .collect();
    if words.is_empty() {
        return "They fit what the recipe says; no single input stands out.".to_owned();
    }
    format!("They speak for a heap that {}.", list(&words))
}

/// An input that readings move, as a heap with it is.
fn shift(unknown: Unknown, by: f64) -> &'static str {
    let more = by >= 0.0;
    let either = |if_more, if_less| if more { if_more } else { if_less };
    match unknown {
        Unknown::ParticleSize => either("has coarser pieces", "has finer pieces"),
        Unknown::Packing => either("is packed tighter", "is packed looser"),
        Unknown::Moisture => either("was built wetter", "was built drier"),
        Unknown::FastShare => either("holds more easy food", "holds less easy food"),
        Unknown::FastRate => either("rots faster at first", "rots more slowly at first"),
        Unknown::Crowding => either("has less room for microbes", "has more room for microbes"),
        Unknown::Air => either("stands in warmer air", "stands in colder air"),
        Unknown::FirstMicrobes => either("started sooner", "started later"),
        Unknown::MediumRate => either(
            "rots its tough parts faster",
            "rots its tough parts more slowly",
        ),
        Unknown::Wind => either(
            "loses heat faster (wind, or looser than thought)",
            "loses heat more slowly (sheltered, or denser than thought)",
        ),
        Unknown::Slump => either("sinks more", "sinks less"),
        Unknown::CarbonToNitrogen => either("has less nitrogen", "has more nitrogen"),
        Unknown::AmmoniaFreeShare => either("lets more ammonia go", "lets less ammonia go"),
        Unknown::MicrobeCn => either("needs less nitrogen", "needs more nitrogen"),
        Unknown::DieOff => either(
            "loses more microbes to heat",
            "loses fewer microbes to heat",
        ),
        Unknown::Season => either("gets more rain and damp", "gets less rain and damp"),
    }
}

/// Readings that no member is like; nothing where there are none.
pub fn outside(count: usize) -> Option<String> {
    (count > 0).then(|| {
        let which = number::count(count, "value lies", "values lie");
        format!("{which} beyond every heap that was tried, and is not followed all the way: look at the thermometer, or at what is different in this heap.")
    })
}

/// Values that were kept out; nothing where there are none.
pub fn kept_out(count: usize) -> Option<String> {
    (count > 0).then(|| {
        let which = number::count(count, "value was", "values were");
        format!("{which} kept out: before the heap stood, after the last day, or taken twice.")
    })
}

/// The reading that would teach most, with its date where that is known.
pub fn next(next: &NextReading, on: Option<jiff::civil::DateTime>, units: UnitSystem) -> String {
    let day = format!("day {}", number::whole(next.day.floor()));
    let when = on.map_or(day.clone(), |on| format!("{}, {day}", date(on)));
    let expected = number::temperature_span(next.expected_c.low, next.expected_c.high, units);
    sentence(&format!(
        "most would be learnt on {when}, {}: {expected} is expected there.",
        place(next.spot)
    ))
}

/// Why nothing was learnt.
pub fn why_not(why: &NotLearnt) -> Option<&'static str> {
    match why {
        NotLearnt::NoValues(_) => Some("No reading can be learnt from yet."),
        NotLearnt::NothingToRot => {
            Some("There is nothing to learn of: put something into the mix that rots.")
        }
        NotLearnt::NotBuilt | NotLearnt::CalledOff => None,
    }
}
