//! From handfuls to measures that people handle, without leaving a band silently.
//!
//! In: handfuls, the demands they keep. Out: handfuls that come to whole measures (or halves, quarters,
//! tenths), and how fine they are.
//!
//! A search among neighbours: from the nearest measures, one lever or two are moved by a measure up
//! or down, or put back to what there was, as long as that breaks less, or costs less while nothing
//! is broken.
//! Not here: what is to be kept (`tiers`).
//!
//! Tested by: `tests/science/balance.rs`.

use super::Rounding;
use super::task::{Demand, KEPT, Task};

/// Finest last.
const FINENESS: [(f64, Rounding); 4] = [
    (1.0, Rounding::Whole),
    (0.5, Rounding::Halves),
    (0.25, Rounding::Quarters),
    (0.1, Rounding::Tenths),
];
/// Most moves of one search; it needs a few per lever.
const MOST_MOVES: usize = 200;
/// Most levers of which pairs are tried.
const MOST_PAIRED: usize = 40;

/// The coarsest measures near these handfuls that keep every demand, or at least every must.
pub(super) fn rounded(
    task: &Task<'_>,
    handfuls: &[f64],
    (demands, musts): (&[Demand], &[Demand]),
) -> (Vec<f64>, Rounding) {
    for (fineness, word) in FINENESS {
        // First as well as calculated, then as well as must be; to the nearest, down, up.
        let tries = [demands, musts]
            .into_iter()
            .flat_map(|demands| [0.5, 1.0, 0.0].map(|lean| (demands, lean)));
        for (demands, lean) in tries {
            let mut search = Search::new(task, handfuls, demands, (fineness, lean));
            search.descend();
            if search.broken <= 0.0 {
                return (search.handfuls, word);
            }
        }
    }
    (handfuls.to_vec(), Rounding::AsCalculated)
}

/// A search under way.
struct Search<'a, 'b> {
    task: &'b Task<'a>,
    /// A measure of each lever, handfuls.
    grains: Vec<f64>,
    /// What a handful of each lever does to each demand, in its unit.
    slopes: Vec<Vec<f64>>,
    handfuls: Vec<f64>,
    /// Spare of each demand, in its unit.
    margins: Vec<f64>,
    broken: f64,
    effort: f64,
}

impl<'a, 'b> Search<'a, 'b> {
    fn new(
        task: &'b Task<'a>,
        wanted: &[f64],
        demands: &[Demand],
        (fineness, lean): (f64, f64),
    ) -> Self {
        let grains: Vec<f64> = task
            .levers
            .iter()
            .map(|lever| fineness * lever.grain / lever.handful)
            .collect();
        let handfuls: Vec<f64> = task
            .levers
            .iter()
            .zip(wanted.iter().zip(&grains))
            .map(|(lever, (wanted, grain))| {
                if (wanted - lever.start).abs() < 0.5 * grain && inside(lever.start, lever.range) {
                    return lever.start;
                }
                // 0.5 is to the nearest, 1 down and 0 up.
                let measures = (wanted / grain + (0.5 - lean) + 0.5 - 1e-9)
                    .floor()
                    .max(0.0);
                within(measures, *grain, lever.range)
            })
            .collect();
        let sums = task.sums(&handfuls);
        let scale = |demand: &Demand| demand.bound.abs().max(0.01) * task.unit(demand);
        let slopes = demands
            .iter()
            .map(|demand| {
                let row = task.row(demand, &sums, 1.0 / scale(demand));
                row.coefficients
            })
            .collect();
        let margins: Vec<f64> = demands
            .iter()
            .map(|demand| demand.margin(&sums) / scale(demand))
            .collect();
        Self {
            broken: broken(&margins),
            effort: task.effort(&handfuls),
            task,
            grains,
            slopes,
            handfuls,
            margins,
        }
    }

    /// Moves while that helps.
    fn descend(&mut self) {
        for _ in 0..MOST_MOVES {
            if !self.better_by_one() && !self.better_by_two() {
                return;
            }
        }
    }

    /// Amounts a lever may move to from where it is.
    fn neighbours(&self, lever: usize) -> [Option<f64>; 3] {
        let (grain, here) = (self.grains[lever], self.handfuls[lever]);
        let range = self.task.levers[lever].range;
        let start = self.task.levers[lever].start;
        let measures = here / grain;
        let up = grain * ((measures + 1e-6).floor() + 1.0);
        let down = grain * ((measures - 1e-6).ceil() - 1.0);
        [up, down, start].map(|to| (inside(to, range) && to != here).then_some(to))
    }

    /// Breach and effort with some levers moved.
    fn tried(&self, moves: &[(usize, f64)]) -> (f64, f64) {
        let mut broken = 0.0;
        for (slopes, margin) in self.slopes.iter().zip(&self.margins) {
            let change: f64 = moves
                .iter()
                .map(|(lever, to)| slopes[*lever] * (to - self.handfuls[*lever]))
                .sum();
            broken += breach(margin + change);
        }
        let effort = moves.iter().fold(self.effort, |effort, (lever, to)| {
            let lever_of = &self.task.levers[*lever];
            let cost = |at: f64| lever_of.weight * (at - lever_of.start).powi(2);
            effort + cost(*to) - cost(self.handfuls[*lever])
        });
        (broken, effort)
    }

    fn helps(&self, best: (f64, f64), found: (f64, f64)) -> bool {
        if best.0 > 0.0 || found.0 > 0.0 {
            found.0 < best.0 * (1.0 - 1e-6)
        } else {
            found.1 < best.1 - 1e-9 * (1.0 + best.1.abs())
        }
    }

    fn take(&mut self, moves: &[(usize, f64)]) {
        let (_, effort) = self.tried(moves);
        for (slopes, margin) in self.slopes.iter().zip(&mut self.margins) {
            for (lever, to) in moves {
                *margin += slopes[*lever] * (to - self.handfuls[*lever]);
            }
        }
        for (lever, to) in moves {
            self.handfuls[*lever] = *to;
        }
        self.broken = broken(&self.margins);
        self.effort = effort;
    }

    fn better_by_one(&mut self) -> bool {
        let mut best = (self.broken, self.effort);
        let mut chosen = None;
        for lever in 0..self.handfuls.len() {
            for to in self.neighbours(lever).into_iter().flatten() {
                let found = self.tried(&[(lever, to)]);
                if self.helps(best, found) {
                    (best, chosen) = (found, Some((lever, to)));
                }
            }
        }
        chosen.is_some_and(|chosen| {
            self.take(&[chosen]);
            true
        })
    }

    fn better_by_two(&mut self) -> bool {
        let count = self.handfuls.len();
        // Nothing broken: two at a time would only save a little effort.
        if count > MOST_PAIRED || self.broken <= 0.0 {
            return false;
        }
        let mut best = (self.broken, self.effort);
        let mut chosen = None;
        let moves: Vec<(usize, f64)> = (0..count)
            .flat_map(|lever| {
                let to = self.neighbours(lever).into_iter().flatten();
                to.map(move |to| (lever, to)).collect::<Vec<_>>()
            })
            .collect();
        for (place, first) in moves.iter().enumerate() {
            for second in &moves[place + 1..] {
                if first.0 == second.0 {
                    continue;
                }
                let found = self.tried(&[*first, *second]);
                if self.helps(best, found) {
                    (best, chosen) = (found, Some([*first, *second]));
                }
            }
        }
        chosen.is_some_and(|chosen| {
            self.take(&chosen);
            true
        })
    }
}

fn inside(value: f64, (least, most): (f64, f64)) -> bool {
    value >= least && value <= most
}

/// So many measures, or the end of the range where they lie beyond it.
fn within(measures: f64, grain: f64, (least, most): (f64, f64)) -> f64 {
    let value = measures * grain;
    if value > most {
        let whole = (most / grain).floor() * grain;
        if whole >= least { whole } else { most }
    } else {
        value.max(least)
    }
}

fn breach(margin: f64) -> f64 {
    if margin < -KEPT { -margin } else { 0.0 }
}

fn broken(margins: &[f64]) -> f64 {
    margins.iter().map(|margin| breach(*margin)).sum()
}
