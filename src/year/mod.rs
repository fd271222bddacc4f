//! A year of composting: what arrives when, where heaps can stand, and which heap to build when with what.
//!
//! In: a [`Year`]: arrivals by month, room to store, bays, wishes; the catalogue. Out: a [`Plan`] in which every heap
//! lies in the bands of [`crate::mix::bands`], or the wishes that cannot be met together.
//!
//! Chapter: `keeps` says how long a material lasts, `task` makes plain numbers of a year, `program` solves them as a
//! mixed-integer linear program, `dealt` deals the solution out over bays and measures, `fate` says what became of each arrival,
//! `plan` puts it together, `stages` says when a heap is filled, works and cures, `conflict` names wishes that cannot be met, `short` what more would have helped.
//!
//! Not here: files (`document::year`), sentences (`text::year`), how a heap heats (`heap`).
//!
//! Tested by: `tests/science/year.rs`, `tests/document/year.rs`.

mod check;
mod conflict;
mod dealt;
mod fate;
mod keeps;
mod plan;
mod program;
mod short;
mod stages;
mod task;

pub use check::{ARRIVAL_LIMIT, BAY_LIMIT, WISH_LIMIT, YearError};
pub use dealt::Use;
pub use fate::Fate;
pub use keeps::{Keeps, keeps};
pub use plan::{Draft, Plan, PlannedHeap, Unplanned, draft, plan, plan_until};
pub use program::{Filling, Solved, Unsolved, solve, solve_until};
pub use short::Short;
pub use stages::{Stage, StageKind, stages};
pub use task::{
    Demand, Goal, HEAP_COST_M3, INSET, Limits, Place, STORE_COST_PER_M3_MONTH, Stuff, Task,
    VALUE_KEEPS, VALUE_SPOILS, VOLUME_INSET, WATER_COST_PER_M3,
};

use serde::{Deserialize, Serialize};

use crate::material::Condition;
use crate::quantity::Measure;

/// Months of a year.
pub const MONTHS: usize = 12;

/// What a year brings, and what is wanted of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Year {
    /// Month the plan begins with, 1 is January. What has been kept from before arrives then.
    pub first_month: u8,
    /// Which part of the bands every heap is to lie in.
    pub part: BandPart,
    /// What arrives, a row for each material.
    pub arrivals: Vec<Arrival>,
    /// Room to keep things in until they are used, m3.
    pub storage_m3: f64,
    /// Where heaps can stand.
    pub bays: Vec<Bay>,
    /// What the person has decided.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wishes: Vec<Wish>,
}

/// Part of the bands that a heap is to lie in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum BandPart {
    /// The best part. Too much air and a light heap need only work: they settle by themselves.
    #[default]
    Best,
    /// All that works.
    Works,
}

/// A material that arrives through the year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arrival {
    /// Id of the material in the catalogue.
    pub material: String,
    /// How its state differs from the catalogue's.
    #[serde(default, skip_serializing_if = "Condition::is_as_listed")]
    pub condition: Condition,
    /// What its amounts are said in.
    pub measure: Measure,
    /// How many of the measure in each month, January first.
    pub monthly: [f64; MONTHS],
    /// How long it lasts; `None`: as [`keeps()`] has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeps: Option<Keeps>,
}

/// A place where one heap at a time can stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bay {
    /// What it is called.
    pub name: String,
    /// What fits in it, m3.
    pub room_m3: f64,
    /// Ids of the materials that go into it; empty: all.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub takes: Vec<String>,
    /// Weeks over which a heap is filled; 0: built in a day.
    pub fills_weeks: f64,
    /// Weeks a heap then works in it.
    pub works_weeks: f64,
    /// Weeks it then cures in it.
    pub cures_weeks: f64,
    /// Month from which it is free, 1 is January; `None`: from the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free_from: Option<u8>,
}

/// Something the person has decided; the plan keeps to it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Wish {
    /// A heap is begun in this bay in this month.
    Build {
        /// Name of the bay.
        bay: String,
        /// Month, 1 is January.
        month: u8,
    },
    /// Nothing stands in this bay in this month.
    Empty {
        /// Name of the bay.
        bay: String,
        /// Month, 1 is January.
        month: u8,
    },
    /// The heap begun in this bay in this month gets just so much of a material.
    Put {
        /// Name of the bay.
        bay: String,
        /// Month, 1 is January.
        month: u8,
        /// Id of the material.
        material: String,
        /// How many of the measure in which the material arrives.
        amount: f64,
    },
    /// Nothing of this material spoils.
    NoneSpoils {
        /// Id of the material.
        material: String,
    },
}

impl Year {
    /// Nothing arrives, and there is one bay, of this name.
    pub fn empty(first_month: u8, bay: String) -> Self {
        Self {
            first_month,
            part: BandPart::default(),
            arrivals: Vec::new(),
            storage_m3: 1.0,
            bays: vec![Bay::usual(bay)],
            wishes: Vec::new(),
        }
    }

    /// Place of a month of the calendar (1 is January) among the months of the plan, 0-11.
    pub fn place_of(&self, month: u8) -> usize {
        (usize::from(month) + MONTHS - usize::from(self.first_month)) % MONTHS
    }

    /// Month of the calendar (1 is January) at a place of the plan; places run on into the next year.
    pub fn month_at(&self, place: usize) -> u8 {
        let month = (usize::from(self.first_month) + MONTHS - 1 + place) % MONTHS + 1;
        u8::try_from(month).unwrap_or(1)
    }

    /// Amounts of the months, January first, in the order of the plan's months.
    pub fn in_order(&self, monthly: &[f64; MONTHS]) -> [f64; MONTHS] {
        std::array::from_fn(|place| monthly[usize::from(self.month_at(place)) - 1])
    }
}

impl Bay {
    /// A bay of a cubic metre (weeks: common practice for a heap that is turned).
    pub fn usual(name: String) -> Self {
        Self {
            name,
            room_m3: 1.0,
            takes: Vec::new(),
            fills_weeks: 2.0,
            works_weeks: 9.0,
            cures_weeks: 6.0,
            free_from: None,
        }
    }
}

impl Wish {
    /// The bay it names.
    pub fn bay(&self) -> Option<&String> {
        match self {
            Self::Build { bay, .. } | Self::Empty { bay, .. } | Self::Put { bay, .. } => Some(bay),
            Self::NoneSpoils { .. } => None,
        }
    }
}
