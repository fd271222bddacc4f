//! What is wrong with a heap for another program, as JSON of schema 1.
//!
//! In: a [`Diagnosis`]. Out: one object; every key is always there.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | 1; another number means that keys have changed their meaning |
//! | `symptoms[]` | their names, as on the command line |
//! | `not_shown_by_recipe[]` | those that the heap as written would not show |
//! | `peak_temperature_c` | of the heap as written, or `null` |
//! | `learnt` | whether the heap is asked about as its diary taught it |
//! | `from_diary[]` | readings taken from the diary: `what` (`squeeze`, `temperature`, `smell`), `value` (moisture that a squeeze stands for, degC, name of the smell), `days_ago` |
//! | `causes[]` | `id`, `text`, `weight` (0 to 1, the weightiest first), `explains[]`, `evidence` (text), `tried` (text or `null`), `gain` (number or `null`), `put_in` (whether it was put in instead of mended), `source`, `trust` |
//! | `cures[]` | the smallest first: `text`, `against[]`, `best` (the one to begin with), `expected[]` (text), `gone_share` (0 to 1 or `null`), `pairs` |
//! | `cautions[]` | `text`, `source`, `trust` |
//!
//! Not here: sentences (`complaint_text`).
//!
//! Tested by: `tests/document/complaint.rs`.

use serde::Serialize;

use crate::assess::remedy::{Cure, Diagnosis, DiarySays, HeapAsked};
use crate::material::Catalogue;
use crate::outcome::Facts;
use crate::outcome::complaint::{Cause, Known, Ranked};
use crate::quantity::UnitSystem;
use crate::text::complaint as words;
use crate::text::outcome::trust;

/// Version of the keys.
const SCHEMA: u32 = 1;
const UNITS: UnitSystem = UnitSystem::Metric;

#[derive(Serialize)]
struct Whole<'a> {
    schema: u32,
    symptoms: Vec<&'static str>,
    not_shown_by_recipe: Vec<&'static str>,
    peak_temperature_c: Option<f64>,
    learnt: bool,
    from_diary: Vec<DiaryPart>,
    causes: Vec<CausePart<'a>>,
    cures: Vec<CurePart>,
    cautions: Vec<CautionPart<'a>>,
}

#[derive(Serialize)]
struct CausePart<'a> {
    id: String,
    text: &'static str,
    weight: f64,
    explains: Vec<&'static str>,
    evidence: String,
    tried: Option<String>,
    gain: Option<f64>,
    put_in: bool,
    source: Option<&'a str>,
    trust: Option<&'static str>,
}

#[derive(Serialize)]
struct CurePart {
    text: String,
    against: Vec<String>,
    best: bool,
    expected: Vec<String>,
    gone_share: Option<f64>,
    pairs: usize,
}

#[derive(Serialize)]
struct CautionPart<'a> {
    text: &'a str,
    source: &'a str,
    trust: &'static str,
}

#[derive(Serialize)]
struct DiaryPart {
    what: &'static str,
    value: serde_json::Value,
    days_ago: f64,
}

fn diary_parts(says: &DiarySays) -> Vec<DiaryPart> {
    let squeeze = says.squeeze.map(|it| DiaryPart {
        what: "squeeze",
        value: it.what.moisture().into(),
        days_ago: it.days_ago,
    });
    let temperature = says.temperature_c.map(|it| DiaryPart {
        what: "temperature",
        value: it.what.into(),
        days_ago: it.days_ago,
    });
    let smell = says.smell.map(|it| DiaryPart {
        what: "smell",
        value: format!("{:?}", it.what).into(),
        days_ago: it.days_ago,
    });
    squeeze
        .into_iter()
        .chain(temperature)
        .chain(smell)
        .collect()
}

/// The diagnosis as JSON.
///
/// # Errors
/// Only if a number cannot be written, which none here can be.
pub fn complaint_json(
    found: &Diagnosis,
    catalogue: &Catalogue,
    facts: &Facts,
) -> Result<String, serde_json::Error> {
    let best = found.best_cure();
    serde_json::to_string_pretty(&Whole {
        schema: SCHEMA,
        symptoms: found.symptoms.iter().map(|it| it.id()).collect(),
        not_shown_by_recipe: found.not_shown.iter().map(|it| it.id()).collect(),
        peak_temperature_c: found.peak_c.filter(|peak| peak.is_finite()),
        learnt: found.of == HeapAsked::Learnt,
        from_diary: diary_parts(&found.diary),
        causes: found
            .ranked
            .iter()
            .map(|ranked| cause_part(found, ranked, facts))
            .collect(),
        cures: found
            .cures
            .iter()
            .map(|cure| cure_part(cure, best == Some(cure), catalogue))
            .collect(),
        cautions: found
            .beware(facts)
            .into_iter()
            .map(|beware| CautionPart {
                text: &beware.text,
                source: &beware.source,
                trust: trust(beware.trust),
            })
            .collect(),
    })
}

/// A cause's stable name: that of the table of faults.
fn id(cause: Cause) -> String {
    format!("{cause:?}")
}

fn cause_part<'a>(found: &Diagnosis, ranked: &Ranked, facts: &'a Facts) -> CausePart<'a> {
    let fault = found.fault(ranked, facts);
    let tried = match ranked.known {
        Known::Tried(tried) => Some(tried),
        Known::Read => None,
    };
    CausePart {
        id: id(ranked.cause),
        text: words::cause(ranked.cause),
        weight: ranked.weight,
        explains: ranked.explains.iter().map(|it| it.id()).collect(),
        evidence: words::why(ranked, UNITS),
        tried: words::how_known(ranked, UNITS),
        gain: tried
            .map(|tried| tried.gain)
            .filter(|gain| gain.is_finite()),
        put_in: tried.is_some_and(|tried| tried.put_in),
        source: fault.map(|fault| fault.source.as_str()),
        trust: fault.map(|fault| trust(fault.trust)),
    }
}

fn cure_part(cure: &Cure, best: bool, catalogue: &Catalogue) -> CurePart {
    let shares = cure.relief.iter().filter_map(|relief| relief.gone_share);
    CurePart {
        text: words::cure(cure, catalogue, UNITS),
        against: cure.against.iter().map(|cause| id(*cause)).collect(),
        best,
        expected: words::expected_lines(cure, UNITS),
        gone_share: shares.reduce(f64::min),
        pairs: cure.comparison.as_ref().map_or(0, |both| both.pairs()),
    }
}
