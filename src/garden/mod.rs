//! The garden that the compost is for: its beds, what the compost is used for, what tests of it have shown.
//!
//! In: what the person enters. Out: plain data, saved with the recipe.
//!
//! Not here: what a bed gets (`outcome::nutrient`), cautions (`outcome::cautions`), how a field test is done
//! (`outcome::finish`), whether a number can be (`document`).
//!
//! Tested by: `tests/document/round_trip.rs`, `tests/science/outcome_produce.rs`.

use serde::{Deserialize, Serialize};

/// How hungry the crops of a bed are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Need {
    /// Herbs, beans, roots.
    Low,
    /// Most vegetables and flowers.
    Medium,
    /// Cabbages, squashes, maize.
    High,
}

impl Need {
    /// All three, in order.
    pub const ALL: [Self; 3] = [Self::Low, Self::Medium, Self::High];
}

/// A bed of the garden.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bed {
    /// What it is called; may be blank.
    pub name: String,
    /// Area, m2.
    pub area_m2: f64,
    /// How hungry its crops are.
    pub need: Need,
}

/// What a person wants of a heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Aim {
    /// A hot heap.
    Hot,
    /// Finished by a day of the year, 1 January = 1.
    FinishedBy {
        /// Which day, 1-366.
        day_of_year: u16,
    },
    /// As little work as can be.
    LeastWork,
    /// Weed seeds killed.
    SeedsKilled,
    /// Something to show a class.
    Teach,
}

/// What the compost is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Use {
    /// Spread on beds.
    Beds,
    /// Beds of food eaten raw.
    RawFood,
    /// In pots.
    Pots,
    /// For seedlings.
    Seedlings,
    /// As mulch.
    Mulch,
    /// Near a stream, spring or well.
    NearWater,
}

impl Use {
    /// All of them, in order.
    pub const ALL: [Self; 6] = [
        Self::Beds,
        Self::RawFood,
        Self::Pots,
        Self::Seedlings,
        Self::Mulch,
        Self::NearWater,
    ];
}

/// A result of a field test that a person has entered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TestResult {
    /// Id of the test.
    pub test: String,
    /// Days after the heap was built.
    pub day: f64,
    /// Which of the test's results, from 0.
    pub result: usize,
    /// Anything worth keeping with it.
    pub note: String,
}
