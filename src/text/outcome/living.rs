//! Seeds, roots, plant diseases and germs in words that never promise.
//!
//! In: classes, diseases and germs with their results. Out: sentences, numbers.
//!
//! Not here: the judging (`outcome::kill`).
//!
//! Tested by: `tests/science/outcome_kill.rs`.

use crate::outcome::kill::{Best, Disease, Germ, GermResult, PlantClass, PlantResult};
use crate::outcome::sanitation::HeatRule;
use crate::quantity::UnitSystem;
use crate::text::{number, sentence};

use super::facts::{NamedNumber, holds, share_of_heap, studies};

/// How a class of seeds or roots fared.
pub(super) fn plants(class: &PlantClass, got: &PlantResult) -> String {
    let (name, share) = (&class.name, share_of_heap(got.share));
    sentence(&match class.best {
        Best::Never => format!(
            "{name}: a garden heap is never credited with killing these, whatever it reaches; keep them out"
        ),
        Best::MostlyKilled if got.share <= 0.0 => {
            format!("{name}: {share} had the heat that kills most of them; expect survivors")
        }
        Best::MostlyKilled => {
            format!("{name}: {share} had the heat that kills most of them; some survive even there")
        }
        Best::Killed if got.share <= 0.0 => format!(
            "{name}: {share} had the heat that killed them in the studies; expect survivors"
        ),
        Best::Killed => format!(
            "{name}: {share} had the heat that killed them in the studies; expect survivors from the rest"
        ),
    })
}

/// The numbers behind it.
pub(super) fn plant_numbers(
    class: &PlantClass,
    got: &PlantResult,
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let enough = if class.holds.is_empty() {
        "nothing a garden heap gives".to_owned()
    } else {
        holds(&class.holds, units)
    };
    let if_moist = share_of_heap(got.share_if_moist);
    let mut numbers = vec![
        NamedNumber::new("such as", class.examples.join(", ")),
        NamedNumber::new("enough is", enough),
        NamedNumber::new("had enough", share_of_heap(got.share)),
        NamedNumber::new("had enough if dry heat counted", if_moist),
    ];
    let disagreement = class.disagreement.iter();
    numbers.extend(disagreement.map(|it| NamedNumber::new("studies disagree", it)));
    numbers.extend(studies(&class.studies));
    numbers.extend(degrees_of_studies(units));
    numbers
}

/// What is said of a disease; `rule_met` is a rule that even the coolest parcel meets.
pub(super) fn disease(disease: &Disease, rule_met: Option<&HeatRule>) -> String {
    let name = &disease.name;
    sentence(&match (disease.keep_out, rule_met) {
        (true, _) => format!("{name}: keep infected plants out of any garden heap"),
        (false, Some(rule)) => format!(
            "{name}: even the coolest parcel would have the time and temperature of {}, which brought it below detection in most tests",
            rule.name
        ),
        (false, None) => format!(
            "{name}: the coolest parcel meets no rule on heat, so leave infected plants out"
        ),
    })
}

/// Findings of studies are quoted in degrees Celsius; said where a person reads Fahrenheit elsewhere.
fn degrees_of_studies(units: UnitSystem) -> Option<NamedNumber> {
    let elsewhere = units == UnitSystem::UsCustomary;
    elsewhere.then(|| NamedNumber::new("degrees in the studies", "Celsius"))
}

/// What the studies found.
pub(super) fn disease_numbers(disease: &Disease, units: UnitSystem) -> Vec<NamedNumber> {
    let found = studies(&disease.studies);
    found.chain(degrees_of_studies(units)).collect()
}

/// How a germ fared.
pub(super) fn germ(germ: &Germ, got: &GermResult) -> String {
    sentence(&format!(
        "{}: {} had enough heat for {:.0} tenfold drops or more; the coolest parcel for {:.1}",
        germ.name,
        share_of_heap(got.share),
        germ.enough_logs,
        got.least_logs
    ))
}

/// The numbers behind it.
pub(super) fn germ_numbers(
    germ: &Germ,
    got: &GermResult,
    parcels: usize,
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let drop_at = number::temperature(germ.scale.ref_c, units);
    let minutes = number::time(germ.d_minutes / 1440.0);
    let ten_times = number::temperature_difference(germ.scale.z_k, units);
    let cap = format!("{} tenfold drops", germ.cap_per_spell);
    vec![
        NamedNumber::new(format!("tenfold drop at {drop_at}"), minutes),
        NamedNumber::new("degrees that make it ten times as fast", ten_times),
        NamedNumber::new("most counted for one hot spell", cap),
        NamedNumber::new("least of the parcels", drops(got.least_logs)),
        NamedNumber::new("of the whole heap", drops(got.overall_logs)),
        NamedNumber::new("by slow dying in the coolest parcel", drops(got.slow_logs)),
        NamedNumber::new("parcels followed", parcels.to_string()),
    ]
}

/// Tenfold drops: "5.5".
fn drops(logs: f64) -> String {
    format!("{logs:.1}")
}
