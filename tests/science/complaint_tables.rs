//! The table of symptoms: whole, sourced, and each row leads somewhere.

use std::collections::BTreeSet;

use heapwright::outcome::Trust;
use heapwright::outcome::complaint::{Cause, Symptom};
use heapwright::outcome::shared;
use heapwright::text::complaint;

use crate::support::materials::built_in;

#[test]
fn every_symptom_has_a_row_with_a_cause_a_cure_and_a_source() {
    let facts = shared().unwrap();
    for symptom in Symptom::ALL {
        let mut rows = facts.faults.iter();
        assert!(
            rows.any(|fault| fault.symptoms.contains(&symptom)
                && !fault.blames.is_empty()
                && !fault.cure.is_empty()
                && !fault.source.is_empty()),
            "{symptom:?}"
        );
        assert_eq!(Symptom::of_id(symptom.id()), Some(symptom));
    }
    let ids: BTreeSet<&str> = Symptom::ALL.iter().map(|it| it.id()).collect();
    assert_eq!(ids.len(), Symptom::ALL.len());
}

#[test]
fn every_row_names_materials_that_exist() {
    for fault in &shared().unwrap().faults {
        for id in &fault.materials {
            assert!(built_in().find(id).is_some(), "{id}");
        }
    }
}

/// What can hurt has its caution: rats (leptospirosis), mouldy dust (Aspergillus), ammonia, a heap above 70 degC.
#[test]
fn what_can_hurt_carries_its_caution() {
    let facts = shared().unwrap();
    for (symptom, word) in [
        (Symptom::Rats, "leptospirosis"),
        (Symptom::WhiteThreads, "Aspergillus"),
        (Symptom::SmellAmmonia, "eyes"),
        (Symptom::TooHot, "fire"),
    ] {
        let rows = facts
            .faults
            .iter()
            .filter(|fault| fault.symptoms.contains(&symptom));
        let all: Vec<_> = rows.flat_map(|fault| &fault.beware).collect();
        assert!(
            all.iter()
                .any(|beware| beware.text.contains(word) && !beware.source.is_empty()),
            "{symptom:?}"
        );
        assert!(all.iter().all(|beware| beware.trust != Trust::Recalled));
    }
}

/// The likeliest cause stands first in the published tables: nitrogen for cold, wet for rotten smells, nitrogen for
/// ammonia, water for ants, food for flies and rats (leaflet Troubleshooting Compost Piles; Cornell; NC State).
#[test]
fn the_first_cause_of_a_row_is_that_of_the_published_table() {
    let facts = shared().unwrap();
    for (symptom, cause) in [
        (Symptom::Cold, Cause::ShortOfNitrogen),
        (Symptom::SmellSour, Cause::TooWet),
        (Symptom::SmellAmmonia, Cause::MuchNitrogen),
        (Symptom::Ants, Cause::TooDry),
        (Symptom::Flies, Cause::OpenFood),
        (Symptom::Rats, Cause::RatFood),
        (Symptom::OnlyMiddle, Cause::TooSmall),
        (Symptom::TooHot, Cause::TooBig),
        (Symptom::CuppedLeaves, Cause::Weedkiller),
        (Symptom::ShrankByHalf, Cause::Normal),
    ] {
        let mut rows = facts.faults.iter();
        let row = rows
            .find(|fault| fault.symptoms.contains(&symptom))
            .unwrap();
        assert_eq!(row.blames[0], cause, "{symptom:?}");
    }
}

#[test]
fn every_symptom_has_words_of_its_own() {
    let all: BTreeSet<&str> = Symptom::ALL.map(complaint::symptom).into_iter().collect();
    assert_eq!(all.len(), Symptom::ALL.len());
}
