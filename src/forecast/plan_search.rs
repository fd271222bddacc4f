//! The plan search: which turnings and waterings serve best, by simulation.
//!
//! In: a heap with its inputs, what is wanted. Out: a proposed plan, what each of its turnings buys, and the
//! trade-off of work against what is gained.
//!
//! Timetables on a coarse grid (how many turnings, first day, spacing, way of turning, wetting) are simulated on all
//! threads; the one with the best score wins, and of nearly equal ones the one with least work. Covers and
//! additions of the plan stay; its turnings and waterings are replaced. Of a heap that stands, what lies in the past stays
//! too, and timetables begin on the first day that is still open.
//!
//! Not here: how likely it is (`likelihood`). Nothing here knows a screen.
//!
//! Tested by: `tests/science/plan_search.rs`.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use rayon::prelude::*;

use crate::heap::{
    Addition, Ended, Heap, Occurrence, Plan, Projection, Resolution, RunControl, Turning,
    simulate_with,
};
use crate::outcome::Facts;
use crate::outcome::finish::finished_day;
use crate::outcome::flask::flask;
use crate::outcome::kill::PlantClass;
use crate::outcome::turns::{Planned, Timetable, TurnRow, courses, replanned, turn_rows};

use super::Inputs;

pub use crate::outcome::kill::SEEDS;

/// Most turnings that are tried.
const MOST_TURNINGS: usize = 7;
/// First days that are tried.
const FIRST_DAYS: [f64; 3] = [4.0, 7.0, 10.0];
/// Spacings that are tried, d.
const SPACINGS: [f64; 4] = [4.0, 6.0, 9.0, 14.0];
/// Ways of turning that are tried.
const TURNINGS: [Turning; 2] = [Turning::Remix, Turning::InsideOut];
/// Moistures to wet to that are tried while turning.
const WETTINGS: [Option<f64>; 2] = [None, Some(0.58)];
/// Waterings without turning that are tried: how many, days apart.
const WATERINGS: [(usize, f64); 4] = [(1, 7.0), (2, 7.0), (3, 7.0), (4, 14.0)];
/// Scores closer than this are equal, and the lesser work wins (a hundredth of what can be gained).
const EQUAL: f64 = 0.01;
/// Work of wetting while turning, in turnings (`common practice`: carrying water is half the work).
const WETTING_WORK: f64 = 0.5;

/// What a person wants of a heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Want {
    /// Finished as soon as can be.
    FinishSoonest,
    /// As much of the heap as can be hot long enough for ordinary seeds.
    KillSeeds,
    /// Little work: seeds count half, every turning costs.
    LeastWork,
    /// Little nitrogen lost as ammonia.
    KeepNitrogen,
}

impl Want {
    /// All of them, in order.
    pub const ALL: [Self; 4] = [
        Self::FinishSoonest,
        Self::KillSeeds,
        Self::LeastWork,
        Self::KeepNitrogen,
    ];
}

/// What one timetable comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tried {
    /// The timetable.
    pub timetable: Timetable,
    /// Work, in turnings.
    pub work: f64,
    /// Share of the heap that had enough for the class of seeds asked about, 0-1.
    pub treated: f64,
    /// Day finished; `None` if not within the run.
    pub finished_day: Option<f64>,
    /// Flask's rise at the end, K: how far it still is from finished.
    pub still_heats_k: f64,
    /// Share of the nitrogen lost as ammonia, 0-1.
    pub nitrogen_lost: f64,
    /// Score for what is wanted, about 0-1, more is better.
    pub score: f64,
}

/// What is proposed.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposed {
    /// The plan, covers and additions kept.
    pub plan: Plan,
    /// The additions with their places in the new plan's list.
    pub additions: Vec<Addition>,
    /// What its timetable comes to.
    pub chosen: Tried,
    /// No turning at all, for comparison.
    pub untouched: Tried,
    /// What each further turning of it buys.
    pub turnings: Vec<TurnRow>,
    /// The best share treated that each amount of work buys, work rising: the trade-off.
    pub trade_off: Vec<Tried>,
    /// Timetables simulated.
    pub tried: usize,
}

/// Every timetable tried; proposals for any want are made of it at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Explored {
    /// Days simulated.
    pub days: f64,
    /// First day that was still open; `None`: the heap does not stand yet.
    pub from_day: Option<f64>,
    /// What each timetable comes to, no turning first.
    pub tried: Vec<Tried>,
}

/// Simulates all timetables; `None` if called off, or where nothing can be simulated, or for seeds that are in no
/// table.
///
/// `seeds` is the id of the class that counts, usually [`SEEDS`]. `on_progress` hears the share done, from any
/// thread. `from_day` is the first day that is still open; `None`: the heap does not stand yet.
pub fn explore(
    (inputs, from_day): (&Inputs, Option<f64>),
    seeds: &str,
    facts: &Facts,
    stop: &AtomicBool,
    on_progress: impl Fn(f64) + Sync,
) -> Option<Explored> {
    let class = facts.kill.plants().find(|class| class.id == seeds)?;
    let timetables = timetables(inputs.heap.days, from_day);
    let done = AtomicUsize::new(0);
    let one = |timetable: &Timetable| {
        let tried = try_one((inputs, from_day), timetable, (class, facts), stop);
        let count = done.fetch_add(1, Ordering::Relaxed) + 1;
        on_progress(count as f64 / timetables.len() as f64);
        tried
    };
    let all: Vec<Option<Tried>> = timetables.par_iter().map(one).collect();
    if stop.load(Ordering::Relaxed) || all.first()?.is_none() {
        return None;
    }
    Some(Explored {
        days: inputs.heap.days,
        from_day,
        tried: all.into_iter().flatten().collect(),
    })
}

impl Explored {
    /// Proposes a plan for what is wanted, with at most so much work (in turnings; `f64::INFINITY` for any).
    ///
    /// `inputs` are those that were explored. What each further turning buys is known from the timetables tried.
    pub fn propose(&self, inputs: &Inputs, (want, most_work): (Want, f64)) -> Option<Proposed> {
        let scored = |tried: &Tried| Tried {
            score: score(tried, want, self.days),
            ..*tried
        };
        let all: Vec<Tried> = self.tried.iter().map(scored).collect();
        let untouched = *all.first()?;
        let affordable: Vec<Tried> = all
            .iter()
            .filter(|tried| tried.work <= most_work)
            .copied()
            .collect();
        let chosen = best(&affordable)?;
        let events = chosen.timetable.events();
        let planned = planned(inputs, self.from_day);
        let (heap, additions) = replanned(planned, &events);
        // One turning has no spacing and none has no first day: what counts is what is done.
        let treated = |table: &Timetable| {
            let events = table.events();
            let same = all.iter().find(|it| it.timetable.events() == events);
            same.map(|tried| tried.treated)
        };
        let turnings = turn_rows(&chosen.timetable, treated);
        Some(Proposed {
            plan: heap.plan,
            additions,
            untouched,
            turnings,
            trade_off: trade_off(&affordable),
            tried: all.len(),
            chosen,
        })
    }
}

/// The heap of these inputs, to be planned anew from a day on.
fn planned(inputs: &Inputs, from_day: Option<f64>) -> Planned<'_> {
    Planned {
        heap: &inputs.heap,
        additions: &inputs.additions,
        from_day,
    }
}

/// The grid: no turning first. Of a heap that stands the first of the first days is the first that is still open.
fn timetables(days: f64, from_day: Option<f64>) -> Vec<Timetable> {
    let later = from_day.map_or(0.0, |from| from - FIRST_DAYS[0]);
    let none = Timetable {
        first_day: later + FIRST_DAYS[0],
        every_days: SPACINGS[0],
        count: 0,
        waterings: 0,
        turning: Turning::Remix,
        wet_to: None,
    };
    let mut all = vec![none];
    for (waterings, every_days) in WATERINGS {
        let watered = Timetable {
            first_day: later + FIRST_DAYS[1],
            every_days,
            waterings,
            wet_to: WETTINGS[1],
            ..none
        };
        all.extend(Some(watered).filter(|it| it.days().all(|day| day < days)));
    }
    for count in 1..=MOST_TURNINGS {
        // A single turning has no spacing.
        let spacings = if count == 1 { 1 } else { SPACINGS.len() };
        for &first_day in &FIRST_DAYS {
            for &every_days in &SPACINGS[..spacings] {
                let dated = Timetable {
                    first_day: later + first_day,
                    every_days,
                    count,
                    ..none
                };
                if dated.days().all(|day| day < days) {
                    all.extend(ways(&dated));
                }
            }
        }
    }
    all
}

/// A timetable in every way of turning, wetted and not.
fn ways(dated: &Timetable) -> impl Iterator<Item = Timetable> + '_ {
    TURNINGS.into_iter().flat_map(move |turning| {
        WETTINGS.into_iter().map(move |wet_to| Timetable {
            turning,
            wet_to,
            ..*dated
        })
    })
}

fn run(inputs: &Inputs, stop: &AtomicBool) -> Option<Projection> {
    let resolution = Resolution::member();
    let projection = simulate_with(
        &inputs.totals,
        &inputs.additions,
        &inputs.heap,
        &inputs.kinetics,
        RunControl {
            resolution: &resolution,
            stop,
        },
    )?;
    matches!(projection.ended, Ended::Finished).then_some(projection)
}

fn try_one(
    (inputs, from_day): (&Inputs, Option<f64>),
    timetable: &Timetable,
    (class, facts): (&PlantClass, &Facts),
    stop: &AtomicBool,
) -> Option<Tried> {
    if stop.load(Ordering::Relaxed) {
        return None;
    }
    let (heap, additions) = replanned(planned(inputs, from_day), &timetable.events());
    let own = Inputs {
        heap,
        additions,
        ..inputs.clone()
    };
    let projection = run(&own, stop)?;
    let last = projection.records.last()?;
    let parcels = courses(&projection, 1);
    let wettings = match timetable.wet_to {
        Some(_) => timetable.count.max(timetable.waterings),
        None => 0,
    };
    Some(Tried {
        timetable: *timetable,
        work: timetable.count as f64 + WETTING_WORK * wettings as f64,
        treated: class.share(&parcels, facts.kill.moisture_floor),
        finished_day: finished_day(&projection, &facts.finish, &inputs.kinetics),
        still_heats_k: flask(last, &inputs.kinetics).rise_k,
        nitrogen_lost: projection.summary.nitrogen_lost_share,
        score: 0.0,
    })
}

/// What a timetable is worth for what is wanted (weights are a choice; each is a share of what can be gained).
fn score(tried: &Tried, want: Want, days: f64) -> f64 {
    let finish = match tried.finished_day {
        Some(day) => 1.0 - 0.5 * day / days,
        // Not within the run: the less it would still heat, the better, but never as good as finished.
        None => 0.5 / (1.0 + tried.still_heats_k / 10.0),
    };
    match want {
        Want::FinishSoonest => finish,
        Want::KillSeeds => tried.treated,
        Want::LeastWork => 0.5 * tried.treated + 0.2 * finish - 0.04 * tried.work,
        Want::KeepNitrogen => 1.0 - tried.nitrogen_lost + 0.2 * tried.treated,
    }
}

/// The best score; of those nearly as good the least work, then the best.
fn best(all: &[Tried]) -> Option<Tried> {
    let top = all
        .iter()
        .map(|t| t.score)
        .fold(f64::NEG_INFINITY, f64::max);
    all.iter()
        .filter(|tried| tried.score >= top - EQUAL)
        .min_by(|a, b| a.work.total_cmp(&b.work).then(b.score.total_cmp(&a.score)))
        .copied()
}

/// For each amount of work the best share treated, as far as it is more than less work buys.
fn trade_off(all: &[Tried]) -> Vec<Tried> {
    let mut sorted = all.to_vec();
    sorted.sort_by(|a, b| {
        a.work
            .total_cmp(&b.work)
            .then(b.treated.total_cmp(&a.treated))
    });
    let mut front: Vec<Tried> = Vec::new();
    for tried in sorted {
        if front
            .last()
            .is_none_or(|last| tried.treated > last.treated + 1e-9)
        {
            front.push(tried);
        }
    }
    front
}

/// The turnings and waterings that another plan replaces, for faces that show what would change; of a heap
/// that stands, those from this day on.
pub fn operations_replaced(heap: &Heap, from_day: Option<f64>) -> Vec<Occurrence<'_>> {
    let all = heap.plan.in_order().into_iter();
    all.filter(|due| due.is_replaced(from_day)).collect()
}
