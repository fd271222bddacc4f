//! The outcome for another program, as a further key of schema 1.
//!
//! In: an [`Outcome`]. Out: a serialisable part; every number that is not finite is `null`.
//!
//! Not here: the keys' table (`json`), words for people (`outcome_text`).
//!
//! Tested by: `tests/document/command.rs`.

use serde::Serialize;

use crate::outcome::cautions::Caution;
use crate::outcome::headline::headline;
use crate::outcome::reach::Limit;
use crate::outcome::{Facts, Judgement, Outcome};
use crate::quantity::{Range, UnitSystem};
use crate::text::outcome as words;

/// Units of the texts in it.
const UNITS: UnitSystem = UnitSystem::Metric;

#[derive(Serialize)]
pub(super) struct OutcomePart<'a> {
    first_lines: Vec<FirstPart>,
    judgements: Vec<JudgementPart>,
    rules: Vec<RulePart<'a>>,
    class_a_score_at_centre: Option<f64>,
    class_a_score_in_coolest_parcel: Option<f64>,
    seeds_and_roots: Vec<PlantPart<'a>>,
    germs: Vec<GermPart<'a>>,
    fit_to_dig_in_day: Option<f64>,
    finished_day: Option<f64>,
    self_heating_rise_at_end_k: Option<f64>,
    compost: CompostPart,
    nitrogen_freed_in_years_1_to_5_kg: [Option<f64>; 5],
    how_far_to_trust: Vec<LimitPart>,
    cautions: Vec<CautionPart<'a>>,
}

#[derive(Serialize)]
struct FirstPart {
    asks: &'static str,
    answer: String,
}

#[derive(Serialize)]
struct JudgementPart {
    id: String,
    topic: &'static str,
    text: String,
    concerns_this_heap: bool,
    likelihood: Option<f64>,
    likelihood_of: Option<&'static str>,
    source: String,
    trust: &'static str,
    numbers: Vec<NumberPart>,
}

#[derive(Serialize)]
struct NumberPart {
    name: String,
    value: String,
}

#[derive(Serialize)]
struct RulePart<'a> {
    id: &'a str,
    would_meet: bool,
    met_at_centre: bool,
    met_in_share_of_heap: Option<f64>,
    turnings_counted: usize,
    made_the_way_it_is_for: bool,
    missing: Vec<String>,
}

#[derive(Serialize)]
struct PlantPart<'a> {
    id: &'a str,
    share_of_heap_with_enough_heat: Option<f64>,
}

#[derive(Serialize)]
struct GermPart<'a> {
    id: &'a str,
    share_of_heap_with_enough_heat: Option<f64>,
    least_tenfold_drops: Option<f64>,
}

#[derive(Serialize)]
struct CompostPart {
    mass_kg: RangePart,
    dry_mass_kg: RangePart,
    volume_m3: RangePart,
    moisture_wet_basis: RangePart,
    carbon_to_nitrogen: RangePart,
    nitrogen_mass_kg: RangePart,
    phosphate_mass_kg: RangePart,
    potash_mass_kg: RangePart,
    ammonia_nitrogen_lost_kg: RangePart,
    nitrogen_lost_as_gas_kg: RangePart,
    nitrogen_washed_out_kg: RangePart,
    carbon_lost_kg: RangePart,
    heat_made_j: RangePart,
}

#[derive(Serialize)]
struct RangePart {
    low: Option<f64>,
    typical: Option<f64>,
    high: Option<f64>,
}

#[derive(Serialize)]
struct LimitPart {
    id: &'static str,
    text: String,
    source: &'static str,
}

#[derive(Serialize)]
struct CautionPart<'a> {
    id: &'a str,
    text: &'a str,
    source: &'a str,
    trust: &'static str,
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn range(range: Range) -> RangePart {
    RangePart {
        low: finite(range.low),
        typical: finite(range.typical),
        high: finite(range.high),
    }
}

/// The outcome with the facts it was judged by.
pub(super) fn outcome_part<'a>(outcome: &'a Outcome, facts: &'a Facts) -> OutcomePart<'a> {
    let out = &outcome.produce;
    let rules = facts.rules.iter().zip(&outcome.rules);
    let rules = rules.map(|(table, rule)| RulePart {
        id: &table.id,
        would_meet: rule.would_meet,
        met_at_centre: rule.inside,
        met_in_share_of_heap: finite(rule.share),
        turnings_counted: rule.turnings,
        made_the_way_it_is_for: rule.process_fits,
        missing: rule
            .missing
            .iter()
            .map(|it| words::missing(*it, UNITS))
            .collect(),
    });
    let plants = facts.kill.plants().zip(&outcome.plants);
    let plants = plants.map(|(class, plant)| PlantPart {
        id: &class.id,
        share_of_heap_with_enough_heat: finite(plant.share),
    });
    let germs = facts.kill.germs.iter().zip(&outcome.germs);
    let germs = germs.map(|(table, germ)| GermPart {
        id: &table.id,
        share_of_heap_with_enough_heat: finite(germ.share),
        least_tenfold_drops: finite(germ.least_logs),
    });
    let judgements = outcome.judgements(facts);
    let first = words::first_lines(&headline(outcome, facts, &judgements), UNITS);
    let first = first.into_iter().map(|line| FirstPart {
        asks: line.asks,
        answer: line.answer,
    });
    OutcomePart {
        first_lines: first.collect(),
        judgements: judgements.iter().map(judgement_part).collect(),
        rules: rules.collect(),
        class_a_score_at_centre: finite(outcome.class_a.centre),
        class_a_score_in_coolest_parcel: finite(outcome.class_a.coolest),
        seeds_and_roots: plants.collect(),
        germs: germs.collect(),
        fit_to_dig_in_day: outcome.finish.dig_in_day().and_then(finite),
        finished_day: outcome.finish.pots_day().and_then(finite),
        self_heating_rise_at_end_k: finite(outcome.finish.flask_at_end.rise_k),
        compost: CompostPart {
            mass_kg: range(out.mass_kg),
            dry_mass_kg: range(out.dry_kg),
            volume_m3: range(out.volume_m3),
            moisture_wet_basis: range(out.moisture),
            carbon_to_nitrogen: range(out.cn),
            nitrogen_mass_kg: range(out.nitrogen_kg),
            phosphate_mass_kg: range(out.phosphate_kg),
            potash_mass_kg: range(out.potash_kg),
            ammonia_nitrogen_lost_kg: range(out.ammonia_kg),
            nitrogen_lost_as_gas_kg: range(out.nitrogen_gas_kg),
            nitrogen_washed_out_kg: range(out.nitrogen_drained_kg),
            carbon_lost_kg: range(out.carbon_lost_kg),
            heat_made_j: range(out.heat_made_j),
        },
        nitrogen_freed_in_years_1_to_5_kg: outcome.feeding.nitrogen_kg.map(finite),
        how_far_to_trust: outcome.limits.iter().map(|it| limit_part(*it)).collect(),
        cautions: outcome.cautions.iter().map(caution_part).collect(),
    }
}

fn judgement_part(judgement: &Judgement<'_>) -> JudgementPart {
    let likely = judgement.weighed.likely;
    let finding = &judgement.finding;
    JudgementPart {
        id: words::id(finding),
        topic: words::topic(judgement.id.topic()),
        text: words::sentence(finding, UNITS),
        concerns_this_heap: judgement.here,
        likelihood: likely.and_then(|it| finite(it.share)),
        likelihood_of: likely.map(|it| words::counted(it.of)),
        source: words::source(finding),
        trust: words::trust(judgement.trust()),
        numbers: words::numbers(judgement, UNITS)
            .into_iter()
            .map(|number| NumberPart {
                name: number.name,
                value: number.value,
            })
            .collect(),
    }
}

fn limit_part(limit: Limit) -> LimitPart {
    let note = words::limit(limit, UNITS);
    LimitPart {
        id: note.id,
        text: note.text,
        source: note.source,
    }
}

fn caution_part(caution: &Caution) -> CautionPart<'_> {
    CautionPart {
        id: &caution.id,
        text: &caution.text,
        source: &caution.source,
        trust: words::trust(caution.trust),
    }
}
