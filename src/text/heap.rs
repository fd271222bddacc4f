//! A heap in words: shape, walls, base, cover, summary of a projection, or why there is none.
//!
//! In: a heap, a projection. Out: words and sentences.
//!
//! Not here: the plan (`plan`).
//!
//! Tested by: `tests/document/export.rs`, `tests/window/heap_section.rs`.

use crate::heap::{Base, Board, Cover, Ended, Heap, Projection, Shape, Summary};
use crate::mix::{Blend, Mix};
use crate::outcome::finish::Finish;
use crate::quantity::{Range, UnitSystem};

use super::outcome::finished;
use super::{date, number};

/// A heap is called warm from here, degC.
const WARM_C: f64 = 40.0;
/// A heap is called hot from here, degC.
const HOT_C: f64 = 55.0;
/// Shares of the height and of the way out from which a place is called by its end.
const LOW: f64 = 0.33;
const HIGH: f64 = 0.67;
const FAR_OUT: f64 = 0.67;

/// What a shape is called.
pub fn shape(shape: &Shape) -> &'static str {
    match shape {
        Shape::OpenHeap => "open heap",
        Shape::SlattedBin { .. } => "slatted bay",
        Shape::SolidBin { .. } => "closed bin",
        Shape::WireCylinder { .. } => "wire cylinder",
        Shape::Tumbler { .. } => "tumbler",
        Shape::Row { .. } => "long row",
        Shape::Layer { .. } => "layer on the ground",
    }
}

/// Walls of a closed bin.
pub fn board(board: Board) -> &'static str {
    match board {
        Board::Plastic => "plastic",
        Board::Timber => "timber",
        Board::Insulated => "insulated",
    }
}

/// What a heap stands on.
pub fn base(base: Base) -> &'static str {
    match base {
        Base::Soil => "on soil",
        Base::Paving => "on paving",
    }
}

/// What lies over a heap from the first day.
pub fn cover(cover: Cover) -> &'static str {
    match cover {
        Cover::Bare => "no cover",
        Cover::Sheet => "sheet over it",
        Cover::Straw { .. } => "straw over it",
        Cover::Compost { .. } => "compost over it",
    }
}

/// The room of a bin: "room in the slatted bay: 1000 L".
pub fn room(kind: &Shape, room_m3: f64, units: UnitSystem) -> String {
    format!(
        "room in the {}: {}",
        shape(kind),
        number::volume(room_m3, units)
    )
}

/// What heap is projected, as a heading.
pub fn projection_heading(heap: &Heap) -> String {
    format!(
        "The heap, {}, built on {}, over {}",
        shape(&heap.shape),
        date::date(heap.start_day_of_year),
        number::days(heap.days)
    )
}

/// What the heap would do, in sentences; when it is finished where that is judged.
pub fn projection(
    projection: &Projection,
    finish: Option<&Finish>,
    units: UnitSystem,
) -> Vec<String> {
    let summary = &projection.summary;
    let mut all = vec![
        peak(summary, units),
        hottest(summary, units),
        format!(
            "Lack of air would limit decomposition by {}.",
            number::percent(summary.airless_share)
        ),
        format!(
            "It would lose {} of its dry matter, and {} of its nitrogen to air and drained water.",
            number::percent(summary.dry_matter_lost_share),
            number::percent(summary.nitrogen_lost_share)
        ),
    ];
    all.extend(finish.map(finished));
    if let Ended::Stopped { day } = projection.ended {
        all.push(format!(
            "The projection stops on day {}, where it no longer means anything.",
            number::whole(day)
        ));
    }
    all
}

/// How hot it would get, and for how long.
fn peak(summary: &Summary, units: UnitSystem) -> String {
    let peak = number::temperature(summary.peak_c, units);
    let day = number::whole(summary.peak_day);
    let (warm, hot) = (summary.days_above_40, summary.days_above_55);
    let [forty, fifty_five] = [WARM_C, HOT_C].map(|limit| number::temperature(limit, units));
    if warm <= 0.0 {
        format!("Its middle would reach {peak} at most, on day {day}, and so never {forty}.")
    } else if hot <= 0.0 {
        format!(
            "Its middle would reach {peak} at most, on day {day}, and be at {forty} or more for {}, but never {fifty_five}.",
            number::days(warm)
        )
    } else {
        format!(
            "Its middle would reach {peak} at most, on day {day}, and be at {forty} or more for {}, at {fifty_five} or more for {} of them.",
            number::days(warm),
            number::days(hot)
        )
    }
}

/// Where the heap would be hottest, and when.
fn hottest(summary: &Summary, units: UnitSystem) -> String {
    let at = &summary.hottest;
    let place = match (at.up, at.out) {
        (up, out) if up < LOW && out > FAR_OUT => "low down near the side",
        (up, out) if up > HIGH && out > FAR_OUT => "near the top and the side",
        (_, out) if out > FAR_OUT => "near the side",
        (up, _) if up < LOW => "low down",
        (up, _) if up > HIGH => "near the top",
        _ => "in the middle",
    };
    format!(
        "Its hottest place would lie {place}: {} on day {}.",
        number::temperature(at.temperature_c, units),
        number::whole(at.day)
    )
}

/// Between what the peak lies in four of five such heaps.
pub fn peak_range(peak_c: Range, units: UnitSystem) -> String {
    format!(
        "Four in five such heaps would peak between {} and {}.",
        number::temperature(peak_c.low, units),
        number::temperature(peak_c.high, units)
    )
}

/// Why there are no gauges or no projection, in one sentence; `None` if there are both.
pub fn remark(mix: &Mix, blend: &Blend, projection: Option<&Projection>) -> Option<&'static str> {
    if blend.gauges.is_none() {
        Some(if blend.totals.water_kg > 0.0 {
            "The mix is only water: add an ingredient with dry matter to see its gauges."
        } else if mix.ingredients.is_empty() {
            "The mix is empty: add an ingredient to see its gauges."
        } else {
            "Every amount is zero: give an ingredient an amount to see the gauges."
        })
    } else if projection.is_none() {
        Some(
            "Nothing is projected: a heap of this volume is outside what the model covers, so change the amounts.",
        )
    } else {
        None
    }
}
