//! The heap: a mix with a shape, a place, a season and a plan, and the simulation of what becomes of it.
//!
//! In: the sums of a mix and a [`Heap`]. Out: a [`Projection`].
//!
//! Chapter, in the order of its imports. What is given: the weather in `climate`, shapes in `shape`, the
//! gardener's operations in `plan`, all of them together in `design`, how finely to work in `resolution`.
//! Laws: the air's properties in `moist_air`, the biology in `rot`, both tabulated in `tables`; cells in `grid`
//! and what fills them in `cell`; the balances in `airflow`, `transport`, `surface`, `oxygen` and `ammonia`; what
//! lies around the skin in `outside`. State: `body` is the heap as it stands on a day, `books` its sums and
//! ledger. What is done to it: `event` turns, waters and covers, `addition` lays the heap out anew. Time: `run`
//! alone advances it. Result: `record` writes down the `projection`, `parcels` follows lumps through turnings.
//!
//! A run is four types: what is given ([`Heap`], [`Resolution`], sums of mixes), the state (`body`), the working
//! memory (`run::scratch`, made anew for every grid), and the result ([`Projection`]).
//!
//! Not here: judgements on a projection (`outcome`). Nothing in this folder reads a clock or draws.
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/ledgers.rs`, `tests/science/heap_cases.rs`.

mod addition;
pub mod airflow;
mod ammonia;
mod amounts;
mod body;
mod books;
pub mod cell;
mod climate;
mod design;
mod event;
pub mod grid;
pub mod moist_air;
pub mod outside;
pub mod oxygen;
mod parcels;
mod places;
mod plan;
mod projection;
mod record;
mod resolution;
pub mod rot;
mod run;
mod shape;
pub mod surface;
pub mod tables;
pub mod transport;

pub use climate::Climate;
pub use design::{Heap, HeapError};
pub use plan::{Addition, Cover, Event, MOST_EVENTS, Operation, Placing, Plan, PlanError, Turning};
pub use projection::{
    Ended, Field, Hottest, Ledger, Left, Moment, Parcel, Projection, Record, SectionGrid,
    SectionValue, Summary, longest_spell,
};
pub use resolution::Resolution;
pub use rot::Kinetics;
pub use run::{RunControl, simulate, simulate_on_grid, simulate_with};
pub use shape::{Base, Board, Lid, Shape, Skin, Wall};
