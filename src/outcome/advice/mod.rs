//! What to do next: at most three steps, the most important first.
//!
//! In: a mix with its blend, the room there is, a projection. Out: [`Advice`], typed, each with its change.
//!
//! Chapter: `said` is what advice can say, `standing` holds a mix against its bands, `draft` is the mix meanwhile,
//! `fetch` knows what is worth fetching, `aim` holds the heap against what is wanted of it, `propose` looks for the change that helps most, `steps` decides what is
//! said first. Every figure comes from blending the changed mix; none depends on the units a person reads.
//!
//! Not here: sentences (`text::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

mod aim;
mod draft;
mod fetch;
mod propose;
mod said;
mod standing;
mod steps;

pub use aim::{AimCase, aim_ahead};
pub use fetch::{Fetch, FetchError};
pub use said::{
    Advice, AimAhead, Factor, GaugeMove, HeatAhead, Lack, NamedMaterial, Opening, Says, Step,
    StepOf, TooMuch, Way,
};
pub use steps::{Effort, advise, advise_within};
