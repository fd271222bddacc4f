//! Heapwright.
pub mod document;
pub mod heap;
pub mod material;
pub mod mix;
pub mod quantity;
