//! A year planned: heaps in their bays with what goes in, what becomes of each arrival, what was short.
//!
//! In: a [`Year`], the catalogue. Out: [`Plan`], or [`Unplanned`].
//!
//! Not here: the program (`program`), words (`text::year`).
//!
//! Tested by: `tests/science/year.rs`.

use std::sync::atomic::{AtomicBool, Ordering};

use thiserror::Error;

use super::conflict::conflict;
use super::dealt::{Dealt, Use, blend_of, deal, mix_of};
use super::fate::{Fate, fate};
use super::program::{Solved, Unsolved, solve_until};
use super::short::{Short, short};
use super::task::{Apart, Posed, Task, posed};
use super::{MONTHS, Year, YearError};
use crate::material::Catalogue;
use crate::mix::{Blend, Mix, bands};

/// A heap of the plan. Months count from 0, the first month of the plan; later years run on past 11.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedHeap {
    /// Number of the bay, from 0.
    pub bay: usize,
    /// Month it is begun in.
    pub month: usize,
    /// Month after the last one in which something is put in.
    pub filled_by: usize,
    /// Month after the last one it works in; it cures from then on.
    pub cures_from: usize,
    /// Month from which the bay is free again.
    pub free_from: usize,
    /// What goes in, by month.
    pub uses: Vec<Use>,
    /// All that goes in together.
    pub mix: Mix,
    /// How that blends.
    pub blend: Blend,
    /// Whether it is large enough to keep its heat.
    pub keeps_heat: bool,
}

/// A year planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The heaps, by month and bay.
    pub heaps: Vec<PlannedHeap>,
    /// What became of each arrival, in their order.
    pub fates: Vec<Fate>,
    /// What waits in the store at the end of each month, m3.
    pub stored_m3: [f64; MONTHS],
    /// What more would have helped; `None` if nothing would.
    pub short: Option<Short>,
    /// What the plan counts as calculated, before it is rounded to measures, m3 of something that keeps.
    pub objective: f64,
    /// Whether no plan counts more; false where the search was cut short.
    pub proven: bool,
}

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Unplanned {
    /// The year cannot be as it is written.
    #[error("{0}")]
    Year(YearError),
    /// These wishes, counted from 0, cannot be met together; without any one of them the rest of them can.
    #[error("the wishes {} cannot be met together; change or drop one of them", numbers(.0))]
    Wishes(Vec<usize>),
    /// The solver gave up.
    #[error("no plan was found ({0}); change an amount a little and try again")]
    Failed(String),
    /// Nobody wants it any more.
    #[error("the planning was called off")]
    CalledOff,
}

/// Wishes as a person counts them.
fn numbers(wishes: &[usize]) -> String {
    let said: Vec<String> = wishes.iter().map(|at| (at + 1).to_string()).collect();
    said.join(", ")
}

/// Plans a year.
///
/// # Errors
/// [`Unplanned`]: something in the year cannot be, or wishes contradict each other.
pub fn plan(year: &Year, catalogue: &Catalogue) -> Result<Plan, Unplanned> {
    plan_until(year, catalogue, &AtomicBool::new(false))
}

/// The same, given up soon after `stop` is set.
///
/// # Errors
/// As [`plan`], and [`Unplanned::CalledOff`].
pub fn plan_until(
    year: &Year,
    catalogue: &Catalogue,
    stop: &AtomicBool,
) -> Result<Plan, Unplanned> {
    let draft = draft(year, catalogue, stop)?;
    let short = draft.short(stop);
    if stop.load(Ordering::Relaxed) {
        return Err(Unplanned::CalledOff);
    }
    Ok(Plan {
        short,
        ..draft.plan
    })
}

/// A plan of which it is not known yet what more would have helped.
#[derive(Debug, Clone)]
pub struct Draft {
    /// The plan, nothing said of what was short.
    pub plan: Plan,
    task: Task,
    solved: Solved,
}

impl Draft {
    /// What more would have helped, which takes as long again as the plan; `None` too if `stop` was set.
    pub fn short(&self, stop: &AtomicBool) -> Option<Short> {
        short(&self.task, &self.solved, stop)
    }
}

/// Plans a year without asking what was short.
///
/// # Errors
/// As [`plan_until`].
pub fn draft(year: &Year, catalogue: &Catalogue, stop: &AtomicBool) -> Result<Draft, Unplanned> {
    year.check_alone().map_err(Unplanned::Year)?;
    let Answer {
        posed,
        solved,
        dealt,
    } = answer(year, catalogue, stop)?;
    let heaps: Vec<PlannedHeap> = dealt
        .into_iter()
        .filter_map(|heap| planned(year, catalogue, &posed, heap))
        .collect();
    let fates: Vec<Fate> = posed
        .task
        .stuffs
        .iter()
        .zip(&year.arrivals)
        .enumerate()
        .map(|(row, (stuff, arrival))| {
            let arrived = year.in_order(&arrival.monthly);
            let uses = heaps.iter().flat_map(|heap| &heap.uses);
            fate(stuff, arrived, uses.filter(|it| it.arrival == row))
        })
        .collect();
    let mut stored_m3 = [0.0; MONTHS];
    for (stuff, fate) in posed.task.stuffs.iter().zip(&fates) {
        for (stored, waits) in stored_m3.iter_mut().zip(fate.waits) {
            *stored += waits / stuff.measures * stuff.sums.loose_volume_m3;
        }
    }
    let plan = Plan {
        heaps,
        fates,
        stored_m3,
        short: None,
        objective: solved.objective,
        proven: solved.proven,
    };
    Ok(Draft {
        plan,
        task: posed.task,
        solved,
    })
}

/// A year solved and dealt out.
struct Answer {
    posed: Posed,
    solved: Solved,
    dealt: Vec<Dealt>,
}

/// Solves with like bays together, which counts as much or more; where the wishes for single bays are not kept by any deal of
/// that, once more with those bays apart.
fn answer(year: &Year, catalogue: &Catalogue, stop: &AtomicBool) -> Result<Answer, Unplanned> {
    for apart in [Apart::Fixed, Apart::Named] {
        let posed = posed(year, catalogue, apart).map_err(Unplanned::Year)?;
        let solved = match solve_until(&posed.task, stop) {
            Ok(solved) => solved,
            Err(Unsolved::Infeasible) => break,
            Err(Unsolved::CalledOff) => return Err(Unplanned::CalledOff),
            Err(Unsolved::Failed(said)) => return Err(Unplanned::Failed(said)),
        };
        if let Some(dealt) = deal(year, catalogue, &posed, &solved) {
            return Ok(Answer {
                posed,
                solved,
                dealt,
            });
        }
    }
    let posed = posed(year, catalogue, Apart::Named).map_err(Unplanned::Year)?;
    match conflict(&posed.task, stop) {
        Some(blamed) => Err(Unplanned::Wishes(blamed)),
        None => Err(Unplanned::CalledOff),
    }
}

fn planned(year: &Year, catalogue: &Catalogue, posed: &Posed, heap: Dealt) -> Option<PlannedHeap> {
    let kind = &posed.task.places[heap.place];
    let bay = &year.bays[heap.bay];
    let mix = mix_of(year, &heap.uses, heap.water_l);
    let blend = blend_of(&mix, catalogue)?;
    let free_from = heap.month + kind.stands_months;
    let cure_months = super::task::months_of(bay.cures_weeks);
    let cures_from = if bay.cures_weeks > 0.0 {
        free_from.saturating_sub(cure_months).max(heap.month)
    } else {
        free_from
    };
    Some(PlannedHeap {
        bay: heap.bay,
        month: heap.month,
        filled_by: heap.month + kind.fills_months,
        cures_from,
        free_from,
        keeps_heat: blend.totals.volume_m3() >= bands::KEEPS_HEAT_FROM_M3,
        uses: heap.uses,
        mix,
        blend,
    })
}
