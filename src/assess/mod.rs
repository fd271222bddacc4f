//! Everything calculated of a project, in stages, in one place.
//!
//! In: a project and a catalogue. Out: typed results, each stage made anew only when what it depends on is another:
//!
//! ```text
//! stage        made by                          depends on
//! Resolved     resolved::Resolved::of           mix, heap, materials
//! Blend        resolved::Mixed::of              mix, materials
//! Inputs       Resolved::inputs                 mix, heap, materials
//! Projection   Inputs::simulate                 the inputs
//! Forecast     forecast::Ensemble::run          the inputs ([`MEMBERS`] members)
//! Advice       steps::advice                    mix, materials, room, projection
//! Learnt       Assessed::learn                  the inputs, the diary; projection, forecast and outcome follow it
//! Outcome      steps::PendingJudgement::outcome        mix, heap, materials, uses, field tests, projection; then weighed by the forecast
//! ```
//!
//! Units are no part of any key: a number is the same whatever it is said in.
//!
//! Chapter: `subject` is what is assessed; `key` tells whether it is still the same; `resolved` finds the materials
//! and blends; `steps` holds what is made of a projection; `learning` what a diary teaches; `assessed` runs all stages at once for a command or a
//! page; `came` picks what a card says of it; `stages` keeps the newest of each for a window, where projections come late; `trial` alters a heap and
//! goes through the same `resolved`; `remedy` finds what is wrong with a heap and what cures it; `schedule` dates what is due next; `planned` makes a recipe of a heap of a
//! year's plan.
//!
//! # A slider is dragged: from the hand to the curve
//!
//! 1. `window/mix/ingredient_rows`: the slider writes the amount into the project.
//! 2. `window/page`, `Page::refresh`: asks `Shown::refresh` in the same frame.
//! 3. `window/piles/shown`: hands the project to [`Stages::renew`], which sees that the mix is another, blends it and
//!    gives new inputs a new revision. The gauges that are drawn next show it.
//! 4. `window/verbs/background`, `refine`: `window/jobs/projecting` sees the new revision and asks `forecast/worker`
//!    for a coarse projection; the one at work is let finish first, so that the curve always moves.
//! 5. `forecast/worker`: `Inputs::simulate`, and so `heap::simulate_with`, on its own thread; the answer wakes the
//!    window.
//! 6. `Shown::refine` takes the answer: [`Stages::take_projection`], advice, and `window/piles/curve` for the plot.
//! 7. When all has rested for 0.3 s: a fine projection, then the members of the forecast, by the same way; and
//!    while the Results view is shown, `window/jobs/judging` judges the projection.
//!
//! # A trial is run
//!
//! 1. `window/verbs/class` (or `command`): [`trial::Trial::inputs`] alters the heap at hand twice and resolves both.
//! 2. `window/jobs/trial` simulates both typical heaps, then `forecast::Pairs` runs pairs with the same draws.
//! 3. `window/piles/trial_shown` keeps what comes together with the recipe that it belongs to; the Class view draws it.
//!
//! Not here: words (`text`), threads of the window (`window::jobs`), a single run (`heap`), many runs (`forecast`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/window/numbers.rs`, `tests/science/outcome.rs`,
//! `tests/science/trials.rs`.

mod assessed;
mod came;
mod error;
mod key;
mod learning;
pub mod planned;
pub mod remedy;
mod resolved;
mod schedule;
mod stages;
mod steps;
mod subject;
pub mod trial;

pub use crate::forecast::MEMBERS;
pub use assessed::Assessed;
pub use came::{Came, WasRead};
pub use error::AssessError;
pub use key::Key;
pub use learning::Learning;
pub use resolved::{Mixed, Resolved};
pub use schedule::{DatedDay, Schedule};
pub use stages::Stages;
pub use steps::PendingJudgement;
pub use subject::Subject;
