//! What a trial may alter in a mix or a heap.
//!
//! In: RON. Out: [`Alteration`]s, each one thing.
//!
//! Numbers are SI, amounts in household measures. Not here: what comes of it (`case`).
//!
//! Tested by: `tests/science/trial_files.rs`.

use serde::{Deserialize, Serialize};

use crate::heap::{Base, Cover, Event, Shape, Turning};
use crate::mix::Mix;
use crate::quantity::Amount;

/// One thing done to a mix or a heap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Alteration {
    /// Another mix altogether.
    Mix(Mix),
    /// So much more of a material.
    Add {
        /// Id of the material.
        material: String,
        /// How much.
        amount: Amount,
    },
    /// One material in place of another, by volume.
    Swap {
        /// Id of the material that goes.
        from: String,
        /// Id of the one that comes.
        to: String,
    },
    /// Everything in the mix so many times.
    Times(f64),
    /// Water put in or left out until the moisture is this, wet basis, 0-1.
    WetTo(f64),
    /// Another shape.
    Shape(Shape),
    /// Another base.
    Base(Base),
    /// Another cover at the start.
    Cover(Cover),
    /// Sun or shade.
    Sun(bool),
    /// Built on another day of the year, 1 January = 1.
    Start(f64),
    /// Followed for so many days.
    Days(f64),
    /// Another plan.
    Plan(Vec<Event>),
    /// Turned every so many days, so many times, in place of every other turning.
    Turn {
        /// Days between turnings.
        every_days: f64,
        /// How many.
        times: u32,
        /// How.
        turning: Turning,
    },
    /// Chopped: particle size times the first, density times the second.
    Chop {
        /// Particle size, factor.
        size: f64,
        /// Density as piled, factor.
        packing: f64,
    },
    /// So many times the microbes at the start.
    Microbes(f64),
    /// pH of the pore water so much higher, as lime makes it.
    PhRaise(f64),
    /// Layers of brown and green in turn, so many in all, in place of a mix.
    Layers(u32),
}
