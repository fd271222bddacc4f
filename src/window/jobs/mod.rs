//! Slow work behind the window: `job` is one piece of work on a thread, each other module is what is worked on.
//!
//! In: inputs. Out: answers, taken once a frame. Nothing here knows how anything is drawn.
//!
//! Not here: the calculations (`forecast`, `outcome`, `export`), drawing.
//!
//! Tested by: `tests/window/`.

pub mod complaint;
pub mod dialog;
#[cfg(unix)]
pub(in crate::window) mod ending;
pub mod fed;
pub mod importing;
pub mod job;
pub mod judging;
pub mod learning;
pub(in crate::window) mod page;
pub mod plan_search;
pub(in crate::window) mod projecting;
pub mod recipes;
pub mod trial;
pub mod turnings;
pub mod year_planning;
