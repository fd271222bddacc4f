//! Heapwright: design a compost mix, see beforehand how the heap will heat, keep the season's recipe.
//!
//! The library is the science and the documents; it knows no screen. Two faces stand over the same
//! calls: `command` (without a window) and `window`.
//!
//! Who may import whom (tested by `tests/science/house_rules.rs`):
//!
//! ```text
//! quantity  <- nothing
//! garden    <- nothing
//! diary     <- quantity
//! material  <- quantity
//! mix       <- material quantity
//! year      <- mix material quantity
//! heap      <- mix material quantity
//! outcome   <- garden heap mix material quantity
//! forecast  <- outcome diary heap mix material quantity
//! document  <- garden diary heap year mix material quantity
//! assess    <- forecast outcome document garden diary heap year mix material quantity
//! text      <- assess forecast outcome document garden diary heap year mix material quantity
//! export    <- text assess document forecast outcome garden diary heap year mix material quantity
//! command   <- everything except window
//! window    <- everything except command
//! ```
//!
//! Inside, units are SI (temperatures in degC, plans in days); names carry them. Conversion happens
//! at the edge, in `quantity`.

pub mod assess;
pub mod command;
pub mod diary;
pub mod document;
pub mod export;
pub mod forecast;
pub mod garden;
pub mod heap;
pub mod material;
pub mod mix;
pub mod outcome;
pub mod quantity;
pub mod text;
#[cfg(feature = "window")]
pub mod window;
pub mod year;
