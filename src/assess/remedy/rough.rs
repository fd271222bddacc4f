//! A rough recipe of a heap that nobody wrote down, from a few answers.
//!
//! In: [`Rough`]: what is mostly in it, how big and how wet it is, how and when it was built, where it stands. Out: a
//! mix and a heap that can be asked about and kept as a recipe.
//!
//! Mostly and some are four parts to one by volume (common practice). It is wetted to what a squeeze tells where its
//! material is drier than that; a heap built bit by bit got equal portions, one a week.
//! Not here: the questions (`text::complaint`), the sheet that asks them (`window`).
//!
//! Tested by: `tests/science/complaint_cures.rs`.

use crate::assess::resolved::Mixed;
use crate::document::CheckError;
use crate::heap::{Board, Cover, Event, Heap, Lid, Operation, Placing, Plan, Shape};
use crate::material::Catalogue;
use crate::mix::{Ingredient, Mix, water_to_add_kg};
use crate::outcome::complaint::{Readings, Squeeze, TurningKnown};
use crate::quantity::{Amount, Measure};

/// Share of what is only some of it.
const SOME: f64 = 0.2;
/// Most portions of a heap built bit by bit, one a week.
const MOST_PORTIONS: u32 = 26;
/// Days such a heap is looked at beyond the last portion.
const LOOKED_AT_DAYS: f64 = 120.0;

/// What a heap is mostly made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mostly {
    /// Autumn leaves.
    Leaves,
    /// Grass clippings.
    Grass,
    /// Raw kitchen scraps.
    Kitchen,
    /// Cooked food and leftovers.
    CookedFood,
    /// Soft garden waste.
    Garden,
    /// Twigs and prunings.
    Prunings,
    /// Horse manure with straw.
    Manure,
    /// Hen or other poultry litter.
    Poultry,
    /// Straw or hay.
    Straw,
    /// Sawdust or shavings.
    Sawdust,
    /// Card and paper.
    Paper,
}

impl Mostly {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 11] = [
        Self::Leaves,
        Self::Grass,
        Self::Kitchen,
        Self::CookedFood,
        Self::Garden,
        Self::Prunings,
        Self::Manure,
        Self::Poultry,
        Self::Straw,
        Self::Sawdust,
        Self::Paper,
    ];

    /// The material of the catalogue that stands for it.
    pub fn material(self) -> &'static str {
        match self {
            Self::Leaves => "leaves_mixed",
            Self::Grass => "grass_fresh",
            Self::Kitchen => "veg_scraps",
            Self::CookedFood => "food_waste_cooked",
            Self::Garden => "garden_waste_soft",
            Self::Prunings => "shrub_trimmings",
            Self::Manure => "horse_straw",
            Self::Poultry => "poultry_litter",
            Self::Straw => "straw",
            Self::Sawdust => "sawdust",
            Self::Paper => "cardboard",
        }
    }
}

/// How big a heap is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Size {
    /// Two barrows, a small bin.
    Small,
    /// A garden bin.
    Bin,
    /// About a metre each way.
    Metre,
    /// Two bays.
    Large,
}

impl Size {
    /// All of them, the smallest first.
    pub const ALL: [Self; 4] = [Self::Small, Self::Bin, Self::Metre, Self::Large];

    /// Its volume, m3 (common practice: bins are sold as 200 to 400 L).
    pub fn volume_m3(self) -> f64 {
        match self {
            Self::Small => 0.2,
            Self::Bin => 0.35,
            Self::Metre => 1.0,
            Self::Large => 2.5,
        }
    }
}

/// How it was built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Built {
    /// In one go.
    AtOnce,
    /// A little every week, over so many weeks.
    BitByBit {
        /// Weeks, 2-26.
        weeks: u32,
    },
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// An open heap on the ground.
    Open,
    /// Slats, pallets or mesh.
    Slats,
    /// A closed bin with a lid.
    ClosedBin,
    /// A drum to be turned.
    Tumbler,
}

impl Stands {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Open, Self::Slats, Self::ClosedBin, Self::Tumbler];
}

/// The answers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rough {
    /// What is mostly in it.
    pub mostly: Mostly,
    /// What else there is some of.
    pub some: Option<Mostly>,
    /// How big it is.
    pub size: Size,
    /// How wet it is.
    pub squeeze: Squeeze,
    /// How it was built.
    pub built: Built,
    /// Day of the year on which it was begun.
    pub start_day_of_year: f64,
    /// Weeks since then.
    pub weeks_old: u32,
    /// Where it stands.
    pub stands: Stands,
    /// Whether something keeps the rain off.
    pub covered: bool,
}

impl Rough {
    /// What its answers say beside the recipe.
    pub fn readings(&self) -> Readings {
        Readings {
            turning: TurningKnown::NotAsked,
            squeeze: Some(self.squeeze),
            age_days: Some(7.0 * f64::from(self.weeks_old)),
            ..Readings::default()
        }
    }

    /// The mix and the heap; ground and climate are those of `place`.
    ///
    /// # Errors
    /// [`CheckError`] if the catalogue lacks a material.
    pub fn recipe(&self, place: &Heap, catalogue: &Catalogue) -> Result<(Mix, Heap), CheckError> {
        let portions = match self.built {
            Built::AtOnce => 1,
            Built::BitByBit { weeks } => weeks.clamp(2, MOST_PORTIONS),
        };
        let one = self.portion(catalogue, 1.0 / f64::from(portions))?;
        let later = (1..portions).map(|week| Event {
            repeat: None,
            day: 7.0 * f64::from(week),
            operation: Operation::Add {
                mix: one.clone(),
                placing: Placing::OnTop,
            },
        });
        let plan = Plan {
            events: later.collect(),
        };
        let last = 7.0 * f64::from(portions - 1);
        let heap = Heap {
            shape: self.shape(),
            cover: if self.covered && self.stands != Stands::ClosedBin {
                Cover::Sheet
            } else {
                Cover::Bare
            },
            start_day_of_year: self.start_day_of_year,
            start_temperature_c: None,
            days: last + LOOKED_AT_DAYS,
            plan,
            ..place.clone()
        };
        Ok((one, heap))
    }

    /// This share of the whole heap.
    fn portion(&self, catalogue: &Catalogue, share: f64) -> Result<Mix, CheckError> {
        let some = self.some.filter(|some| *some != self.mostly);
        let parts = [
            Some((self.mostly, if some.is_some() { 1.0 - SOME } else { 1.0 })),
            some.map(|some| (some, SOME)),
        ];
        let mut mix = Mix::default();
        for (what, part) in parts.into_iter().flatten() {
            let amount = Amount::new(part, Measure::Barrow);
            mix.ingredients
                .push(Ingredient::new(what.material(), amount));
        }
        let totals = Mixed::of(&mix, catalogue)?.blend.totals;
        let times = share * self.size.volume_m3() / totals.volume_m3().max(1e-9);
        for row in &mut mix.ingredients {
            row.amount.value *= times;
            // In quarters where there is that much, so that the recipe reads as a person would write it.
            if row.amount.value >= 0.5 {
                row.amount.value = (4.0 * row.amount.value).round() / 4.0;
            }
        }
        let totals = Mixed::of(&mix, catalogue)?.blend.totals;
        let wanted = self.squeeze.moisture();
        if wanted > totals.moisture() {
            let litres = water_to_add_kg(totals.wet_kg(), totals.moisture(), wanted);
            mix.added_water_l = litres.round();
        }
        Ok(mix)
    }

    fn shape(&self) -> Shape {
        let side = (1.05 * self.size.volume_m3()).cbrt();
        match self.stands {
            Stands::Open => Shape::OpenHeap,
            Stands::Slats => Shape::bay(side),
            Stands::ClosedBin => Shape::SolidBin {
                width_m: side,
                length_m: side,
                height_m: side,
                lid: Lid::Closed,
                board: Board::Plastic,
            },
            // As long as it is wide: V = pi d^3 / 4.
            Stands::Tumbler => {
                let across = (4.0 / std::f64::consts::PI * 1.05 * self.size.volume_m3()).cbrt();
                Shape::Tumbler {
                    diameter_m: across,
                    length_m: across,
                }
            }
        }
    }
}
