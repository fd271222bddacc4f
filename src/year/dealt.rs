//! A solution dealt out: which bay, and amounts in measures that people handle.
//!
//! In: a [`Posed`] task and its [`Solved`]. Out: heaps, each in one bay, each in the bands.
//!
//! Amounts are only ever rounded down, so that nothing is used that is not there; the coarsest measures that keep the heap
//! in its bands are taken, and what is rounded away stays with what is left or spoils.
//! Not here: what became of each arrival (`fate`).
//!
//! Tested by: `tests/science/year.rs`.

use super::task::Posed;
use super::{Demand, Filling, Limits, Solved, Year};
use crate::material::Catalogue;
use crate::mix::{Blend, Ingredient, Mix, blend};
use crate::quantity::{Amount, Extent};

/// Measures up to this size, m3, are halved first, larger ones quartered (common practice: half a bucket, a quarter barrow).
const SMALL_MEASURE_M3: f64 = 0.02;
/// Parts of a measure, coarsest first: of small measures and of larger ones.
const PARTS: [(f64, f64); 3] = [(0.5, 0.25), (0.25, 0.1), (0.1, 0.05)];
/// Litres to which water is rounded, coarsest first.
const WATER_L: [f64; 3] = [5.0, 1.0, 0.1];
/// Share of a limit by which a heap as calculated may miss it: the tolerance of the solver.
pub(super) const REACH: f64 = 1e-6;
/// Least amount that is worth a row, measures.
const LEAST: f64 = 1e-6;

/// Something put into a heap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// Month of the plan.
    pub month: usize,
    /// Row of the arrivals.
    pub arrival: usize,
    /// How many of its measure.
    pub measures: f64,
}

/// A heap in its bay.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dealt {
    pub(super) bay: usize,
    pub(super) place: usize,
    pub(super) month: usize,
    pub(super) uses: Vec<Use>,
    pub(super) water_l: f64,
}

/// The mix of a heap: all of each arrival together.
pub(super) fn mix_of(year: &Year, uses: &[Use], water_l: f64) -> Mix {
    let rows = year
        .arrivals
        .iter()
        .enumerate()
        .filter_map(|(row, arrival)| {
            let measures: f64 = uses
                .iter()
                .filter(|it| it.arrival == row)
                .map(|it| it.measures)
                .sum();
            (measures > 0.0).then(|| Ingredient {
                condition: arrival.condition,
                ..Ingredient::new(
                    arrival.material.as_str(),
                    Amount::new(measures, arrival.measure.clone()),
                )
            })
        });
    Mix {
        ingredients: rows.collect(),
        added_water_l: water_l,
    }
}

/// The blend of a heap; `None` for a material that is not in the catalogue, which [`super::task::posed`] has refused.
pub(super) fn blend_of(mix: &Mix, catalogue: &Catalogue) -> Option<Blend> {
    let parts = mix.resolve(catalogue).ok()?;
    Some(blend(&parts, mix.added_water_l))
}

/// Whether a blend lies in limits and its volume in a span.
pub(super) fn lies_in(blend: &Blend, limits: &Limits, volume_m3: (f64, f64)) -> bool {
    let totals = &blend.totals;
    let inside = |value: f64, (low, high): (f64, f64)| {
        value >= low - REACH * low.abs() && value <= high + REACH * high.abs()
    };
    totals.dry_kg > 0.0
        && inside(totals.cn(), limits.cn)
        && inside(totals.moisture(), limits.moisture)
        && inside(totals.settled_air_space(), limits.air)
        && inside(totals.wet_kg() / totals.volume_m3(), limits.density)
        && inside(totals.volume_m3(), volume_m3)
}

/// Every heap of a solution in its bay and in measures, by month and bay.
pub(super) fn deal(
    year: &Year,
    catalogue: &Catalogue,
    posed: &Posed,
    solved: &Solved,
) -> Vec<Dealt> {
    let mut heaps = Vec::new();
    for (place, bays) in posed.bays.iter().enumerate() {
        let stands = posed.task.places[place].stands_months;
        let mut free_from = vec![0; bays.len()];
        let mut fillings: Vec<&Filling> = solved
            .fillings
            .iter()
            .filter(|filling| filling.place == place)
            .collect();
        fillings.sort_by_key(|filling| filling.month);
        for filling in fillings {
            let heap = in_measures(year, catalogue, posed, filling);
            // As many bays are free as the program lets heaps begin: those that were free longest come first.
            let mut open: Vec<usize> = (0..bays.len())
                .filter(|at| free_from[*at] <= filling.month)
                .collect();
            open.sort_by_key(|at| (free_from[*at], *at));
            for at in open.into_iter().take(filling.count) {
                free_from[at] = filling.month + stands;
                heaps.push(Dealt {
                    bay: bays[at],
                    ..heap.clone()
                });
            }
        }
    }
    heaps.sort_by_key(|heap| (heap.month, heap.bay));
    heaps
}

/// One of the heaps of a filling, in measures.
fn in_measures(year: &Year, catalogue: &Catalogue, posed: &Posed, filling: &Filling) -> Dealt {
    let share = 1.0 / filling.count as f64;
    let exact: Vec<Use> = filling
        .uses
        .iter()
        .map(|(month, arrival, units)| Use {
            month: *month,
            arrival: *arrival,
            measures: units * share * posed.task.stuffs[*arrival].measures,
        })
        .collect();
    let water_l = filling.water_l * share;
    let heap = |uses: Vec<Use>, water_l: f64| Dealt {
        bay: 0,
        place: filling.place,
        month: filling.month,
        uses,
        water_l,
    };
    let kind = &posed.task.places[filling.place];
    let span = (kind.low_m3, kind.high_m3);
    let tried = PARTS.into_iter().find_map(|(small, large)| {
        let uses: Vec<Use> = exact
            .iter()
            .filter_map(|it| {
                let fixed = is_fixed(posed, filling, it.arrival);
                let large_one = match year.arrivals[it.arrival].measure.one() {
                    Extent::VolumeM3(m3) => m3 > SMALL_MEASURE_M3,
                    Extent::MassKg(_) => false,
                };
                let part = if large_one { large } else { small };
                let measures = if fixed {
                    it.measures
                } else {
                    // What the solver left a millionth short of a whole part is whole, as long as it is there.
                    (it.measures / part + REACH).floor() * part
                };
                (measures > LEAST).then_some(Use {
                    measures: measures.min(it.measures),
                    ..*it
                })
            })
            .collect();
        WATER_L.into_iter().find_map(|litres| {
            let poured = watered(year, catalogue, &uses, water_l, &posed.task.limits, litres)?;
            let mix = mix_of(year, &uses, poured);
            let lies = lies_in(&blend_of(&mix, catalogue)?, &posed.task.limits, span);
            lies.then(|| heap(uses.clone(), poured))
        })
    });
    tried.unwrap_or_else(|| heap(exact, water_l))
}

/// Whether the amount of an arrival in a heap must stay as it is.
fn is_fixed(posed: &Posed, filling: &Filling, arrival: usize) -> bool {
    posed.task.demands.iter().any(|demand| match *demand {
        Demand::Put {
            place,
            month,
            stuff,
            ..
        } => (place, month, stuff) == (filling.place, filling.month, arrival),
        Demand::NoneSpoils { stuff } => stuff == arrival,
        Demand::Build { .. } | Demand::Empty { .. } => false,
    })
}

/// Water in steps of so many litres, nearest to what is wanted with the moisture inside its limits.
fn watered(
    year: &Year,
    catalogue: &Catalogue,
    uses: &[Use],
    wanted_l: f64,
    limits: &Limits,
    step_l: f64,
) -> Option<f64> {
    let totals = blend_of(&mix_of(year, uses, 0.0), catalogue)?.totals;
    // Water over water and dry matter is the moisture.
    let at = |moisture: f64| moisture / (1.0 - moisture) * totals.dry_kg - totals.water_kg;
    let (least, most) = (at(limits.moisture.0).max(0.0), at(limits.moisture.1));
    let clamped = wanted_l.min(most).max(least);
    [
        (clamped / step_l).round(),
        (clamped / step_l).ceil(),
        (clamped / step_l).floor(),
    ]
    .into_iter()
    .map(|steps| steps * step_l)
    .find(|litres| *litres >= least && *litres <= most.max(0.0))
}
