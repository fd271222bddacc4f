//! The heap: a mix with a shape, a place, a season and a plan, and the simulation of what becomes of it.
//!
//! In: the sums of a mix and a [`Heap`]. Out: a [`Projection`].
//!
//! Chapter, in the order of its imports. What is given: the weather in `climate`, shapes in `shape`, the
//! gardener's operations in `operation` and `plan`, those that repeat in `repeat`, all of them together in `design`, how finely to work in `resolution`.
//! Laws: the air's properties in `moist_air`, the biology in `rot`, both tabulated in `tables`; cells in `grid`,
//! those that a slope of the `outline` cuts in `slope`, and what fills them in `cell`; the balances in `airflow`, `transport`, `surface`, `oxygen` and `ammonia`, two of them `banded` systems; what
//! lies around the skin in `outside`. State: `body` is the heap as it stands on a day, `books` its sums and
//! ledger. What is done to it: `event` turns, waters and covers, `addition` lays the heap out anew. Time: `run`
//! alone advances it. Result: `record` writes down the `projection`, `inside` reads it at a place, `parcels` follows lumps through turnings.
//!
//! A run is four types: what is given ([`Heap`], [`Resolution`], sums of mixes), the state (`body`), the working
//! memory (`run::scratch`, made anew for every grid), and the result ([`Projection`]).
//!
//! What the balances are made of, and what they leave out.
//!
//! - Air: its own warmth and the wind draw it through the pores. Permeability rises with the effective air space and levels
//!   off in loose matter (`cell`); the wind sucks at its top and its foot (`run`); walls let it in through their gaps.
//! - Surface: every face to the outside has a balance of heat and steam of its own (`surface`), so days above a
//!   temperature converge with the grid.
//! - Ice: pore water freezes between 0 and -1 degC and gives its heat of melting off, beside what matter binds; ice neither
//!   drains nor creeps, and gives off the vapour of ice (`ice`). Snow lies on the top until air or heap melt it (`run`).
//! - Nitrogen: every pool frees its own; cells grow leaner where it is short, down to a leanest, and then eating slows;
//!   eaters of the slow pools are served first (`rot`). It leaves as ammonia with the air (`ammonia`), as dinitrogen
//!   where pores are half aired, and with what drains (`run`).
//! - Heat: cells die of it from 58 degC on and become food again, which caps big heaps well below the greatest temperature of rot (`rot`).
//! - Sour stop: easy food that rots without air makes acids, which hold rot back from 35 degC on, fully above 45 (`rot`).
//! - Wood: by its share of the dry matter, it rots with less nitrogen, has more of it at hand at first, and no sour stop.
//! - Settling: what slumps, rots and bears a load sinks. A skin that bears little, and matter that dries, lies looser
//!   than it was filled; the volume in a record leaves that out, so that a heap just built holds what was filled.
//!
//! Not modelled: a dome (heaps are cones and rows with straight slopes); that ice conducts better
//! than water and fills more room, that snow keeps the cold off, that the ground freezes; cracks and channels; matter whose
//! inside becomes harder to reach between turnings. A law for the last was tried and is left out: rows of leaves left alone
//! then take years, as they should, but heaps lose too little dry matter and nitrogen; and four mixings in 80 days raised
//! what piles of manure give off by a fifth only (Ahn et al. 2011, Bioresource Technology 102:2904-2909, abstract read).
//!
//! Not here: judgements on a projection (`outcome`). Nothing in this folder reads a clock or draws.
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/ledgers.rs`, `tests/science/heap_cases.rs`.

mod addition;
pub mod airflow;
mod ammonia;
mod amounts;
mod banded;
mod body;
mod books;
pub mod cell;
mod climate;
mod design;
mod event;
pub mod grid;
pub mod ice;
mod inside;
pub mod moist_air;
mod operation;
mod outline;
pub mod outside;
pub mod oxygen;
mod parcels;
mod places;
mod plan;
mod projection;
mod record;
mod repeat;
mod resolution;
pub mod rot;
mod run;
mod shape;
mod slope;
pub mod surface;
pub mod tables;
pub mod transport;

pub use climate::Climate;
pub use design::{Heap, HeapError};
pub use inside::Place;
pub use operation::{Cover, Operation, Placing, Turning};
pub use plan::{Addition, MOST_EVENTS, Plan, PlanError};
pub use projection::{
    Ended, Field, Hottest, Ledger, Left, Moment, Parcel, Projection, Record, SectionGrid,
    SectionValue, Summary, longest_spell,
};
pub use repeat::{Event, Occurrence, Repeat};
pub use resolution::Resolution;
pub use rot::Kinetics;
pub use run::{RunControl, simulate, simulate_on_grid, simulate_with};
pub use shape::{Base, Board, Lid, Shape, Skin, Wall};
