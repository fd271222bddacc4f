//! How likely each judgement is, by the members of an ensemble.
//!
//! In: an outcome, a forecast of the same heap. Out: the same outcome with likelihoods and ranges.
//!
//! A member counts as a yes for seeds and germs when half or more of its heap had enough.
//! Not here: judging a member (`outcome::Brief`), how a share is said (`text::outcome`).
//!
//! Tested by: `tests/science/outcome.rs`.

use std::collections::BTreeMap;

use crate::outcome::kill::Best;
use crate::outcome::{
    Brief, Counted, Facts, HALF_OF_IT, JudgementId, Likely, MemberSpread, Outcome, TableRow,
    Weighed,
};
use crate::quantity::Range;

use super::band::Forecast;

/// Gives every judgement of an outcome its likelihood, and what comes out its ranges; nothing before
/// the first member.
pub fn weigh(outcome: &mut Outcome, forecast: &Forecast, facts: &Facts) {
    if forecast.briefs().is_empty() {
        return;
    }
    let ids: Vec<JudgementId> = outcome.judgements(facts).iter().map(|it| it.id).collect();
    let fits = |id: &JudgementId| match id {
        JudgementId::Rule(_) => !outcome.elsewhere.contains(id),
        // Of leafmould the times of practice are told, which no member knows.
        JudgementId::Finish => !outcome.finish.leaves,
        _ => true,
    };
    let weighed: BTreeMap<JudgementId, Weighed> = ids
        .into_iter()
        .filter(fits)
        .map(|id| (id, self::weighed(id, forecast, facts)))
        .collect();
    outcome.weighed = weighed;
    let produce = &mut outcome.produce;
    let set = |of: &mut Range, number: &dyn Fn(&Brief) -> f64| {
        if let Some(range) = forecast.range_judged(number).filter(Range::is_sound) {
            // The typical value stays that of the run that is shown.
            of.low = range.low.min(of.typical);
            of.high = range.high.max(of.typical);
        }
    };
    set(&mut produce.mass_kg, &|b| b.mass_kg[0]);
    set(&mut produce.dry_kg, &|b| b.mass_kg[1]);
    set(&mut produce.ammonia_kg, &|b| b.mass_kg[3]);
    set(&mut produce.nitrogen_gas_kg, &|b| b.mass_kg[4]);
    set(&mut produce.nitrogen_drained_kg, &|b| b.mass_kg[5]);
    set(&mut produce.volume_m3, &|b| b.volume_m3);
    set(&mut produce.moisture, &|b| b.moisture);
    set(&mut produce.cn, &|b| b.cn);
    set(&mut produce.carbon_lost_kg, &|b| b.carbon_lost_kg);
    set(&mut produce.heat_made_j, &|b| b.heat_made_j);
}

/// What the members say of one judgement.
fn weighed(id: JudgementId, forecast: &Forecast, facts: &Facts) -> Weighed {
    let told = |of, holds: &dyn Fn(&Brief) -> bool| {
        let share = forecast.likelihood_judged(holds);
        Some(Likely { of, share })
    };
    let (likely, spread) = match id {
        JudgementId::Rule(TableRow(place)) => {
            let met = |b: &Brief| b.rules_met.get(place).copied().unwrap_or(false);
            (told(Counted::RuleMet, &met), None)
        }
        JudgementId::Plants(TableRow(place)) if is_creditable(place, facts) => {
            let share = |b: &Brief| b.plant_shares.get(place).map_or(0.0, |s| f64::from(*s));
            let range = forecast.range_judged(share);
            let enough = |b: &Brief| share(b) >= HALF_OF_IT;
            let likely = told(Counted::HalfOfHeap, &enough);
            (likely, range.map(MemberSpread::ShareTreated))
        }
        // A member keeps the share of the first germ only.
        JudgementId::Germ(TableRow(0)) => {
            let enough = |b: &Brief| f64::from(b.germ_share) >= HALF_OF_IT;
            (told(Counted::HalfOfHeap, &enough), None)
        }
        JudgementId::Finish => {
            let finished = |b: &Brief| b.finished_day.is_some();
            let spread = MemberSpread::FinishedBy {
                half: forecast.finished_day(0.5),
                most: forecast.finished_day(0.9),
            };
            (told(Counted::Finished, &finished), Some(spread))
        }
        JudgementId::Trouble(kind) => {
            let has = |b: &Brief| b.troubles.contains(&kind);
            (told(Counted::TroubleArose, &has), None)
        }
        JudgementId::Plants(_)
        | JudgementId::Germ(_)
        | JudgementId::ClassA
        | JudgementId::Disease(_)
        | JudgementId::Produce
        | JudgementId::Water
        | JudgementId::Nitrogen
        | JudgementId::Feeding => (None, None),
    };
    Weighed { likely, spread }
}

/// Whether a class can be credited at all: what no heap is credited with is no question of likelihood.
fn is_creditable(place: usize, facts: &Facts) -> bool {
    let mut classes = facts.kill.plants();
    classes
        .nth(place)
        .is_some_and(|class| class.best != Best::Never)
}
