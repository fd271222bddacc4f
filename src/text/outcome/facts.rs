//! What all judgements share in words: trust, shares of the heap, temperatures to be held, studies.
//!
//! In: typed facts. Out: pieces of sentences, numbers with their names.
//!
//! Not here: whole sentences (`rules`, `living`, `finish`, `product`, `trouble`).
//!
//! Tested by: `tests/science/outcome_kill.rs`, `tests/science/outcome_sanitation.rs`.

use crate::outcome::Trust;
use crate::outcome::course::Hold;
use crate::outcome::kill::Study;
use crate::quantity::UnitSystem;
use crate::text::{list, number};

/// A share of the heap below which it is hardly any.
const HARDLY_ANY: f64 = 0.005;
/// A share of the heap above which it is nearly all.
const NEARLY_ALL: f64 = 0.985;

/// A number behind a judgement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedNumber {
    /// What it is.
    pub name: String,
    /// The value with its unit.
    pub value: String,
}

impl NamedNumber {
    pub(super) fn new(name: impl Into<String>, value: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            value: value.into(),
        }
    }
}

/// How far a fact is to be trusted.
pub fn trust(trust: Trust) -> &'static str {
    match trust {
        Trust::Recalled => "unverified (from memory)",
        Trust::Derived => "own calculation from figures read",
        Trust::SecondHand => "read where another text quotes it",
        Trust::Read => "read",
    }
}

/// The same where it stands between brackets.
pub fn trust_in_brackets(of: Trust) -> &'static str {
    match of {
        Trust::Recalled => "unverified, from memory",
        Trust::Derived | Trust::SecondHand | Trust::Read => trust(of),
    }
}

/// Put behind a source that nothing was read of: ", unverified"; else nothing.
pub fn unverified(trust: Trust) -> &'static str {
    match trust {
        Trust::Recalled => ", unverified",
        Trust::Derived | Trust::SecondHand | Trust::Read => "",
    }
}

/// A share of the heap in words that never promise all of it.
pub fn share_of_heap(share: f64) -> String {
    match share {
        none if none <= 0.0 => "none of the heap".to_owned(),
        little if little < HARDLY_ANY => "hardly any of the heap".to_owned(),
        most if most > NEARLY_ALL => "nearly all of the heap".to_owned(),
        some => format!("{} of the heap", number::percent(some)),
    }
}

/// A temperature and how long it must be held: "55 °C for 3 days".
pub(super) fn hold(hold: &Hold, units: UnitSystem) -> String {
    let at = number::temperature(hold.at_c, units);
    format!("{at} for {}", number::time(hold.days))
}

/// All of them: "60 °C for 3 days and 55 °C for 14 days".
pub(super) fn holds(all: &[Hold], units: UnitSystem) -> String {
    let said: Vec<String> = all.iter().map(|it| hold(it, units)).collect();
    list(&said)
}

/// What each study found, by its source.
pub(super) fn studies(studies: &[Study]) -> impl Iterator<Item = NamedNumber> + '_ {
    studies.iter().map(|study| {
        let value = format!("{} ({})", study.finding, trust_in_brackets(study.trust));
        NamedNumber::new(&study.source, value)
    })
}
