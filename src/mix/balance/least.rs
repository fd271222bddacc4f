//! The two programs of a task: the smallest change that keeps every demand, and the least breach.
//!
//! In: a task, demands. Out: handfuls.
//!
//! Not here: which demands, in what order (`tiers`), the solver (`program`).
//!
//! Tested by: `tests/science/balance.rs`.

use super::lever::HANDFUL_M3;
use super::program::{Program, Row, TOLERANCE};
use super::task::{Demand, KEPT, Task};

/// Weight of the change beside a breach in the elastic programs; small, so that it only decides
/// between equals.
const TIE_BREAK: f64 = 1e-3;

/// The amounts nearest to those there are that keep every demand.
pub(super) fn smallest(task: &Task<'_>, demands: &[Demand]) -> Option<Vec<f64>> {
    let start = task.start();
    let at = task.sums(&start);
    let mut far = 0.0_f64;
    for demand in demands {
        let row = task.row(demand, &at, 1.0);
        let reach = task.levers.iter().zip(&row.coefficients);
        let reach: f64 = reach.map(|(lever, c)| c * c / lever.weight).sum();
        if !task.keeps(demand, &at, KEPT) {
            if reach <= 0.0 {
                return None;
            }
            far = far.max(-row.constant / reach.sqrt());
        }
    }
    for lever in &task.levers {
        let (least, most) = lever.range;
        let past = (lever.start - most).max(least - lever.start);
        far = far.max(past * lever.weight.sqrt());
    }
    if far <= 0.0 {
        return Some(start);
    }
    if !far.is_finite() {
        return None;
    }
    // No change smaller than `far` can do, so in steps of it the answer is at least 1.
    let mut step = far;
    loop {
        let found = in_steps(task, demands, step)?;
        let most = found.iter().fold(0.0_f64, |most, v| most.max(v.abs()));
        if most < 1e3 || step >= far * 1e6 {
            return Some(moved(task, &found, step));
        }
        step *= most;
    }
}

fn in_steps(task: &Task<'_>, demands: &[Demand], step: f64) -> Option<Vec<f64>> {
    let at = task.sums(&task.start());
    let mut rows: Vec<Row> = demands
        .iter()
        .map(|demand| task.row(demand, &at, step))
        .collect();
    rows.extend(range_rows(task, step, 0));
    let program = Program {
        quadratic: task.levers.iter().map(|lever| lever.weight).collect(),
        linear: vec![0.0; task.levers.len()],
        rows,
    };
    let found = program.solve()?.v;
    let sums = task.sums(&moved(task, &found, step));
    let kept = demands
        .iter()
        .all(|demand| task.keeps(demand, &sums, 10.0 * TOLERANCE));
    kept.then_some(found)
}

/// Least and most of each lever as rows, with so many more variables behind them.
fn range_rows(task: &Task<'_>, step: f64, more: usize) -> Vec<Row> {
    let count = task.levers.len();
    // An upper end this far off can bind nothing.
    let out_of_reach = 100.0 * task.scale_m3 / HANDFUL_M3;
    let mut rows = Vec::new();
    for (place, lever) in task.levers.iter().enumerate() {
        let mut end = |sign: f64, room: f64| {
            let mut coefficients = vec![0.0; count + more];
            coefficients[place] = sign;
            rows.push(Row {
                coefficients,
                constant: room / step,
            });
        };
        end(1.0, lever.start - lever.range.0);
        if lever.stock || lever.dosed || lever.range.1 < out_of_reach {
            end(-1.0, lever.range.1 - lever.start);
        }
    }
    rows
}

/// Handfuls after so many steps.
fn moved(task: &Task<'_>, steps: &[f64], step: f64) -> Vec<f64> {
    let levers = task.levers.iter().zip(steps);
    levers
        .map(|(lever, v)| (lever.start + v * step).clamp(lever.range.0, lever.range.1))
        .collect()
}

/// A demand that may be broken at a price.
#[derive(Debug, Clone, Copy)]
pub(super) struct Soft {
    pub(super) demand: Demand,
    pub(super) price: f64,
    pub(super) width: f64,
}

/// What an elastic program gives.
pub(super) struct Elastic {
    pub(super) handfuls: Vec<f64>,
    /// Of each soft demand, widths.
    pub(super) breaches: Vec<f64>,
    /// Of each hard demand, then of each soft one.
    pub(super) prices: Vec<f64>,
}

/// Least weighted breach of the soft demands, the hard ones kept.
pub(super) fn elastic(task: &Task<'_>, hard: &[Demand], soft: &[Soft]) -> Option<Elastic> {
    let (count, more) = (task.levers.len(), soft.len());
    let step = 0.2 * task.scale_m3 / HANDFUL_M3;
    let at = task.sums(&task.start());
    let mut rows: Vec<Row> = hard
        .iter()
        .map(|demand| {
            let mut row = task.row(demand, &at, step);
            row.coefficients.resize(count + more, 0.0);
            row
        })
        .collect();
    for (place, soft) in soft.iter().enumerate() {
        let mut row = task.row(&soft.demand, &at, step);
        row.coefficients.resize(count + more, 0.0);
        row.coefficients[count + place] = soft.width * task.unit(&soft.demand);
        rows.push(row);
    }
    for place in 0..more {
        let mut coefficients = vec![0.0; count + more];
        coefficients[count + place] = 1.0;
        rows.push(Row {
            coefficients,
            constant: 0.0,
        });
    }
    rows.extend(range_rows(task, step, more));
    let weights = task.levers.iter().map(|lever| TIE_BREAK * lever.weight);
    let program = Program {
        quadratic: weights.chain(vec![0.0; more]).collect(),
        linear: vec![0.0; count]
            .into_iter()
            .chain(soft.iter().map(|soft| soft.price))
            .collect(),
        rows,
    };
    let mut found = program.solve()?;
    let breaches = found.v.split_off(count);
    found.prices.truncate(hard.len() + more);
    Some(Elastic {
        handfuls: moved(task, &found.v, step),
        breaches,
        prices: found.prices,
    })
}
