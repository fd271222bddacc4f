//! The lines of the outcome: each judgement in words, with its numbers and its source.
//!
//! In: results of the judges, the facts they used. Out: [`Judgement`]s.
//!
//! Not here: the judging (one module a subject), likelihoods (`forecast`).
//!
//! Tested by: `tests/science/outcome.rs`.

use super::Trust;
use super::course::{days_text, rise_text, share_text};
use super::finish::Finish;
use super::kill::{Disease, Germ, GermResult, PlantClass, PlantResult, Study, disease_text};
use super::sanitation::{CLASS_A_SOLID, HeatRule, ReadAt, RuleResult};
use super::smell::Trouble;
use super::tables::Facts;
use super::wording::sentence;
use crate::quantity::UnitSystem;

/// What a judgement is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// Rules on heat.
    Rules,
    /// Seeds and roots.
    Plants,
    /// Plant diseases.
    Diseases,
    /// Germs.
    Germs,
    /// When it is done.
    Finish,
    /// What comes out and what it feeds.
    Produce,
    /// Smell and trouble.
    Trouble,
}

impl Topic {
    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Rules => "Rules on heat",
            Self::Plants => "Seeds and roots",
            Self::Diseases => "Plant diseases",
            Self::Germs => "Germs",
            Self::Finish => "When it is done",
            Self::Produce => "What comes out",
            Self::Trouble => "Smell and trouble",
        }
    }
}

/// How likely something is, by members of an ensemble.
#[derive(Debug, Clone, PartialEq)]
pub struct Likely {
    /// What is counted, as the rest of a sentence after "in ... of 10".
    pub of: String,
    /// Share of the members for which it holds, 0-1.
    pub share: f64,
}

/// One line of the outcome, with what it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement {
    /// Stable name: "rule:us_psrp", "plants:seeds_easy", "finish".
    pub id: String,
    /// What it is about.
    pub topic: Topic,
    /// A sentence, or a piece that can stand as one.
    pub text: String,
    /// The numbers behind it: name and value with unit.
    pub numbers: Vec<(String, String)>,
    /// Where its facts stand.
    pub source: String,
    /// How far those are to be trusted.
    pub trust: Trust,
    /// How likely, once an ensemble has been asked.
    pub likely: Option<Likely>,
}

pub(super) fn class_a_line((coolest, centre): (f64, f64)) -> Judgement {
    Judgement {
        id: "class_a".to_owned(),
        topic: Topic::Rules,
        text: format!(
            "The class A equation asks for 1: the centre scores {}, the coolest parcel {}",
            score_text(centre),
            score_text(coolest)
        ),
        numbers: vec![
            ("valid for".to_owned(), CLASS_A_SOLID.valid.to_owned()),
            ("score at the centre".to_owned(), score_text(centre)),
            ("score in the coolest parcel".to_owned(), score_text(coolest)),
        ],
        source: "40 CFR 503.32(a)(3) as carried in 15A NCAC 02T .1106; at least one state leaves composting out of it, so it is a yardstick only".to_owned(),
        trust: Trust::Read,
        likely: None,
    }
}

/// Names the first rule read in every part that even the coolest parcel meets.
pub(super) fn disease_lines(rules: &[RuleResult], facts: &Facts) -> Vec<Judgement> {
    let met = facts.rules.iter().zip(rules).find(|(rule, got)| {
        rule.read_at == ReadAt::EveryPart
            && rule.trust != Trust::Recalled
            && got.would_meet
            && rule.id != "us_psrp"
    });
    let met = met.map(|(rule, _)| rule.name.as_str());
    let line = |disease: &Disease| Judgement {
        id: format!("disease:{}", disease.name),
        topic: Topic::Diseases,
        text: sentence(&disease_text(disease, met)),
        numbers: study_numbers(&disease.studies),
        source: sources(&disease.studies),
        trust: disease
            .studies
            .iter()
            .map(|s| s.trust)
            .min()
            .unwrap_or(Trust::Recalled),
        likely: None,
    };
    facts.kill.diseases.iter().map(line).collect()
}

pub(super) fn finish_line(finish: &Finish, facts: &Facts, units: UnitSystem) -> Judgement {
    let dated =
        |day: Option<f64>| day.map_or("not within the run".to_owned(), |d| format!("day {d:.0}"));
    let mut numbers = vec![
        (
            "the heap is hot until".to_owned(),
            finish
                .hot_until_day
                .map_or("it never is".to_owned(), |day| format!("day {day:.0}")),
        ),
        (
            "curing after that".to_owned(),
            days_text(facts.finish.curing_days),
        ),
        (
            "flask at the end".to_owned(),
            format!(
                "{} of rise, class {}",
                rise_text(finish.flask_at_end.rise_k, units),
                finish.flask_at_end.class()
            ),
        ),
    ];
    for (limit, got) in facts.finish.limits.iter().zip(&finish.limits) {
        let memory = if limit.trust == Trust::Recalled {
            " (from memory)"
        } else {
            ""
        };
        let value = format!(
            "{} (at the end {:.1} {}){memory}",
            dated(got.day),
            got.at_end,
            limit.measure.unit()
        );
        numbers.push((limit.name.clone(), value));
    }
    if let Some(way) = facts.finish.ways.iter().find(|way| way.way == finish.way) {
        let (from, to) = way.days;
        numbers.push((
            format!("usual time, {}", way.name),
            format!("{from:.0} to {to:.0} days ({})", way.source),
        ));
    }
    Judgement {
        id: "finish".to_owned(),
        topic: Topic::Finish,
        text: finish.text(units),
        numbers,
        source: format!(
            "own self-heating estimate from the model's pools; {}",
            facts.finish.curing_source
        ),
        trust: Trust::Recalled,
        likely: None,
    }
}

fn score_text(score: f64) -> String {
    match score {
        high if high >= 10.0 => "more than 10".to_owned(),
        some => format!("{some:.2}"),
    }
}

pub(super) fn rule_line(rule: &HeatRule, got: &RuleResult, units: UnitSystem) -> Judgement {
    let holds = rule
        .any_of
        .get(got.alternative)
        .map_or(&[][..], Vec::as_slice);
    let asks: Vec<String> = holds.iter().map(|hold| hold.text(units)).collect();
    let mut numbers = vec![
        ("asks".to_owned(), asks.join(" and ")),
        ("for".to_owned(), rule.process.label().to_owned()),
        (
            "read".to_owned(),
            match rule.read_at {
                ReadAt::Inside => "by a probe inside".to_owned(),
                ReadAt::EveryPart => "in every part".to_owned(),
            },
        ),
        (
            "parcels that would meet it".to_owned(),
            share_text(got.share),
        ),
    ];
    for (hold, days) in holds.iter().zip(&got.coolest_days) {
        numbers.push((
            format!(
                "coolest parcel at {}",
                crate::outcome::said::temperature(hold.at_c, units)
            ),
            days_text(*days),
        ));
    }
    if let Some(turnings) = rule.turnings {
        numbers.push((
            "turnings while hot".to_owned(),
            format!("{} of {}", got.turnings, turnings.least),
        ));
    }
    if let Some(floor) = rule.moisture_floor {
        numbers.push((
            "counts only above".to_owned(),
            format!("{:.0} % moisture", 100.0 * floor),
        ));
    }
    let also = rule
        .also_asks
        .iter()
        .map(|ask| ("also asks, not judged".to_owned(), ask.clone()));
    numbers.extend(also);
    Judgement {
        id: format!("rule:{}", rule.id),
        topic: Topic::Rules,
        text: sentence(&got.text(rule, units)),
        numbers,
        source: rule.source.clone(),
        trust: rule.trust,
        likely: None,
    }
}

fn study_numbers(studies: &[Study]) -> Vec<(String, String)> {
    let pair = |s: &Study| {
        (
            s.source.clone(),
            format!("{} ({})", s.finding, s.trust.label()),
        )
    };
    studies.iter().map(pair).collect()
}

fn sources(studies: &[Study]) -> String {
    let all: Vec<&str> = studies.iter().map(|s| s.source.as_str()).collect();
    all.join("; ")
}

pub(super) fn plant_lines(
    results: &[PlantResult],
    facts: &Facts,
    units: UnitSystem,
) -> Vec<Judgement> {
    let line = |(class, got): (&PlantClass, &PlantResult)| {
        let asks: Vec<String> = class.holds.iter().map(|hold| hold.text(units)).collect();
        let mut numbers = vec![
            ("such as".to_owned(), class.examples.join(", ")),
            (
                "enough is".to_owned(),
                if asks.is_empty() {
                    "nothing a garden heap gives".to_owned()
                } else {
                    asks.join(" and ")
                },
            ),
            ("had enough".to_owned(), share_text(got.share)),
            (
                "had enough if dry heat counted".to_owned(),
                share_text(got.share_if_moist),
            ),
        ];
        numbers.extend(
            class
                .disagreement
                .iter()
                .map(|it| ("studies disagree".to_owned(), it.clone())),
        );
        numbers.extend(study_numbers(&class.studies));
        Judgement {
            id: format!("plants:{}", class.id),
            topic: Topic::Plants,
            text: sentence(&got.text(class)),
            numbers,
            source: class.basis.clone(),
            trust: class.trust,
            likely: None,
        }
    };
    facts.kill.plants().zip(results).map(line).collect()
}

pub(super) fn germ_lines(
    results: &[GermResult],
    facts: &Facts,
    parcels: usize,
    units: UnitSystem,
) -> Vec<Judgement> {
    let line = |(germ, got): (&Germ, &GermResult)| Judgement {
        id: format!("germs:{}", germ.id),
        topic: Topic::Germs,
        text: sentence(&got.text(germ)),
        numbers: vec![
            (
                format!(
                    "tenfold drop at {}",
                    crate::outcome::said::temperature(germ.scale.ref_c, units)
                ),
                format!("{:.0} minutes", germ.d_minutes),
            ),
            (
                "degrees that make it ten times as fast".to_owned(),
                rise_text(germ.scale.z_k, units),
            ),
            (
                "most counted for one hot spell".to_owned(),
                format!("{} tenfold drops", germ.cap_per_spell),
            ),
            (
                "least of the parcels".to_owned(),
                format!("{:.1}", got.least_logs),
            ),
            (
                "of the whole heap".to_owned(),
                format!("{:.1}", got.overall_logs),
            ),
            (
                "by slow dying in the coolest parcel".to_owned(),
                format!("{:.1}", got.slow_logs),
            ),
            ("parcels followed".to_owned(), parcels.to_string()),
        ],
        source: germ.source.clone(),
        trust: germ.trust,
        likely: None,
    };
    facts.kill.germs.iter().zip(results).map(line).collect()
}

pub(super) fn trouble_line(trouble: &Trouble, units: UnitSystem) -> Judgement {
    let (from, to) = trouble.days;
    let what = trouble.kind.text(trouble.worst, units);
    Judgement {
        id: format!("trouble:{:?}", trouble.kind),
        topic: Topic::Trouble,
        text: format!(
            "{what}, between day {from:.0} and {to:.0}: {}",
            trouble.cause
        ),
        numbers: vec![
            ("from".to_owned(), format!("day {from:.1}")),
            ("to".to_owned(), format!("day {to:.1}")),
            ("smallest cure".to_owned(), trouble.cure.clone()),
        ],
        source: trouble.source.clone(),
        trust: Trust::Read,
        likely: None,
    }
}
