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
use super::{Demand, Filling, Limits, Solved, Wish, Year};
use crate::material::Catalogue;
use crate::mix::{Blend, Ingredient, Mix, Totals, blend};
use crate::quantity::{Amount, Extent};

/// Measures up to this size, m3, are halved first, larger ones quartered (common practice: half a bucket, a quarter barrow).
const SMALL_MEASURE_M3: f64 = 0.02;
/// Parts of a measure, coarsest first: of small measures and of larger ones.
const PARTS: [(f64, f64); 4] = [(0.5, 0.25), (0.25, 0.1), (0.1, 0.05), (0.05, 0.01)];
/// Most parts that are taken away again to bring a rounded heap back into its bands.
const MOST_STEPS: usize = 40;
/// Litres to which water is rounded, coarsest first.
const WATER_L: [f64; 3] = [5.0, 1.0, 0.1];
/// Share of a limit by which a heap as calculated may miss it: the tolerance of the solver.
pub(super) const REACH: f64 = 1e-6;
/// Most heaps that are laid in a bay while a deal is looked for.
const MOST_DEALS: usize = 20_000;
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
    let inside = |(value, (low, high)): (f64, (f64, f64))| {
        value >= low - REACH * low.abs() && value <= high + REACH * high.abs()
    };
    totals.dry_kg > 0.0
        && beside_limits(totals, limits, volume_m3)
            .into_iter()
            .all(inside)
}

/// What a heap must keep to, each value beside its limits.
fn beside_limits(
    totals: &Totals,
    limits: &Limits,
    volume_m3: (f64, f64),
) -> [(f64, (f64, f64)); 5] {
    [
        (totals.cn(), limits.cn),
        (totals.moisture(), limits.moisture),
        (totals.settled_air_space(), limits.air),
        (totals.wet_kg() / totals.volume_m3(), limits.density),
        (totals.volume_m3(), volume_m3),
    ]
}

/// Every heap of a solution in its bay and in measures, by month and bay; `None` where no deal keeps to the wishes.
pub(super) fn deal(
    year: &Year,
    catalogue: &Catalogue,
    posed: &Posed,
    solved: &Solved,
) -> Option<Vec<Dealt>> {
    let mut heaps = Vec::new();
    for (place, bays) in posed.bays.iter().enumerate() {
        let mut fillings: Vec<&Filling> = solved
            .fillings
            .iter()
            .filter(|filling| filling.place == place)
            .collect();
        fillings.sort_by_key(|filling| filling.month);
        let months: Vec<usize> = fillings
            .iter()
            .flat_map(|filling| std::iter::repeat_n(filling.month, filling.count))
            .collect();
        let dealing = Dealing {
            months,
            stands: posed.task.places[place].stands_months,
            bays: bays.iter().map(|bay| Wished::of(year, *bay)).collect(),
        };
        let mut chosen = dealing.deal()?.into_iter();
        for filling in fillings {
            let heap = in_measures(year, catalogue, posed, filling);
            for at in chosen.by_ref().take(filling.count) {
                heaps.push(Dealt {
                    bay: bays[at],
                    ..heap.clone()
                });
            }
        }
    }
    heaps.sort_by_key(|heap| (heap.month, heap.bay));
    Some(heaps)
}

/// What is wished of one bay, months of the plan.
struct Wished {
    build: Vec<usize>,
    empty: Vec<usize>,
}

impl Wished {
    fn of(year: &Year, bay: usize) -> Self {
        let (mut build, mut empty) = (Vec::new(), Vec::new());
        for wish in &year.wishes {
            match wish {
                Wish::Build { bay: name, month } if *name == year.bays[bay].name => {
                    build.push(year.place_of(*month));
                }
                Wish::Empty { bay: name, month } if *name == year.bays[bay].name => {
                    empty.push(year.place_of(*month));
                }
                _ => {}
            }
        }
        Self { build, empty }
    }
}

/// Heaps of like bays to be dealt out, by month.
struct Dealing {
    months: Vec<usize>,
    stands: usize,
    bays: Vec<Wished>,
}

impl Dealing {
    /// A bay for each heap, tried one after another.
    fn deal(&self) -> Option<Vec<usize>> {
        let mut chosen = Vec::new();
        let mut steps = 0;
        self.deal_rest(&mut chosen, &mut steps).then_some(chosen)
    }

    fn deal_rest(&self, chosen: &mut Vec<usize>, steps: &mut usize) -> bool {
        *steps += 1;
        let Some(month) = self.months.get(chosen.len()).copied() else {
            return self.builds_are_kept(chosen);
        };
        let free_from = |bay: usize| {
            let last = (0..chosen.len()).rev().find(|at| chosen[*at] == bay);
            last.map_or(0, |at| self.months[at] + self.stands)
        };
        let stands = month..month + self.stands;
        let mut open: Vec<(bool, usize, usize)> = (0..self.bays.len())
            .filter(|bay| free_from(*bay) <= month)
            .filter(|bay| !self.bays[*bay].empty.iter().any(|at| stands.contains(at)))
            .map(|bay| (!self.bays[bay].build.contains(&month), free_from(bay), bay))
            .collect();
        // First a bay in which a heap is wished for, then the one that has been free longest.
        open.sort_unstable();
        for (_, _, bay) in open {
            if *steps > MOST_DEALS {
                return false;
            }
            chosen.push(bay);
            if self.deal_rest(chosen, steps) {
                return true;
            }
            chosen.pop();
        }
        false
    }

    fn builds_are_kept(&self, chosen: &[usize]) -> bool {
        self.bays.iter().enumerate().all(|(bay, wished)| {
            wished.build.iter().all(|month| {
                let mut dealt = chosen.iter().zip(&self.months);
                dealt.any(|(at, of)| *at == bay && of == month)
            })
        })
    }
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
    let rounding = Rounding {
        year,
        catalogue,
        limits: &posed.task.limits,
        span: (kind.low_m3, kind.high_m3),
        water_l,
    };
    let tried = PARTS.into_iter().find_map(|(small, large)| {
        let steps: Vec<f64> = exact
            .iter()
            .map(|it| match year.arrivals[it.arrival].measure.one() {
                _ if is_fixed(posed, filling, it.arrival) => 0.0,
                Extent::VolumeM3(m3) if m3 > SMALL_MEASURE_M3 => large,
                _ => small,
            })
            .collect();
        rounding.rounded(&exact, &steps)
    });
    let (uses, water_l) = tried.unwrap_or((exact, water_l));
    heap(uses, water_l)
}

/// What a rounded heap must keep to.
struct Rounding<'a> {
    year: &'a Year,
    catalogue: &'a Catalogue,
    limits: &'a Limits,
    span: (f64, f64),
    water_l: f64,
}

impl Rounding<'_> {
    /// Amounts rounded down to steps, and further by single steps as long as that brings the heap nearer to its bands; a step of
    /// 0 leaves an amount as it is. `None` if it stays outside.
    fn rounded(&self, exact: &[Use], steps: &[f64]) -> Option<(Vec<Use>, f64)> {
        let mut uses: Vec<Use> = exact
            .iter()
            .zip(steps)
            .map(|(it, step)| Use {
                measures: if *step > 0.0 {
                    // What the solver left a millionth short of a whole step is whole, as long as it is there.
                    ((it.measures / step + REACH).floor() * step).min(it.measures)
                } else {
                    it.measures
                },
                ..*it
            })
            .collect();
        let mut best = self.outside(&uses)?;
        for _ in 0..MOST_STEPS {
            if best <= 0.0 {
                break;
            }
            let tries = (0..uses.len()).filter_map(|at| {
                let mut tried = uses.clone();
                tried[at].measures -= steps[at];
                let possible = steps[at] > 0.0 && tried[at].measures >= 0.0;
                Some((self.outside(&tried).filter(|_| possible)?, tried))
            });
            let (outside, tried) = tries.min_by(|(a, _), (b, _)| a.total_cmp(b))?;
            if outside >= best {
                return None;
            }
            (best, uses) = (outside, tried);
        }
        uses.retain(|it| it.measures > LEAST);
        WATER_L.into_iter().find_map(|litres| {
            let poured = self.watered(&uses, litres)?;
            let mix = mix_of(self.year, &uses, poured);
            let lies = lies_in(&blend_of(&mix, self.catalogue)?, self.limits, self.span);
            lies.then(|| (uses.clone(), poured))
        })
    }

    /// How far a heap lies outside its limits with the water that suits it best, as a share of them.
    fn outside(&self, uses: &[Use]) -> Option<f64> {
        let dry = blend_of(&mix_of(self.year, uses, 0.0), self.catalogue)?.totals;
        let (least, most) = water_between(&dry, self.limits);
        let water_l = self.water_l.min(most).max(least).max(0.0);
        let blend = blend_of(&mix_of(self.year, uses, water_l), self.catalogue)?;
        let beyond = |(value, (low, high)): (f64, (f64, f64))| {
            (low - value).max(value - high).max(0.0) / low.abs().max(high.abs())
        };
        let all = beside_limits(&blend.totals, self.limits, self.span);
        Some(all.into_iter().map(beyond).sum())
    }

    /// Water in steps of so many litres, nearest to what is wanted with the moisture inside its limits.
    fn watered(&self, uses: &[Use], step_l: f64) -> Option<f64> {
        let dry = blend_of(&mix_of(self.year, uses, 0.0), self.catalogue)?.totals;
        let (least, most) = water_between(&dry, self.limits);
        let least = least.max(0.0);
        let steps = self.water_l.min(most).max(least) / step_l;
        [steps.round(), steps.ceil(), steps.floor()]
            .into_iter()
            .map(|steps| steps * step_l)
            .find(|litres| *litres >= least && *litres <= most.max(0.0))
    }
}

/// Least and most water, L, that brings a mix without added water into its limits; negative where it is wetter.
fn water_between(dry: &Totals, limits: &Limits) -> (f64, f64) {
    // Water over water and dry matter is the moisture.
    let at = |moisture: f64| moisture / (1.0 - moisture) * dry.dry_kg - dry.water_kg;
    (at(limits.moisture.0), at(limits.moisture.1))
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
