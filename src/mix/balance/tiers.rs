//! In what order bands are tried: all best, what works, the nearest.
//!
//! In: a task and the bands. Out: [`Settled`]: handfuls, the demands they keep, how far that is.
//!
//! Not here: whole measures (`round`), ways out (`ways`).
//!
//! Tested by: `tests/science/balance.rs`.

use super::least::{Elastic, Soft, elastic, smallest};
use super::lever::What;
use super::task::{Demand, Task, demands};
use super::{BandEnd, Goal, Limit};
use crate::mix::{Gauge, TargetBand};

/// Breach in widths of a band that counts; less is the solver's rounding.
const BROKEN: f64 = 1e-4;
/// Price of a breach of the volume beside one of the make-up, where neither can be kept; `tuned`:
/// a heap is not made better by being made smaller.
const PRICE_OF_VOLUME: f64 = 20.0;
/// Least share of its scale that a heap keeps while its make-up is sought.
const LEAST_VOLUME: f64 = 0.05;

/// How far towards the end of what works a limit goes beyond what can be reached.
const ROOM_TO_ROUND: f64 = 0.25;

/// How far it was settled.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tier {
    Best,
    Works,
    Nearest(Vec<Limit>),
}

/// Amounts found.
#[derive(Debug, Clone)]
pub(super) struct Settled {
    /// Handfuls of each lever.
    pub(super) handfuls: Vec<f64>,
    /// Demands they keep.
    pub(super) demands: Vec<Demand>,
    /// The same with what had to give loosened to what works: all that must not be left silently.
    pub(super) musts: Vec<Demand>,
    pub(super) tier: Tier,
}

/// A gauge with its band.
type Judged = (Gauge, TargetBand);

fn gauges(task: &Task<'_>, goal: &Goal) -> [Judged; 5] {
    // The volume last: `nearest` parts it from the make-up.
    [
        Gauge::CarbonNitrogen,
        Gauge::Moisture,
        Gauge::AirSpace,
        Gauge::Density,
        Gauge::Volume,
    ]
    .map(|gauge| {
        let mut band = task.band(&goal.bands, gauge);
        for (_, side) in goal.unsought.iter().filter(|(other, _)| *other == gauge) {
            match side {
                BandEnd::Low => band.best.0 = band.works.0,
                BandEnd::High => band.best.1 = band.works.1,
            }
        }
        (gauge, band)
    })
}

/// How much the best part of a band matters at one end; `tuned`: too much air settles by itself, too
/// little stops a heap; weight follows from air and water.
fn importance(gauge: Gauge, side: BandEnd) -> f64 {
    match (gauge, side) {
        (Gauge::AirSpace, BandEnd::High) => 0.1,
        (Gauge::Density, BandEnd::Low) => 0.05,
        (Gauge::Density, BandEnd::High) => 0.5,
        (Gauge::Volume, BandEnd::Low) => 0.3,
        (Gauge::AirSpace, BandEnd::Low) => 1.2,
        _ => 1.0,
    }
}

/// What one unit of breach is, in the gauge's own unit: the width of the best part.
fn width(band: &TargetBand, bound: f64) -> f64 {
    let width = band.best.1 - band.best.0;
    if width.is_finite() && width > 1e-9 {
        width
    } else {
        (0.1 * bound.abs()).max(0.01)
    }
}

/// The best that works, if anything does.
pub(super) fn reachable(task: &Task<'_>, goal: &Goal) -> Option<Settled> {
    let gauges = gauges(task, goal);
    let best: Vec<Demand> = all(&gauges, |band| band.best).collect();
    if let Some(handfuls) = smallest(task, &best) {
        return Some(Settled {
            handfuls,
            musts: best.clone(),
            demands: best,
            tier: Tier::Best,
        });
    }
    working(task, &gauges)
}

/// As [`reachable`], and the nearest where nothing works.
pub(super) fn settle(task: &Task<'_>, goal: &Goal) -> Settled {
    reachable(task, goal).unwrap_or_else(|| nearest(task, &gauges(task, goal)))
}

fn all<'a>(
    gauges: &'a [Judged],
    ends: impl Fn(&TargetBand) -> (f64, f64) + 'a,
) -> impl Iterator<Item = Demand> + 'a {
    gauges
        .iter()
        .flat_map(move |(gauge, band)| demands(*gauge, ends(band)))
}

/// What works is a must; best parts are given up where they must be, the less important first.
fn working(task: &Task<'_>, gauges: &[Judged; 5]) -> Option<Settled> {
    let works: Vec<Demand> = all(gauges, |band| band.works).collect();
    let wishes: Vec<Soft> = gauges
        .iter()
        .flat_map(|(gauge, band)| {
            demands(*gauge, band.best).map(|demand| Soft {
                price: importance(demand.gauge, demand.side),
                width: width(band, demand.bound),
                demand,
            })
        })
        .collect();
    let found = elastic(task, &works, &wishes)?;
    let sums = task.sums(&found.handfuls);
    let (mut kept, mut musts) = (Vec::new(), Vec::new());
    for (wish, breach) in wishes.iter().zip(&found.breaches) {
        let mut demand = wish.demand;
        if *breach > BROKEN {
            let (reached, worst) = (demand.value(&sums), end_of(gauges, &demand));
            // Part of the way to what works, for room to round in.
            demand.bound = reached + ROOM_TO_ROUND * (worst - reached);
            musts.push(Demand {
                bound: worst,
                ..demand
            });
        } else {
            musts.push(demand);
        }
        kept.push(demand);
    }
    let settled = |demands: Vec<Demand>, musts: Vec<Demand>| {
        Some(Settled {
            handfuls: smallest(task, &demands)?,
            demands,
            musts,
            tier: Tier::Works,
        })
    };
    settled(kept, musts).or_else(|| settled(works.clone(), works))
}

/// The end of what works on the side of a demand.
fn end_of(gauges: &[Judged; 5], demand: &Demand) -> f64 {
    let band = gauges.iter().find(|(gauge, _)| *gauge == demand.gauge);
    let Some((_, band)) = band else {
        return demand.bound;
    };
    match demand.side {
        BandEnd::Low => band.works.0,
        BandEnd::High if band.works.1.is_finite() => band.works.1,
        BandEnd::High => demand.bound,
    }
}

/// Composition before size, then the least weighted breach of everything.
fn nearest(task: &Task<'_>, gauges: &[Judged; 5]) -> Settled {
    let softened = |(gauge, band): &Judged, price: f64| -> Vec<Soft> {
        demands(*gauge, band.works)
            .map(|demand| Soft {
                price: price * importance(demand.gauge, demand.side).max(0.5),
                width: width(band, demand.bound),
                demand,
            })
            .collect()
    };
    let [make_up @ .., volume] = gauges;
    let there = Demand {
        gauge: Gauge::Volume,
        side: BandEnd::Low,
        bound: LEAST_VOLUME * task.scale_m3,
        airless: false,
    };
    let mut must: Vec<Demand> = all(make_up, |band| band.works).collect();
    must.push(there);
    let wishes = softened(volume, 1.0);
    if let Some(found) = elastic(task, &must, &wishes) {
        return near(task, must, &wishes, found);
    }
    let mut wishes: Vec<Soft> = make_up
        .iter()
        .flat_map(|judged| softened(judged, 1.0))
        .collect();
    let best = TargetBand {
        works: volume.1.best,
        ..volume.1
    };
    for soft in softened(&(volume.0, best), PRICE_OF_VOLUME) {
        if soft.demand.side == BandEnd::High {
            let demand = Demand {
                airless: true,
                ..soft.demand
            };
            wishes.push(Soft { demand, ..soft });
        }
        wishes.push(soft);
    }
    match elastic(task, &[], &wishes) {
        Some(found) => near(task, Vec::new(), &wishes, found),
        None => Settled {
            handfuls: task
                .levers
                .iter()
                .map(|lever| lever.start.clamp(lever.range.0, lever.range.1))
                .collect(),
            demands: Vec::new(),
            musts: Vec::new(),
            tier: Tier::Nearest(wishes.iter().map(|soft| soft.demand.limit(true)).collect()),
        },
    }
}

/// The nearest mix with what fights in it.
fn near(task: &Task<'_>, must: Vec<Demand>, wishes: &[Soft], found: Elastic) -> Settled {
    let sums = task.sums(&found.handfuls);
    // What a tenth of a limit is worth, in widths of a band.
    let binds =
        |demand: &Demand, price: f64| 0.1 * demand.bound.abs() * task.unit(demand) * price > 1e-3;
    let mut fighting: Vec<Limit> = Vec::new();
    let mut say = |limit: Limit| {
        if !fighting.contains(&limit) {
            fighting.push(limit);
        }
    };
    let mut kept = must.clone();
    for (soft, breach) in wishes.iter().zip(&found.breaches) {
        let mut demand = soft.demand;
        if *breach > BROKEN {
            say(demand.limit(true));
            // A tenth of the band more than must be, for room to round in.
            demand.bound = demand.value(&sums)
                + match demand.side {
                    BandEnd::Low => -0.1 * soft.width,
                    BandEnd::High => 0.1 * soft.width,
                };
        }
        kept.push(demand);
    }
    let rows = must.iter().chain(wishes.iter().map(|soft| &soft.demand));
    let priced: Vec<(&Demand, f64)> = rows.zip(found.prices.iter().copied()).collect();
    // A smaller heap of the same make-up only misses by fewer kilograms: size does not fight.
    let floor = |demand: &Demand| demand.gauge == Gauge::Volume && demand.side == BandEnd::Low;
    for (demand, price) in &priced {
        let broken = kept.iter().all(|other| other != *demand);
        if !broken && sums.dry_kg > 0.0 && binds(demand, *price) && !floor(demand) {
            say(demand.limit(false));
        }
    }
    for (lever, handfuls) in task.levers.iter().zip(&found.handfuls) {
        if let What::Row(row) = lever.what
            && *handfuls >= lever.range.1 * (1.0 - 1e-6)
        {
            match (lever.stock, lever.dosed) {
                (true, _) => say(Limit::Stock(row)),
                (false, true) => say(Limit::Dose(row)),
                (false, false) => {}
            }
        }
    }
    for (row, own) in &task.locked {
        let pull: f64 = priced
            .iter()
            .map(|(demand, price)| {
                let none = demand.margin(&crate::mix::Totals::default());
                price * (demand.margin(own) - none)
            })
            .sum();
        if pull.abs() > 1e-3 {
            say(Limit::Locked(*row));
        }
    }
    Settled {
        handfuls: found.handfuls,
        musts: kept.clone(),
        demands: kept,
        tier: Tier::Nearest(fighting),
    }
}
