//! What a diary taught, in plain words.
//!
//! In: [`Learnt`] and its parts, units. Out: "loses heat faster than assumed: more wind", "5 readings were kept out".
//!
//! Not here: what was learnt (`forecast::learn`), how lines are arranged (`export`).
//!
//! Tested by: `tests/document/learn.rs`.

use crate::diary::Spot;
use crate::forecast::Unknown;
use crate::forecast::learn::{Gained, KeptOut, Learnt, NextReading, NotLearnt, Shift, What, Why};
use crate::quantity::UnitSystem;

use super::{number, sentence};

/// Power of the likelihoods below which readings are told to count for less.
const COUNTS_FOR_LESS: f64 = 0.99;

/// Over what the readings speak about.
pub const SPEAKS_OF: &str = "What the readings say of the heap";
/// Where they say nothing of one input.
pub const SAYS_NOTHING: &str =
    "Nothing of any one thing: the heap does about what was expected, or they are too few.";
/// Over the readings beside what is expected.
pub const BESIDE: &str = "Readings beside what the learnt heap would show";
/// Beside a reading beyond every member.
pub const OUTSIDE_ALL: &str = "beyond every heap that was tried: not followed all the way";
/// Beside a reading far from the likely members.
pub const FAR: &str = "far from what is expected";
/// What the reader should know of inputs that are told.
pub const CAVEAT: &str =
    "Readings of one heap tell such things apart badly: each is likely, none is proved.";

/// Why nothing was learnt.
pub fn not_learnt(why: &NotLearnt) -> String {
    match why {
        NotLearnt::NotBuilt => {
            "Nothing to learn from yet: the diary does not say when the heap was built.".to_owned()
        }
        NotLearnt::NoValues(kept_out) if kept_out.is_empty() => {
            "Nothing to learn from yet: there are no readings.".to_owned()
        }
        NotLearnt::NoValues(_) => {
            "Nothing to learn from: every reading had to be kept out.".to_owned()
        }
        NotLearnt::NothingToRot => {
            "Nothing to learn: there is nothing in this heap that would rot.".to_owned()
        }
        NotLearnt::CalledOff => "Called off.".to_owned(),
    }
}

/// How much was learnt.
pub fn gained(gained: &Gained, units: UnitSystem) -> String {
    let of = |kelvin| number::temperature_difference(kelvin, units);
    format!(
        "From here on 8 in 10 such heaps lie within {} of each other in the middle; without the readings it was {}.",
        of(gained.width_after_k),
        of(gained.width_before_k)
    )
}

/// How many members carry it; a remark where readings count for less than they might.
pub fn carried_by(learnt: &Learnt) -> String {
    let said = format!(
        "{} heaps were tried; what is learnt rests on the worth of {:.0} of them.",
        learnt.tried, learnt.effective
    );
    if learnt.power < COUNTS_FOR_LESS {
        format!("{said} Few are like the readings, so these count for less than they might.")
    } else {
        said
    }
}

/// What a shift means, up or down.
fn means(unknown: Unknown, up: bool) -> &'static str {
    match (unknown, up) {
        (Unknown::ParticleSize, true) => "more air comes through than assumed: coarser, or looser",
        (Unknown::ParticleSize, false) => "less air comes through than assumed: finer, or matted",
        (Unknown::Packing, true) => "it lies denser than assumed",
        (Unknown::Packing, false) => "it lies looser than assumed",
        (Unknown::Moisture, true) => "it went in wetter than assumed",
        (Unknown::Moisture, false) => "it went in drier than assumed",
        (Unknown::FastShare, true) => {
            "it holds more quick food than assumed: fresher, or more greens"
        }
        (Unknown::FastShare, false) => {
            "it holds less quick food than assumed: older, or fewer greens"
        }
        (Unknown::FastRate, true) => "its quick food rots faster than assumed",
        (Unknown::FastRate, false) => "its quick food rots more slowly than assumed",
        (Unknown::Crowding, true) => {
            "microbes get on with less room than assumed: it works more slowly at its best"
        }
        (Unknown::Crowding, false) => "it works faster at its best than assumed",
        (Unknown::Air, true) => {
            "it stands warmer than assumed: a warm season, or a sheltered place"
        }
        (Unknown::Air, false) => "it stands colder than assumed: a cold season, or a cold corner",
        (Unknown::FirstMicrobes, true) => "it got going sooner than assumed",
        (Unknown::FirstMicrobes, false) => "it got going later than assumed",
        (Unknown::MediumRate, true) => "it keeps working longer and stronger after the first heat",
        (Unknown::MediumRate, false) => "it slows down sooner after the first heat",
        (Unknown::Wind, true) => "it loses heat faster than assumed: wind, or looser than thought",
        (Unknown::Wind, false) => "it keeps its heat better than assumed: out of the wind",
        (Unknown::Slump, true) => "it sank more than assumed",
        (Unknown::Slump, false) => "it sank less than assumed",
        (Unknown::CarbonToNitrogen, true) => "it has less nitrogen than assumed: more brown in it",
        (Unknown::CarbonToNitrogen, false) => "it has more nitrogen than assumed: more green in it",
        (Unknown::AmmoniaFreeShare, true) => "more of its nitrogen is free to leave than assumed",
        (Unknown::AmmoniaFreeShare, false) => "less of its nitrogen is free to leave than assumed",
        (Unknown::MicrobeCn, true) => "its microbes make do with less nitrogen than assumed",
        (Unknown::MicrobeCn, false) => "its microbes need more nitrogen than assumed",
        (Unknown::DieOff, true) => "its own heat stops it sooner than assumed",
        (Unknown::DieOff, false) => "its own heat stops it later than assumed",
        (Unknown::Season, true) => "the season is damper than assumed",
        (Unknown::Season, false) => "the season is drier than assumed",
    }
}

/// What the readings say of one input: "loses heat faster than assumed ..."; where it did not move but is known
/// better, that.
pub fn shift(shift: &Shift) -> String {
    let tied = shift.tied_to.first().map(|(other, tie)| {
        let same_way = (*tie > 0.0) == (shift.shift > 0.0);
        format!(" Or {}.", means(*other, same_way))
    });
    let said = sentence(means(shift.unknown, shift.shift > 0.0));
    format!("{said}.{}", tied.unwrap_or_default())
}

/// Where a spot lies: "in the middle, halfway up".
pub fn spot(spot: Spot) -> String {
    let out = match spot.out {
        out if out < 0.2 => "in the middle",
        out if out < 0.7 => "halfway to the side",
        _ => "near the side",
    };
    let up = match spot.up {
        up if up < 0.34 => "low down",
        up if up < 0.67 => "halfway up",
        _ => "near the top",
    };
    format!("{out}, {up}")
}

/// The reading that would teach most.
pub fn next_reading(next: &NextReading, units: UnitSystem) -> String {
    let expected = number::temperature_span(next.expected_c.low, next.expected_c.high, units);
    format!(
        "The next reading that would teach most: day {:.0}, {}. {expected} is expected there.",
        next.day,
        spot(next.spot)
    )
}

/// What was kept out, and why: "2 rows: before the heap was built".
pub fn kept_out(kept_out: &KeptOut) -> String {
    let why = match kept_out.why {
        Why::BeforeHeap => "before the heap was built",
        Why::AfterRun => "after the last day that is simulated",
        Why::NoNumber => "no number",
        Why::OutOfRange => "no heap is like that",
        Why::NoPlace => "its place does not lie in the heap",
        Why::SameMinute => "the same was read there in the same minute",
    };
    let readings = number::count(kept_out.count, "reading", "readings");
    format!("{readings} kept out: {why}")
}

/// A value of this kind: "61 °C", "52 %", "1.1 m".
pub fn value(what: What, value: f64, units: UnitSystem) -> String {
    match what {
        What::Temperature => number::temperature(value, units),
        What::Moisture { .. } | What::Squeezed(_) | What::Oxygen | What::Smelt(_) => {
            number::percent(value)
        }
        What::Height => number::length(value, units),
    }
}

/// What was measured, in a word.
pub fn what(what: What) -> &'static str {
    match what {
        What::Temperature => "temperature",
        What::Moisture { .. } => "moisture",
        What::Squeezed(_) => "moisture by squeezing",
        What::Oxygen => "oxygen",
        What::Height => "height",
        What::Smelt(_) => "smell",
    }
}
