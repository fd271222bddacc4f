//! What a project is said to be: the gauges, the projection, the plan, each as a line of text.
//!
//! In: an [`Assessment`], the units. Out: lines that report, handout and clipboard share, so that they
//! cannot say different things.
//!
//! Not here: how lines are arranged (`report`, `handout`).
//!
//! Tested by: `tests/document/export.rs`, `tests/document/handout.rs`.

use super::Assessment;
use crate::document::Project;
use crate::heap::{Cover, Ended, Heap, Operation, Placing, Projection, Summary, Turning};
use crate::material::Catalogue;
use crate::mix::{Band, Gauges, Mix, bands};
use crate::outcome::Outcome;
use crate::quantity::{Range, UnitSystem, rounded_text};
use crate::text::outcome::finished;

/// Months with their days in a common year.
const MONTHS: [(&str, u16); 12] = [
    ("January", 31),
    ("February", 28),
    ("March", 31),
    ("April", 30),
    ("May", 31),
    ("June", 30),
    ("July", 31),
    ("August", 31),
    ("September", 30),
    ("October", 31),
    ("November", 30),
    ("December", 31),
];
/// Days in a common year.
const YEAR_DAYS: f64 = 365.0;

/// The title, and the season with the place.
pub(super) fn title(project: &Project) -> (String, String) {
    let title = match project.title.trim() {
        "" => "Untitled".to_owned(),
        _ => project.title.clone(),
    };
    let place = project.place.trim();
    let comma = if place.is_empty() { "" } else { ", " };
    (title, format!("{}{comma}{place}", project.season.label()))
}

/// Which gauge a line is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Gauge {
    CarbonNitrogen,
    Available,
    Moisture,
    Volume,
    FreeAirSpace,
    BulkDensity,
}

/// A gauge in words, and the numbers behind them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct GaugeLine {
    /// Which.
    pub gauge: Gauge,
    /// Its name.
    pub name: &'static str,
    /// The value with its unit, or "none".
    pub value: String,
    /// "18.2 to 31.0"; empty if nothing is uncertain.
    pub spread: String,
    /// The word for the side it lies on, where it is judged.
    pub word: Option<&'static str>,
    /// The range, SI.
    pub range: Range,
    /// What works and what is best, SI, where it is judged.
    pub band: Option<Band>,
    /// End of its scale, SI; it begins at 0.
    pub scale_end: f64,
}

fn ratio_text(_: UnitSystem, value: f64) -> String {
    format!("{value:.1}")
}

fn percent_text(_: UnitSystem, share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

fn density_text(units: UnitSystem, kg_per_m3: f64) -> String {
    format!("{:.0} {}", units.density(kg_per_m3), units.density_unit())
}

/// Every gauge, in the order in which they are read.
pub(super) fn gauge_lines(
    assessment: &Assessment<'_>,
    gauges: &Gauges,
    units: UnitSystem,
) -> Vec<GaugeLine> {
    let room = assessment.project.heap.shape.room_m3();
    let volume_end = room.unwrap_or(1.0).max(gauges.volume_m3.typical) * 1.3;
    let words = assessment.words(gauges);
    let line =
        |gauge, name, range: Range, judged: (Option<Band>, Option<&'static str>), end, say| {
            gauge_line(units, (gauge, name, say), range, judged, end)
        };
    vec![
        line(
            Gauge::CarbonNitrogen,
            "C:N",
            gauges.cn,
            (Some(bands::CN), words.cn),
            80.0,
            ratio_text,
        ),
        line(
            Gauge::Available,
            "C:N available",
            gauges.cn_available,
            (None, None),
            80.0,
            ratio_text,
        ),
        line(
            Gauge::Moisture,
            "Moisture",
            gauges.moisture,
            (Some(bands::MOISTURE), words.moisture),
            1.0,
            percent_text,
        ),
        line(
            Gauge::Volume,
            "Volume",
            gauges.volume_m3,
            (assessment.volume_band(), words.volume),
            volume_end,
            UnitSystem::volume_text,
        ),
        line(
            Gauge::FreeAirSpace,
            "Free air space",
            gauges.free_air_space,
            (Some(bands::FREE_AIR_SPACE), words.free_air_space),
            1.0,
            percent_text,
        ),
        line(
            Gauge::BulkDensity,
            "Bulk density",
            gauges.wet_bulk_density_kg_per_m3,
            (Some(bands::BULK_DENSITY_KG_PER_M3), words.wet_bulk_density),
            1000.0,
            density_text,
        ),
    ]
}

/// One gauge.
fn gauge_line(
    units: UnitSystem,
    (gauge, name, say): (Gauge, &'static str, fn(UnitSystem, f64) -> String),
    range: Range,
    (band, word): (Option<Band>, Option<&'static str>),
    scale_end: f64,
) -> GaugeLine {
    let value = if range.typical.is_finite() {
        say(units, range.typical)
    } else {
        "none".to_owned()
    };
    let (low, high) = (say(units, range.low), say(units, range.high));
    let spread = if range.is_sound() && low != high {
        format!("{low} to {high}")
    } else {
        String::new()
    };
    GaugeLine {
        gauge,
        name,
        value,
        spread,
        word,
        range,
        band,
        scale_end,
    }
}

/// What the heap would do: a heading, then sentences; when it is finished by the outcome's rule, where it is judged.
pub(super) fn projection_text(
    projection: &Projection,
    outcome: Option<&Outcome>,
    heap: &Heap,
    units: UnitSystem,
) -> (String, Vec<String>) {
    let summary = &projection.summary;
    let percent = |share: f64| percent_text(units, share);
    let head = format!(
        "The heap, {}, built on {}, over {}",
        heap.shape.label(),
        date_text(heap.start_day_of_year),
        days_text(heap.days)
    );
    let mut all = vec![
        format!(
            "It would reach {} at most, on day {:.0}{}.",
            units.temperature_text(summary.peak_c),
            summary.peak_day,
            heat_text(summary, units)
        ),
        format!(
            "Lack of air would limit decomposition by {}.",
            percent(summary.airless_share)
        ),
        format!(
            "It would lose {} of its dry matter, and {} of its nitrogen as ammonia.",
            percent(summary.dry_matter_lost_share),
            percent(summary.nitrogen_lost_share)
        ),
    ];
    all.extend(outcome.map(|outcome| finished(&outcome.finish)));
    if let Ended::Stopped { day } = projection.ended {
        all.push(format!(
            "The projection stops on day {day:.0}, where it no longer means anything."
        ));
    }
    (head, all)
}

/// How long it would be hot, as the end of a sentence.
fn heat_text(summary: &Summary, units: UnitSystem) -> String {
    let (warm, hot) = (summary.days_above_40, summary.days_above_55);
    let [forty, fifty_five] = [40.0, 55.0].map(|limit_c| units.temperature_text(limit_c));
    if warm <= 0.0 {
        format!(" and so never {forty}")
    } else if hot <= 0.0 {
        format!(
            ", and be at {forty} or more for {}, but never {fifty_five}",
            days_text(warm)
        )
    } else {
        format!(
            ", and be at {forty} or more for {}, at {fifty_five} or more for {} of them",
            days_text(warm),
            days_text(hot)
        )
    }
}

/// "1 day", "12 days", "0.5 days".
pub(super) fn days_text(days: f64) -> String {
    let number = rounded_text(if days >= 10.0 {
        days.round()
    } else {
        (days * 10.0).round() / 10.0
    });
    let word = if number == "1" { "day" } else { "days" };
    format!("{number} {word}")
}

/// "15 October" for day 288 of a common year; day 366 counts as the last of December.
pub(super) fn date_text(day_of_year: f64) -> String {
    let mut day = (day_of_year.floor() as u16).clamp(1, 365);
    for (month, length) in MONTHS {
        if day <= length {
            return format!("{day} {month}");
        }
        day -= length;
    }
    String::new()
}

/// Every date of the plan with what is done, the building first.
pub(super) fn dates(assessment: &Assessment<'_>, units: UnitSystem) -> Vec<(String, String)> {
    let heap = &assessment.project.heap;
    let start = heap.start_day_of_year;
    let built = format!("build the {}", heap.shape.label());
    let mut all = vec![(date_text(start), built)];
    let mut lists = assessment.addition_texts.iter();
    let mut said: Vec<String> = Vec::with_capacity(heap.plan.events.len());
    for event in &heap.plan.events {
        let added = match &event.operation {
            Operation::Add { .. } => lists.next().map_or("", String::as_str),
            _ => "",
        };
        said.push(operation_text(&event.operation, added, units));
    }
    for (index, event) in heap.plan.in_order() {
        let day = (start + event.day - 1.0).rem_euclid(YEAR_DAYS) + 1.0;
        let when = format!("{} (day {})", date_text(day), rounded_text(event.day));
        all.push((when, said[index].clone()));
    }
    all
}

/// "2 buckets of fresh grass and 3 L of water" for each addition of a plan.
pub(super) fn addition_texts(project: &Project, catalogue: &Catalogue) -> Vec<String> {
    let operations = project
        .heap
        .plan
        .events
        .iter()
        .map(|event| &event.operation);
    let mixes = operations.filter_map(|operation| match operation {
        Operation::Add { mix, .. } => Some(mix),
        Operation::Turn { .. } | Operation::Water { .. } | Operation::Cover(_) => None,
    });
    mixes.map(|mix| addition_text(mix, catalogue)).collect()
}

fn addition_text(mix: &Mix, catalogue: &Catalogue) -> String {
    let named = mix.ingredients.iter().map(|ingredient| {
        let id = &ingredient.material;
        let name = catalogue.find(id).map_or(id, |material| &material.name);
        format!("{} of {name}", ingredient.amount.text())
    });
    let mut pieces: Vec<String> = named.collect();
    if mix.added_water_l > 0.0 {
        pieces.push(format!("{} L of water", rounded_text(mix.added_water_l)));
    }
    match pieces.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => "nothing".to_owned(),
    }
}

/// What a operation is, as something to do; `added` names what it brings.
fn operation_text(operation: &Operation, added: &str, units: UnitSystem) -> String {
    let wet = |share: f64| format!("{:.0} % moisture", 100.0 * share);
    match operation {
        Operation::Turn { turning, wet_to } => {
            let how = match turning {
                Turning::Remix => "turn it, all mixed through",
                Turning::InsideOut => "turn it inside out",
            };
            match wet_to {
                Some(share) => format!("{how}, wet to {}", wet(*share)),
                None => how.to_owned(),
            }
        }
        Operation::Water { wet_to } => format!("water it to {}", wet(*wet_to)),
        Operation::Add { placing, .. } => {
            let place = match placing {
                Placing::OnTop => "on top",
                Placing::MixedIn => "and mix it in",
            };
            format!("add {added} {place}")
        }
        Operation::Cover(Cover::Bare) => "take the cover off".to_owned(),
        Operation::Cover(Cover::Sheet) => "cover with a sheet".to_owned(),
        Operation::Cover(Cover::Straw { thickness_m }) => {
            format!(
                "cover with {} of straw",
                thickness_text(*thickness_m, units)
            )
        }
        Operation::Cover(Cover::Compost { thickness_m }) => {
            format!(
                "cover with {} of compost",
                thickness_text(*thickness_m, units)
            )
        }
    }
}

/// "10 cm" or "4 in" (1 in is 2.54 cm, exact).
fn thickness_text(metres: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{} cm", rounded_text(100.0 * metres)),
        UnitSystem::UsCustomary => format!("{} in", rounded_text((metres / 0.0254).round())),
    }
}
