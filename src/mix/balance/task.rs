//! What may be moved and between which limits: from a mix and a goal to rows of a program.
//!
//! In: ingredients, materials, a goal. Out: [`Task`]: levers with what one handful of each brings, and
//! the sums of what stays.
//!
//! Not here: the order in which bands are tried (`tiers`), the solver (`program`).
//!
//! Tested by: `tests/science/balance.rs`.

use crate::material::Catalogue;

use super::lever::Lever;
use super::program::Row;
use super::{BandEnd, FROM_NOTHING_M3, Goal, Limit, Size, TargetBands};
use crate::mix::{Gauge, Mix, MixError, TargetBand, Totals, bands, blend};

/// Less than this is no heap, m3: what two hands hold.
pub(super) const LEAST_M3: f64 = 1e-4;
/// A limit is kept if it is broken by no more than this share of its scale.
pub(super) const KEPT: f64 = 1e-9;

/// A mix to be balanced.
#[derive(Debug, Clone)]
pub(super) struct Task<'a> {
    pub(super) levers: Vec<Lever<'a>>,
    /// Sums of what is not to be moved.
    pub(super) fixed: Totals,
    /// Locked rows that hold something, with what they bring.
    pub(super) locked: Vec<(usize, Totals)>,
    /// Volume the rest is scaled by, m3.
    pub(super) scale_m3: f64,
    /// Band of the volume.
    pub(super) volume: TargetBand,
}

/// One end of a band as a demand on the sums.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Demand {
    pub(super) gauge: Gauge,
    pub(super) side: BandEnd,
    pub(super) bound: f64,
    /// Volume only: of solids and water without air, where that may exceed the piled volume.
    pub(super) airless: bool,
}

impl Demand {
    /// What there is to spare, in the linear form of the module's table; negative if it is broken.
    pub(super) fn margin(&self, sums: &Totals) -> f64 {
        match self.side {
            BandEnd::Low if self.airless => sums.airless_volume_m3() - self.bound,
            BandEnd::High if self.airless => self.bound - sums.airless_volume_m3(),
            side => to_spare(self.gauge, side, self.bound, sums),
        }
    }

    /// The gauge itself, as the table has it.
    pub(super) fn value(&self, sums: &Totals) -> f64 {
        let piled = sums.piled_volume_m3;
        match self.gauge {
            Gauge::CarbonNitrogen => sums.cn(),
            Gauge::Moisture => sums.moisture(),
            Gauge::AirSpace => 1.0 - sums.airless_volume_m3() / (piled - sums.slumped_volume_m3()),
            Gauge::Density => sums.wet_kg() / piled,
            Gauge::Volume if self.airless => sums.airless_volume_m3(),
            Gauge::Volume => piled,
        }
    }

    pub(super) fn limit(&self, broken: bool) -> Limit {
        Limit::Gauge {
            gauge: self.gauge,
            side: self.side,
            broken,
        }
    }
}

/// What sums have to spare of a limit of a gauge, in the linear form of the module's table; negative if it is broken.
pub fn to_spare(gauge: Gauge, side: BandEnd, bound: f64, sums: &Totals) -> f64 {
    let (wet, piled) = (sums.wet_kg(), sums.piled_volume_m3);
    let settled = piled - sums.slumped_volume_m3();
    let low = match gauge {
        Gauge::CarbonNitrogen => sums.carbon_kg - bound * sums.nitrogen_kg,
        Gauge::Moisture => sums.water_kg - bound * wet,
        Gauge::AirSpace => (1.0 - bound) * settled - sums.airless_volume_m3(),
        Gauge::Density => wet - bound * piled,
        Gauge::Volume => piled - bound,
    };
    match side {
        BandEnd::Low => low,
        BandEnd::High => -low,
    }
}

/// Both ends of a pair; an end without bound asks nothing.
pub(super) fn demands(gauge: Gauge, (low, high): (f64, f64)) -> impl Iterator<Item = Demand> {
    let ends = [(BandEnd::Low, low), (BandEnd::High, high)];
    ends.into_iter()
        .filter(|(_, bound)| bound.is_finite())
        .map(move |(side, bound)| Demand {
            gauge,
            side,
            bound,
            airless: false,
        })
}

impl<'a> Task<'a> {
    /// The task a mix and a goal make.
    ///
    /// # Errors
    /// [`MixError`] if the mix cannot be resolved.
    pub(super) fn new(
        mix: &'a Mix,
        catalogue: &'a Catalogue,
        goal: &Goal,
    ) -> Result<Self, MixError> {
        let parts = mix.resolve(catalogue)?;
        let mut levers = Vec::new();
        let mut fixed = Totals::default();
        let mut locked = Vec::new();
        let mut present = Totals {
            water_kg: mix.added_water_l,
            ..Totals::default()
        };
        for (row, (ingredient, part)) in mix.ingredients.iter().zip(&parts).enumerate() {
            let own = blend(std::slice::from_ref(part), 0.0).totals;
            present = present.plus(&own);
            if ingredient.locked {
                fixed = fixed.plus(&own);
                if part.amount.value > 0.0 {
                    locked.push((row, own));
                }
                continue;
            }
            levers.push(Lever::row(row, part, ingredient.stock));
        }
        let water = Lever::water(mix.added_water_l);
        if goal.water {
            levers.push(water);
        } else {
            fixed = fixed.plus_times(&water.one, water.start);
        }
        let there = |id: &str| mix.ingredients.iter().any(|row| row.material == id);
        let extra = goal.extra.iter().filter(|id| !there(id));
        levers.extend(
            extra
                .filter_map(|id| catalogue.find(id))
                .map(Lever::fetched),
        );
        if goal.only_more {
            for lever in &mut levers {
                lever.range.0 = lever.start.min(lever.range.1);
            }
        }
        let volume = volume_band(goal.size, present.volume_m3());
        let scale_m3 = match goal.size {
            Size::Fill(room) => room,
            Size::Free if present.volume_m3() < LEAST_M3 => FROM_NOTHING_M3,
            Size::Within(_) | Size::Free => present.volume_m3(),
        };
        let mut task = Self {
            levers,
            fixed,
            locked,
            scale_m3: scale_m3.max(LEAST_M3),
            volume,
        };
        task.dose_for(task.scale_m3);
        Ok(task)
    }

    /// Keeps every lever to what a heap of this volume takes of it.
    pub(super) fn dose_for(&mut self, heap_m3: f64) {
        let levers = std::mem::take(&mut self.levers).into_iter();
        self.levers = levers.map(|lever| lever.dosed_for(heap_m3)).collect();
    }

    /// Further things that may be moved, each kept to what the heap takes of it.
    pub(super) fn extend(&mut self, levers: impl IntoIterator<Item = Lever<'a>>) {
        let scale_m3 = self.scale_m3;
        let dosed = levers.into_iter().map(|lever| lever.dosed_for(scale_m3));
        self.levers.extend(dosed);
    }

    /// Whether a heap of this volume takes what these handfuls bring of each lever.
    pub(super) fn takes(&self, handfuls: &[f64], heap_m3: f64) -> bool {
        let mut levers = self.levers.iter().zip(handfuls);
        levers.all(|(lever, handfuls)| lever.takes(*handfuls, heap_m3))
    }

    /// The band of a gauge.
    pub(super) fn band(&self, bands: &TargetBands, gauge: Gauge) -> TargetBand {
        match gauge {
            Gauge::CarbonNitrogen => bands.cn,
            Gauge::Moisture => bands.moisture,
            Gauge::AirSpace => bands.free_air_space,
            Gauge::Density => bands.bulk_density_kg_per_m3,
            Gauge::Volume => self.volume,
        }
    }

    /// The sums with so many handfuls of each lever.
    pub(super) fn sums(&self, handfuls: &[f64]) -> Totals {
        let levers = self.levers.iter().zip(handfuls);
        levers.fold(self.fixed, |sums, (lever, handfuls)| {
            sums.plus_times(&lever.one, *handfuls)
        })
    }

    /// Handfuls there are.
    pub(super) fn start(&self) -> Vec<f64> {
        self.levers.iter().map(|lever| lever.start).collect()
    }

    /// The same from other amounts: those of `other` after so many handfuls.
    pub(super) fn starting_from(&self, other: &Self, handfuls: &[f64]) -> Self {
        let mut task = self.clone();
        for lever in &mut task.levers {
            let same = |from: &Lever<'_>| {
                let id =
                    |lever: &Lever<'_>| lever.material.as_ref().map(|material| material.id.clone());
                from.what == lever.what && id(from) == id(lever)
            };
            if let Some(place) = other.levers.iter().position(same) {
                lever.start = handfuls[place];
            }
        }
        task
    }

    /// What this many handfuls cost.
    pub(super) fn effort(&self, handfuls: &[f64]) -> f64 {
        let levers = self.levers.iter().zip(handfuls);
        levers
            .map(|(lever, handfuls)| lever.weight * (handfuls - lever.start).powi(2))
            .sum()
    }

    /// A demand as a row over the change of each lever, in steps of `step` handfuls.
    pub(super) fn row(&self, demand: &Demand, at: &Totals, step: f64) -> Row {
        let none = demand.margin(&Totals::default());
        let coefficients = self
            .levers
            .iter()
            .map(|lever| step * (demand.margin(&lever.one) - none))
            .collect();
        Row {
            coefficients,
            constant: demand.margin(at),
        }
    }

    /// What makes a breach of a demand comparable with others: the margin of a heap of usual make-up
    /// that misses by one unit of the gauge. 300 kg/m3, half water, 1.5 % nitrogen in dry matter
    /// (common practice; only a scale).
    pub(super) fn unit(&self, demand: &Demand) -> f64 {
        let wet = 300.0 * self.scale_m3;
        match demand.gauge {
            Gauge::Moisture => wet,
            Gauge::CarbonNitrogen => 0.015 * 0.5 * wet,
            Gauge::AirSpace | Gauge::Density => self.scale_m3,
            Gauge::Volume => 1.0,
        }
    }

    /// Whether these sums keep a demand.
    pub(super) fn keeps(&self, demand: &Demand, sums: &Totals, tolerance: f64) -> bool {
        let size = demand.bound.abs().max(0.01) * self.unit(demand);
        demand.margin(sums) >= -tolerance * size
    }
}

/// The band of the volume that a size asks for, from the volume there is, m3.
fn volume_band(size: Size, present_m3: f64) -> TargetBand {
    let least = 0.5 * present_m3;
    match size {
        Size::Free if present_m3 < LEAST_M3 => bands::volume(FROM_NOTHING_M3),
        Size::Fill(room) => bands::volume(room),
        Size::Within(room) => {
            let band = bands::volume(room);
            TargetBand {
                works: (least.min(band.works.0), band.works.1),
                best: (least.min(band.best.0), band.best.1),
            }
        }
        Size::Free => TargetBand {
            works: (least, f64::INFINITY),
            best: (least, f64::INFINITY),
        },
    }
}
