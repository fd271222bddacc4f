//! The mixed-integer linear program of a year, and its solution.
//!
//! In: a [`Task`]. Out: [`Solved`], or why there is none.
//!
//! **Variables.** For each kind of place `p` and month `m`: `n` heaps begun (whole), `x` units of each stuff put in in
//! each month of filling, `w` water in 10 L. For each stuff that lasts: `s` units in store at the end of each month, kept only for use.
//!
//! **Rows.** The limits are those of [`crate::mix::balance`], multiplied out, for the sums of all heaps begun together;
//! the piled volume `P` lies in `n low <= P <= n high`. They scale, so that `n` equal heaps keep them where their sums do. At most as many heaps stand as there are places, in every month. The store:
//! `s(t) <= s(t-1) + arrivals - used`; `s(t)` at most what arrived in the months a stuff lasts, which is enough: the
//! oldest goes first. A stuff that spoils within the month is reached by a heap only as far as the heap is filled while it is good.
//!
//! **Objective.** Cubic metres used, what spoils counted [`VALUE_SPOILS`](super::VALUE_SPOILS) fold, less a small price of heaps and of water.
//! Not here: what the numbers mean (`task`), bays and measures (`dealt`).
//!
//! Tested by: `tests/science/year.rs` (scipy's `milp` on another formulation of the same years).

use std::sync::atomic::{AtomicBool, Ordering};

use microlp::{
    ComparisonOp, Error, LinearExpr, OptimizationDirection, Problem, Solution, SolutionStatus,
    SolveOptions, TerminationReason, Variable,
};

use super::task::{HEAP_COST_M3, STORE_COST_PER_M3_MONTH, WATER_COST_PER_M3};
use super::{Demand, Goal, MONTHS, Task};
use crate::mix::balance::{BandEnd, to_spare};
use crate::mix::{Gauge, Totals};

/// Relative gap at which the search stops: an eighth figure is nothing to a garden.
const GAP: f64 = 1e-8;
/// Most nodes of one search; a plan found by then is told, as not proven (a clock would make plans differ).
const MOST_NODES: u64 = 20_000;
/// Nodes between two looks at whether the plan is still wanted.
const NODES_AT_ONCE: u64 = 50;
/// What a unit of water is, L.
const WATER_UNIT_L: f64 = 10.0;
/// What rows of air and of volume are multiplied by, so that they are of like size with those of mass: m3 against
/// tens of kg.
const AIR_SCALE: f64 = 100.0;
const VOLUME_SCALE: f64 = 10.0;
/// Price of more than arrives, above its own value, as a share of that value (tuned: only what saves more is named).
const MORE_COSTS: f64 = 1.5;
/// Units below which nothing is put in: the tolerance of the solver.
const NOTHING: f64 = 1e-7;

/// Heaps begun in one month in places of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Filling {
    /// Which kind of place.
    pub place: usize,
    /// Month of the plan.
    pub month: usize,
    /// How many heaps, all alike.
    pub count: usize,
    /// What goes into all of them together: month, stuff, units.
    pub uses: Vec<(usize, usize, f64)>,
    /// Water poured on all of them together, L.
    pub water_l: f64,
}

/// A year solved.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// What is built, by place and month.
    pub fillings: Vec<Filling>,
    /// What more would be had: month, stuff, units. Empty unless [`Goal::More`] is asked.
    pub more: Vec<(usize, usize, f64)>,
    /// What the plan counts, m3 of something that keeps.
    pub objective: f64,
    /// Whether nothing can count more.
    pub proven: bool,
}

/// Why a year has no solution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unsolved {
    /// The demands cannot be met together.
    Infeasible,
    /// The solver gave up; its own words.
    Failed(String),
    /// Nobody wants it any more.
    CalledOff,
}

/// The variables of one kind of place and month.
struct HeapVars {
    place: usize,
    month: usize,
    count: Variable,
    water: Variable,
    /// Month, stuff, units.
    uses: Vec<(usize, usize, Variable)>,
}

/// A program under construction.
struct Program<'a> {
    task: &'a Task,
    problem: Problem,
    heaps: Vec<HeapVars>,
    /// Month, stuff, units.
    more: Vec<(usize, usize, Variable)>,
}

/// What the objective counts with: nothing where any plan will do.
fn counts(task: &Task) -> f64 {
    if task.goal == Goal::Any { 0.0 } else { 1.0 }
}

/// Solves a task.
///
/// # Errors
/// [`Unsolved`] where the demands contradict each other or the solver fails.
pub fn solve(task: &Task) -> Result<Solved, Unsolved> {
    solve_until(task, &AtomicBool::new(false))
}

/// The same, given up soon after `stop` is set.
///
/// # Errors
/// As [`solve`], and [`Unsolved::CalledOff`].
pub fn solve_until(task: &Task, stop: &AtomicBool) -> Result<Solved, Unsolved> {
    let mut program = Program::new(task);
    program.limits();
    program.reach();
    program.room_in_places();
    program.store();
    program.demands();
    let mut options = SolveOptions::default();
    options.mip_gap = GAP;
    options.node_limit = Some(NODES_AT_ONCE);
    let mut outcome = program.problem.solve_with(options);
    for _ in 1..MOST_NODES / NODES_AT_ONCE {
        outcome = match outcome {
            Ok(outcome) if outcome.termination_reason() == TerminationReason::NodeLimit => {
                if stop.load(Ordering::Relaxed) {
                    return Err(Unsolved::CalledOff);
                }
                outcome.resume()
            }
            ended => {
                outcome = ended;
                break;
            }
        };
    }
    if stop.load(Ordering::Relaxed) {
        return Err(Unsolved::CalledOff);
    }
    match outcome {
        Ok(outcome) => match outcome.into_solution() {
            Ok(solution) => Ok(program.read(&solution)),
            Err(interrupted) => Err(Unsolved::Failed(format!(
                "{:?}",
                interrupted.termination_reason()
            ))),
        },
        Err(Error::Infeasible) => Err(Unsolved::Infeasible),
        Err(error) => Err(Unsolved::Failed(error.to_string())),
    }
}

impl<'a> Program<'a> {
    /// The variables of the heaps.
    fn new(task: &'a Task) -> Self {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let counts = counts(task);
        let mut heaps = Vec::new();
        for (place, kind) in task.places.iter().enumerate() {
            let most = i32::try_from(kind.count).unwrap_or(i32::MAX);
            for month in kind.free_from..MONTHS {
                let count = problem.add_integer_var(-counts * HEAP_COST_M3, (0, most));
                let price = counts * WATER_COST_PER_M3 * WATER_UNIT_L / 1000.0;
                let water = problem.add_var(-price, (0.0, f64::INFINITY));
                let mut uses = Vec::new();
                for filled in month..(month + kind.fills_months).min(MONTHS) {
                    for (number, stuff) in task.stuffs.iter().enumerate() {
                        if !kind.takes[number] {
                            continue;
                        }
                        let none = stuff.spoils() && stuff.arrives[filled] <= 0.0;
                        let never = stuff.arrives[..=filled].iter().all(|units| *units <= 0.0);
                        if !(none || never) || (task.goal == Goal::More && stuff.can_be_fetched()) {
                            let var = problem.add_var(counts * stuff.value(), (0.0, f64::INFINITY));
                            uses.push((filled, number, var));
                        }
                    }
                }
                heaps.push(HeapVars {
                    place,
                    month,
                    count,
                    water,
                    uses,
                });
            }
        }
        Self {
            task,
            problem,
            heaps,
            more: Vec::new(),
        }
    }

    /// The limits of every heap.
    fn limits(&mut self) {
        for heap in &self.heaps {
            let kind = &self.task.places[heap.place];
            let (inset, raised) = self.task.insets(heap.place, heap.month);
            let limits = self.task.limits.narrowed(inset);
            let (low_m3, high_m3) = (kind.low_m3 * (1.0 + raised), kind.high_m3 * (1.0 - inset));
            let water = Totals {
                water_kg: WATER_UNIT_L,
                ..Totals::default()
            };
            let sum = |of: &dyn Fn(&Totals) -> f64| {
                let mut row = LinearExpr::empty();
                for (_, stuff, var) in &heap.uses {
                    row.add(*var, of(&self.task.stuffs[*stuff].sums));
                }
                let of_water = of(&water);
                if of_water != 0.0 {
                    row.add(heap.water, of_water);
                }
                row
            };
            for (gauge, (low, high), scale) in [
                (Gauge::CarbonNitrogen, limits.cn, 1.0),
                (Gauge::Moisture, limits.moisture, 1.0),
                (Gauge::AirSpace, limits.air, AIR_SCALE),
                (Gauge::Density, limits.density, 1.0),
            ] {
                for (side, bound) in [(BandEnd::Low, low), (BandEnd::High, high)] {
                    let row = sum(&|sums| scale * to_spare(gauge, side, bound, sums));
                    self.problem.add_constraint(row, ComparisonOp::Ge, 0.0);
                }
            }
            for (sign, of_each_m3) in [(VOLUME_SCALE, low_m3), (-VOLUME_SCALE, high_m3)] {
                let mut row = sum(&|sums| sign * sums.piled_volume_m3);
                row.add(heap.count, -sign * of_each_m3);
                self.problem.add_constraint(row, ComparisonOp::Ge, 0.0);
            }
        }
    }

    /// What spoils gets into a heap only while it is good.
    fn reach(&mut self) {
        for heap in &self.heaps {
            let kind = &self.task.places[heap.place];
            for (filled, number, var) in &heap.uses {
                let stuff = &self.task.stuffs[*number];
                if stuff.spoils() {
                    let reached = stuff.reached_share(kind.fills_days) * stuff.arrives[*filled];
                    let most = reached.min(kind.high_m3 / stuff.sums.piled_volume_m3.max(1e-3));
                    self.problem.add_constraint(
                        [(*var, 1.0), (heap.count, -most)],
                        ComparisonOp::Le,
                        0.0,
                    );
                }
            }
        }
    }

    /// No more heaps than places, in any month.
    fn room_in_places(&mut self) {
        for (place, kind) in self.task.places.iter().enumerate() {
            for month in 0..MONTHS {
                let standing = self.standing(place, month);
                if !standing.is_empty() {
                    self.problem.add_constraint(
                        standing.iter().map(|var| (*var, 1.0)),
                        ComparisonOp::Le,
                        kind.count as f64,
                    );
                }
            }
        }
    }

    /// The heaps that stand in a kind of place in a month.
    fn standing(&self, place: usize, month: usize) -> Vec<Variable> {
        let stands = self.task.places[place].stands_months;
        self.heaps
            .iter()
            .filter(|heap| {
                heap.place == place && heap.month <= month && month < heap.month + stands
            })
            .map(|heap| heap.count)
            .collect()
    }

    /// Nothing is used that is not there, and what waits has room.
    fn store(&mut self) {
        let mut full: Vec<LinearExpr> = (0..MONTHS).map(|_| LinearExpr::empty()).collect();
        for (number, stuff) in self.task.stuffs.iter().enumerate() {
            let mut before: Option<Variable> = None;
            let mut more: Vec<Variable> = Vec::new();
            for month in 0..MONTHS {
                let mut row = LinearExpr::empty();
                for heap in &self.heaps {
                    for (filled, of, var) in &heap.uses {
                        if *filled == month && *of == number {
                            row.add(*var, 1.0);
                        }
                    }
                }
                if stuff.spoils() {
                    self.problem
                        .add_constraint(row, ComparisonOp::Le, stuff.arrives[month]);
                    continue;
                }
                if self.task.goal == Goal::More && stuff.can_be_fetched() {
                    let price = -MORE_COSTS * stuff.value();
                    let var = self.problem.add_var(price, (0.0, f64::INFINITY));
                    row.add(var, -1.0);
                    more.push(var);
                    self.more.push((month, number, var));
                }
                if let Some(before) = before {
                    row.add(before, -1.0);
                }
                // Nothing is stored past the end: what is not used need not be kept.
                let after = (month + 1 < MONTHS).then(|| {
                    let price =
                        counts(self.task) * STORE_COST_PER_M3_MONTH * stuff.sums.loose_volume_m3;
                    let var = self.problem.add_var(-price, (0.0, f64::INFINITY));
                    row.add(var, 1.0);
                    full[month].add(var, stuff.sums.loose_volume_m3);
                    var
                });
                self.problem
                    .add_constraint(row, ComparisonOp::Le, stuff.arrives[month]);
                let since = (month + 1).saturating_sub(stuff.lasts_months);
                if let Some(after) = after
                    && since > 0
                {
                    let fresh: f64 = stuff.arrives[since..=month].iter().sum();
                    let mut row = LinearExpr::empty();
                    row.add(after, 1.0);
                    for var in more.get(since..).into_iter().flatten() {
                        row.add(*var, -1.0);
                    }
                    self.problem.add_constraint(row, ComparisonOp::Le, fresh);
                }
                before = after;
            }
        }
        for row in full {
            self.problem
                .add_constraint(row, ComparisonOp::Le, self.task.storage_m3);
        }
    }

    /// What has been decided.
    fn demands(&mut self) {
        for demand in &self.task.demands {
            match *demand {
                Demand::Build {
                    place,
                    month,
                    heaps,
                } => {
                    let begun = self.begun(place, month).map(|heap| (heap.count, 1.0));
                    let row: Vec<_> = begun.into_iter().collect();
                    let least = heaps as f64;
                    self.problem.add_constraint(row, ComparisonOp::Ge, least);
                }
                Demand::Empty {
                    place,
                    month,
                    empty,
                } => {
                    let row: Vec<_> = self.standing(place, month);
                    let row = row.into_iter().map(|var| (var, 1.0));
                    let most = self.task.places[place].count.saturating_sub(empty) as f64;
                    self.problem.add_constraint(row, ComparisonOp::Le, most);
                }
                Demand::Put {
                    place,
                    month,
                    stuff,
                    units,
                } => {
                    let heap = self.begun(place, month);
                    let uses = heap.into_iter().flat_map(|heap| &heap.uses);
                    let row: Vec<_> = uses
                        .filter(|(_, of, _)| *of == stuff)
                        .map(|(_, _, var)| (*var, 1.0))
                        .collect();
                    self.problem.add_constraint(row, ComparisonOp::Eq, units);
                }
                Demand::NoneSpoils { stuff } => self.none_spoils(stuff),
            }
        }
    }

    /// All of a stuff is used in the months it lasts.
    fn none_spoils(&mut self, stuff: usize) {
        let row: Vec<_> = self
            .heaps
            .iter()
            .flat_map(|heap| &heap.uses)
            .filter(|(_, of, _)| *of == stuff)
            .map(|(_, _, var)| (*var, 1.0))
            .collect();
        let all: f64 = self.task.stuffs[stuff].arrives.iter().sum();
        self.problem
            .add_constraint(row, ComparisonOp::Ge, all * (1.0 - 1e-9));
    }

    /// The heaps begun in a kind of place in a month.
    fn begun(&self, place: usize, month: usize) -> Option<&HeapVars> {
        self.heaps
            .iter()
            .find(|heap| heap.place == place && heap.month == month)
    }

    /// What a solution says.
    fn read(&self, solution: &Solution) -> Solved {
        let some = |of: &[(usize, usize, Variable)]| {
            of.iter()
                .map(|(month, stuff, var)| (*month, *stuff, solution.var_value(*var)))
                .filter(|(_, _, units)| *units > NOTHING)
                .collect::<Vec<_>>()
        };
        let fillings = self
            .heaps
            .iter()
            .filter_map(|heap| {
                let count = solution.var_value(heap.count).round();
                (count >= 1.0).then(|| Filling {
                    place: heap.place,
                    month: heap.month,
                    count: count as usize,
                    uses: some(&heap.uses),
                    water_l: (WATER_UNIT_L * solution.var_value(heap.water)).max(0.0),
                })
            })
            .collect();
        Solved {
            fillings,
            more: some(&self.more),
            objective: solution.objective(),
            proven: solution.status() == SolutionStatus::Optimal
                || solution.gap().is_some_and(|gap| gap <= GAP),
        }
    }
}
