//! Materials looked up, the mix blended, additions blended: the one place where a project is resolved.
//!
//! In: a mix, a heap, the catalogue with the own materials laid over it. Out: [`Mixed`] (parts and blend of the mix)
//! and [`Resolved`] (the same with the sums of what the plan adds), from which [`Inputs`] are made.
//!
//! Not here: whether the numbers of a file can be (`document::check`), the chemistry (`mix`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/science/trials.rs`.

use crate::document::CheckError;
use crate::forecast::Inputs;
use crate::heap::{Addition, Heap, Kinetics, Operation};
use crate::material::Catalogue;
use crate::mix::{Blend, Mix, Part, blend};

/// A mix with its materials found, blended.
#[derive(Debug, Clone, PartialEq)]
pub struct Mixed<'a> {
    /// Its ingredients, in order.
    pub parts: Vec<Part<'a>>,
    /// What they make together with the water.
    pub blend: Blend,
}

impl<'a> Mixed<'a> {
    /// Finds the materials of a mix and blends them.
    ///
    /// # Errors
    /// [`CheckError::Mix`] names the first ingredient that cannot be.
    pub fn of(mix: &'a Mix, catalogue: &'a Catalogue) -> Result<Self, CheckError> {
        let parts = mix.resolve(catalogue).map_err(CheckError::Mix)?;
        let blend = blend(&parts, mix.added_water_l);
        Ok(Self { parts, blend })
    }
}

/// A mix and what the plan of its heap adds later, with all materials found.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved<'a> {
    /// The mix as built.
    pub mixed: Mixed<'a>,
    /// Ingredients of later additions, in the order of the plan; of one that repeats as often as it is done.
    pub later: Vec<Part<'a>>,
    /// Sums of each addition at one time, with its place in the plan.
    pub additions: Vec<Addition>,
}

impl<'a> Resolved<'a> {
    /// Finds all materials of a mix and a plan, and blends.
    ///
    /// # Errors
    /// [`CheckError::Mix`] or [`CheckError::Addition`] names the first ingredient that cannot be.
    pub fn of(mix: &'a Mix, heap: &'a Heap, catalogue: &'a Catalogue) -> Result<Self, CheckError> {
        let mixed = Mixed::of(mix, catalogue)?;
        let (mut later, mut additions) = (Vec::new(), Vec::new());
        for (index, event) in heap.plan.events.iter().enumerate() {
            let Operation::Add { mix, .. } = &event.operation else {
                continue;
            };
            let entry = index + 1;
            let parts = mix
                .resolve(catalogue)
                .map_err(|problem| CheckError::Addition { entry, problem })?;
            additions.push((index, blend(&parts, mix.added_water_l).totals));
            for _ in 0..event.times() {
                later.extend(parts.iter().cloned());
            }
        }
        Ok(Self {
            mixed,
            later,
            additions,
        })
    }

    /// All ingredients: those of the mix, then those of later additions.
    pub fn all_parts(&self) -> Vec<Part<'a>> {
        let all = self.mixed.parts.iter().chain(&self.later);
        all.cloned().collect()
    }

    /// What a run of the heap needs, with the usual kinetics.
    pub fn inputs(&self, heap: &Heap) -> Inputs {
        Inputs {
            totals: self.mixed.blend.totals,
            additions: self.additions.clone(),
            heap: heap.clone(),
            kinetics: Kinetics::default(),
            gauges: self.mixed.blend.gauges,
        }
    }
}
