//! The assessment for another program, as JSON of schema 1.
//!
//! In: an [`Assessment`]. Out: one object. Every key is always there; what does not exist or is no
//! finite number is `null`. Masses, volumes and temperatures carry their unit in the key, shares are
//! 0 to 1.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | 1; another number means that keys have changed their meaning |
//! | `title`, `season`, `place` | text; the season is `Spring`, `Summer`, `Autumn` or `Winter` |
//! | `remark` | why there are no gauges or no projection, in one sentence, or `null` |
//! | `mix.wet_mass_kg`, `dry_mass_kg`, `water_mass_kg`, `added_water_kg`, `carbon_mass_kg`, `nitrogen_mass_kg`, `volatile_solids_kg` | sums over the mix |
//! | `mix.added_water_share_of_water` | share of all water that was poured on |
//! | `mix.ingredients[]` | `material` (id), `name`, `amount` (number), `measure` (word), `share_of_carbon`, `share_of_nitrogen`, `share_of_water`, `share_of_dry_mass`, `share_of_volume` |
//! | `mix.gauges` | `null` without dry matter; otherwise `carbon_to_nitrogen`, `carbon_to_nitrogen_available`, `moisture_wet_basis`, `volume_m3`, `free_air_space_share`, `wet_bulk_density_kg_per_m3`, `dry_bulk_density_kg_per_m3` |
//! | each gauge | `low`, `typical`, `high` (a 10-90 % range) and `word`, the judgement or `null` |
//! | `heap` | `shape`, `room_m3` (`null` without a fixed size), `start_day_of_year`, `days` |
//! | `projection` | `null` if nothing is projected; otherwise `peak_temperature_c`, `peak_day` (of the centre), `hottest_temperature_c`, `hottest_day` (of the whole heap), `days_at_or_above_40_c`, `days_at_or_above_55_c`, `airless_share`, `dry_matter_lost_share`, `nitrogen_lost_share`, `finished_day`, `stopped_day` (`null` if all days were simulated) |
//! | `outcome` | `null` without a projection; otherwise the keys below |
//! | `outcome.first_lines[]` | what people ask first: `asks`, `answer` |
//! | `outcome.judgements[]` | `id`, `topic`, `text`, `concerns_this_heap` (`false` for what nothing in the mix brings and for rules that are for other heaps), `likelihood` (0 to 1 or `null`), `likelihood_of`, `source`, `trust`, `numbers[]` (`name`, `value` as text) |
//! | `outcome.rules[]` | `id`, `would_meet`, `met_at_centre`, `met_in_share_of_heap`, `turnings_counted`, `made_the_way_it_is_for` (`false` for rules that are for halls, forced air or closed vessels; turnings too few stand in `missing`), `missing[]` |
//! | `outcome.class_a_score_at_centre`, `class_a_score_in_coolest_parcel` | 1 is what the equation asks |
//! | `outcome.seeds_and_roots[]`, `outcome.germs[]` | `id`, `share_of_heap_with_enough_heat`, of germs also `least_tenfold_drops` |
//! | `outcome.fit_to_dig_in_day`, `finished_day`, `self_heating_rise_at_end_k` | day or `null` from which it is fit to dig in or mulch, and from which it is fit for seedlings and pots, as simulated, leaves by themselves too, results of field tests counted; rise in the self-heating (Dewar) test |
//! | `outcome.compost` | each `low`, `typical`, `high`: `mass_kg`, `dry_mass_kg`, `volume_m3`, `moisture_wet_basis`, `carbon_to_nitrogen`, `nitrogen_mass_kg`, `phosphate_mass_kg`, `potash_mass_kg`, `ammonia_nitrogen_lost_kg`, `nitrogen_lost_as_gas_kg`, `nitrogen_washed_out_kg`, `carbon_lost_kg`, `heat_made_j` |
//! | `outcome.nitrogen_freed_in_years_1_to_5_kg` | five numbers |
//! | `outcome.how_far_to_trust[]` | where the simulation parts from what is published: `id`, `text`, `source` |
//! | `outcome.cautions[]` | `id`, `text`, `source`, `trust` |
//!
//! Not here: sentences (`report`).
//!
//! Tested by: `tests/document/command.rs`.

use serde::Serialize;

use super::assessment::Assessment;
use super::outcome_json::{OutcomePart, outcome_part};
use crate::heap::{Ended, Heap};
use crate::mix::{Gauge, Gauges, Totals};
use crate::outcome::shared;
use crate::quantity::Range;
use crate::text::gauges::word;
use crate::text::{amount, garden, heap as heap_text};

/// Version of the keys.
pub const SCHEMA: u32 = 1;

#[derive(Serialize)]
struct Whole<'a> {
    schema: u32,
    title: &'a str,
    season: &'static str,
    place: &'a str,
    remark: Option<&'static str>,
    mix: MixPart<'a>,
    heap: HeapPart,
    projection: Option<ProjectionPart>,
    outcome: Option<OutcomePart<'a>>,
}

#[derive(Serialize)]
struct MixPart<'a> {
    wet_mass_kg: Option<f64>,
    dry_mass_kg: Option<f64>,
    water_mass_kg: Option<f64>,
    added_water_kg: Option<f64>,
    added_water_share_of_water: Option<f64>,
    carbon_mass_kg: Option<f64>,
    nitrogen_mass_kg: Option<f64>,
    volatile_solids_kg: Option<f64>,
    gauges: Option<GaugesPart>,
    ingredients: Vec<IngredientPart<'a>>,
}

#[derive(Serialize)]
struct IngredientPart<'a> {
    material: &'a str,
    name: &'a str,
    amount: Option<f64>,
    measure: &'a str,
    share_of_carbon: Option<f64>,
    share_of_nitrogen: Option<f64>,
    share_of_water: Option<f64>,
    share_of_dry_mass: Option<f64>,
    share_of_volume: Option<f64>,
}

#[derive(Serialize)]
struct GaugesPart {
    carbon_to_nitrogen: GaugePart,
    carbon_to_nitrogen_available: GaugePart,
    moisture_wet_basis: GaugePart,
    volume_m3: GaugePart,
    free_air_space_share: GaugePart,
    wet_bulk_density_kg_per_m3: GaugePart,
    dry_bulk_density_kg_per_m3: GaugePart,
}

#[derive(Serialize)]
struct GaugePart {
    low: Option<f64>,
    typical: Option<f64>,
    high: Option<f64>,
    word: Option<&'static str>,
}

#[derive(Serialize)]
struct HeapPart {
    shape: &'static str,
    room_m3: Option<f64>,
    start_day_of_year: Option<f64>,
    days: Option<f64>,
}

#[derive(Serialize)]
struct ProjectionPart {
    peak_temperature_c: Option<f64>,
    peak_day: Option<f64>,
    hottest_temperature_c: Option<f64>,
    hottest_day: Option<f64>,
    days_at_or_above_40_c: Option<f64>,
    days_at_or_above_55_c: Option<f64>,
    airless_share: Option<f64>,
    dry_matter_lost_share: Option<f64>,
    nitrogen_lost_share: Option<f64>,
    finished_day: Option<f64>,
    stopped_day: Option<f64>,
}

/// The assessment as indented JSON, without a line break at its end.
///
/// # Errors
/// [`serde_json::Error`] if a value cannot be put into JSON.
pub fn json(assessment: &Assessment<'_>) -> Result<String, serde_json::Error> {
    let project = assessment.project;
    serde_json::to_string_pretty(&Whole {
        schema: SCHEMA,
        title: &project.title,
        season: garden::season(project.season),
        place: &project.place,
        remark: assessment.remark(),
        mix: mix_part(assessment),
        heap: heap_part(&project.heap),
        projection: projection_part(assessment),
        outcome: assessment
            .outcome
            .as_ref()
            .zip(shared().ok())
            .map(|(outcome, facts)| outcome_part(outcome, facts)),
    })
}

/// The number, unless it is NaN or infinite.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn mix_part<'a>(assessment: &'a Assessment<'_>) -> MixPart<'a> {
    let totals: &Totals = &assessment.blend.totals;
    MixPart {
        wet_mass_kg: finite(totals.wet_kg()),
        dry_mass_kg: finite(totals.dry_kg),
        water_mass_kg: finite(totals.water_kg),
        added_water_kg: finite(assessment.project.mix.added_water_l),
        added_water_share_of_water: finite(assessment.blend.added_water_share),
        carbon_mass_kg: finite(totals.carbon_kg),
        nitrogen_mass_kg: finite(totals.nitrogen_kg),
        volatile_solids_kg: finite(totals.volatile_solids_kg()),
        gauges: assessment
            .blend
            .gauges
            .as_ref()
            .map(|gauges| gauges_part(gauges, assessment.project.heap.shape.room_m3())),
        ingredients: ingredient_parts(assessment),
    }
}

fn ingredient_parts<'a>(assessment: &'a Assessment<'_>) -> Vec<IngredientPart<'a>> {
    let ingredients = &assessment.project.mix.ingredients;
    let rows = ingredients.iter().zip(&assessment.names);
    rows.zip(&assessment.blend.shares)
        .map(|((ingredient, name), share)| IngredientPart {
            material: &ingredient.material,
            name,
            amount: finite(ingredient.amount.value),
            measure: amount::one(&ingredient.amount.measure),
            share_of_carbon: finite(share.carbon),
            share_of_nitrogen: finite(share.nitrogen),
            share_of_water: finite(share.water),
            share_of_dry_mass: finite(share.dry_mass),
            share_of_volume: finite(share.volume),
        })
        .collect()
}

fn gauges_part(gauges: &Gauges, room_m3: Option<f64>) -> GaugesPart {
    let judged = |gauge| gauge_part(gauges.range(gauge), word(gauges, gauge, room_m3));
    GaugesPart {
        carbon_to_nitrogen: judged(Gauge::CarbonNitrogen),
        carbon_to_nitrogen_available: gauge_part(gauges.cn_available, None),
        moisture_wet_basis: judged(Gauge::Moisture),
        volume_m3: judged(Gauge::Volume),
        free_air_space_share: judged(Gauge::AirSpace),
        wet_bulk_density_kg_per_m3: judged(Gauge::Density),
        dry_bulk_density_kg_per_m3: gauge_part(gauges.dry_bulk_density_kg_per_m3, None),
    }
}

fn gauge_part(range: Range, word: Option<&'static str>) -> GaugePart {
    // A range around no value is none: with no nitrogen its lower end can still be zero.
    let typical = finite(range.typical);
    GaugePart {
        low: typical.and(finite(range.low)),
        typical,
        high: typical.and(finite(range.high)),
        word,
    }
}

fn heap_part(heap: &Heap) -> HeapPart {
    HeapPart {
        shape: heap_text::shape(&heap.shape),
        room_m3: heap.shape.room_m3().and_then(finite),
        start_day_of_year: finite(heap.start_day_of_year),
        days: finite(heap.days),
    }
}

fn projection_part(assessment: &Assessment<'_>) -> Option<ProjectionPart> {
    let projection = assessment.projection.as_ref()?;
    let summary = &projection.summary;
    let finish = assessment.outcome.as_ref().map(|it| &it.finish);
    Some(ProjectionPart {
        peak_temperature_c: finite(summary.peak_c),
        peak_day: finite(summary.peak_day),
        hottest_temperature_c: finite(summary.hottest.temperature_c),
        hottest_day: finite(summary.hottest.day),
        days_at_or_above_40_c: finite(summary.days_above_40),
        days_at_or_above_55_c: finite(summary.days_above_55),
        airless_share: finite(summary.airless_share),
        dry_matter_lost_share: finite(summary.dry_matter_lost_share),
        nitrogen_lost_share: finite(summary.nitrogen_lost_share),
        finished_day: finish.and_then(|finish| finish.pots_day()).and_then(finite),
        stopped_day: match projection.ended {
            Ended::Finished => None,
            Ended::Stopped { day } | Ended::Cancelled { day } => finite(day),
        },
    })
}
