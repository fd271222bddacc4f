//! Slow work behind the window: one module for each job.
//!
//! In: inputs. Out: answers, taken once a frame.
//!
//! Not here: the calculations (`forecast`, `outcome`, `export`), drawing.
//!
//! Tested by: `tests/window/`.

pub mod dialog;
pub(in crate::window) mod judging;
pub(in crate::window) mod page;
pub mod plan_search;
pub(in crate::window) mod projecting;
pub(in crate::window) mod trial;
pub(in crate::window) mod turnings;
