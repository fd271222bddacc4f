//! What the diary of a heap says last of it, as readings for a question.
//!
//! In: a diary, the plan, today. Out: [`DiarySays`]; the answers of a person filled up with it.
//!
//! A squeeze counts while it can still be so: not for weeks, and not across a watering or an addition. Days are whole, so
//! that a question stays the same all day.
//! Not here: what all readings together teach (`forecast::learn`, `learnt_heap`), words (`text::complaint`).
//!
//! Tested by: `tests/document/complaint.rs`, `tests/window/complaint.rs`.

use jiff::civil::{Date, DateTime};

use crate::diary::{Diary, Reading, Smell, Spot, Squeeze as Handful, Wetness};
use crate::heap::{Operation, Plan};
use crate::outcome::complaint::{Readings, Squeeze};

/// Oldest squeeze or smell that says something of today, d (`common practice`: a heap dries in weeks, not in days).
const OLDEST_DAYS: i32 = 28;
/// Oldest temperature that does, d (`common practice`: read every few days).
const OLDEST_TEMPERATURE_DAYS: i32 = 7;
/// How far from the middle a temperature is still that of the middle, share of the heap.
const MIDDLE: f64 = 0.26;

/// What was found, and how many days ago.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found<T> {
    /// What.
    pub what: T,
    /// Whole days since then.
    pub days_ago: f64,
}

/// The last of every kind that still says something of today.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DiarySays {
    /// How wet, as a squeeze tells it.
    pub squeeze: Option<Found<Squeeze>>,
    /// What it smelled of.
    pub smell: Option<Found<Smell>>,
    /// Temperature of the middle, degC.
    pub temperature_c: Option<Found<f64>>,
    /// Whole days since the heap was built.
    pub age_days: Option<f64>,
}

impl DiarySays {
    /// What a diary says of a heap with this plan, as seen from a day; nothing of a heap that does not stand.
    pub fn of(diary: &Diary, plan: &Plan, today: Date) -> Self {
        let Some(built) = diary.built else {
            return Self::default();
        };
        let ago = |at: DateTime| (today - at.date()).get_days();
        let last = |has: &dyn Fn(&Reading) -> bool, oldest: i32| {
            let readings = diary.readings.iter().filter(|it| has(it));
            let recent = readings.filter(|it| (0..=oldest).contains(&ago(it.at)));
            recent.max_by_key(|it| it.at)
        };
        let squeezed = last(&|it| it.wetness.is_some(), OLDEST_DAYS);
        let wetted_since = |at: DateTime| {
            let from = diary.day_of(at).unwrap_or_default();
            let until = f64::from(ago(built)) + 1.0;
            let mut events = plan.events.iter();
            events.any(|event| {
                let wets = match event.operation {
                    Operation::Turn { wet_to, .. } => wet_to.is_some(),
                    Operation::Water { .. } | Operation::Pour { .. } | Operation::Add { .. } => {
                        true
                    }
                    Operation::Cover(_) => false,
                };
                wets && event
                    .days()
                    .any(|day| day > from && day < until && diary.done.contains(&day))
            })
        };
        let found = |days: i32| f64::from(days);
        Self {
            squeeze: squeezed
                .filter(|it| !wetted_since(it.at))
                .and_then(|it| Some((it.at, it.wetness?)))
                .map(|(at, wetness)| Found {
                    what: squeeze_of(wetness),
                    days_ago: found(ago(at)),
                }),
            smell: last(&|it| it.smell.is_some(), OLDEST_DAYS).and_then(|it| {
                Some(Found {
                    what: it.smell?,
                    days_ago: found(ago(it.at)),
                })
            }),
            temperature_c: last_temperature(diary, today),
            age_days: Some(found(ago(built).max(0))),
        }
    }

    /// The answers of a person, filled up with what the diary says; what was answered stays.
    pub fn fill(&self, answered: Readings) -> Readings {
        let squeeze = self.squeeze.filter(|_| answered.squeeze.is_none());
        Readings {
            squeeze: answered.squeeze.or(squeeze.map(|found| found.what)),
            squeezed_days_ago: squeeze.map(|found| found.days_ago),
            now_c: answered
                .now_c
                .or(self.temperature_c.map(|found| found.what)),
            age_days: answered.age_days.or(self.age_days),
            ..answered
        }
    }
}

/// The last temperature of the middle, by hand or by a logger.
fn last_temperature(diary: &Diary, today: Date) -> Option<Found<f64>> {
    let middle = |spot: Spot| spot.out <= MIDDLE && (spot.up - Spot::CENTRE.up).abs() <= MIDDLE;
    let by_hand = diary.readings.iter().filter(|it| middle(it.spot));
    let by_hand = by_hand.filter_map(|it| Some((it.at, it.temperature_c?)));
    let logged = diary.logs.iter().filter(|log| middle(log.spot));
    let logged = logged.filter_map(|log| {
        let (day, celsius) = log.temperatures_c.iter().last()?;
        Some((diary.moment_of(*day)?, *celsius))
    });
    let ago = |at: DateTime| (today - at.date()).get_days();
    let recent = by_hand
        .chain(logged)
        .filter(|(at, _)| (0..=OLDEST_TEMPERATURE_DAYS).contains(&ago(*at)));
    let (at, what) = recent.max_by_key(|(at, _)| *at)?;
    Some(Found {
        what,
        days_ago: f64::from(ago(at)),
    })
}

/// What a squeeze would tell.
fn squeeze_of(wetness: Wetness) -> Squeeze {
    match wetness {
        Wetness::Squeezed(Handful::FallsApart) => Squeeze::Dust,
        Wetness::Squeezed(Handful::HardlyDamp) => Squeeze::Crumbles,
        Wetness::Squeezed(Handful::LikeWrungSponge) => Squeeze::Sponge,
        Wetness::Squeezed(Handful::Drips) => Squeeze::Trickles,
        Wetness::Squeezed(Handful::Runs) => Squeeze::Soggy,
        Wetness::Probe(share) | Wetness::Oven(share) => {
            let off = |it: &Squeeze| (it.moisture() - share).abs();
            let all = Squeeze::ALL.into_iter();
            let nearest = all.min_by(|a, b| off(a).total_cmp(&off(b)));
            nearest.unwrap_or(Squeeze::Sponge)
        }
    }
}
