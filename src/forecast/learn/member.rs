//! What one member says of every value that was measured, and of those that might be.
//!
//! In: inputs, a [`Look`]. Out: a [`Seen`]: numbers, how steep they are, its curves. The projection itself is not kept.
//!
//! Not here: which members there are (`sampler`), how likely they are (`evidence`).
//!
//! Tested by: `tests/science/learn.rs`, `tests/science/inside.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::diary::{Smell, Spot};
use crate::heap::{Ended, Heap, Place, Projection, Resolution, RunControl, SectionValue};
use crate::outcome::smell::{AMMONIA_PER_DAY, TroublePoint, WORTH_A_WORD, course};
use crate::outcome::{Brief, shared};

use crate::forecast::{Inputs, Member, Simulator};

use super::errors::{MODEL_DAYS, Spreads, TIP_M};
use super::observed::{Observation, What};

/// Days about a reading in which a smell may have hung in the air.
const HANGS_DAYS: f64 = 1.0;

/// What a member is asked.
#[derive(Debug, Clone)]
pub(super) struct Look {
    /// Days of its curves.
    pub grid_days: Vec<f64>,
    /// What was measured, and then what might be.
    pub asked: Vec<Observation>,
    /// How far a tip may be off, as shares outward and upward; `None` where it is not to be told how steep it is.
    pub tip: Option<Place>,
}

impl Look {
    /// How far a tip may be off in this heap.
    pub fn tip_of(heap: &Heap, volume_m3: f64) -> Place {
        let outline = heap.shape.skin(volume_m3).outline;
        let share = |length: f64| (TIP_M / length.max(TIP_M)).min(0.5);
        Place {
            out: share(outline.extent_m),
            up: share(outline.height_m),
        }
    }
}

/// What a member said.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Seen {
    /// Of every value asked for, in its unit; 1 or 0 for a smell.
    pub said: Vec<f64>,
    /// How steep it is there; empty if that was not asked.
    pub steep: Vec<Spreads>,
    /// Its curves and judgements.
    pub member: Arc<Member>,
}

/// How a member went.
pub(super) enum Went {
    /// To its last day.
    Whole(Box<Seen>),
    /// It left what the model covers.
    Short(Box<Seen>),
    /// There is nothing to rot.
    Nothing,
    /// It was called off.
    CalledOff,
}

/// Runs a member and asks it.
pub(super) fn run(
    inputs: &Inputs,
    look: &Look,
    (simulator, resolution): (Simulator, &Resolution),
    stop: &AtomicBool,
) -> Went {
    let control = RunControl { resolution, stop };
    let (heap, kinetics) = (&inputs.heap, &inputs.kinetics);
    let run = simulator(&inputs.totals, &inputs.additions, heap, kinetics, control);
    let Some(projection) = run else {
        return Went::Nothing;
    };
    let mut member = Member::of(&projection, &look.grid_days);
    // A damaged table is told of where the heap itself is judged.
    if let Ok(facts) = shared() {
        member.brief = Brief::of(&projection, facts, heap, kinetics);
    }
    let troubles = if look.asked.iter().any(|o| matches!(o.what, What::Smelt(_))) {
        course(&projection)
    } else {
        Vec::new()
    };
    let asked = look.asked.iter();
    let seen = Box::new(Seen {
        said: asked
            .clone()
            .map(|o| said(&projection, &troubles, o, o.day))
            .collect(),
        steep: match look.tip {
            Some(tip) => asked.map(|o| steep(&projection, o, tip)).collect(),
            None => Vec::new(),
        },
        member: Arc::new(member),
    });
    match projection.ended {
        Ended::Finished => Went::Whole(seen),
        Ended::Stopped { .. } => Went::Short(seen),
        Ended::Cancelled { .. } => Went::CalledOff,
    }
}

fn place(spot: Spot) -> Place {
    Place {
        out: spot.out,
        up: spot.up,
    }
}

fn section_value(what: What) -> Option<SectionValue> {
    match what {
        What::Temperature => Some(SectionValue::Temperature),
        What::Moisture { .. } | What::Squeezed(_) => Some(SectionValue::Moisture),
        What::Oxygen => Some(SectionValue::Oxygen),
        What::Height | What::Smelt(_) => None,
    }
}

/// What a projection says of a value; NaN if nothing.
fn said(projection: &Projection, troubles: &[TroublePoint], o: &Observation, day: f64) -> f64 {
    let value = match o.what {
        What::Height => projection.height_m(day),
        What::Smelt(smell) => Some(smells(projection, troubles, smell, day)),
        what => {
            section_value(what).and_then(|value| projection.value_at(value, place(o.spot), day))
        }
    };
    value.unwrap_or(f64::NAN)
}

/// Whether it smells so on a day, from what the results speak of on: 1 or 0.
fn smells(projection: &Projection, troubles: &[TroublePoint], smell: Smell, day: f64) -> f64 {
    let nitrogen = projection.ledger.nitrogen_start_kg.max(1e-12);
    let about = troubles
        .iter()
        .filter(|p| (p.day - day).abs() <= HANGS_DAYS);
    let any = |has: &dyn Fn(&TroublePoint) -> bool| about.clone().any(has);
    let ammonia = any(&|p| p.ammonia_kg_per_day / nitrogen >= AMMONIA_PER_DAY);
    let sour = any(&|p| p.sour >= WORTH_A_WORD);
    let rotten = any(&|p| p.airless >= WORTH_A_WORD);
    let has = match smell {
        Smell::Ammonia => ammonia,
        Smell::Sour => sour,
        Smell::Rotten => rotten,
        Smell::Earthy => !(ammonia || sour || rotten),
    };
    f64::from(u8::from(has))
}

/// How steep a projection is about a value.
fn steep(projection: &Projection, o: &Observation, tip: Place) -> Spreads {
    let Some(value) = section_value(o.what) else {
        return Spreads::default();
    };
    let at = |out: f64, up: f64, day: f64| projection.value_at(value, Place { out, up }, day);
    let half = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => 0.5 * (a - b).abs(),
        _ => 0.0,
    };
    let (out, up, day) = (o.spot.out, o.spot.up, o.day);
    let across = half(at(out + tip.out, up, day), at(out - tip.out, up, day));
    let upward = half(at(out, up + tip.up, day), at(out, up - tip.up, day));
    let later = at(out, up, day + MODEL_DAYS);
    let earlier = at(out, up, (day - MODEL_DAYS).max(0.0));
    Spreads {
        place: across.hypot(upward),
        time: half(later, earlier),
    }
}
