//! What a heading says of a column: its unit, where its probe sits, whether it is a temperature at all.
//!
//! In: a heading. Out: unit, place, kind; `None` where it says nothing.
//!
//! The words are those commonly put on probes and columns (common practice).
//! Not here: what the values say (`columns`).
//!
//! Tested by: `tests/document/logger.rs`.

use super::choices::{Place, Unit};
use crate::diary::Spot;

/// Words of what is no temperature of a heap.
const OTHER_KINDS: [&str; 30] = [
    "humid", "rh", "%", "batt", "volt", "mv", "dew", "press", "hpa", "lux", "co2", "o2", "oxygen",
    "moist", "rssi", "signal", "lat", "lon", "ph", "ec", "status", "alarm", "weight", "kg", "wind",
    "rain", "error", "note", "comment", "remark",
];
/// Words of a column that numbers its rows.
const COUNTERS: [&str; 10] = [
    "#", "no", "nr", "no.", "nr.", "index", "record", "sample", "id", "row",
];
/// Words of a column that names the probe.
const PROBE_COLUMNS: [&str; 9] = [
    "probe", "sensor", "channel", "name", "location", "position", "where", "logger", "device",
];

/// The heading's words in small letters.
fn words(heading: &str) -> Vec<String> {
    heading
        .to_lowercase()
        .split(|c: char| !(c.is_alphanumeric() || matches!(c, '#' | '%' | '°')))
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect()
}

fn has_any(words: &[String], starts: &[&str]) -> bool {
    words
        .iter()
        .any(|word| starts.iter().any(|start| word.starts_with(start)))
}

/// The unit a heading gives.
pub(super) fn unit(heading: &str) -> Option<Unit> {
    words(heading)
        .into_iter()
        .rev()
        .find_map(|word| match word.as_str() {
            "°c" | "℃" | "c" | "degc" | "celsius" | "tempc" => Some(Unit::Celsius),
            "°f" | "℉" | "f" | "degf" | "fahrenheit" | "tempf" => Some(Unit::Fahrenheit),
            "k" | "kelvin" | "°k" => Some(Unit::Kelvin),
            _ => None,
        })
}

/// Whether a row of headings holds units and nothing else.
pub(super) fn are_units<'a>(mut row: impl Iterator<Item = &'a str>) -> bool {
    let mut any = false;
    let all = row.all(|cell| {
        let cell = cell.trim();
        any |= unit(cell).is_some();
        cell.is_empty() || cell.chars().count() <= 12
    });
    any && all
}

/// Where a probe of this name sits.
pub(super) fn place(heading: &str) -> Option<Place> {
    let words = words(heading);
    if has_any(
        &words,
        &[
            "air", "ambient", "outside", "outdoor", "shade", "weather", "room",
        ],
    ) {
        return Some(Place::Air);
    }
    let edge = has_any(&words, &["edge", "side", "outer", "wall", "rim", "margin"]);
    let top = has_any(&words, &["top", "upper", "surface", "crown"]);
    let low = has_any(&words, &["bottom", "base", "lower", "floor", "foot"]);
    let middle = has_any(&words, &["core", "cent", "middle", "mid", "inner", "heart"]);
    if !(edge || top || low || middle) {
        return None;
    }
    Some(Place::Heap(Spot {
        out: if edge {
            Spot::EDGE.out
        } else {
            Spot::CENTRE.out
        },
        up: match (top, low) {
            (true, false) => Spot::TOP.up,
            (false, true) => Spot::FOOT.up,
            _ => Spot::CENTRE.up,
        },
    }))
}

/// Whether a heading is one of something other than temperature.
pub(super) fn is_other_kind(heading: &str) -> bool {
    if heading.contains('%') {
        return true;
    }
    let words = words(heading);
    let long = |start: &&&str| start.chars().count() > 3;
    words.iter().any(|word| {
        COUNTERS.contains(&word.as_str()) && words.len() == 1
            || OTHER_KINDS.contains(&word.as_str())
            || OTHER_KINDS
                .iter()
                .filter(long)
                .any(|start| word.starts_with(start))
    })
}

/// Whether a heading is one of probes' names.
pub(super) fn names_probes(heading: &str) -> bool {
    has_any(&words(heading), &PROBE_COLUMNS)
}
