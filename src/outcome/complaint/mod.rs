//! The complaint: what a person finds wrong with a heap, and what may be behind it.
//!
//! In: symptoms that were ticked, the numbers of a heap. Out: causes with their evidence, in order of weight; typed,
//! without a sentence.
//!
//! Chapter: `symptom` names what is noticed, `cause` what may be behind it; which belongs to which, and how to check it
//! by hand, stands row by row in `assets/troubles.ron` ([`super::smell::Fault`]). `numbers` reads this heap's mix, place
//! and projection, `standing` what they say of a cause before anything is tried, `goal` measures in a projection whether
//! a symptom is there, `ranking` puts the causes in order: by what mending each gains in the simulation where that is
//! known, by the standing where the model knows nothing of it.
//!
//! Not here: mending one factor at a time and cures (`assess::remedy`), words (`text::complaint`).
//!
//! Tested by: `tests/science/complaint.rs`, `tests/science/complaint_tables.rs`.

mod cause;
mod goal;
mod numbers;
mod ranking;
mod standing;
mod symptom;

pub use cause::Cause;
pub use goal::Goal;
pub use numbers::{HeapSeen, MoistureBy, Numbers, Readings, Squeeze, TurningKnown, numbers};
pub use ranking::{Known, LEAST_WEIGHT, Ranked, Tried, rank};
pub use standing::{BIG_FROM_M3, Evidence, Standing, standing};
pub use symptom::Symptom;
