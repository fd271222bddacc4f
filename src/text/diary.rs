//! The diary in words: places, dates, what a hand feels, how far a reading lies from what was expected.
//!
//! In: readings, dates, what was expected. Out: words.
//!
//! Not here: what is typed (`typed_reading`), dates of a plan (`date`), operations (`plan`), what was learnt (`text::learnt`).
//!
//! Tested by: `tests/window/diary.rs`, `tests/science/words.rs`.

use jiff::civil::DateTime;

use crate::diary::{Log, Reading, Smell, Spot, Squeeze, Wetness};
use crate::heap::{Cover, Operation, Turning};
use crate::quantity::UnitSystem;

use super::date::calendar_date;
use super::{list, number};

/// Shown while the heap does not stand.
pub const NOT_BUILT: &str = "The diary begins on the day the heap is built: from then on readings show how it really goes, and the forecast runs from here on.";
/// Shown while nothing was measured.
pub const NO_READINGS: &str =
    "No readings yet: click a place in the heap, type what the thermometer shows, press Enter.";
/// Shown above the readings' form.
pub const FORM_HINT: &str = "Click the place in the heap, type the temperature, press Enter.";
/// Told beside the value under the pointer, where a click chooses a place.
pub const CLICK_TO_READ: &str = "\nClick to take a reading here.";
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
/// Told of values that no member is like; nothing where there are none.
pub fn outside(count: usize) -> Option<String> {
    (count > 0).then(|| {
        let which = number::count(count, "value lies", "values lie");
        format!("{which} beyond every heap that was tried; look again at how it was measured, or at what is different in this heap.")
    })
}
/// What a residual plot shows.
pub const OFF_PLOT: &str = "Measured less expected";
/// The day line of today.
pub const TODAY: &str = "today";

/// A place with a name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NamedPlace {
    /// Its name on a button.
    pub name: &'static str,
    /// What the pointer tells.
    pub tip: &'static str,
    /// Where it is.
    pub spot: Spot,
}

/// The places that have a name, from the middle outward, then along the middle.
pub const PLACES: [NamedPlace; 5] = [
    NamedPlace {
        name: "middle",
        tip: "The core: the middle of the heap, at half its height.",
        spot: Spot::CENTRE,
    },
    NamedPlace {
        name: "halfway",
        tip: "Halfway from the middle to the side, at half the height.",
        spot: Spot { out: 0.5, up: 0.5 },
    },
    NamedPlace {
        name: "edge",
        tip: "A hand's breadth inside the side, at half the height.",
        spot: Spot::EDGE,
    },
    NamedPlace {
        name: "top",
        tip: "In the middle, close under the top.",
        spot: Spot::TOP,
    },
    NamedPlace {
        name: "foot",
        tip: "In the middle, close above the ground.",
        spot: Spot::FOOT,
    },
];

/// What the signs of readings mean where no key stands beside them.
pub const SIGNS: &str =
    "Readings: circles in the middle, diamonds halfway to the side, squares at the edge.";

/// How far from a named place one still bears its name, as a share of the heap.
const NEAR: f64 = 0.04;

/// A place in words: its name, or how far out and up it is.
pub fn place(spot: Spot) -> String {
    let near = |it: &&NamedPlace| {
        (it.spot.out - spot.out).abs() <= NEAR && (it.spot.up - spot.up).abs() <= NEAR
    };
    if let Some(known) = PLACES.iter().find(near) {
        return known.name.to_owned();
    }
    let out = match spot.out {
        none if none < NEAR => "in the middle".to_owned(),
        some => format!("{} out", number::percent(some)),
    };
    format!("{out}, {} up", number::percent(spot.up))
}

/// A date: "3 May 2026".
pub fn date(at: DateTime) -> String {
    calendar_date(at.date())
}

/// A moment: "3 May 2026, 14:05".
pub fn moment(at: DateTime) -> String {
    format!("{}, {:02}:{:02}", date(at), at.hour(), at.minute())
}

/// A moment in a list, where the year is plain: "3 May, 14:05".
pub fn moment_short(at: DateTime) -> String {
    let date = date(at);
    let day = date.rsplit_once(' ').map_or(date.as_str(), |(day, _)| day);
    format!("{day}, {:02}:{:02}", at.hour(), at.minute())
}

/// Told where a form holds nothing to enter.
pub const NOTHING_ENTERED: &str =
    "Nothing was entered: type a temperature, or open “more” for moisture, smell and notes.";
/// Told where there is a reading of this minute at this place already.
pub const TWICE: &str = "There is a reading of this minute at this place already; change that one, or give another time.";
/// Told of a date before the heap was built.
pub fn before_built(built: DateTime) -> String {
    format!(
        "That is before the heap was built ({}); correct one of the two dates.",
        moment(built)
    )
}
/// Told of a date that is still to come.
pub const STILL_TO_COME: &str =
    "That day is still to come; the plan in the Heap view is the place for it.";

/// When the heap was built and how old it is.
pub fn built(built: DateTime, day: Option<f64>) -> String {
    let age = match day {
        Some(day) if day >= 0.0 => format!("; today is day {}", number::whole(day.floor())),
        _ => String::new(),
    };
    format!("Built on {}{age}.", date(built))
}

/// Told where today lies past the last day of the forecast.
pub fn past_the_end(days: f64) -> String {
    format!(
        "The forecast ends on day {}; make it longer in the Heap view.",
        number::whole(days)
    )
}

/// What the hand sees when it squeezes.
pub fn squeeze(squeeze: Squeeze) -> &'static str {
    match squeeze {
        Squeeze::FallsApart => "falls apart, hand stays dry",
        Squeeze::HardlyDamp => "holds for a moment, hand hardly damp",
        Squeeze::LikeWrungSponge => "like a wrung-out sponge",
        Squeeze::Drips => "a few drops come",
        Squeeze::Runs => "water runs",
    }
}

/// What it smells of.
pub fn smell(smell: Smell) -> &'static str {
    match smell {
        Smell::Earthy => "earthy or of nothing",
        Smell::Ammonia => "sharp, ammonia",
        Smell::Sour => "sour, vinegar",
        Smell::Rotten => "rotten, bad eggs",
    }
}

/// What is expected where and when a reading was taken.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Expected {
    /// Temperature, degC.
    pub temperature_c: Option<f64>,
    /// Moisture, wet basis.
    pub moisture: Option<f64>,
    /// Oxygen, share of the air in the pores.
    pub oxygen: Option<f64>,
    /// Height, m.
    pub height_m: Option<f64>,
}

/// A measured temperature, to the tenth: "49.5 °C".
pub fn measured(celsius: f64, units: UnitSystem) -> String {
    let shown = (10.0 * units.temperature(celsius)).round() / 10.0;
    format!("{} {}", number::rounded(shown), units.temperature_unit())
}

/// What is expected beside a measured temperature: "expected 61 °C: 3 °C colder".
pub fn expected_and_off(measured_c: f64, expected_c: f64, units: UnitSystem) -> String {
    format!(
        "expected {}: {}",
        number::temperature(expected_c, units),
        off(measured_c - expected_c, units)
    )
}

/// How far off a temperature is: "3 °C colder", "as expected".
pub fn off(off_k: f64, units: UnitSystem) -> String {
    let size = number::temperature_difference(off_k.abs(), units);
    match off_k {
        little if little.abs() < 0.5 => "as expected".to_owned(),
        colder if colder < 0.0 => format!("{size} colder"),
        _ => format!("{size} warmer"),
    }
}

/// The other parts of a reading, each with what is expected; empty where there are none.
pub fn other_parts(reading: &Reading, expected: &Expected, units: UnitSystem) -> Vec<String> {
    let beside = |said: String, expected: Option<String>| match expected {
        Some(expected) => format!("{said} (expected {expected})"),
        None => said,
    };
    let mut parts = Vec::new();
    let moisture = expected.moisture.map(number::percent);
    match reading.wetness {
        Some(Wetness::Squeezed(class)) => {
            parts.push(beside(
                squeeze(class).to_owned(),
                moisture.map(|it| format!("{it} water")),
            ));
        }
        Some(Wetness::Probe(share)) => {
            parts.push(beside(
                format!("probe {} water", number::percent(share)),
                moisture,
            ));
        }
        Some(Wetness::Oven(share)) => {
            parts.push(beside(
                format!("oven {} water", number::percent(share)),
                moisture,
            ));
        }
        None => {}
    }
    if let Some(oxygen) = reading.oxygen {
        let expected = expected.oxygen.map(number::percent);
        parts.push(beside(
            format!("oxygen {}", number::percent(oxygen)),
            expected,
        ));
    }
    if let Some(height_m) = reading.height_m {
        let expected = expected.height_m.map(|it| number::length(it, units));
        parts.push(beside(
            format!("{} high", number::length(height_m, units)),
            expected,
        ));
    }
    if let Some(it) = reading.smell {
        parts.push(format!("smells {}", smell(it)));
    }
    parts
}

/// A reading in one line, for a tooltip, a name or a list of what was done: where, and everything measured.
pub fn reading(reading: &Reading, units: UnitSystem) -> String {
    let mut parts = vec![place(reading.spot)];
    parts.extend(reading.temperature_c.map(|it| measured(it, units)));
    parts.extend(other_parts(reading, &Expected::default(), units));
    if !reading.note.trim().is_empty() && parts.len() == 1 {
        parts.push("note".to_owned());
    }
    format!("{}: {}", moment(reading.at), parts.join(", "))
}

/// A probe's list in one line.
pub fn log(log: &Log, units: UnitSystem) -> String {
    let degrees = || log.temperatures_c.iter().map(|(_, degrees)| *degrees);
    let (low, high) = degrees().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
        (low.min(it), high.max(it))
    });
    let count = number::count(log.temperatures_c.len(), "temperature", "temperatures");
    let span = match (log.temperatures_c.first(), log.temperatures_c.last()) {
        (Some(first), Some(last)) => format!(
            ", day {} to {}, {}",
            number::whole(first.0.floor()),
            number::whole(last.0.floor()),
            number::temperature_span(low, high, units)
        ),
        _ => String::new(),
    };
    format!("Probe {} ({}): {count}{span}", log.name, place(log.spot))
}

/// What was done, as told afterwards.
pub fn done(operation: &Operation, units: UnitSystem) -> String {
    match operation {
        Operation::Turn {
            turning: Turning::Remix,
            ..
        } => "turned".to_owned(),
        Operation::Turn {
            turning: Turning::InsideOut,
            ..
        } => "turned inside out".to_owned(),
        Operation::Water { wet_to } => format!("watered to {}", number::percent(*wet_to)),
        Operation::Pour { litres } => {
            format!("watered, {}", number::small_volume(litres / 1000.0, units))
        }
        Operation::Add { .. } => "material added".to_owned(),
        Operation::Cover(Cover::Bare) => "cover taken off".to_owned(),
        Operation::Cover(Cover::Sheet) => "covered with a sheet".to_owned(),
        Operation::Cover(Cover::Straw { .. }) => "covered with straw".to_owned(),
        Operation::Cover(Cover::Compost { .. }) => "covered with compost".to_owned(),
    }
}

/// What was added, as told afterwards: "2 buckets of Grass added".
pub fn added(contents: &str) -> String {
    format!("{contents} added")
}

/// Above planned entries whose day has passed.
pub fn still_open(count: usize) -> String {
    match count {
        1 => "One thing was planned and its day has passed: was it done?".to_owned(),
        _ => format!("{count} things were planned and their days have passed: were they done?"),
    }
}

/// What the residual plot says: how many readings, and how far off they are on the whole.
pub fn off_sentence(offs_k: &[f64], units: UnitSystem) -> String {
    if offs_k.is_empty() {
        return "No temperatures to compare with the projection yet.".to_owned();
    }
    let mean = offs_k.iter().sum::<f64>() / offs_k.len() as f64;
    let size = offs_k.iter().map(|off| off.abs()).sum::<f64>() / offs_k.len() as f64;
    let side = match mean {
        little if little.abs() < 1.0 => "on both sides".to_owned(),
        _ => format!("on the whole {}", off(mean, units)),
    };
    format!(
        "{}: off by {} on average, {side}.",
        number::count(offs_k.len(), "temperature", "temperatures"),
        number::temperature_difference(size, units)
    )
}

/// What the pointer tells of a dot.
pub fn dot(reading: &str, off_k: Option<f64>, units: UnitSystem) -> String {
    let off = off_k.map(|off_k| off(off_k, units));
    let lines: Vec<&str> = [Some(reading), off.as_deref()]
        .into_iter()
        .flatten()
        .collect();
    lines.join("\n")
}

/// The names of what a diary holds, for a screen reader.
pub fn held(readings: usize, logs: usize) -> String {
    let readings = number::count(readings, "reading", "readings");
    let logs = (logs > 0).then(|| number::count(logs, "probe", "probes"));
    list(
        &[Some(readings), logs]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>(),
    )
}
