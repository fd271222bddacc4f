//! A finding of any kind in words.
//!
//! In: a [`Judgement`]. Out: its name in files, its sentence, its numbers, its source.
//!
//! Not here: what is said of each kind (`rules`, `living`, `finish`, `product`, `trouble`).
//!
//! Tested by: `tests/science/outcome.rs`, `tests/document/command.rs`.

use crate::outcome::kill::Study;
use crate::outcome::{Finding, Judgement, Topic};
use crate::quantity::UnitSystem;

use super::facts::NamedNumber;
use super::{fate, finish, likely, living, product, rules, trouble};

/// What a judgement is about.
pub fn topic(topic: Topic) -> &'static str {
    match topic {
        Topic::Rules => "Rules on heat",
        Topic::Plants => "Seeds and roots",
        Topic::Diseases => "Plant diseases",
        Topic::Germs => "Germs",
        Topic::Finish => "When it is done",
        Topic::Produce => "What comes out",
        Topic::Trouble => "Smell and trouble",
    }
}

/// Its stable name in files: "rule:us_psrp", "plants:seeds_easy", "finish".
pub fn id(finding: &Finding<'_>) -> String {
    match finding {
        Finding::Rule(rule, _) => format!("rule:{}", rule.id),
        Finding::ClassA(_) => "class_a".to_owned(),
        Finding::Plants(class, _) => format!("plants:{}", class.id),
        Finding::Disease(disease, _) => format!("disease:{}", disease.name),
        Finding::Germ { germ, .. } => format!("germs:{}", germ.id),
        Finding::Finish(..) => "finish".to_owned(),
        Finding::Produce(..) => "produce".to_owned(),
        Finding::Water(_) => "water".to_owned(),
        Finding::Nitrogen(_) => "nitrogen".to_owned(),
        Finding::Feeding(..) => "feeding".to_owned(),
        Finding::Trouble(_, trouble) => format!("trouble:{}", trouble::id(trouble.kind)),
    }
}

/// A sentence without a full stop.
pub fn sentence(finding: &Finding<'_>, units: UnitSystem) -> String {
    match finding {
        Finding::Rule(rule, got) => rules::rule(rule, got, units),
        Finding::ClassA(scores) => rules::class_a(*scores),
        Finding::Plants(class, got) => living::plants(class, got),
        Finding::Disease(disease, met) => living::disease(disease, *met),
        Finding::Germ { germ, got, .. } => living::germ(germ, got),
        Finding::Finish(table, got) => finish::finish(table, got, units),
        Finding::Produce(out, _) => product::product(out, units),
        Finding::Water(fate) => fate::water(fate, units),
        Finding::Nitrogen(fate) => fate::nitrogen(fate),
        Finding::Feeding(series, feeding) => product::feeding(*series, feeding, units),
        Finding::Trouble(fault, trouble) => trouble::trouble(*fault, trouble, units),
    }
}

/// The numbers behind it, those of an ensemble last.
pub fn numbers(judgement: &Judgement<'_>, units: UnitSystem) -> Vec<NamedNumber> {
    let mut numbers = match judgement.finding {
        Finding::Rule(rule, got) => rules::rule_numbers(rule, got, units),
        Finding::ClassA(scores) => rules::class_a_numbers(scores, units),
        Finding::Plants(class, got) => living::plant_numbers(class, got, units),
        Finding::Disease(disease, _) => living::disease_numbers(disease, units),
        Finding::Germ { germ, got, parcels } => living::germ_numbers(germ, got, parcels, units),
        Finding::Finish(table, got) => finish::finish_numbers(table, got, units),
        Finding::Produce(out, published) => product::product_numbers(out, published, units),
        Finding::Water(fate) => fate::water_numbers(fate, units),
        Finding::Nitrogen(fate) => fate::nitrogen_numbers(fate, units),
        Finding::Feeding(_, feeding) => product::feeding_numbers(feeding, units),
        Finding::Trouble(fault, trouble) => trouble::trouble_numbers(fault, trouble, units),
    };
    numbers.extend(likely::spread(judgement.weighed.spread));
    numbers
}

/// Where its facts stand.
pub fn source(finding: &Finding<'_>) -> String {
    match finding {
        Finding::Rule(rule, _) => rule.source.clone(),
        Finding::ClassA(_) => rules::CLASS_A_SOURCE.to_owned(),
        Finding::Plants(class, _) => class.basis.clone(),
        Finding::Disease(disease, _) => sources(&disease.studies),
        Finding::Germ { germ, .. } => germ.source.clone(),
        Finding::Finish(table, _) => finish::finish_source(table),
        Finding::Produce(..) => product::PRODUCT_SOURCE.to_owned(),
        Finding::Water(_) => fate::WATER_SOURCE.to_owned(),
        Finding::Nitrogen(_) => fate::NITROGEN_SOURCE.to_owned(),
        Finding::Feeding(series, _) => series.map_or_else(String::new, |it| it.source.clone()),
        Finding::Trouble(fault, _) => fault.map_or_else(String::new, |it| it.source.clone()),
    }
}

fn sources(studies: &[Study]) -> String {
    let all: Vec<&str> = studies.iter().map(|s| s.source.as_str()).collect();
    all.join("; ")
}
