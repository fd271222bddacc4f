//! A year as plain numbers: stuffs with sums per unit, places of the same kind together, demands.
//!
//! In: a [`Year`], the catalogue. Out: [`Task`].
//!
//! Places that are alike stand together: every limit of a heap is a ratio of sums or a volume, so that `n` equal
//! heaps are feasible just where their common sums and `n` times the volume are.
//! Not here: solving (`program`).
//!
//! Tested by: `tests/science/year.rs`.

use std::collections::BTreeSet;

use super::check::known;
use super::{BandPart, Bay, Keeps, MONTHS, Wish, Year, YearError, keeps};
use crate::material::{Catalogue, Family, Material, Structure};
use crate::mix::{Part, TargetBand, Totals, bands, blend};
use crate::quantity::{Amount, Measure};

/// What a cubic metre of something that keeps counts when it is used (the unit of the objective).
pub const VALUE_KEEPS: f64 = 1.0;
/// What a cubic metre of something that spoils counts when it is used (tuned: leaves are spent on greens, not
/// greens on leaves).
pub const VALUE_SPOILS: f64 = 3.0;
/// What building a heap costs, m3 of something that keeps (tuned: no heap for a bucket more).
pub const HEAP_COST_M3: f64 = 0.05;
/// What carrying a cubic metre of water costs, m3 of something that keeps (tuned: water is fetched only as needed).
pub const WATER_COST_PER_M3: f64 = 0.1;

/// What keeping a cubic metre in store for a month costs, m3 (tuned: breaks ties, so that nothing waits for nothing).
pub const STORE_COST_PER_M3_MONTH: f64 = 0.002;

/// Mean length of a month, d.
pub(super) const MONTH_DAYS: f64 = 365.0 / 12.0;
/// Share by which bands are narrowed, so that amounts can be rounded to measures and still lie within (tuned: half a
/// percent of a C:N of 25 is an eighth). A heap of which an amount is fixed has the whole band.
pub const INSET: f64 = 0.005;

/// Share by which the least volume is raised, for what rounding down to measures takes away (tuned: 25 L of 765).
pub const VOLUME_INSET: f64 = 0.03;

/// Something that arrives, in units of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stuff {
    /// What a unit brings to the sums of a heap.
    pub sums: Totals,
    /// Units that arrive in each month of the plan.
    pub arrives: [f64; MONTHS],
    /// Months it lasts beyond the month it arrives in; 0: it must be used in that month.
    pub lasts_months: usize,
    /// Days it lasts.
    pub lasts_days: f64,
    /// Measures in a unit.
    pub measures: f64,
}

impl Stuff {
    /// Whether it spoils within the month.
    pub fn spoils(&self) -> bool {
        self.lasts_months == 0
    }

    /// Whether more of it could be fetched: it keeps, and is of the brown side (C:N above 30, common practice).
    pub fn can_be_fetched(&self) -> bool {
        !self.spoils() && self.sums.carbon_kg > 30.0 * self.sums.nitrogen_kg
    }

    /// What using a unit counts, m3 of something that keeps.
    pub fn value(&self) -> f64 {
        let per_m3 = if self.spoils() {
            VALUE_SPOILS
        } else {
            VALUE_KEEPS
        };
        per_m3 * self.sums.loose_volume_m3
    }

    /// Share of a month's arrivals that a heap filled over so many days can still get while it is good, if
    /// they come evenly through the month.
    pub fn reached_share(&self, fills_days: f64) -> f64 {
        ((fills_days + self.lasts_days) / MONTH_DAYS).min(1.0)
    }
}

/// Places of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// How many there are.
    pub count: usize,
    /// Least volume of a heap, m3.
    pub low_m3: f64,
    /// Greatest volume of a heap, m3.
    pub high_m3: f64,
    /// Days over which a heap is filled.
    pub fills_days: f64,
    /// Months in which something is put in, at least 1.
    pub fills_months: usize,
    /// Months a heap stands there, at least 1.
    pub stands_months: usize,
    /// First month in which one can be begun.
    pub free_from: usize,
    /// Whether each stuff goes in, in their order.
    pub takes: Vec<bool>,
}

/// A wish in numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Demand {
    /// Heaps are begun in places of a kind in a month.
    Build {
        /// Which kind of place.
        place: usize,
        /// Month of the plan.
        month: usize,
        /// At least how many.
        heaps: usize,
    },
    /// Places of a kind are empty in a month.
    Empty {
        /// Which kind of place.
        place: usize,
        /// Month of the plan.
        month: usize,
        /// At least how many.
        empty: usize,
    },
    /// A heap gets just so much.
    Put {
        /// Which kind of place.
        place: usize,
        /// Month of the plan.
        month: usize,
        /// Of which stuff.
        stuff: usize,
        /// How many units.
        units: f64,
    },
    /// All of a stuff that lasts no longer than the month is used.
    NoneSpoils {
        /// Which stuff.
        stuff: usize,
    },
}

/// Limits that every heap keeps: least and greatest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// C:N.
    pub cn: (f64, f64),
    /// Moisture, wet basis.
    pub moisture: (f64, f64),
    /// Free air space once settled, share of volume.
    pub air: (f64, f64),
    /// Wet bulk density, kg/m3.
    pub density: (f64, f64),
}

impl Limits {
    /// Limits for a part of the bands.
    pub fn of(part: BandPart) -> Self {
        let wanted = |band: &TargetBand| match part {
            BandPart::Best => band.best,
            BandPart::Works => band.works,
        };
        Self {
            cn: wanted(&bands::CN),
            moisture: wanted(&bands::MOISTURE),
            air: (
                wanted(&bands::FREE_AIR_SPACE).0,
                bands::FREE_AIR_SPACE.works.1,
            ),
            density: (
                bands::BULK_DENSITY_KG_PER_M3.works.0,
                wanted(&bands::BULK_DENSITY_KG_PER_M3).1,
            ),
        }
    }

    /// Narrowed by a share of every end.
    #[must_use]
    pub fn narrowed(self, by: f64) -> Self {
        let inside = |(low, high): (f64, f64)| (low * (1.0 + by), high * (1.0 - by));
        Self {
            cn: inside(self.cn),
            moisture: inside(self.moisture),
            air: inside(self.air),
            density: inside(self.density),
        }
    }
}

/// What a program is to find.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// The plan that counts most.
    Most,
    /// Any plan: whether there is one.
    Any,
    /// The plan that counts most if more than arrives could be had of what keeps, at a price.
    More,
}

/// A year in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// What arrives.
    pub stuffs: Vec<Stuff>,
    /// Where heaps can stand.
    pub places: Vec<Place>,
    /// Room to store, m3.
    pub storage_m3: f64,
    /// What every heap keeps.
    pub limits: Limits,
    /// What has been decided; one for each wish, in order.
    pub demands: Vec<Demand>,
    /// What is to be found.
    pub goal: Goal,
}

impl Task {
    /// By what share the limits of a heap are narrowed, and its least volume is raised.
    pub fn insets(&self, place: usize, month: usize) -> (f64, f64) {
        let fixed = self.demands.iter().any(|demand| {
            matches!(demand, Demand::Put { place: p, month: m, .. } if (*p, *m) == (place, month))
        });
        if fixed {
            (0.0, 0.0)
        } else {
            (INSET, VOLUME_INSET)
        }
    }
}

/// A task, and which bays its places are.
pub(super) struct Posed {
    pub(super) task: Task,
    /// Bays of each place, by their number.
    pub(super) bays: Vec<Vec<usize>>,
}

/// Which bays stand on their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Apart {
    /// Those of which a heap has a fixed amount: it is unlike the others. Of the rest only how many are built or empty counts,
    /// which is no stricter than what was wished; the deal decides whether it is the same.
    Fixed,
    /// All that a wish names.
    Named,
}

/// The task of a year whose numbers have been checked.
pub(super) fn posed(year: &Year, catalogue: &Catalogue, apart: Apart) -> Result<Posed, YearError> {
    let stuffs = (1..)
        .zip(&year.arrivals)
        .map(|(row, arrival)| {
            let material = known(row, arrival, catalogue)?;
            Ok(stuff(
                &material,
                &arrival.measure,
                arrival.keeps,
                year.in_order(&arrival.monthly),
            ))
        })
        .collect::<Result<Vec<_>, YearError>>()?;
    let (places, bays) = places(year, apart);
    let demands = demands(year, &stuffs, &bays);
    Ok(Posed {
        task: Task {
            stuffs,
            places,
            storage_m3: year.storage_m3,
            limits: Limits::of(year.part),
            demands,
            goal: Goal::Most,
        },
        bays,
    })
}

/// What a program moves at one go, so that its numbers are of like size: 100 L, of liquids 10 L, of fertilisers 1 kg.
fn unit_of(material: &Material) -> Amount {
    match (material.family, material.structure) {
        (Family::Fertiliser | Family::Mineral, _) => Amount::new(1.0, Measure::Kilogram),
        (_, Structure::Liquid) => Amount::new(10.0, Measure::Litre),
        _ => Amount::new(100.0, Measure::Litre),
    }
}

fn stuff(
    material: &Material,
    measure: &Measure,
    said: Option<Keeps>,
    measures: [f64; MONTHS],
) -> Stuff {
    let unit = unit_of(material);
    let in_unit = unit
        .said_in(measure.clone(), material.bulk_density.typical)
        .value;
    let (lasts_months, lasts_days) = match said.unwrap_or_else(|| keeps(material)) {
        Keeps::Days(days) => ((days / MONTH_DAYS) as usize, days),
        Keeps::Months(months) => (usize::from(months), f64::from(months) * MONTH_DAYS),
    };
    Stuff {
        sums: blend(&[Part::new(material, &unit)], 0.0).totals,
        arrives: measures.map(|measures| measures / in_unit),
        lasts_months,
        lasts_days,
        measures: in_unit,
    }
}

/// Months that so many weeks reach into, at least one.
pub(super) fn months_of(weeks: f64) -> usize {
    let months = weeks * 7.0 / MONTH_DAYS;
    // A twelfth of a year is a little more than four weeks; four weeks are a month's work.
    ((months - 0.05).ceil().max(1.0)) as usize
}

/// The bay as a place on its own.
fn place(bay: &Bay, year: &Year) -> Place {
    let least = if bay.room_m3 >= bands::KEEPS_HEAT_FROM_M3 {
        bands::KEEPS_HEAT_FROM_M3
    } else {
        bands::volume(bay.room_m3).works.0
    };
    Place {
        count: 1,
        low_m3: least,
        high_m3: bay.room_m3,
        fills_days: 7.0 * bay.fills_weeks,
        fills_months: months_of(bay.fills_weeks),
        stands_months: months_of(bay.fills_weeks + bay.works_weeks + bay.cures_weeks),
        free_from: bay.free_from.map_or(0, |month| year.place_of(month)),
        takes: year
            .arrivals
            .iter()
            .map(|row| bay.takes.is_empty() || bay.takes.contains(&row.material))
            .collect(),
    }
}

/// Bays by kind.
fn places(year: &Year, apart: Apart) -> (Vec<Place>, Vec<Vec<usize>>) {
    let (mut kinds, mut bays): (Vec<Place>, Vec<Vec<usize>>) = (Vec::new(), Vec::new());
    let mut open = Vec::new();
    for (number, bay) in year.bays.iter().enumerate() {
        let kind = place(bay, year);
        let named = year.wishes.iter().any(|wish| {
            let counts = apart == Apart::Named || matches!(wish, Wish::Put { .. });
            counts && wish.bay() == Some(&bay.name)
        });
        let same = kinds.iter().enumerate().position(|(at, other)| {
            open[at]
                && !named
                && Place {
                    count: 1,
                    ..other.clone()
                } == kind
        });
        match same {
            Some(at) => {
                kinds[at].count += 1;
                bays[at].push(number);
            }
            None => {
                kinds.push(kind);
                bays.push(vec![number]);
                open.push(!named);
            }
        }
    }
    (kinds, bays)
}

/// The wishes in numbers; they have been checked, so that what they name is there.
fn demands(year: &Year, stuffs: &[Stuff], bays: &[Vec<usize>]) -> Vec<Demand> {
    let place_named = |name: &String| {
        let number = year.bays.iter().position(|bay| bay.name == *name)?;
        bays.iter().position(|bays| bays.contains(&number))
    };
    let stuff_named = |id: &String| {
        year.arrivals
            .iter()
            .position(|arrival| arrival.material == *id)
    };
    // Wishes of the same kind and month, up to this one, for different bays of a place: each needs a bay of its own.
    let alike = |at: usize, place: usize| {
        let like = |other: &&Wish| match (*other, &year.wishes[at]) {
            (Wish::Build { month: a, .. }, Wish::Build { month: b, .. })
            | (Wish::Empty { month: a, .. }, Wish::Empty { month: b, .. }) => a == b,
            _ => false,
        };
        let names: BTreeSet<&String> = year.wishes[..=at]
            .iter()
            .filter(like)
            .filter_map(Wish::bay)
            .filter(|name| place_named(name) == Some(place))
            .collect();
        names.len()
    };
    year.wishes
        .iter()
        .enumerate()
        .filter_map(|(at, wish)| {
            Some(match wish {
                Wish::Build { bay, month } => Demand::Build {
                    place: place_named(bay)?,
                    month: year.place_of(*month),
                    heaps: alike(at, place_named(bay)?),
                },
                Wish::Empty { bay, month } => Demand::Empty {
                    place: place_named(bay)?,
                    month: year.place_of(*month),
                    empty: alike(at, place_named(bay)?),
                },
                Wish::Put {
                    bay,
                    month,
                    material,
                    amount,
                } => {
                    let stuff = stuff_named(material)?;
                    Demand::Put {
                        place: place_named(bay)?,
                        month: year.place_of(*month),
                        stuff,
                        units: amount / stuffs[stuff].measures,
                    }
                }
                Wish::NoneSpoils { material } => Demand::NoneSpoils {
                    stuff: stuff_named(material)?,
                },
            })
        })
        .collect()
}
