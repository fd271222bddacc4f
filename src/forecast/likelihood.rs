//! How likely each judgement is, by the members of an ensemble.
//!
//! In: an outcome, a forecast of the same heap. Out: the same outcome with likelihoods and ranges.
//!
//! A member counts as a yes for seeds and germs when half or more of its heap had enough.
//! Not here: judging a member (`outcome::Brief`), how a share is said ([`super::in_ten`]).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::outcome::kill::{Best, PlantClass};
use crate::outcome::{Brief, Facts, HALF_OF_IT, Likely, Outcome};
use crate::quantity::Range;

use super::band::{Forecast, reached};

/// Gives every judgement of an outcome its likelihood, and what comes out its ranges; nothing before
/// the first member.
pub fn weigh(outcome: &mut Outcome, forecast: &Forecast, facts: &Facts) {
    if forecast.briefs().is_empty() {
        return;
    }
    for judgement in &mut outcome.judgements {
        judgement.likely = likely(&judgement.id, forecast, facts);
        judgement
            .numbers
            .extend(spread(&judgement.id, forecast, facts));
    }
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

/// Whether a class is the one of this name, and can be credited at all: what no heap is credited with is no
/// question of likelihood.
fn is_creditable(class: &PlantClass, name: &str) -> bool {
    class.id == name && class.best != Best::Never
}

/// The 10-90 % range of the number behind a judgement, in words.
fn spread(id: &str, forecast: &Forecast, facts: &Facts) -> Option<(String, String)> {
    let (kind, name) = id.split_once(':').unwrap_or((id, ""));
    let percent = |range: Range| format!("{:.0} to {:.0} %", 100.0 * range.low, 100.0 * range.high);
    match kind {
        "plants" => {
            let place = facts
                .kill
                .plants()
                .position(|class| is_creditable(class, name))?;
            let share = |b: &Brief| b.plant_shares.get(place).map_or(0.0, |s| f64::from(*s));
            let range = forecast.range_judged(share)?;
            Some(("eight in ten such heaps".to_owned(), percent(range)))
        }
        "finish" => {
            let mut days: Vec<f64> = forecast
                .briefs()
                .iter()
                .filter_map(|b| b.finished_day)
                .collect();
            days.sort_by(f64::total_cmp);
            let at = |share| reached(&days, forecast.briefs().len(), share);
            let text = |day: Option<f64>| {
                day.map_or("later than the run".to_owned(), |d| format!("day {d:.0}"))
            };
            let (half, most) = (text(at(0.5)), text(at(0.9)));
            Some((
                "5 in 10, 9 in 10 finished by".to_owned(),
                format!("{half}, {most}"),
            ))
        }
        _ => None,
    }
}

/// What is counted for a judgement, and its share of the members.
fn likely(id: &str, forecast: &Forecast, facts: &Facts) -> Option<Likely> {
    let most = "half of it or more had enough";
    let told = |of: &str, share: f64| {
        Some(Likely {
            of: of.to_owned(),
            share,
        })
    };
    if id == "finish" {
        let share = forecast.likelihood_judged(|b| b.finished_day.is_some());
        return told("it was finished within the run", share);
    }
    let (kind, name) = id.split_once(':')?;
    match kind {
        "rule" => {
            let place = facts.rules.iter().position(|rule| rule.id == name)?;
            let met = |b: &Brief| b.rules_met.get(place).copied().unwrap_or(false);
            told("it was met", forecast.likelihood_judged(met))
        }
        "plants" => {
            let place = facts
                .kill
                .plants()
                .position(|class| is_creditable(class, name))?;
            let enough = |b: &Brief| {
                b.plant_shares
                    .get(place)
                    .is_some_and(|share| f64::from(*share) >= HALF_OF_IT)
            };
            told(most, forecast.likelihood_judged(enough))
        }
        "germs" if facts.kill.germs.first()?.id == name => {
            let enough = |b: &Brief| f64::from(b.germ_share) >= HALF_OF_IT;
            told(most, forecast.likelihood_judged(enough))
        }
        "trouble" => {
            let has = |b: &Brief| b.troubles.iter().any(|kind| format!("{kind:?}") == name);
            told("it came to that", forecast.likelihood_judged(has))
        }
        _ => None,
    }
}
