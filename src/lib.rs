//! Heapwright.
pub mod command;
pub mod document;
pub mod export;
pub mod heap;
pub mod material;
pub mod mix;
pub mod quantity;
