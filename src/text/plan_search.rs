//! What can be wanted of a plan, in words.
//!
//! In: a [`Want`]. Out: its name.
//!
//! Not here: a proposed plan (`plan`), the search (`forecast::plan_search`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use crate::forecast::plan_search::Want;

/// What is wanted of a plan.
pub fn want(want: Want) -> &'static str {
    match want {
        Want::FinishSoonest => "Finish soonest",
        Want::KillSeeds => "Kill weed seeds",
        Want::LeastWork => "Least work",
        Want::KeepNitrogen => "Keep nitrogen",
    }
}
